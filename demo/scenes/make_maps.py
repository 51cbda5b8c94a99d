"""First step: the maps and textures of one scene, from its name. python3 make_maps.py NAME OUT"""
import json
import sys
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage

import soles
from catalogue import BY_NAME
from tread import CELLS, LEATHER, NONE, RUBBER, TEXTILE, flock, smooth_noise, twill

MESH_STEP = 2  # every second cell becomes a vertex


def surface(s, g, material, touch, depth, rng):
    """Height of the sole over the contact plane (mm), and its colour, roughness, sheen and fine relief."""
    shape = material.shape
    into = ndimage.distance_transform_edt(~touch) / CELLS
    height = -depth * np.clip(into / s["wall"], 0, 1)
    height -= 0.05 * (smooth_noise(rng, shape, 0.5) * 0.3 + 0.3) * ~touch
    edge = np.clip(g.depth_out / 1.1, 0, 1)
    height = np.where(g.inside, height, -1.0 - 22.0 * edge ** 1.3)
    height = ndimage.gaussian_filter(height.astype(np.float32), 0.16 * CELLS)

    soft = material == TEXTILE
    hide = material == LEATHER
    fibre_h, fibre_s = (twill if s["textile_kind"] == "twill" else flock)(rng, shape)
    mould = rng.standard_normal(shape).astype(np.float32)
    mould = ndimage.gaussian_filter(mould, 0.6) * 0.5
    pores = np.clip(smooth_noise(rng, shape, 0.55) - 1.2, 0, 3)

    base = np.zeros(shape + (3,), np.float32)
    base[:] = s["foxing"]
    blotch = smooth_noise(rng, shape, 6.0)
    fine = smooth_noise(rng, shape, 0.8)
    rubber = np.array(s["rubber"]) * (1 + 0.05 * blotch + 0.05 * fine)[..., None]
    textile = np.array(s["textile"]) * np.clip(1 + 0.20 * fibre_s + 0.07 * blotch + 0.08 * fine, 0.25, 2.5)[..., None]
    leather = np.array(s["leather"]) * np.clip(1 + 0.10 * blotch - 0.14 * pores + 0.05 * fine, 0.3, 2)[..., None]
    base[material == RUBBER] = rubber[material == RUBBER]
    base[soft] = textile[soft]
    base[hide] = leather[hide]

    # dust, scuffs and specks: what a handled sole carries
    wear = s["wear"]
    dusty = np.clip(smooth_noise(rng, shape, 14.0) * 0.5 + 0.4, 0, 1.5) * np.clip(smooth_noise(rng, shape, 0.9) * 0.5 + 0.3, 0, 2)
    dust = np.array([0.30, 0.27, 0.23])
    k = np.clip(0.035 * wear * dusty * (1 + 0.8 * ~touch), 0, 0.3)[..., None]
    base = base * (1 - k) + dust * k
    scuffs = np.zeros(shape, np.float32)
    for _ in range(int(26 * wear)):
        a = np.array([rng.uniform(0, shape[1]), rng.uniform(0, shape[0])])
        d = rng.normal(0, 1, 2) * rng.uniform(20, 160)
        b = a + d * [1.0, 0.35]
        cv2.line(scuffs, tuple(np.int32(a)), tuple(np.int32(b)), float(rng.uniform(0.2, 1.0)), int(rng.integers(1, 4)), cv2.LINE_AA)
    scuffs = ndimage.gaussian_filter(scuffs, 1.0) * touch * np.clip(fine + 0.5, 0, 1.5)
    base = base * (1 - 0.16 * scuffs[..., None]) + dust * 0.16 * scuffs[..., None]
    for _ in range(int(40 * wear)):
        c = (int(rng.uniform(0, shape[1])), int(rng.uniform(0, shape[0])))
        tone = rng.choice([0.02, 0.5])
        mark = np.zeros(shape, np.uint8)
        r = float(rng.uniform(0.12, 0.5)) * CELLS
        y0, y1, x0, x1 = max(0, int(c[1] - 9)), int(c[1] + 9), max(0, int(c[0] - 9)), int(c[0] + 9)
        cv2.circle(mark, c, max(1, int(r)), 1, -1)
        sub = mark[y0:y1, x0:x1] > 0
        base[y0:y1, x0:x1][sub] = base[y0:y1, x0:x1][sub] * 0.5 + 0.5 * tone

    rough = np.full(shape, 0.6, np.float32)
    rough[material == RUBBER] = s["rubber_rough"]
    rough += 0.05 * blotch + 0.25 * scuffs + 0.12 * k[..., 0] * 4
    rough[soft] = 1.0
    rough[hide] = 0.52
    sheen = soft.astype(np.float32)
    relief = np.where(soft, 0.62 * fibre_h, np.where(hide, 0.25 - 0.10 * pores + 0.015 * mould, 0.25 + 0.028 * mould - 0.02 * scuffs))
    return height, np.clip(base, 0, 1), np.clip(rough, 0.05, 1), sheen, relief.astype(np.float32)


def to_srgb(linear):
    return np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.power(np.maximum(linear, 1e-9), 1 / 2.4) - 0.055)


def main(name, out):
    s = BY_NAME[name]
    out = Path(out)
    out.mkdir(parents=True, exist_ok=True)
    write(s, soles.make(s["layout"], s["length"], s["width_scale"], **s["settings"]), out)


def write(s, made, out):
    """The maps of a sole that soles.make, or somebody else, has made."""
    rng = np.random.default_rng(s["seed"])
    g, material, touch, depth = made
    height, base, rough, sheen, relief = surface(s, g, material, touch, depth, rng)
    total, areas, share = soles.shares(material, touch)

    flip = slice(None, None, -1)
    if s["side"] == "right":  # a right sole is the mirror image
        material, touch, height, base, rough, sheen, relief = (a[flip] for a in (material, touch, height, base, rough, sheen, relief))
        y0 = -(g.y0 + g.rows / CELLS)
        outline = g.outline * [1, -1]
        far = g.depth_out[flip]
    else:
        y0, outline, far = g.y0, g.outline, g.depth_out

    # pictures have their first row on top: highest y
    cv2.imwrite(str(out / "colour.png"), (to_srgb(base)[flip, :, ::-1] * 65535).astype(np.uint16))
    props = np.stack([np.zeros_like(rough), sheen, rough], -1)  # BGR: G sheen, R roughness
    cv2.imwrite(str(out / "props.png"), (props[flip] * 255).astype(np.uint8))
    cv2.imwrite(str(out / "relief.png"), (np.clip(relief[flip], 0, 1) * 65535).astype(np.uint16))
    pick = (slice(None, None, MESH_STEP), slice(None, None, MESH_STEP))
    np.savez_compressed(out / "mesh.npz", height=height[pick], keep=(far[pick] < 1.6))
    np.savez_compressed(out / "truth-maps.npz", material=material, touch=touch)
    record = dict(s, x0=float(g.x0), y0=float(y0), cells=CELLS, mesh_step=MESH_STEP, rows=g.rows, columns=g.columns, outline=outline.round(3).tolist(),
                  contact_area=total, areas=areas, shares=share)
    (out / "scene.json").write_text(json.dumps(record))
    print(s["name"], "contact", round(total), {k: round(v, 2) for k, v in share.items() if v})


if __name__ == "__main__":
    main(*sys.argv[1:3])
