"""Soles modelled, lit and pictured by other rules than those that taught the networks: a look at what a stranger's pictures would show.

usage: blender -b --python other_soles.py -- render FOLDER FROM TO      some 15 s of one core a sole; writes linear pictures and their truth
       python3 other_soles.py develop FOLDER OUT                        makes of each a picture as a camera would, in the form that `exported` reads

Needs blender with numpy and scipy, and Debian's python3-opencv for the second step. Same number, same sole. Shapes, stuffs, wall profiles and lamps share no code and no numbers with demo/scenes.
"""
import glob
import math
import os
import struct
import sys

import numpy as np

CELL = 0.35  # mm
PER_MM = 2.2  # of the picture
WIDTH, HEIGHT = 960, 560
RUBBER, TEXTILE, LEATHER = 1, 2, 3
PARTS = 4  # of a pixel each way, for the truth


class Shape:
    """A sole as heights over its contact plane, in cells along and across."""

    def __init__(self, r):
        from scipy import ndimage

        self.ndimage, self.r = ndimage, r
        self.length = r.uniform(250, 305)
        self.ball, self.waist, self.heel = r.uniform(46, 55), r.uniform(30, 40), r.uniform(32, 37)
        rows, columns = int((self.length + 10) / CELL), int(130 / CELL)
        self.x, self.y = (np.arange(rows) * CELL - 5)[:, None], ((np.arange(columns) - columns / 2) * CELL)[None]
        self.t = np.clip(self.x / self.length, 0, 1)
        self.inside = self.outline()
        self.depth_in = self.distance(self.inside)
        self.material = self.materials()
        self.touch, self.height = self.relief()

    def distance(self, mask):
        return self.ndimage.distance_transform_edt(mask) * CELL

    def turned(self, degrees, x=0, y=0):
        a = math.radians(degrees)
        return (self.x - x) * math.cos(a) + (self.y - y) * math.sin(a), -(self.x - x) * math.sin(a) + (self.y - y) * math.cos(a)

    def outline(self):
        at = [0, .04, .14, .3, .42, .55, .7, .82, .93, .98, 1]
        half = np.interp(self.t[:, 0], at, [0, .62 * self.heel, self.heel, .92 * self.heel, self.waist, .93 * self.ball, self.ball, .95 * self.ball, .68 * self.ball, .40 * self.ball, 0])
        window = np.hanning(61)
        half = np.convolve(np.pad(half, 30, mode="edge"), window / window.sum(), "valid")[:, None]
        half = np.where((self.x < 0) | (self.x > self.length), -1, half)
        bend = 9 * np.sin(np.pi * (self.t - 0.25) * 1.1) * self.r.uniform(-1, 1)
        rough = self.ndimage.binary_opening(np.abs(self.y - bend) < half, iterations=8)
        return self.ndimage.gaussian_filter(rough.astype(float), 10) > 0.5

    def patch(self):
        """A place for another stuff."""
        r = self.r
        kind = r.integers(0, 5)
        if kind == 0:
            low, high = sorted(r.uniform(0, 1, 2))
            return (self.depth_in > r.uniform(3, 16)) & (self.t > low) & (self.t < max(high, low + 0.15))
        if kind == 1:
            u, v = self.turned_about(.15, .85, 10)
            return (u / r.uniform(18, 60)) ** 2 + (v / r.uniform(10, 34)) ** 2 < 1
        if kind == 2:
            u, v = self.turned_about(.15, .85, 12)
            return (np.abs(u) < r.uniform(12, 50)) & (np.abs(v) < r.uniform(8, 28))
        if kind == 3:
            _, v = self.turned(r.uniform(-30, 30))
            return (v % r.uniform(16, 40) < r.uniform(6, 14)) & (self.depth_in > r.uniform(0, 8))
        return (self.y > r.uniform(-15, 15)) & (self.depth_in > 2)

    def turned_about(self, low, high, aside):
        x, y = self.r.uniform(low, high) * self.length, self.r.uniform(-aside, aside)
        return self.turned(self.r.uniform(-40, 40), x, y)

    def materials(self):
        r = self.r
        textile = np.zeros_like(self.inside)
        for _ in range(r.integers(1, 4)):
            textile |= self.patch()
        textile = self.inside & (self.ndimage.gaussian_filter((textile & self.inside).astype(float), r.uniform(2, 8)) > 0.5)
        material = np.where(textile, TEXTILE, np.where(self.inside, RUBBER, 0))
        if r.random() < 0.12:
            material[self.patch() & self.inside & ~textile] = LEATHER
        return material

    def tread(self):
        """Grooves of one pattern."""
        r = self.r
        kind, pitch = r.integers(0, 7), r.uniform(5, 16)
        width, turn = r.uniform(1.2, min(5, .45 * pitch)), r.uniform(-90, 90)
        u, v = self.turned(turn)
        if kind == 0:
            return (u % pitch) < width
        if kind == 1:
            return ((u + (pitch * .9) * np.abs(((v / (2 * pitch)) % 1) - .5) * 2) % pitch) < width
        if kind == 2:
            return ((u % pitch) < width) | ((v % (pitch * r.uniform(.8, 2))) < width)
        if kind == 3:
            step = pitch + 3
            du, dv = (u + step / 2 * (np.floor(v / step) % 2)) % step - step / 2, v % step - step / 2
            return np.hypot(du, dv) > (step - width) / 2
        if kind == 4:
            x, y = r.uniform(.6, .8) * self.length, r.uniform(-10, 10)
            return (np.hypot(self.x - x, self.y - y) % pitch) < width
        if kind == 5:
            return ((self.x + np.abs(self.y) * r.uniform(.4, 1.2)) % pitch) < width
        _, across = self.turned(turn + r.uniform(60, 90))
        return ((u % (pitch * 1.6)) < r.uniform(.6, 1.1)) | ((across % (pitch * 2.2)) < width)

    def grooves(self):
        r = self.r
        groove = self.tread()
        if r.random() < .35:
            other = self.tread()
            groove = np.where(self.t > r.uniform(.3, .6), groove, other)
        textile = self.material == TEXTILE
        through = r.random()
        if through < .35:
            groove = groove & ~textile
        elif through < .5:
            groove = np.where(textile, self.tread(), groove)
        if r.random() < .5:
            rim = r.uniform(2, 8)
            groove = groove & (self.depth_in > rim)
            if r.random() < .3:
                groove = groove | ((self.depth_in > rim) & (self.depth_in < rim + r.uniform(.8, 2)))
        if r.random() < .45:
            edge = self.distance(textile) + self.distance(~textile)
            groove = groove | ((edge < r.uniform(.4, 1.2)) & self.inside & (self.depth_in > 3))
        return groove.astype(bool)

    def sunken(self):
        r = self.r
        sunken = np.zeros_like(self.inside)
        if r.random() < .45:
            low = r.uniform(.3, .42)
            sunken = (self.t > low) & (self.t < low + r.uniform(.06, .18)) & (self.depth_in > (0 if r.random() < .5 else r.uniform(3, 10)))
        if r.random() < .15:
            x, y = r.uniform(.2, .8) * self.length, r.uniform(-8, 8)
            sunken = sunken | ((self.x - x) ** 2 + (self.y - y) ** 2 < r.uniform(9, 20) ** 2)
        return sunken

    def relief(self):
        r = self.r
        groove, sunken = self.grooves(), self.sunken()
        rim = r.uniform(0.0, 1.3)
        touch = self.ndimage.binary_opening(self.inside & ~groove & ~sunken & (self.depth_in > rim), iterations=1)
        depth = r.uniform(.8, 3.5)
        sunk = depth + r.uniform(-.3, 2.5)
        wall = np.clip(self.distance(~touch) / r.uniform(.15, 1.4), 0, 1)
        wall = wall * wall * (3 - 2 * wall) if r.random() < .5 else wall
        height = -np.where(sunken, max(.5, sunk), depth) * wall
        if r.random() < .4:
            # A rounded edge that still touches under load.
            fillet = r.uniform(.2, .6)
            height = height - np.where(touch, .12 * np.clip(1 - self.distance(touch) / fillet, 0, 1) ** 2, 0)
        height = height - 1.2 * np.clip(1 - self.depth_in / max(rim, .3), 0, 1) ** 2
        height = np.where(self.inside, height, -1.5 - np.clip(self.distance(~self.inside), 0, 3) * 6)
        return touch, self.ndimage.gaussian_filter(height, r.uniform(.15, .45))


