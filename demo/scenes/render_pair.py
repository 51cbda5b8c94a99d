"""The pair for the walk-round, inside Blender: blender -b --python render_pair.py -- BUILD VIEW OUT.png [SCALE].

A low vulcanized deck shoe from swept sections: suede vamp, twill quarters, rubber toe cap laid by hand, foxing tape, eyelets, laces.
Build 2 carries faults on purpose: the right toe cap edge lies 5 mm further back than the left, glue shows over the lateral tape of
the left shoe, and one eyelet of the right shoe is missing its paint.
"""
import sys
from pathlib import Path

import bpy
import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
import pair  # noqa: E402
from catalogue import GUM, MOSS, OLIVE, SAND  # noqa: E402
from pair import CAP_LIFT, LENGTH, SOLE, THROAT, cap_edge, collar_phi, outline, section, spring  # noqa: E402
from render_sole import UNIT, Nodes, light, mesh_object, place_camera, plain, render, sheet  # noqa: E402

class Shoe:
    """One shoe; mirror = -1 for a right one."""

    def __init__(self, at, turn, mirror):
        self.mirror, self.stand = mirror, (at, turn, mirror)

    def place(self, p):
        return pair.placed(p, *self.stand)

    def surface(self, name, points, material, thickness=0.0, smooth=True):
        rows, columns = points.shape[:2]
        i = (np.arange(rows - 1)[:, None] * columns + np.arange(columns - 1)).ravel()
        faces = np.stack([i, i + 1, i + columns + 1, i + columns], -1)
        if self.mirror < 0:
            faces = faces[:, ::-1]
        o = mesh_object(name, self.place(points.reshape(-1, 3)) * UNIT, faces, material=material, smooth=smooth)
        if thickness:
            m = o.modifiers.new("thick", "SOLIDIFY")
            m.thickness = thickness * UNIT
            m.offset = 0
        return o

    def panel(self, name, t0, t1, phi0, phi1, lift, material, n=90, k=60, thickness=1.2):
        """A piece of the upper; t0, t1 numbers or functions of the way round (0..1), phi0, phi1 numbers or functions of t."""
        w = np.linspace(0, 1, k)
        a = np.array([t0(x) if callable(t0) else t0 for x in w])
        b = np.array([t1(x) if callable(t1) else t1 for x in w])
        t = a + (b - a) * np.linspace(0, 1, n)[:, None]
        p0 = phi0(t) if callable(phi0) else phi0
        p1 = phi1(t) if callable(phi1) else phi1
        return self.surface(name, section(t, p0 + (p1 - p0) * w, lift), material, thickness)

    def ring(self, at, normal, radius, tube, material):
        normal = normal / np.linalg.norm(normal)
        u = np.cross(normal, [1, 0, 0.01])
        u /= np.linalg.norm(u)
        v = np.cross(normal, u)
        a, b = np.meshgrid(np.linspace(0, 2 * np.pi, 25), np.linspace(0, 2 * np.pi, 11), indexing="ij")
        p = at + (radius + tube * np.cos(b))[..., None] * (np.cos(a)[..., None] * u + np.sin(a)[..., None] * v) + (tube * np.sin(b))[..., None] * normal
        self.surface("eyelet", p, material)

    def tube(self, path, width, height, material):
        """A flat lace along a path."""
        path = np.asarray(path, float)
        d = np.gradient(path, axis=0)
        d /= np.linalg.norm(d, axis=1, keepdims=True)
        up = np.array([0.35, 0, 1.0])
        side = np.cross(d, up)
        side /= np.linalg.norm(side, axis=1, keepdims=True)
        top = np.cross(side, d)
        a = np.linspace(0, 2 * np.pi, 13)
        p = path[:, None] + side[:, None] * np.cos(a)[None, :, None] * width / 2 + top[:, None] * np.sin(a)[None, :, None] * height / 2
        self.surface("lace", p, material)


