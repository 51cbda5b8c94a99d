"""The flat lay for seams and colour, inside Blender: blender -b --python render_panel.py -- BUILD OUT.exr"""
import sys
from pathlib import Path

import bpy
import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
import panel  # noqa: E402
from render_sole import UNIT, Nodes, light, mesh_object, place_camera, plain, render  # noqa: E402

GRID = 0.1


def blurred(rng, shape, cells):
    """Noise of unit spread, smooth over so many cells."""
    k = np.exp(-0.5 * (np.arange(-int(3 * cells) - 1, int(3 * cells) + 2) / cells) ** 2)
    v = rng.normal(size=shape)
    for axis in (0, 1):
        v = np.apply_along_axis(lambda line: np.convolve(line, k, "same"), axis, v)
    return v / v.std()


def tinted(name, rough, specular, sheen):
    m = Nodes(name).set(Roughness=rough, Specular=specular, Sheen=sheen)
    tint = m.add("ShaderNodeAttribute", attribute_name="tint")
    m.link(tint.outputs["Color"], m.bsdf.inputs["Base Color"])
    return m.material


def field(name, x0, y0, x1, y1, heights, colours, material):
    xs, ys = np.arange(x0, x1, GRID), np.arange(y0, y1, GRID)
    gx, gy = np.meshgrid(xs, ys)
    z, colour = heights(gx, gy), colours(gx, gy)
    n = np.arange(gx.size).reshape(gx.shape)
    faces = np.stack([n[:-1, :-1], n[:-1, 1:], n[1:, 1:], n[1:, :-1]], -1).reshape(-1, 4)
    o = mesh_object(name, np.stack([gx, gy, z], -1).reshape(-1, 3) * UNIT, faces, material=material)
    layer = o.data.attributes.new("tint", "FLOAT_COLOR", "POINT")
    layer.data.foreach_set("color", np.concatenate([colour.reshape(-1, 3), np.ones((gx.size, 1))], 1).astype(np.float32).ravel())
    return o


