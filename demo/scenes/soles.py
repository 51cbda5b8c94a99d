"""The soles of the scenes: layouts of materials and treads. Each returns the maps of one LEFT sole."""
import numpy as np
from scipy import ndimage

from tread import *  # noqa: F403 - the vocabulary of treads


def blob(x, y, cx, cy, rx, ry, power=2.4, turn=0):
    u, v = turned(x - cx, y - cy, turn)
    return (np.abs(u / rx) ** power + np.abs(v / ry) ** power) < 1


def offset_zone(g, lo, hi, inset, wobble=0.0, period=30.0):
    """The part of the sole between two cross-lines (fractions of the length), inset from the edge."""
    t = (g.x - 0) / g.length
    edge = inset + wobble * np.sin(2 * np.pi * g.x / period)
    return (g.depth_in > edge) & (t > lo) & (t < hi)


def rounded(mask, radius_mm):
    r = radius_mm * CELLS
    d = ndimage.distance_transform_edt(mask)
    core = d > r
    return ndimage.distance_transform_edt(~core) < r


def mirrow(g, inset, cut=0.0):
    """The demo style: felt inlays in forefoot and heel inside a rubber rim, zigzag through both; the waist does not touch."""
    t = g.x / g.length
    fore = rounded(offset_zone(g, 0.475, 0.985, inset), 9)
    heel = rounded(offset_zone(g, -0.1, 0.275 - cut * 0.2, inset), 9)
    textile = fore | heel
    waist = (t > 0.305) & (t < 0.445) & (g.depth_in > 5)
    waist = rounded(waist, 4)
    rim = ~textile
    zig = zigzag(g.x, g.y, 9.5, 1.9, 6.0, 21.0)
    fine = zigzag(g.x, g.y, 4.75, 1.1, 6.0, 21.0)
    sipes = ((g.x + 0.35 * np.abs(g.y)) % 5.2) < 1.3
    moat = np.abs(np.where(textile, ndimage.distance_transform_edt(textile), -ndimage.distance_transform_edt(~textile)) / CELLS + 0.5) < 0.5
    rim_band = rim & (g.depth_in > 3.2)
    groove = (textile & zig) | (rim_band & np.where((t > 0.29) & (t < 0.46), False, sipes)) | moat | waist | (g.depth_in < 0.6)
    del fine
    groove |= (g.depth_in > 2.5) & (g.depth_in < 3.2)
    bars = waist & (((g.x - 0.305 * g.length) % 8.0) > 5.6) & (np.abs(g.y + 6) < 26)
    depth = np.where(textile, 1.5, 2.2) + np.where(waist, 1.3, 0) - np.where(bars, 1.0, 0)
    return groove, {TEXTILE: textile}, depth


def garden(g, share_shift=0.0):
    """Hexagonal lugs, flock in broad diagonal bands, the tread runs through both."""
    t = g.x / g.length
    u, _ = turned(g.x, g.y, 24)
    textile = (((u + 9) % 44.0) < 20.0 + share_shift) & (g.depth_in > 3.5)
    groove = hexes(g.x, g.y, 11.0, 2.4) & (g.depth_in > 2.0) | (g.depth_in < 0.7)
    waist = (t > 0.36) & (t < 0.42) & (g.depth_in > 4)
    return groove | waist, {TEXTILE: textile}, np.where(textile, 1.9, 2.6)


def court(g):
    """Rings around the pivot and at the heel, one large flocked zone, leather-like waist piece of its own level."""
    t = g.x / g.length
    cx, cy = 0.74 * g.length, -3.0
    textile = blob(g.x, g.y, cx, cy, 58, 38, 2.6, 8) | blob(g.x, g.y, 0.13 * g.length, 0, 29, 24, 2.4)
    groove = np.where(t > 0.46, rings(g.x, g.y, (cx, cy), 6.2, 1.8), rings(g.x, g.y, (0.13 * g.length, 0), 6.2, 1.8))
    groove = groove.astype(bool) & (g.depth_in > 2.2) | (g.depth_in < 0.6)
    waist = rounded((t > 0.33) & (t < 0.43) & (g.depth_in > 3.0), 5)
    return groove | waist, {TEXTILE: textile}, np.where(textile, 1.4, 2.4)


