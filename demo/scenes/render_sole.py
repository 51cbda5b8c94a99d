"""Second step, inside Blender: blender -b --python render_sole.py -- OUT [SCALE]. Reads what make_maps.py wrote, writes OUT/raw.png (16 bit)."""
import json
import sys
from pathlib import Path

import bpy
import numpy as np
from mathutils import Matrix

sys.path.insert(0, str(Path(__file__).parent))
import camera as cam  # noqa: E402

UNIT = 0.1  # one Blender unit is 10 mm


def mesh_object(name, vertices, faces, uv=None, material=None, smooth=True):
    mesh = bpy.data.meshes.new(name)
    vertices = np.asarray(vertices, np.float32)
    faces = np.asarray(faces, np.int32)
    k = faces.shape[1]
    mesh.vertices.add(len(vertices))
    mesh.vertices.foreach_set("co", vertices.ravel())
    mesh.loops.add(faces.size)
    mesh.loops.foreach_set("vertex_index", faces.ravel())
    mesh.polygons.add(len(faces))
    mesh.polygons.foreach_set("loop_start", np.arange(0, faces.size, k, dtype=np.int32))
    mesh.polygons.foreach_set("loop_total", np.full(len(faces), k, np.int32))
    if uv is not None:
        layer = mesh.uv_layers.new(name="map")
        layer.data.foreach_set("uv", np.asarray(uv, np.float32)[faces.ravel()].ravel())
    mesh.update(calc_edges=True)
    mesh.polygons.foreach_set("use_smooth", np.full(len(faces), smooth))
    obj = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(obj)
    if material:
        mesh.materials.append(material)
    return obj


class Nodes:
    def __init__(self, name):
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.bsdf = self.tree.nodes["Principled BSDF"]

    def add(self, kind, **values):
        n = self.tree.nodes.new(kind)
        for k, v in values.items():
            setattr(n, k, v)
        return n

    def link(self, a, b):
        self.tree.links.new(a, b)

    def set(self, **values):
        for k, v in values.items():
            self.bsdf.inputs[k.replace("_", " ")].default_value = v
        return self


def image(path, data):
    i = bpy.data.images.load(str(path))
    i.colorspace_settings.name = "Non-Color" if data else "sRGB"
    return i


def sole_material(folder):
    m = Nodes("sole")
    colour, props, relief = (m.add("ShaderNodeTexImage", image=image(folder / f, d), extension="EXTEND") for f, d in (("colour.png", False), ("props.png", True), ("relief.png", True)))
    split = m.add("ShaderNodeSeparateRGB")
    m.link(props.outputs["Color"], split.inputs[0])
    m.link(colour.outputs["Color"], m.bsdf.inputs["Base Color"])
    m.link(split.outputs[0], m.bsdf.inputs["Roughness"])
    m.link(split.outputs[1], m.bsdf.inputs["Sheen"])
    shine = m.add("ShaderNodeMath", operation="MULTIPLY_ADD")
    m.link(split.outputs[1], shine.inputs[0])
    shine.inputs[1].default_value = -0.38
    shine.inputs[2].default_value = 0.42
    m.link(shine.outputs[0], m.bsdf.inputs["Specular"])
    bump = m.add("ShaderNodeBump")
    bump.inputs["Strength"].default_value = 1.0
    bump.inputs["Distance"].default_value = 0.5 * UNIT
    m.link(relief.outputs["Color"], bump.inputs["Height"])
    m.link(bump.outputs["Normal"], m.bsdf.inputs["Normal"])
    return m.material