def weave(name, colour):
    m = Nodes(name).set(Base_Color=(*colour, 1), Roughness=0.95, Specular=0.15, Sheen=0.4)
    coordinates = m.add("ShaderNodeTexCoord")
    wave = m.add("ShaderNodeTexWave", bands_direction="DIAGONAL")
    wave.inputs["Scale"].default_value = 7.0
    wave.inputs["Distortion"].default_value = 0.6
    m.link(coordinates.outputs["Object"], wave.inputs["Vector"])
    mix = m.add("ShaderNodeMixRGB")
    mix.inputs[1].default_value = (*[c * 0.65 for c in colour], 1)
    mix.inputs[2].default_value = (*[c * 1.25 for c in colour], 1)
    m.link(wave.outputs["Fac"], mix.inputs[0])
    m.link(mix.outputs[0], m.bsdf.inputs["Base Color"])
    b = m.add("ShaderNodeBump")
    b.inputs["Distance"].default_value = 0.35 * UNIT
    m.link(wave.outputs["Fac"], b.inputs["Height"])
    m.link(b.outputs["Normal"], m.bsdf.inputs["Normal"])
    return m.material


def build_shoe(shoe, build, side):
    suede = plain("suede", SAND, 1.0, 0.1, 0.8, noise=14.0, bump=0.5)
    twill = weave("twill", OLIVE)
    lining = plain("lining", (0.42, 0.38, 0.30), 1.0, 0.1, 0.3, noise=20.0, bump=0.3)
    gum = plain("gum", GUM, 0.5, 0.4, noise=5.0, bump=0.06)
    cap = plain("cap", (0.50, 0.44, 0.33), 0.48, 0.4, noise=8.0, bump=0.06)
    line = plain("line", (0.06, 0.065, 0.035), 0.5, 0.4)
    bottom = plain("outsole", MOSS if build == 1 else (0.022, 0.021, 0.019), 0.5)
    brass = Nodes("eyelet").set(Base_Color=(0.10, 0.09, 0.06, 1), Metallic=0.9, Roughness=0.35).material
    bare = Nodes("bare").set(Base_Color=(0.75, 0.65, 0.42, 1), Metallic=1.0, Roughness=0.3).material
    cotton = plain("lace", (0.62, 0.56, 0.44), 1.0, 0.1, 0.4, noise=30.0, bump=0.3)
    thread = plain("thread", (0.62, 0.55, 0.42), 0.9, 0.1)

    # upper: vamp and tongue as one skin, quarters over it
    shoe.panel("vamp", THROAT, 0.995, 0.02, np.pi - 0.02, 0.0, suede, 110, 90)
    for name, flip in (("lateral", False), ("medial", True)):
        def end(t, inner=0.0):
            return collar_phi(t) - inner
        lo = 0.02
        q0 = (lambda t: np.full_like(t, lo)) if not flip else (lambda t: np.full_like(t, np.pi - lo))
        q1 = (lambda t: end(t)) if not flip else (lambda t: np.pi - end(t))
        shoe.panel(f"quarter-{name}", 0.002, THROAT + 0.001, q0, q1, 1.0, twill, 80, 40, 1.8)
        shoe.panel(f"lining-{name}", 0.004, THROAT + 0.01, q0, q1, -1.2, lining, 60, 30, 0.6)
        stay = (lambda t: 1.32 - 0.55 * (t - 0.40) / 0.25) if not flip else (lambda t: np.pi - (1.32 - 0.55 * (t - 0.40) / 0.25))
        base = (lambda t: 0.02 + 0 * t) if not flip else (lambda t: np.pi - 0.02 + 0 * t)
        shoe.panel(f"front-{name}", THROAT - 0.005, lambda w: 0.56 + 0.08 * w, base, stay, 1.1, twill, 60, 40, 1.6)
        eyestay0 = (lambda t: stay(t) - 0.24) if not flip else (lambda t: stay(t) + 0.24)
        shoe.panel(f"eyestay-{name}", 0.39, 0.645, eyestay0, stay, 2.2, suede, 50, 12, 1.4)
        # collar edge
        t = np.linspace(0.0, THROAT, 60)
        p = section(t, q1(t), 0.4)
        shoe.tube(p, 5.0, 4.4, suede)
        heel1 = (lambda t: 0.02 + (collar_phi(t) - 0.02)) if not flip else (lambda t: np.pi - 0.02 - (collar_phi(t) - 0.02))
        shoe.panel(f"heel-patch-{name}", 0.0005, lambda w: 0.085 - 0.05 * w, base, heel1, 2.2, suede, 24, 30, 1.4)
        # stitches along the eyestay and the front of the quarter
        for t in np.linspace(0.40, 0.64, 40):
            tt = np.array([t - 0.0018, t + 0.0018])
            shoe.tube(section(tt, eyestay0(tt) + (0.025 if not flip else -0.025), 3.0), 0.7, 0.6, thread)
        for w in np.linspace(0.05, 0.95, 34):
            t = 0.56 + 0.08 * w - 0.008
            f = base(t) + (stay(t) - base(t)) * np.array([w - 0.009, w + 0.009])
            shoe.tube(section(np.full(2, t), f, 2.1), 0.7, 0.6, thread)

    # the back: the narrow strip between both sides at the heel
    rise = np.linspace(0.02, 1.0, 30) * float(collar_phi(np.array(0.0)))
    for lift, material in ((1.6, twill), (2.3, suede), (-1.0, lining)):
        a, b = section(np.full(30, 0.001), rise, lift), section(np.full(30, 0.001), np.pi - rise, lift)
        w = np.linspace(0, 1, 16)[None, :, None]
        shoe.surface("back", a[:, None] + (b - a)[:, None] * w - np.array([1.0, 0, 0]) * 2.2 * np.sin(np.pi * w), material, 1.0)
    a, b = a[-1], b[-1]
    w = np.linspace(-0.1, 1.1, 20)[:, None]
    shoe.tube(a + (b - a) * w - np.array([1.0, 0, 0]) * 2.0 * np.sin(np.pi * np.clip(w, 0, 1)) + [0.5, 0, 0.5], 4.6, 5.0, suede)

    # eyelets and laces
    places = np.linspace(0.425, 0.625, 5)
    for flip in (False, True):
        for k, t in enumerate(places):
            phi = 1.32 - 0.55 * (t - 0.40) / 0.25 - 0.12
            phi = np.pi - phi if flip else phi
            p, out = section(np.array(t), np.array(phi), 2.9), section(np.array(t), np.array(phi), 9.0)
            shoe.ring(p, out - p, 2.5, 0.8, bare if build == 2 and side == "right" and not flip and k == 1 else brass)
    for k in range(5):
        s = np.linspace(0, 1, 30)
        here = 1.20 - 0.55 * (places[k] - 0.40) / 0.25
        shoe.tube(section(np.full(30, places[k]), here + (np.pi - 2 * here) * s, 4.0 + 1.2 * np.sin(np.pi * s)), 6.0, 1.6, cotton)
        if k < 4:
            there = 1.20 - 0.55 * (places[k + 1] - 0.40) / 0.25
            shoe.tube(section(places[k] + (places[k + 1] - places[k]) * s, here + (np.pi - there - here) * s, 3.0), 6.0, 1.4, cotton)
    shoe.panel("tongue", lambda w: 0.335 + 0.02 * (2 * w - 1) ** 2, 0.64, lambda t: np.where(t < 0.40, 1.16, 1.30 - 0.5 * (t - 0.40) / 0.25),
               lambda t: np.pi - np.where(t < 0.40, 1.16, 1.30 - 0.5 * (t - 0.40) / 0.25), 1.0, twill, 60, 30, 2.0)
    # footbed
    o = outline(6.0)
    t = np.clip(o[:, 0] / LENGTH, 0, 1)
    centre = np.array([LENGTH * 0.3, -2.0])
    ring = [np.column_stack([centre + (o - centre) * f, np.full(len(o), SOLE + 6.0)]) for f in (0.02, 1.0)]
    del t
    shoe.surface("footbed", np.array(ring), lining)

    # foxing, its line, outsole
    def band(name, inset, z0, z1, material, bulge=0.0, t_from=-1.0, edge=None):
        line_ = outline(inset)
        tt = np.clip(line_[:, 0] / LENGTH, 0, 1)
        zs = np.linspace(0, 1, 9)
        rings_ = []
        for f in zs:
            grow = outline(inset - bulge * np.sin(np.pi * f))
            rings_.append(np.column_stack([grow, spring(tt) + z0 + (z1 - z0) * f]))
        p = np.array(rings_)
        if edge is not None:
            keep = np.nonzero(tt > edge)[0]
            p = p[:, keep.min():keep.max() + 1]
        shoe.surface(name, p, material, 1.0)

    band("outsole", 1.0, 0.0, 6.0, bottom, 0.6)
    band("foxing", 0.0, 5.0, 31.0, gum, 0.5)
    band("tape-line", -0.5, 23.0, 26.0, line, 0.3)
    band("bumper", -1.4, 6.0, 27.0, cap, 0.8, edge=0.80)
    for z in np.linspace(9, 24, 6):
        band("rib", -2.6, z, z + 1.2, cap, 0.5, edge=0.86)
    o = outline(1.0)
    tt = np.clip(o[:, 0] / LENGTH, 0, 1)
    middle = np.array([LENGTH * 0.5, 0])
    shoe.surface("ground", np.array([np.column_stack([middle + (o - middle) * f, spring(tt) * f]) for f in (0.01, 1.0)]), bottom)

    # toe cap: its rear edge is an arc, laid by hand
    shoe.panel("toe-cap", lambda w: cap_edge(build, side, w), 0.997, 0.02, np.pi - 0.02, CAP_LIFT, cap, 40, 80, 1.6)

    if build == 2 and side == "left":  # glue over the tape
        glue = Nodes("glue").set(Base_Color=(0.75, 0.66, 0.42, 1), Roughness=0.18, Specular=0.6).material
        rng = np.random.default_rng(5)
        a, b = np.meshgrid(np.linspace(0, 2 * np.pi, 25), np.linspace(-np.pi / 2, np.pi / 2, 13), indexing="ij")
        ball = np.stack([np.cos(a) * np.cos(b), np.sin(a) * np.cos(b), np.sin(b)], -1)
        for _ in range(22):
            at = section(np.array(0.655 + rng.normal(0, 0.025)), np.array(0.13 + abs(rng.normal(0, 0.045))), 1.0)
            shoe.surface("glue", at + ball * [rng.uniform(1.5, 5.5), 0.9, rng.uniform(0.8, 2.2)], glue)