def deck(g):
    """Fine waves across the whole sole, a small flocked window in the forefoot and three bars in the heel."""
    t = g.x / g.length
    textile = rounded(offset_zone(g, 0.60, 0.86, 13), 6) | (rounded(offset_zone(g, 0.04, 0.21, 12), 4) & ((g.x % 17) < 12))
    groove = waves(g.x, g.y, 5.4, 1.25, 1.8, 15.0) & (g.depth_in > 4.5) | (g.depth_in < 0.6)
    groove |= (g.depth_in > 3.8) & (g.depth_in < 4.7)
    waist = rounded((t > 0.31) & (t < 0.45) & (g.depth_in > 6), 5)
    return groove | waist, {TEXTILE: textile}, np.where(textile, 1.2, 1.9)


def camp(g):
    """Bricks; nearly the whole sole is felt, rubber only at toe, heel and in round studs."""
    t = g.x / g.length
    studs = np.zeros(g.x.shape, bool)
    for k, (a, b) in enumerate([(0.58, 20), (0.58, -24), (0.70, 22), (0.70, -26), (0.82, 18), (0.82, -18), (0.14, 14), (0.14, -14), (0.27, 0), (0.50, -8)]):
        studs |= np.hypot(g.x - a * g.length, g.y - b) < (8.0 if k % 2 else 9.0)
    textile = (t > 0.055) & (t < 0.925) & (g.depth_in > 4.0) & ~studs
    groove = bricks(g.x, g.y, 15.0, 8.5, 2.0, 90) & (g.depth_in > 2.5) | (g.depth_in < 0.7)
    ring = np.zeros(g.x.shape, bool)
    d = np.where(studs, ndimage.distance_transform_edt(studs), -ndimage.distance_transform_edt(~studs)) / CELLS
    ring |= np.abs(d) < 0.7
    groove = (groove & ~(d > 0)) | ring
    waist = (t > 0.37) & (t < 0.44) & (g.depth_in > 5)
    return groove | waist, {TEXTILE: textile}, np.where(textile, 1.6, 2.3)


def parquet(g):
    """Diamonds; flock and a skived leather heel piece side by side."""
    t = g.x / g.length
    textile = rounded(offset_zone(g, 0.50, 0.95, 8.0, 2.5, 26.0), 4)
    leather = rounded(offset_zone(g, 0.02, 0.25, 9.0), 10)
    groove = lattice(g.x, g.y, 9.0, 2.0, 40, 100) & (g.depth_in > 3.0) & ~leather | (g.depth_in < 0.6)
    d = np.where(leather, ndimage.distance_transform_edt(leather), -ndimage.distance_transform_edt(~leather)) / CELLS
    groove |= np.abs(d) < 0.6
    waist = rounded((t > 0.30) & (t < 0.46) & (g.depth_in > 5), 5)
    return groove | waist, {TEXTILE: textile, LEATHER: leather}, np.where(textile, 1.5, 2.1)


LAYOUTS = {f.__name__: f for f in (mirrow, garden, court, deck, camp, parquet)}


def make(layout, length=295.0, width_scale=1.0, **settings):
    """Grid, material map (grooves included), contact map and depth map of one left sole."""
    g = Grid(length, width_scale)
    groove, zones, depth = LAYOUTS[layout](g, **settings)
    material = np.where(g.inside, RUBBER, NONE).astype(np.uint8)
    for code, zone in zones.items():
        material[zone & g.inside] = code
    touch = swallow_slivers(g.inside & ~groove, 1.2)
    # grooves thinner than the mould could make are closed again
    touch = ndimage.binary_closing(touch, iterations=2) & g.inside & (g.depth_in > 0.5)
    return g, material, touch, depth.astype(np.float32)


def shares(material, touch):
    """Areas in mm2 and shares in % of what touches."""
    areas = {NAMES[c]: float(np.count_nonzero(touch & (material == c))) / CELLS ** 2 for c in NAMES}
    total = sum(areas.values())
    return total, areas, {k: 100.0 * v / total for k, v in areas.items()}


if __name__ == "__main__":
    for name, settings in [("mirrow", {"inset": 9.0}), ("mirrow", {"inset": 11.0}), ("garden", {}), ("court", {}), ("deck", {}), ("camp", {}), ("parquet", {})]:
        g, material, touch, depth = make(name, **settings)
        total, areas, share = shares(material, touch)
        print(name, settings, round(total), {k: round(v, 1) for k, v in share.items() if v}, round(100 * np.count_nonzero(touch) / np.count_nonzero(g.inside)))
        import cv2
        cv2.imwrite(f"/tmp/demo-{name}.png", (material * 50 + touch * 55)[::-2, ::2])
