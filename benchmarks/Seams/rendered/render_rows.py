"""Renders rows of stitches in relief, thread laid from hole to hole over a ground with folds, weave or grain, and writes each with its exact truth.

usage: OPENCV_IO_ENABLE_OPENEXR=1 blender -b --python render_rows.py -- FROM TO FOLDER (Debian's blender and python3-opencv)
Every number is a scene of its own; those from 1000 on have more skipped stitches. A picture NNNNN.jpg and NNNNN.json: corners of a rectangle of the ground's plane in pixels and its size, a careless path,
middles of the stitches and of the skipped ones in pixels, the mean distance of neighbouring places along the row and the RMS of what they lie beside it, in mm.
All materials, colours and sizes are made up.
"""
import json
import math
import os
import sys

import bpy
import cv2
import numpy as np
from bpy_extras.object_utils import world_to_camera_view
from mathutils import Matrix, Vector

MARGIN = 7.0
GRID = 0.09
MORE_SKIPPED = 1000


class Row:
    def __init__(self, rng, more_skipped):
        self.rng = rng
        u = rng.uniform
        self.pitch, self.jitter = u(1.5, 5), u(0.01, 0.10)
        count = int(np.clip(u(45, 80) / self.pitch, 14, 40))
        steps = self.pitch * np.maximum(0.6, 1 + self.jitter * rng.normal(size=count - 1))
        self.at = self.pitch + np.concatenate([[0], np.cumsum(steps)])
        self.length = self.at[-1] + self.pitch
        bend = u(-1, 1) / 45 if rng.random() < 0.7 else 0
        wave = u(0, 1) / 60 if rng.random() < 0.4 else 0
        wavelength, phase = u(110, 200), u(0, 6)
        s = np.arange(-12, self.length + 12, 0.1)
        heading = u(0, 2 * math.pi) + np.cumsum(0.1 * (bend + wave * np.sin(2 * math.pi * s / wavelength + phase)))
        self.s, self.heading = s, heading
        self.x, self.y = np.cumsum(0.1 * np.cos(heading)), np.cumsum(0.1 * np.sin(heading))
        inner = (s > -3) & (s < self.length + 3)
        cx, cy = (self.x[inner].min() + self.x[inner].max()) / 2, (self.y[inner].min() + self.y[inner].max()) / 2
        self.x -= cx
        self.y -= cy
        self.wide = self.x[inner].max() - self.x[inner].min() + 2 * MARGIN - 4
        self.high = self.y[inner].max() - self.y[inner].min() + 2 * MARGIN - 4
        swing, period, start, shake = u(0, 0.3), u(14, 32), u(0, 6), u(0, 0.12)
        self.wander = swing * np.sin(2 * math.pi * self.at / period + start) + shake * rng.normal(size=count)
        self.missing = set()
        share = (u(0.02, 0.20) if rng.random() < 0.7 else 0) if more_skipped else u(0.02, 0.08) if rng.random() < 0.5 else 0
        for i in range(2, count - 2):
            if rng.random() < share and i - 1 not in self.missing:
                self.missing.add(i)

    def on(self, s, across):
        x, y, h = (np.interp(s, self.s, v) for v in (self.x, self.y, self.heading))
        return x - across * np.sin(h), y + across * np.cos(h)


def smooth_noise(rng, shape, sigma):
    v = cv2.GaussianBlur(rng.normal(size=shape).astype(np.float32), (0, 0), sigma) if sigma > 0.3 else rng.normal(size=shape).astype(np.float32)
    return v / v.std()


