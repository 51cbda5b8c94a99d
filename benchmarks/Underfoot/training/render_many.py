"""Renders invented soles drawn at random and writes them as planes for train.py (the form of `export`, without dabs).

usage: render_many.py FOLDER FROM TO. Needs blender and Debian's python3-opencv, python3-scipy. Some 20 s of one core a sole. Same number, same sole.
"""
import json
import struct
import subprocess
import sys
import tempfile
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage

SCENES = Path(__file__).resolve().parents[3] / "demo/scenes"
sys.path.insert(0, str(SCENES))
import camera as cam  # noqa: E402
import catalogue  # noqa: E402
import finish  # noqa: E402
import make_maps  # noqa: E402
import soles  # noqa: E402
from tread import *  # noqa: E402,F403


def one_tread(rng, g):
    """Grooves over the whole sole, of one pattern."""
    turn = rng.uniform(-60, 60) if rng.random() < 0.6 else rng.choice([0.0, 90.0])
    width = rng.uniform(1.0, 4.5)
    pitch = width * rng.uniform(2.2, 6)
    x, y = g.x + rng.uniform(0, 30), g.y + rng.uniform(0, 30)
    kind = rng.integers(0, 9)
    if kind == 0:
        return (turned(x, y, turn)[0] % pitch) < width
    if kind == 1:
        return zigzag(x, y, pitch, width, rng.uniform(2, 8), rng.uniform(12, 32), turn)
    if kind == 2:
        return waves(x, y, pitch, width, rng.uniform(1, 6), rng.uniform(12, 34), turn)
    if kind == 3:
        return lattice(x, y, pitch, width, turn, rng.choice([90, 90, 60, 110]))
    if kind == 4:
        return bricks(x, y, max(pitch, 7) * rng.uniform(1.2, 2.4), max(pitch, 6), min(width, 3), turn)
    if kind == 5:
        centre = (rng.uniform(0.6, 0.8) * g.length, rng.uniform(-10, 10))
        heel = (rng.uniform(0.08, 0.18) * g.length, rng.uniform(-6, 6))
        half = g.x > rng.uniform(0.4, 0.5) * g.length
        return np.where(half, rings(g.x, g.y, centre, pitch, width), rings(g.x, g.y, heel, pitch, width)).astype(bool)
    if kind == 6:
        return hexes(x, y, max(pitch, 8), width)
    if kind == 7:
        # round or square studs, set in rows
        u, v = turned(x, y, turn)
        step = max(pitch, 7)
        row = np.floor(v / step)
        du, dv = (u / step + 0.5 * (row % 2)) % 1 - 0.5, (v / step) % 1 - 0.5
        far = np.maximum(np.abs(du), np.abs(dv)) if rng.random() < 0.5 else np.hypot(du, dv)
        return far * step > step / 2 - width / 2
    # broken slabs
    n = int(rng.integers(30, 110))
    seeds = np.stack([rng.uniform(0, g.length, n), rng.uniform(-60, 60, n)], -1)
    from scipy.spatial import cKDTree
    far, _ = cKDTree(seeds).query(np.stack([g.x.ravel()[::1], g.y.ravel()], -1), k=2, workers=1)
    return ((far[:, 1] - far[:, 0]) < width).reshape(g.x.shape)


def area(rng, g):
    """A place for another material."""
    t = g.x / g.length
    inset = rng.uniform(2, 18)
    kind = rng.integers(0, 6)
    if kind == 0:
        lo = rng.uniform(0.4, 0.65)
        zone = soles.rounded(soles.offset_zone(g, lo, lo + rng.uniform(0.15, 0.5), inset, rng.choice([0, 2.0]), 26), rng.uniform(2, 10))
    elif kind == 1:
        zone = soles.rounded(soles.offset_zone(g, -0.1, rng.uniform(0.12, 0.35), inset), rng.uniform(2, 10))
    elif kind == 2:
        u, _ = turned(g.x, g.y, rng.uniform(-50, 50))
        step = rng.uniform(22, 60)
        zone = ((u + rng.uniform(0, step)) % step < step * rng.uniform(0.3, 0.6)) & (g.depth_in > inset / 3)
    elif kind == 3:
        zone = (t > rng.uniform(0, 0.2)) & (t < rng.uniform(0.8, 1)) & (g.depth_in > inset / 2)
    elif kind == 4:
        zone = np.zeros(g.x.shape, bool)
        for _ in range(int(rng.integers(3, 12))):
            zone |= np.hypot(g.x - rng.uniform(0.05, 0.95) * g.length, g.y - rng.uniform(-32, 32)) < rng.uniform(6, 15)
    else:
        zone = soles.blob(g.x, g.y, rng.uniform(0.2, 0.8) * g.length, rng.uniform(-8, 8), rng.uniform(25, 80), rng.uniform(18, 42), rng.uniform(1.7, 3.5), rng.uniform(-30, 30))
    return zone & g.inside