def stuff(r):
    """A colour, linear."""
    level = np.exp(r.uniform(math.log(.012), math.log(.6)))
    return np.clip(level * np.clip(1 + r.uniform(0, .7) * r.uniform(-1, 1, 3), .15, 2), .004, .85)


class Nodes:
    """Shader nodes of one material, written as sums and products."""

    def __init__(self, bpy, name):
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.surface = self.tree.nodes["Principled BSDF"].inputs

    def node(self, kind, **settings):
        node = self.tree.nodes.new(kind)
        for name, value in settings.items():
            setattr(node, name, value)
        return node

    def link(self, output, to):
        self.tree.links.new(output, to)

    def math(self, operation, *inputs):
        node = self.node("ShaderNodeMath", operation=operation)
        for socket, value in zip(node.inputs, inputs):
            if isinstance(value, (int, float)):
                socket.default_value = value
            else:
                self.link(value, socket)
        return node.outputs[0]

    def texture(self, kind, where, **inputs):
        node = self.node(kind)
        for name, value in inputs.items():
            node.inputs[name].default_value = value
        if where:
            self.link(where, node.inputs["Vector"])
        return node


def sole_material(bpy, r):
    """Colour of each stuff from the vertices; cloth is mottled, rough and in relief."""
    n = Nodes(bpy, "sole")
    colour, kind = (n.node("ShaderNodeAttribute", attribute_name=a) for a in ("colour", "kind"))
    parts = n.node("ShaderNodeSeparateRGB")
    n.link(kind.outputs["Color"], parts.inputs[0])
    soft, where = parts.outputs[0], n.node("ShaderNodeTexCoord").outputs["Object"]
    fine = n.texture("ShaderNodeTexNoise", where, Scale=r.uniform(60, 160), Detail=6).outputs["Fac"]
    coarse = n.texture("ShaderNodeTexNoise", where, Scale=r.uniform(1, 4), Detail=4).outputs["Fac"]
    if r.random() < .4:
        weave = n.texture("ShaderNodeTexWave", where, Scale=r.uniform(25, 60), Distortion=.6)
        weave.bands_direction = "DIAGONAL"
        thread = weave.outputs["Fac"]
    else:
        thread = n.texture("ShaderNodeTexVoronoi", where, Scale=r.uniform(90, 220)).outputs["Distance"]
    about = lambda v, most: n.math("MULTIPLY", n.math("SUBTRACT", v, .5), most)
    mottled = n.math("MULTIPLY", n.math("ADD", about(fine, r.uniform(.3, 1.4)), about(thread, r.uniform(.1, .7))), soft)
    shade = n.node("ShaderNodeVectorMath", operation="SCALE")
    n.link(colour.outputs["Color"], shade.inputs[0])
    n.link(n.math("ADD", 1.0, n.math("ADD", mottled, about(coarse, r.uniform(0, .5)))), shade.inputs["Scale"])
    n.link(shade.outputs[0], n.surface["Base Color"])
    rough = r.uniform(.3, .7)
    n.link(n.math("ADD", rough, n.math("MULTIPLY", soft, 1 - rough)), n.surface["Roughness"])
    n.link(n.math("MULTIPLY", soft, r.uniform(0, 1)), n.surface["Sheen"])
    bump = n.texture("ShaderNodeBump", None, Distance=.004)
    grain = n.math("ADD", n.math("MULTIPLY", n.math("ADD", fine, thread), soft), n.math("MULTIPLY", fine, r.uniform(0, .15)))
    bump.inputs["Strength"].default_value = r.uniform(.3, 1)
    n.link(grain, bump.inputs["Height"])
    n.link(bump.outputs[0], n.surface["Normal"])
    return n.material