def ground(rng, row, holes, radius):
    """Heights in mm and how light each place is, on a grid; and what it is made of."""
    nx, ny = int((row.wide + 16) / GRID), int((row.high + 16) / GRID)
    xs, ys = (np.arange(nx) - nx / 2) * GRID, (np.arange(ny) - ny / 2) * GRID
    gx, gy = np.meshgrid(xs, ys)
    # Along and across the row of every place, from the nearest of its points.
    keep = (row.s > -10) & (row.s < row.length + 10)
    px, py, ps, ph = row.x[keep][::3], row.y[keep][::3], row.s[keep][::3], row.heading[keep][::3]
    coarse = np.s_[::6, ::6]
    cx, cy = gx[coarse], gy[coarse]
    d = (cx[..., None] - px) ** 2 + (cy[..., None] - py) ** 2
    near = d.argmin(-1)
    across = -(cx - px[near]) * np.sin(ph[near]) + (cy - py[near]) * np.cos(ph[near])
    across = cv2.resize(across.astype(np.float32), (nx, ny), interpolation=cv2.INTER_LINEAR)
    u = rng.uniform
    height = u(0, 0.35) * smooth_noise(rng, (ny, nx), u(6, 14) / GRID)
    tone = np.ones((ny, nx), np.float32)
    kind = rng.choice(["canvas", "leather", "suede", "smooth", "mesh", "twill"], p=[0.22, 0.26, 0.16, 0.16, 0.08, 0.12])
    turn = u(0, math.pi)
    a, b = gx * math.cos(turn) + gy * math.sin(turn), -gx * math.sin(turn) + gy * math.cos(turn)
    if kind == "canvas":
        w, deep = u(0.4, 0.9), u(0.03, 0.12)
        over = (np.floor(a / w) + np.floor(b / w)) % 2 == 0
        height += deep * np.where(over, np.abs(np.sin(math.pi * a / w)) * (0.6 + 0.4 * np.abs(np.sin(math.pi * b / w))), np.abs(np.sin(math.pi * b / w)) * (0.6 + 0.4 * np.abs(np.sin(math.pi * a / w))))
        tone *= 1 + u(0, 0.10) * (over - 0.5) + u(0.01, 0.05) * smooth_noise(rng, (ny, nx), 2)
    elif kind == "twill":
        w, deep = u(0.5, 1.1), u(0.03, 0.10)
        height += deep * np.abs(np.sin(math.pi * (a + 0.5 * np.floor(b / (0.5 * w)) * 0.5 * w) / w))
        tone *= 1 + u(0.01, 0.06) * smooth_noise(rng, (ny, nx), 2)
    elif kind == "leather":
        cell, deep = u(0.35, 1.1), u(0.02, 0.08)
        coarse_grain = smooth_noise(rng, (ny, nx), 0.35 * cell / GRID)
        height += deep * np.minimum(np.abs(coarse_grain), 1)
        tone *= 1 + u(0, 0.06) * smooth_noise(rng, (ny, nx), 3 / GRID)
    elif kind == "suede":
        height += u(0.01, 0.04) * smooth_noise(rng, (ny, nx), u(0.6, 2))
        tone *= 1 + u(0.02, 0.10) * smooth_noise(rng, (ny, nx), u(1, 5)) + u(0, 0.06) * smooth_noise(rng, (ny, nx), 4 / GRID)
    elif kind == "mesh":
        w = u(0.9, 2.2)
        k, l = a / w, b / (w * 0.87)
        k = k + 0.5 * (np.floor(l) % 2)
        hole = np.hypot(k - np.floor(k) - 0.5, (l - np.floor(l) - 0.5) * 0.87) < u(0.2, 0.32)
        hole = cv2.GaussianBlur(hole.astype(np.float32), (0, 0), 1)
        height -= u(0.1, 0.4) * hole
        tone *= 1 - u(0.2, 0.7) * hole
    else:
        height += u(0.002, 0.012) * smooth_noise(rng, (ny, nx), 2)
    # The thread pulls its ground down, most at its holes.
    height -= u(0, 0.18) * np.exp(-0.5 * (across / u(0.5, 1.0)) ** 2)
    deep, wide = u(0.05, 0.3), u(0.25, 0.45)
    dark = u(0, 0.7)
    for hx, hy in holes:
        i0, i1 = int((hx - 1.5 - xs[0]) / GRID), int((hx + 1.5 - xs[0]) / GRID)
        j0, j1 = int((hy - 1.5 - ys[0]) / GRID), int((hy + 1.5 - ys[0]) / GRID)
        if i0 < 0 or j0 < 0 or i1 >= nx or j1 >= ny:
            continue
        part = np.s_[j0:j1, i0:i1]
        r = np.hypot(gx[part] - hx, gy[part] - hy)
        height[part] -= deep * np.exp(-0.5 * (r / wide) ** 2) + 0.5 * np.exp(-0.5 * (r / (0.5 * radius)) ** 4)
        tone[part] *= 1 - dark * np.exp(-0.5 * (r / radius) ** 4)
    edge = (1 if rng.random() < 0.5 else -1) * u(1.3, 2.6)
    other = None
    if rng.random() < 0.5:
        beyond = np.clip((across - edge) * np.sign(edge) / 0.25 + 0.5, 0, 1)
        beyond = beyond * beyond * (3 - 2 * beyond)
        height -= u(0.5, 1.5) * beyond
        other = beyond
    return xs, ys, height, tone, kind + (" edge" if other is not None else ""), other