def made(rng, s):
    g = Grid(s["length"], s["width_scale"])
    t = g.x / g.length
    textile, leather = np.zeros(g.x.shape, bool), np.zeros(g.x.shape, bool)
    for _ in range(int(rng.integers(1, 4))):
        textile |= area(rng, g)
    if rng.random() < 0.15:
        leather |= area(rng, g) & ~textile
    if rng.random() < 0.2:
        for _ in range(int(rng.integers(3, 10))):
            textile &= np.hypot(g.x - rng.uniform(0.05, 0.95) * g.length, g.y - rng.uniform(-30, 30)) > rng.uniform(5, 12)
    groove = one_tread(rng, g)
    if rng.random() < 0.3:
        groove = np.where(g.x > rng.uniform(0.3, 0.55) * g.length, groove, one_tread(rng, g)).astype(bool)
    through = rng.random()
    if through < 0.2:
        groove &= ~textile
    elif through < 0.4:
        groove = np.where(textile, one_tread(rng, g), groove).astype(bool)
    if leather.any() and rng.random() < 0.6:
        groove &= ~leather
    if rng.random() < 0.4:
        # plain platforms without tread
        plain = area(rng, g)
        groove &= ~plain
    rim = rng.uniform(2, 9) if rng.random() < 0.6 else 0
    if rim:
        groove &= g.depth_in > rim
        if rng.random() < 0.5:
            groove |= (g.depth_in > rim) & (g.depth_in < rim + rng.uniform(0.6, 1.6))
        if rng.random() < 0.3:
            groove |= (g.depth_in < rim) & ((g.x % rng.uniform(4, 9)) < rng.uniform(1, 2))
    for zone in (textile, leather):
        if zone.any() and rng.random() < 0.5:
            d = np.where(zone, ndimage.distance_transform_edt(zone), -ndimage.distance_transform_edt(~zone)) / CELLS
            groove |= np.abs(d) < rng.uniform(0.25, 0.8)
    depth = np.where(textile, rng.uniform(0.8, 3), rng.uniform(1.2, 4))
    for _ in range(int(rng.choice([0, 1, 1, 2]))):
        # a sunken waist, plate or window, with or without ribs that do not reach the ground
        if rng.random() < 0.7:
            lo = rng.uniform(0.27, 0.42)
            sunk = soles.rounded((t > lo) & (t < lo + rng.uniform(0.05, 0.2)) & (g.depth_in > rng.uniform(0, 9)), rng.uniform(1, 7))
        else:
            sunk = soles.blob(g.x, g.y, rng.uniform(0.1, 0.85) * g.length, rng.uniform(-14, 14), rng.uniform(9, 24), rng.uniform(7, 18), rng.uniform(1.8, 4))
        groove |= sunk
        more = rng.uniform(0, 2)
        depth = depth + np.where(sunk, more, 0)
        if rng.random() < 0.35:
            ribs = sunk & ((turned(g.x, g.y, rng.uniform(0, 180))[0] % rng.uniform(4, 10)) < rng.uniform(1, 3))
            depth = depth - np.where(ribs, min(0.6 * (1 + more), 1.2), 0)
    groove |= g.depth_in < rng.uniform(0.4, 1.2)
    material = np.where(g.inside, RUBBER, NONE).astype(np.uint8)
    material[textile & g.inside] = TEXTILE
    material[leather & g.inside] = LEATHER
    touch = swallow_slivers(g.inside & ~groove, 1.2)
    touch = ndimage.binary_closing(touch, iterations=2) & g.inside & (g.depth_in > 0.4)
    return g, material, touch, np.maximum(depth, 0.5).astype(np.float32)


def colour(rng):
    level = float(np.exp(rng.uniform(np.log(0.012), np.log(0.45))))
    return tuple(float(level * (1 + rng.uniform(0, 0.6) * np.cos(a))) for a in rng.uniform(0, 6.3) + np.array([0, 2.1, 4.2]))