def bench_material(bpy, r):
    n = Nodes(bpy, "bench")
    colour = stuff(r)
    pattern = n.texture("ShaderNodeTexWave" if r.random() < .4 else "ShaderNodeTexNoise", None, Scale=r.uniform(1, 12))
    mix = n.node("ShaderNodeMixRGB")
    mix.inputs[1].default_value, mix.inputs[2].default_value = (*colour, 1), (*(colour * r.uniform(.6, 1.3)), 1)
    n.link(pattern.outputs["Fac"], mix.inputs[0])
    n.link(mix.outputs[0], n.surface["Base Color"])
    n.surface["Roughness"].default_value = r.uniform(.4, 1)
    return n.material


def mesh_of(bpy, r, shape, lie):
    """The sole as a mesh, a tenth of a metre each unit. lie: from cells of the mesh to mm in the picture's world."""
    keep = shape.ndimage.binary_dilation(shape.inside, iterations=8)
    number = np.full(keep.shape, -1)
    number[keep] = np.arange(keep.sum())
    x, y = lie(*(np.broadcast_to(v, keep.shape)[keep] for v in (shape.x, shape.y)))
    whole = keep[:-1, :-1] & keep[1:, :-1] & keep[:-1, 1:] & keep[1:, 1:]
    corners = [v[whole] for v in (number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:])]
    faces = np.stack(corners if lie.left else corners[::-1], -1).astype(np.int32)
    mesh = bpy.data.meshes.new("sole")
    mesh.vertices.add(len(x))
    mesh.vertices.foreach_set("co", (np.stack([x, y, lie.plane + shape.height[keep]], -1) / 100).ravel())
    mesh.loops.add(faces.size)
    mesh.loops.foreach_set("vertex_index", faces.ravel())
    mesh.polygons.add(len(faces))
    mesh.polygons.foreach_set("loop_start", np.arange(0, faces.size, 4, dtype=np.int32))
    mesh.polygons.foreach_set("loop_total", np.full(len(faces), 4, np.int32))
    mesh.polygons.foreach_set("use_smooth", np.ones(len(faces), bool))
    mesh.update()
    mesh.validate()
    material, one = shape.material[keep], np.ones((len(x), 1))
    rubber = stuff(r)
    textile = rubber * r.uniform(.85, 1.15, 3) if r.random() < .35 else stuff(r)
    colours = np.stack([rubber, rubber, textile, stuff(r)])[material]
    for name, values in (("colour", colours), ("kind", np.stack([material == TEXTILE, material == LEATHER, 0 * material], -1))):
        mesh.color_attributes.new(name, "FLOAT_COLOR", "POINT").data.foreach_set("color", np.concatenate([values, one], 1).astype(np.float32).ravel())
    mesh.materials.append(sole_material(bpy, r))
    return mesh