def mesh_of(xs, ys, height, colour):
    ny, nx = height.shape
    gx, gy = np.meshgrid(xs, ys)
    places = np.stack([gx, gy, height], -1).reshape(-1, 3).astype(np.float32)
    n = np.arange(ny * nx).reshape(ny, nx)
    faces = np.stack([n[:-1, :-1], n[:-1, 1:], n[1:, 1:], n[1:, :-1]], -1).reshape(-1, 4)
    mesh = bpy.data.meshes.new("ground")
    mesh.vertices.add(len(places))
    mesh.vertices.foreach_set("co", places.ravel())
    mesh.loops.add(faces.size)
    mesh.loops.foreach_set("vertex_index", faces.ravel().astype(np.int32))
    mesh.polygons.add(len(faces))
    mesh.polygons.foreach_set("loop_start", np.arange(0, faces.size, 4, dtype=np.int32))
    mesh.polygons.foreach_set("loop_total", np.full(len(faces), 4, np.int32))
    mesh.polygons.foreach_set("use_smooth", np.ones(len(faces), bool))
    mesh.update()
    attribute = mesh.attributes.new("tint", "FLOAT_COLOR", "POINT")
    rgba = np.concatenate([colour.reshape(-1, 3), np.ones((len(places), 1))], 1).astype(np.float32)
    attribute.data.foreach_set("color", rgba.ravel())
    thing = bpy.data.objects.new("ground", mesh)
    bpy.context.collection.objects.link(thing)
    return thing


def material(name, rgb, rough, shine, tint=False):
    made = bpy.data.materials.new(name)
    made.use_nodes = True
    tree = made.node_tree
    shader = tree.nodes["Principled BSDF"]
    shader.inputs["Roughness"].default_value = rough
    shader.inputs["Specular"].default_value = shine
    if tint:
        node = tree.nodes.new("ShaderNodeAttribute")
        node.attribute_name = "tint"
        tree.links.new(node.outputs["Color"], shader.inputs["Base Color"])
    else:
        shader.inputs["Base Color"].default_value = (*rgb, 1)
        shader.inputs["Sheen"].default_value = 0.3
    return made


def thread(rng, stitches, radius, plies, twist, look):
    """Each stitch a few strands wound about its middle line, out of one hole, over the ground and into the next."""
    curve = bpy.data.curves.new("thread", "CURVE")
    curve.dimensions = "3D"
    curve.bevel_depth = radius * (1 if plies == 1 else 0.56)
    curve.bevel_resolution = 3
    bed = rng.uniform(0.0, 0.7) * radius
    for (x0, y0, z0), (x1, y1, z1), shape in stitches:
        length = math.hypot(x1 - x0, y1 - y0)
        dx, dy = (x1 - x0) / length, (y1 - y0) / length
        t = np.linspace(0, 1, max(16, int(length / 0.1)))
        ends = np.minimum(t, 1 - t) * length
        rise = 1 - np.exp(-ends / (shape * radius))
        z = z0 + (z1 - z0) * t - 0.9 * (1 - rise) + rise * (radius - bed) * (1 + 0.25 * np.sin(math.pi * t))
        begin = rng.uniform(0, 2 * math.pi)
        for ply in range(plies):
            angle = begin + 2 * math.pi * (ply / plies + t * length / twist)
            r = 0 if plies == 1 else 0.5 * radius
            side, up = r * np.cos(angle), r * np.sin(angle)
            points = np.stack([x0 + (x1 - x0) * t - dy * side, y0 + (y1 - y0) * t + dx * side, z + up, np.ones_like(t)], -1)
            spline = curve.splines.new("POLY")
            spline.points.add(len(points) - 1)
            spline.points.foreach_set("co", points.astype(np.float32).ravel())
    curve.materials.append(look)
    thing = bpy.data.objects.new("thread", curve)
    bpy.context.collection.objects.link(thing)