def plain(name, colour, rough=0.6, specular=0.4, sheen=0.0, noise=None, bump=0.0):
    m = Nodes(name).set(Base_Color=(*colour, 1), Roughness=rough, Specular=specular, Sheen=sheen)
    if noise:
        coordinates = m.add("ShaderNodeTexCoord")
        tex = m.add("ShaderNodeTexNoise")
        tex.inputs["Scale"].default_value = noise
        tex.inputs["Detail"].default_value = 6
        m.link(coordinates.outputs["Object"], tex.inputs["Vector"])
        ramp = m.add("ShaderNodeMixRGB")
        ramp.inputs[1].default_value = (*[c * 0.86 for c in colour], 1)
        ramp.inputs[2].default_value = (*[min(1, c * 1.14) for c in colour], 1)
        m.link(tex.outputs["Fac"], ramp.inputs[0])
        m.link(ramp.outputs[0], m.bsdf.inputs["Base Color"])
        if bump:
            b = m.add("ShaderNodeBump")
            b.inputs["Strength"].default_value = 1.0
            b.inputs["Distance"].default_value = bump * UNIT
            m.link(tex.outputs["Fac"], b.inputs["Height"])
            m.link(b.outputs["Normal"], m.bsdf.inputs["Normal"])
    return m.material


def bench(s):
    mat = plain("mat", s["mat"], 0.75, 0.25, noise=9.0, bump=0.35)
    mesh_object("mat", np.array([(-140, -140, -0.03), (140, -140, -0.03), (140, 140, -0.03), (-140, 140, -0.03)]), [(0, 1, 2, 3)], material=mat)


def sheet(s):
    """A plain sheet with a thin printed frame; its upper face is the plane z = 0."""
    c = cam.sheet_corners(s) * UNIT
    low = c - [0, 0, 0.015]
    paper = plain("paper", (0.80, 0.79, 0.76), 0.9, 0.15, noise=0.12)
    mesh_object("sheet", np.vstack([c, low]), [(3, 2, 1, 0), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)], material=paper, smooth=False)
    ink = plain("ink", (0.05, 0.05, 0.06), 0.7)
    r = cam.rotation_z(s["sheet_turn"])
    w, h = s["sheet"]
    v, f = [], []

    def bar(x0, y0, x1, y1):
        n = len(v)
        v.extend([(x0, y0, 0.03), (x1, y0, 0.03), (x1, y1, 0.03), (x0, y1, 0.03)])
        f.append((n, n + 1, n + 2, n + 3))

    for sx in (-1, 1):
        for sy in (-1, 1):
            x, y = sx * (w / 2 - 10), sy * (h / 2 - 10)
            bar(x - 5, y - 0.15, x + 5, y + 0.15)
            bar(x - 0.15, y - 5, x + 0.15, y + 5)
    for k in range(0, 101, 5):
        bar(-w / 2 + 40 + k - 0.1, -h / 2 + 9, -w / 2 + 40 + k + 0.1, -h / 2 + (13 if k % 10 else 15))
    mesh_object("print", (np.array(v) @ r.T + [*s["sheet_at"], 0]) * UNIT, f, material=ink, smooth=False)
    text = bpy.data.curves.new("text", "FONT")
    text.body = f"{w:.0f} x {h:.0f} mm    100 mm"
    text.size = 0.5
    o = bpy.data.objects.new("text", text)
    o.location = ((np.array([-w / 2 + 145, -h / 2 + 9, 0.03]) @ r.T) + [*s["sheet_at"], 0]) * UNIT
    o.rotation_euler = (0, 0, np.radians(s["sheet_turn"]))
    text.materials.append(ink)
    bpy.context.collection.objects.link(o)