class Lie:
    """How a sole lies on the bench: turned, left or right, its contact plane at a height in mm."""

    def __init__(self, r, middle):
        self.plane, self.left, self.middle = r.uniform(18, 90), r.random() < .5, middle
        a = math.radians(r.uniform(-14, 14))
        self.c, self.s = math.cos(a), math.sin(a)

    def __call__(self, x, y):
        x, y = x - self.middle, y if self.left else -y
        return x * self.c - y * self.s, x * self.s + y * self.c

    def back(self, x, y):
        u, v = x * self.c + y * self.s, -x * self.s + y * self.c
        return u + self.middle, v if self.left else -v


class View:
    """A camera that looks at the middle of the sole from a tilt."""

    def __init__(self, r, plane):
        distance, tilt, azimuth = r.uniform(650, 950), math.radians(r.uniform(0, 10)), r.uniform(0, 2 * math.pi)
        self.focal = PER_MM * distance
        look = np.array([0, 0, plane])
        self.at = look + distance * np.array([math.sin(tilt) * math.cos(azimuth), math.sin(tilt) * math.sin(azimuth), math.cos(tilt)])
        self.forward = (look - self.at) / distance
        right = np.cross(self.forward, [0, 1, 0])
        self.right = right / np.linalg.norm(right)
        self.up = np.cross(self.right, self.forward)

    def place(self, bpy, scene):
        from mathutils import Matrix

        data = bpy.data.cameras.new("camera")
        data.sensor_width, data.lens = 36, self.focal * 36 / WIDTH
        camera = bpy.data.objects.new("camera", data)
        rows = [[self.right[i], self.up[i], -self.forward[i], self.at[i] / 100] for i in range(3)]
        camera.matrix_world = Matrix((*rows, (0, 0, 0, 1)))
        scene.collection.objects.link(camera)
        scene.camera = camera

    def on_plane(self, height):
        """Where the rays through parts of each pixel meet a plane, in mm."""
        rows, columns = np.mgrid[0:HEIGHT * PARTS, 0:WIDTH * PARTS]
        u, v = ((columns + .5) / PARTS - WIDTH / 2) / self.focal, -((rows + .5) / PARTS - HEIGHT / 2) / self.focal
        ray = [self.forward[i] + u * self.right[i] + v * self.up[i] for i in range(3)]
        far = (height - self.at[2]) / ray[2]
        return self.at[0] + far * ray[0], self.at[1] + far * ray[1]