def main(build, view, path, scale):
    bpy.ops.wm.read_factory_settings(use_empty=True)
    low = -0.03 if view == "top" else 0.0
    mat = plain("mat", (0.16, 0.17, 0.17), 0.75, 0.25, noise=9.0, bump=0.35)
    mesh_object("mat", np.array([(-160, -160, low), (160, -160, low), (160, 160, low), (-160, 160, low)]), [(0, 1, 2, 3)], material=mat)
    if view == "top":
        sheet(pair.SHEET)
    for side, spot in pair.stand(view).items():
        build_shoe(Shoe(*spot), build, side)
    s = {"size_px": pair.size(view), "samples": 6 if view == "top" else 4, "seed": 7 + build, "exposure": 0.75}
    azimuth = {"lateral": 235, "top": 200, "heel": 150, "toe": 330}[view] + 12 * build
    a = np.radians(azimuth)
    light("window", (85 * np.cos(a), 85 * np.sin(a), 70), (50, 36), 52000, (1, 0.95, 0.88), (0, 0, 4))
    light("lamp", (-40 * np.cos(a + 0.7), -40 * np.sin(a + 0.7), 100), (60, 20), 16000, (0.93, 0.96, 1.0), (6, 0, 4))
    world = bpy.data.worlds.new("room")
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[0].default_value = (0.84, 0.86, 0.9, 1)
    world.node_tree.nodes["Background"].inputs[1].default_value = 0.2
    bpy.context.scene.world = world
    centre, columns = pair.camera(view)
    place_camera(centre, columns, pair.focal_px(view), pair.size(view)[0], float(np.linalg.norm(centre - np.array(pair.VIEWS[view][1]))) * 0.97, 60.0)
    render(s, path, scale)


if __name__ == "__main__":
    arguments = sys.argv[sys.argv.index("--") + 1:]
    main(int(arguments[0]), arguments[1], arguments[2], int(arguments[3]) if len(arguments) > 3 else 100)