def draw(number, folder):
    rng = np.random.default_rng(number)
    u = rng.uniform
    bpy.ops.wm.read_factory_settings(use_empty=True)
    row = Row(rng, number >= MORE_SKIPPED)
    radius = u(0.14, min(0.38, 0.15 * row.pitch))
    # Holes lie where one stitch ends and the next begins, halfway between their middles.
    between = np.concatenate([[row.at[0] - row.pitch / 2], (row.at[1:] + row.at[:-1]) / 2, [row.at[-1] + row.pitch / 2]])
    aside = np.concatenate([[row.wander[0]], (row.wander[1:] + row.wander[:-1]) / 2, [row.wander[-1]]])
    holes = np.stack(row.on(between, aside), -1)
    xs, ys, height, tone, kind, other = ground(rng, row, holes, u(0.15, 0.3))
    base = np.clip(np.exp(u(math.log(0.03), math.log(0.7))) * np.array([u(0.7, 1.3), u(0.8, 1.1), u(0.6, 1.3)]), 0.01, 0.9)
    colour = base * tone[..., None]
    if other is not None:
        second = np.clip(base * np.exp(u(-1, 1)), 0.01, 0.9) * np.array([u(0.8, 1.2), 1, u(0.8, 1.2)])
        colour = colour * (1 - other[..., None]) + second * tone[..., None] * other[..., None]
    alike = rng.random() < 0.4
    if alike:
        said, yarn = "tone on tone", base * u(0.93, 1.07)
    else:
        darker = base.mean() > 0.12 and rng.random() < 0.5
        said, yarn = ("dark thread", base * np.exp(-u(0.4, 1.6))) if darker else ("light thread", np.clip(base * np.exp(u(0.4, 2.0)), 0, 0.9))
        yarn = yarn * np.array([u(0.8, 1.2), 1, u(0.8, 1.2)])
    mesh = mesh_of(xs, ys, height, np.clip(colour, 0, 0.95))
    mesh.data.materials.append(material("ground", base, u(0.45, 0.9) if "smooth" not in kind else u(0.25, 0.6), u(0.1, 0.5), True))
    at = lambda x, y: float(height[int(np.clip(round((y - ys[0]) / GRID), 0, len(ys) - 1)), int(np.clip(round((x - xs[0]) / GRID), 0, len(xs) - 1))])
    slant, shape = u(-0.5, 0.5) * radius, u(0.6, 1.6)
    stitches, middles, skipped = [], [], []
    for i, (s, w) in enumerate(zip(row.at, row.wander)):
        # The middle of what is seen is the place itself: a stitch reaches as far to either side.
        half = 0.5 * min(between[i + 1] - s, s - between[i]) * 2 * 0.97
        x0, y0 = row.on(s - half, w + slant)
        x1, y1 = row.on(s + half, w - slant)
        mx, my = row.on(s, w)
        flat = np.median([at(mx, my), at(mx + 0.6, my), at(mx, my + 0.6), at(mx - 0.6, my), at(mx, my - 0.6)])
        if i in row.missing:
            skipped.append((mx, my, flat))
        else:
            stitches.append(((x0, y0, flat), (x1, y1, flat), shape))
            middles.append((mx, my, flat + radius))
    thread(rng, stitches, radius, int(rng.choice([1, 2, 3], p=[0.2, 0.2, 0.6])), u(0.7, 1.8), material("thread", tuple(np.clip(yarn, 0.005, 0.95)), u(0.3, 0.8), u(0.1, 0.6)))

    # Light.
    azimuth, low = u(0, 2 * math.pi), math.radians(u(12, 40) if alike or rng.random() < 0.5 else u(30, 75))
    lamp = bpy.data.lights.new("lamp", "SUN")
    lamp.energy, lamp.angle = u(2.0, 4.0), math.radians(u(1, 25))
    lamp.color = (1, u(0.85, 1), u(0.7, 1))
    shining = bpy.data.objects.new("lamp", lamp)
    shining.rotation_euler = Vector((math.cos(azimuth) * math.cos(low), math.sin(azimuth) * math.cos(low), math.sin(low))).to_track_quat("Z", "Y").to_euler()
    bpy.context.collection.objects.link(shining)
    world = bpy.data.worlds.new("room")
    bpy.context.scene.world = world
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[1].default_value = u(0.2, 0.9)

    # Camera.
    per_px, far, tilt, way = u(0.055, 0.13), u(220, 450), math.radians(u(0, 12)), u(0, 2 * math.pi)
    wide, high = int(row.wide / per_px), int(row.high / per_px)
    data = bpy.data.cameras.new("camera")
    data.sensor_fit, data.sensor_width, data.lens = "HORIZONTAL", 36, far / per_px * 36 / wide
    data.clip_end = 2000
    camera = bpy.data.objects.new("camera", data)
    away = Vector((math.sin(tilt) * math.cos(way), math.sin(tilt) * math.sin(way), math.cos(tilt)))
    camera.location = far * away
    right = Vector((0, 1, 0)).cross(away).normalized()
    camera.rotation_euler = Matrix((right, away.cross(right), away)).transposed().to_euler()
    bpy.context.collection.objects.link(camera)
    scene = bpy.context.scene
    scene.camera = camera
    scene.render.engine = "CYCLES"
    scene.cycles.samples, scene.cycles.use_denoising, scene.cycles.max_bounces = 24, False, 2
    scene.cycles.seed = number
    scene.render.resolution_x, scene.render.resolution_y, scene.render.resolution_percentage = wide, high, 100
    scene.render.threads_mode, scene.render.threads = "FIXED", 1
    scene.view_settings.view_transform = "Standard"
    scene.render.image_settings.file_format = "OPEN_EXR"
    raw = os.path.join(folder, f"{number:05d}.exr")
    scene.render.filepath = raw
    bpy.context.view_layer.update()

    def pixel(x, y, z):
        seen = world_to_camera_view(scene, camera, Vector((x, y, z)))
        return [round(seen.x * wide, 3), round((1 - seen.y) * high, 3)]

    bpy.ops.render.render(write_still=True)
    linear = cv2.imread(raw, cv2.IMREAD_UNCHANGED)[..., :3].astype(np.float32)
    os.remove(raw)
    linear *= u(0.35, 0.6) / np.quantile(linear.mean(-1), 0.9)
    linear = cv2.GaussianBlur(linear, (0, 0), u(0.3, 0.9))
    linear = np.clip(linear + rng.normal(size=linear.shape) * np.sqrt(np.maximum(linear, 0) * u(0.5, 3) * 1e-4 + 2e-6), 0, 1)
    shown = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-6) ** (1 / 2.4) - 0.055)
    if rng.random() < 0.5:
        shown = shown + u(0.2, 0.8) * (shown - cv2.GaussianBlur(shown, (0, 0), 1.0))
    name = f"{number:05d}.jpg"
    cv2.imwrite(os.path.join(folder, name), np.clip(shown * 255 + 0.5, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, int(u(84, 97))])

    aside, drift, period, start = u(-0.7, 0.7), u(0, 0.7), u(40, 120), u(0, 6)
    corners = max(3, int((row.at[-1] - row.at[0]) / u(8, 16)))
    path = []
    for k in range(corners + 1):
        s = row.at[0] + (row.at[-1] - row.at[0]) * k / corners
        path.append(pixel(*row.on(s, aside + drift * math.sin(2 * math.pi * s / period + start) + 0.1 * rng.normal()), 0))
    a, b = row.wide / 2 - 3, row.high / 2 - 3
    steps = np.diff(row.at)
    kept = [i for i in range(len(row.at)) if i not in row.missing]
    truth = {
        "file": name,
        "corners": [pixel(-a, b, 0), pixel(a, b, 0), pixel(a, -b, 0), pixel(-a, -b, 0)],
        "sizeMm": [2 * a, 2 * b],
        "path": path,
        "stitches": [pixel(*p) for p in middles],
        "skipped": [pixel(*p) for p in skipped],
        "pitchMm": float(steps.mean()),
        "wanderMm": float(np.sqrt((row.wander[kept] ** 2).mean())),
        "kind": f"{number} {said} {kind} pitch {row.pitch:.2f} jitter {row.jitter:.2f} {per_px:.3f} mm/px tilt {math.degrees(tilt):.0f} light {math.degrees(low):.0f} radius {radius:.2f} missing {len(row.missing)}",
    }
    with open(os.path.join(folder, f"{number:05d}.json"), "w") as f:
        json.dump(truth, f)


if __name__ == "__main__":
    first, end, out = sys.argv[sys.argv.index("--") + 1:]
    os.makedirs(out, exist_ok=True)
    for n in range(int(first), int(end)):
        draw(n, out)