def light(bpy, r, scene, plane):
    """A window or lamp, or two, and the sky."""
    aim = bpy.data.objects.new("aim", None)
    aim.location = (0, 0, plane / 100)
    scene.collection.objects.link(aim)
    for i in range(r.integers(1, 3)):
        azimuth, rise, far = r.uniform(0, 2 * math.pi), math.radians(r.uniform(18, 65)), r.uniform(6, 14)
        data = bpy.data.lights.new("lamp", "AREA")
        data.energy, data.size, data.color = r.uniform(250, 700) * (far / 9) ** 2 / (1 + 1.4 * i), r.uniform(.4, 4), (1, r.uniform(.85, 1), r.uniform(.7, 1))
        lamp = bpy.data.objects.new("lamp", data)
        lamp.location = (far * math.cos(rise) * math.cos(azimuth), far * math.cos(rise) * math.sin(azimuth), far * math.sin(rise))
        track = lamp.constraints.new("TRACK_TO")
        track.target, track.track_axis, track.up_axis = aim, "TRACK_NEGATIVE_Z", "UP_Y"
        scene.collection.objects.link(lamp)
    world = bpy.data.worlds.new("sky")
    world.use_nodes = True
    sky = world.node_tree.nodes["Background"].inputs
    sky[0].default_value, sky[1].default_value = (.9, .95, 1, 1), r.uniform(.08, .5)
    scene.world = world