def steel_bar(s):
    ends = cam.bar_ends(s)
    l, w, h = cam.BAR
    along = (ends[1] - ends[0]) / l
    across = np.array([-along[1], along[0], 0])
    steel = Nodes("steel").set(Base_Color=(0.55, 0.55, 0.53, 1), Metallic=1.0, Roughness=0.42).material
    ink = plain("etch", (0.03, 0.03, 0.03), 0.6)

    def box(x0, x1, y0, y1, z0, z1, name, material):
        p = [ends[0] + along * x + across * y + [0, 0, z - h] for z in (z0, z1) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        mesh_object(name, np.array(p) * UNIT, [(4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)], material=material, smooth=False)

    box(0, l, -w / 2, w / 2, 0, h, "bar", steel)
    for k in range(1, 150):
        long = 6.5 if k % 10 == 0 else 5.0 if k % 5 == 0 else 3.2
        box(k - 0.09, k + 0.09, -w / 2, -w / 2 + long, h, h + 0.004, "tick", ink)
    for k in range(1, 15):
        text = bpy.data.curves.new("digit", "FONT")
        text.body = str(k)
        text.size = 0.36
        text.align_x = "CENTER"
        text.materials.append(ink)
        o = bpy.data.objects.new("digit", text)
        o.location = (ends[0] + along * k * 10 + across * 1.2 + [0, 0, 0.01]) * UNIT
        o.rotation_euler = (0, 0, np.arctan2(along[1], along[0]))
        bpy.context.collection.objects.link(o)


def sole(s, folder):
    data = np.load(folder / "mesh.npz")
    height, keep = data["height"], data["keep"]
    rows, columns = height.shape
    step = s["mesh_step"] / s["cells"]
    x = s["x0"] + 0.5 / s["cells"] + np.arange(columns) * step
    y = s["y0"] + 0.5 / s["cells"] + np.arange(rows) * step
    gx, gy = np.meshgrid(x, y)
    xy = cam.sole_to_world(s, np.stack([gx.ravel(), gy.ravel()], -1))
    v = np.column_stack([xy, s["plane"] + height.ravel()]) * UNIT
    uv = np.column_stack([(gx.ravel() - s["x0"]) * s["cells"] / s["columns"], (gy.ravel() - s["y0"]) * s["cells"] / s["rows"]])
    q = keep[:-1, :-1] & keep[1:, :-1] & keep[:-1, 1:] & keep[1:, 1:]
    r, c = np.nonzero(q)
    i = r * columns + c
    mesh_object("sole", v, np.stack([i, i + 1, i + columns + 1, i + columns], -1), uv, sole_material(folder))

    # side wall and, under it, the upper as a plain lofted body: only glimpsed, and there for its shadow
    outline = np.array(s["outline"])
    mid = np.array([s["length"] / 2, 0])
    normal = np.roll(outline, -1, 0) - np.roll(outline, 1, 0)
    normal = np.stack([normal[:, 1], -normal[:, 0]], -1)
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    if np.mean(np.sum(normal * (outline - mid), axis=1)) < 0:
        normal = -normal

    def loft(name, rings, material):
        vertices = []
        for inset, z in rings:
            vertices.append(np.column_stack([cam.sole_to_world(s, outline - normal * inset), np.full(len(outline), z)]))
        n = len(outline)
        k = np.arange(n)
        faces = [np.stack([a * n + k, a * n + (k + 1) % n, (a + 1) * n + (k + 1) % n, (a + 1) * n + k], -1) for a in range(len(rings) - 1)]
        mesh_object(name, np.vstack(vertices) * UNIT, np.vstack(faces), material=material)

    p = s["plane"]
    wall = plain("foxing", s["foxing"], 0.5, 0.4, noise=3.0)
    loft("wall", [(-1.0, p - 20.5), (-1.0, p - 21.5), (-0.6, p - 22), (1.5, max(p - 24, 0.2))], wall)
    if s["body"]:
        loft("upper", [(2.0, p - 22), (2.5, p - 30), (5.0, p - 45), (12.0, p - 62), (20.0, p - 78), (24.0, 1.0)], plain("upper", s["upper"], 0.95, 0.1, 0.6, noise=6.0, bump=0.4))


def light(name, location, size, energy, colour, target):
    data = bpy.data.lights.new(name, "AREA")
    data.energy, data.color, data.shape, data.size, data.size_y = energy, colour, "RECTANGLE", size[0], size[1]
    o = bpy.data.objects.new(name, data)
    o.location = location
    d = np.array(location) - np.array(target)
    z = d / np.linalg.norm(d)
    x = np.cross([0, 0, 1.0], z)
    x = x / np.linalg.norm(x) if np.linalg.norm(x) > 1e-6 else np.array([1.0, 0, 0])
    y = np.cross(z, x)
    o.matrix_world = Matrix([[x[0], y[0], z[0], location[0]], [x[1], y[1], z[1], location[1]], [x[2], y[2], z[2], location[2]], [0, 0, 0, 1]])
    bpy.context.collection.objects.link(o)


def lights(s):
    strength, azimuth = s["key"]
    a = np.radians(azimuth)
    light("window", (75 * np.cos(a), 75 * np.sin(a), 62), (46, 30), 42000 * strength, s["key_colour"], (0, 0, 5))
    light("lamp", (-40 * np.cos(a + 0.7), -40 * np.sin(a + 0.7), 95), (60, 12), 15000 * s["fill"] * 2, (0.93, 0.96, 1.0), (6, 0, 5))
    world = bpy.data.worlds.new("room")
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[0].default_value = (0.75, 0.8, 0.9, 1)
    world.node_tree.nodes["Background"].inputs[1].default_value = 0.40 * s["fill"]
    bpy.context.scene.world = world


def place_camera(centre, columns, focal_px, width, focus=None, fstop=None):
    """A pinhole that stands at centre (mm), its columns right, up, back; in focus everywhere, or at so many mm."""
    data = bpy.data.cameras.new("camera")
    data.sensor_fit, data.sensor_width, data.lens = "HORIZONTAL", 36.0, focal_px * 36.0 / width
    data.clip_start, data.clip_end = 1.0, 2000.0
    if focus is not None:
        data.dof.use_dof = True
        data.dof.focus_distance = focus * UNIT
        data.dof.aperture_fstop = fstop  # Blender counts in metres: one of its units stands for 10 mm
    o = bpy.data.objects.new("camera", data)
    m = np.eye(4)
    m[:3, :3], m[:3, 3] = columns, centre * UNIT
    o.matrix_world = Matrix(m.tolist())
    bpy.context.collection.objects.link(o)
    bpy.context.scene.camera = o


def render(s, path, scale=100, samples=None):
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.cycles.samples = samples or s["samples"]
    scene.cycles.use_adaptive_sampling = False
    scene.cycles.use_denoising = False
    scene.cycles.max_bounces = 2
    scene.cycles.diffuse_bounces = 1
    scene.cycles.glossy_bounces = 1
    scene.cycles.sample_clamp_indirect = 2.0
    scene.cycles.seed = s["seed"]
    scene.cycles.filter_width = 1.5
    scene.render.resolution_x, scene.render.resolution_y = s["size_px"]
    scene.render.resolution_percentage = scale
    scene.render.threads_mode, scene.render.threads = "FIXED", 2
    if "window" in s:
        # only this part of the picture is wanted: left, top, right, bottom as fractions
        left, top, right, bottom = s["window"]
        scene.render.use_border, scene.render.use_crop_to_border = True, False
        scene.render.border_min_x, scene.render.border_max_x = left, right
        scene.render.border_min_y, scene.render.border_max_y = 1 - bottom, 1 - top
    scene.render.image_settings.color_mode = "RGB"
    if s.get("linear"):
        # as light falls, for what is done to it afterwards
        scene.view_settings.view_transform = "Raw"
        scene.render.image_settings.file_format = "OPEN_EXR"
    else:
        scene.view_settings.view_transform = "Filmic"
        scene.view_settings.look = "Medium High Contrast"
        scene.view_settings.exposure = s["exposure"]
        scene.render.image_settings.file_format = "PNG"
        scene.render.image_settings.color_depth = "16"
        scene.render.image_settings.compression = 15
    scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True)


def main(folder, scale=100):
    folder = Path(folder)
    s = json.loads((folder / "scene.json").read_text())
    bpy.ops.wm.read_factory_settings(use_empty=True)
    bench(s)
    sheet(s) if s["scale"] == "rectangle" else steel_bar(s)
    sole(s, folder)
    lights(s)
    c = cam.Camera(s)
    place_camera(c.centre, c.axes, c.f, c.w, s["distance"] - s["plane"], s["fstop"] * 10)
    render(s, folder / "raw.png", scale)


if __name__ == "__main__":
    arguments = sys.argv[sys.argv.index("--") + 1:]
    main(arguments[0], int(arguments[1]) if len(arguments) > 1 else 100)