def box(name, x0, y0, x1, y1, z, material, turn=0.0, about=(0.0, 0.0)):
    a = np.radians(turn)
    r = np.array([[np.cos(a), -np.sin(a)], [np.sin(a), np.cos(a)]])
    p = [[*(r @ (np.array([x, y]) - about) + about), h] for h in (0.0 if z < 1.6 else panel.TWILL_Z, z) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
    mesh_object(name, np.array(p) * UNIT, [(4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)], material=material, smooth=False)


def nap(rng, shape):
    return 0.022 * blurred(rng, shape, 1.2), 1 + 0.05 * blurred(rng, shape, 1.5) + 0.02 * blurred(rng, shape, 14)


def main(build, path):
    bpy.ops.wm.read_factory_settings(use_empty=True)
    rng = np.random.default_rng(40 + build)
    mat = plain("mat", (0.16, 0.17, 0.17), 0.75, 0.25, noise=9.0, bump=0.35)
    mesh_object("mat", np.array([(-40, -40, 0), (60, -40, 0), (60, 60, 0), (-40, 60, 0)]), [(0, 1, 2, 3)], material=mat)
    rows = [panel.Row(build, inner) for inner in (False, True)]
    x0, y0, x1, y1 = panel.PANEL
    shape = (len(np.arange(y0, y1, GRID)), len(np.arange(x0, x1, GRID)))
    pile, tone = nap(rng, shape)
    fibre = blurred(rng, shape, 0.8)

    def over(gx, gy):
        d = (gy - panel.edge(gx) + 0.05 * blurred(rng, shape, 3)) / 0.12
        return 1 / (1 + np.exp(-np.clip(d, -30, 30)))

    on = over(*np.meshgrid(np.arange(x0, x1, GRID), np.arange(y0, y1, GRID)))

    def heights(gx, gy):
        twill = panel.TWILL_Z + 0.06 * np.sqrt(np.abs(np.sin(np.pi * (gx + 0.8 * gy) / 0.62))) + 0.008 * fibre
        z = twill + (panel.SUEDE_Z + pile - twill) * on
        for row in rows:
            for s, aside in zip(*row.holes()):
                hx, hy = row.on(s, aside)
                near = np.s_[max(0, int((hy - 2 - y0) / GRID)):int((hy + 2 - y0) / GRID), max(0, int((hx - 2 - x0) / GRID)):int((hx + 2 - x0) / GRID)]
                r2 = (gx[near] - hx) ** 2 + (gy[near] - hy) ** 2
                z[near] -= 0.14 * np.exp(-0.5 * r2 / 0.55 ** 2) + 0.7 * np.exp(-0.5 * (r2 / 0.2 ** 2) ** 2)
        return z

    def colours(gx, gy):
        rib = 0.85 + 0.3 * np.sin(np.pi * (gx + 0.8 * gy) / 0.62) ** 2 + 0.04 * fibre
        return (np.array(panel.TWILL) * rib[..., None]) * (1 - on[..., None]) + (np.array(panel.SUEDE_OF[build]) * tone[..., None]) * on[..., None]

    cloth = tinted("cloth", 0.95, 0.0, 0.0)
    field("quarter", x0, y0, x1, y1, heights, colours, cloth)
    u0, v0, u1, v1 = panel.SWATCH
    own = nap(rng, (len(np.arange(v0, v1, GRID)), len(np.arange(u0, u1, GRID))))
    field("swatch", u0, v0, u1, v1, lambda gx, gy: panel.SWATCH_Z + own[0], lambda gx, gy: np.array(panel.SUEDE) * own[1][..., None], cloth)
    grey = plain("card", panel.GREY, 1.0, 0.0)
    box("card", *panel.CARD, panel.CARD_Z, grey)
    box("card", *panel.SECOND_CARD, panel.SECOND_CARD_Z, grey)

    # The bar lies on the twill; its ends are what is clicked.
    steel = Nodes("steel").set(Base_Color=(0.55, 0.55, 0.53, 1), Metallic=1.0, Roughness=0.45).material
    length, wide, high = panel.BAR
    bx, by = panel.BAR_AT
    turned = dict(turn=panel.BAR_TURN, about=np.array(panel.BAR_AT))
    box("bar", bx, by - wide / 2, bx + length, by + wide / 2, panel.TWILL_Z + high, steel, **turned)
    ink = plain("etch", (0.03, 0.03, 0.03), 0.6)
    for k in range(1, int(length)):
        box("tick", bx + k - 0.06, by - wide / 2, bx + k + 0.06, by - wide / 2 + (3.0 if k % 10 == 0 else 2.2 if k % 5 == 0 else 1.4), panel.TWILL_Z + high + 0.005, ink, **turned)

    curve = bpy.data.curves.new("thread", "CURVE")
    curve.dimensions, curve.bevel_depth, curve.bevel_resolution = "3D", 0.56 * panel.RADIUS * UNIT, 3
    for row in rows:
        ends, aside = row.holes()
        for i, (s, w) in enumerate(zip(row.at, row.wander)):
            if i in row.skipped:
                continue
            half = 0.97 * min(ends[i + 1] - s, s - ends[i])
            t = np.linspace(0, 1, 40)
            middle = row.on(s - half + 2 * half * t, w)
            d = np.gradient(middle, axis=0)
            d /= np.linalg.norm(d, axis=1, keepdims=True)
            rise = 1 - np.exp(-np.minimum(t, 1 - t) * 2 * half / (1.1 * panel.RADIUS))
            z = panel.SUEDE_Z - 0.9 * (1 - rise) + rise * 0.75 * panel.RADIUS * (1 + 0.25 * np.sin(np.pi * t))
            begin = rng.uniform(0, 2 * np.pi)
            for ply in range(3):
                angle = begin + 2 * np.pi * (ply / 3 + 2 * half * t / 1.1)
                side, up = 0.5 * panel.RADIUS * np.cos(angle), 0.5 * panel.RADIUS * np.sin(angle)
                points = np.stack([middle[:, 0] - d[:, 1] * side, middle[:, 1] + d[:, 0] * side, z + up], -1) * UNIT
                spline = curve.splines.new("POLY")
                spline.points.add(len(points) - 1)
                spline.points.foreach_set("co", np.column_stack([points, np.ones(len(points))]).astype(np.float32).ravel())
    curve.materials.append(plain("thread", panel.THREAD, 0.7, 0.2, 0.2))
    bpy.context.collection.objects.link(bpy.data.objects.new("thread", curve))

    light("window", (-16, 24, 26), (16, 12), 5200, (1, 0.97, 0.93), (6, 4, 0))
    light("lamp", (34, 8, 40), (18, 18), 2600, (0.94, 0.97, 1.0), (6, 4, 0))
    world = bpy.data.worlds.new("room")
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[0].default_value = (0.9, 0.92, 0.95, 1)
    world.node_tree.nodes["Background"].inputs[1].default_value = 0.25
    bpy.context.scene.world = world

    place_camera(*panel.axes(build), panel.FOCAL_PX, panel.SIZE_PX[0])
    render({"size_px": panel.SIZE_PX, "samples": 24, "seed": 60 + build, "exposure": 0.0, "linear": True}, path)


if __name__ == "__main__":
    arguments = sys.argv[sys.argv.index("--") + 1:]
    main(int(arguments[0]), arguments[1])