def truth(shape, lie, view):
    """Quarters of each pixel that touch, and its material."""
    x, y = lie.back(*view.on_plane(lie.plane))
    row, column = np.rint((x + 5) / CELL).astype(int), np.rint(y / CELL + shape.y.size / 2).astype(int)
    on = (row >= 0) & (row < shape.x.size) & (column >= 0) & (column < shape.y.size)
    touch, material = np.zeros(on.shape, np.uint8), np.zeros(on.shape, np.uint8)
    touch[on], material[on] = shape.touch[row[on], column[on]], shape.material[row[on], column[on]]
    cover = touch.reshape(HEIGHT, PARTS, WIDTH, PARTS).mean((1, 3))
    return np.round(cover * 4).astype(np.uint8), material[PARTS // 2::PARTS, PARTS // 2::PARTS]


def render(folder, number):
    import bpy

    r = np.random.default_rng(77_000 + number)
    shape = Shape(r)
    textile = (shape.touch & (shape.material == TEXTILE)).sum() / max(1, shape.touch.sum())
    if not (.25 < shape.touch.sum() / shape.inside.sum() < .96 and .06 < textile < .95):
        return
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.cycles.samples, scene.cycles.use_denoising = 14, False
    scene.render.threads_mode, scene.render.threads = "FIXED", 1
    scene.render.resolution_x, scene.render.resolution_y = WIDTH, HEIGHT
    scene.view_settings.view_transform = "Standard"
    scene.render.image_settings.file_format, scene.render.image_settings.color_depth = "PNG", "16"
    lie = Lie(r, shape.length / 2)
    scene.collection.objects.link(bpy.data.objects.new("sole", mesh_of(bpy, r, shape, lie)))
    bpy.ops.mesh.primitive_plane_add(size=30)
    bpy.context.object.data.materials.append(bench_material(bpy, r))
    light(bpy, r, scene, lie.plane)
    view = View(r, lie.plane)
    view.place(bpy, scene)
    scene.render.filepath = f"{folder}/o{number:05d}.png"
    bpy.ops.render.render(write_still=True)
    cover, material = truth(shape, lie, view)
    np.savez_compressed(f"{folder}/o{number:05d}.npz", cover=cover, material=material)


def develop(path, out):
    """Exposure, noise, blur and JPEG of a camera; cropped to the sole. Laid out as Export.cs does."""
    import cv2

    name = os.path.basename(path)[:-4]
    r = np.random.default_rng(int(name[1:]))
    maps, picture = np.load(path), cv2.imread(path[:-4] + ".png", cv2.IMREAD_UNCHANGED)[..., :3].astype(np.float32) / 65535
    linear = np.where(picture <= .04045, picture / 12.92, ((picture + .055) / 1.055) ** 2.4)
    sole = linear[maps["material"] > 0].mean(1)
    gain = r.uniform(.25, .5) / np.quantile(sole if sole.mean() > .03 else 1.6 * sole, .9)
    linear = linear * min(gain, 6)
    linear = np.clip(linear + r.normal(0, 1, linear.shape) * np.sqrt(linear * r.uniform(.00005, .0006) + 2e-6), 0, 1)
    seen = np.where(linear <= .0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - .055)
    seen = np.clip(cv2.GaussianBlur(seen, (0, 0), r.uniform(.3, .8)) * 255 + .5, 0, 255).astype(np.uint8)
    rgb = cv2.imdecode(cv2.imencode(".jpg", seen, [cv2.IMWRITE_JPEG_QUALITY, int(r.integers(75, 95))])[1], cv2.IMREAD_COLOR)[..., ::-1]
    rows, columns = np.where(maps["material"] > 0)
    box = np.s_[max(0, rows.min() - 8):rows.max() + 9, max(0, columns.min() - 8):columns.max() + 9]
    rgb, cover, material = (np.ascontiguousarray(v[box]) for v in (rgb, maps["cover"], maps["material"]))
    with open(f"{out}/{name}.bin", "wb") as f:
        f.write(struct.pack("iifi", rgb.shape[1], rgb.shape[0], PER_MM, 0))
        for plane in (rgb, cover, material.astype(np.uint8), np.zeros(material.shape, np.uint8)):
            f.write(plane.tobytes())


def main():
    what, *rest = sys.argv[sys.argv.index("--") + 1:] if "--" in sys.argv else sys.argv[1:]
    if what == "render":
        folder, start, end = rest
        os.makedirs(folder, exist_ok=True)
        for number in range(int(start), int(end)):
            render(folder, number)
    else:
        folder, out = rest
        os.makedirs(out, exist_ok=True)
        for path in sorted(glob.glob(folder + "/*.npz")):
            develop(path, out)


if __name__ == "__main__":
    main()