def drawn(n):
    rng = np.random.default_rng(900000 + n)
    rubber = colour(rng)
    alike = rng.random() < 0.35
    textile = tuple(float(c * rng.uniform(0.85, 1.15)) for c in rubber) if alike else colour(rng)
    dark = max(rubber) < 0.06 and max(textile) < 0.06
    s = catalogue.scene(
        f"drawn-{n}", "tests", "none", str(rng.choice(["left", "right"])), seed=int(n) + 5000, length=float(rng.uniform(255, 310)), width_scale=float(rng.uniform(0.9, 1.1)),
        rubber=rubber, textile=textile, leather=colour(rng), foxing=colour(rng), textile_kind=str(rng.choice(["flock", "twill"])), rubber_rough=float(rng.uniform(0.3, 0.75)),
        wear=float(rng.uniform(0, 1.6)), wall=float(rng.uniform(0.2, 1.6)), plane=float(rng.uniform(20, 100)), body=False, sole_turn=float(rng.uniform(-12, 12)), tilt=float(rng.uniform(0, 15)),
        tilt_azimuth=float(rng.uniform(0, 360)), distance=float(rng.uniform(700, 800)), mat=colour(rng), key=(float(rng.uniform(0.7, 1.6)), float(rng.uniform(0, 360))), fill=float(rng.uniform(0.12, 0.8)),
        key_colour=(1.0, float(rng.uniform(0.88, 1.0)), float(rng.uniform(0.75, 1.0))), exposure=float(rng.uniform(0.9, 1.4) if dark else rng.uniform(0.3, 0.9)), grain=float(rng.uniform(0.004, 0.016)), samples=int(rng.integers(4, 8)))
    return rng, s


def window(s):
    """The part of the picture that holds the sole, some 20 mm more on each side."""
    c = cam.Camera(s)
    far = [(x, y) for x in (-20.0, s["length"] + 20) for y in (-85.0, 85.0)]
    at = c.project(np.column_stack([cam.sole_to_world(s, far), np.full(4, s["plane"])])) / [c.w, c.h]
    return [*np.clip(at.min(0), 0, 1).tolist(), *np.clip(at.max(0), 0, 1).tolist()]


def write(s, raw, maps, path):
    """Picture at about 2.2 px/mm, cropped to the sole; cover in quarters; material. As Export.cs lays it out."""
    rng = np.random.default_rng(s["seed"] + 1000)
    picture = finish.develop(raw, s, rng)
    picture = cv2.imdecode(cv2.imencode(".jpg", picture[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, int(rng.integers(80, 95))])[1], cv2.IMREAD_COLOR)[..., ::-1]
    label, material = finish.truth_maps(s, maps)
    per_mm = s["focal_px"] / (s["distance"] - s["plane"])
    k = min(1.0, 2.2 / per_mm)
    size = (int(round(picture.shape[1] * k)), int(round(picture.shape[0] * k)))
    rgb = cv2.resize(picture, size, interpolation=cv2.INTER_AREA)
    cover = cv2.resize((label > 0).astype(np.float32), size, interpolation=cv2.INTER_AREA)
    material = cv2.resize(material, size, interpolation=cv2.INTER_NEAREST)
    ys, xs = np.where(material > 0)
    box = np.s_[max(0, ys.min() - 8):ys.max() + 9, max(0, xs.min() - 8):xs.max() + 9]
    rgb, cover, material = (np.ascontiguousarray(a[box]) for a in (rgb, cover, material))
    with open(path, "wb") as f:
        f.write(struct.pack("iifi", rgb.shape[1], rgb.shape[0], per_mm * k, 0))
        f.write(rgb.tobytes())
        f.write(np.round(cover * 4).astype(np.uint8).tobytes())
        f.write(material.astype(np.uint8).tobytes())
        f.write(np.zeros(material.shape, np.uint8).tobytes())


def main(folder, start, end):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    for n in range(int(start), int(end)):
        path = folder / f"r{n:05d}.bin"
        if path.exists():
            continue
        rng, s = drawn(n)
        s["window"] = window(s)
        with tempfile.TemporaryDirectory() as work:
            work = Path(work)
            m = made(rng, s)
            fill = m[2].sum() / m[0].inside.sum()
            if not 0.2 < fill < 0.95:
                continue
            make_maps.write(s, m, work)
            subprocess.run(["blender", "-b", "--python", str(SCENES / "render_sole.py"), "--", str(work)], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            write(json.loads((work / "scene.json").read_text()), cv2.imread(str(work / "raw.png"), cv2.IMREAD_UNCHANGED), np.load(work / "truth-maps.npz"), path)
        print(path.name, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:4])
