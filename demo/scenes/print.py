"""An inked print of one sole: python3 print.py NAME WORK OUT.jpg TRUTH.json. The mirror image of the sole seen from below, scanned."""
import json
import sys
from pathlib import Path

import cv2
import numpy as np
from PIL import Image
from scipy import ndimage

from tread import CELLS, TEXTILE, smooth_noise

DPI = 200
PAGE = (330.0, 150.0)
TURN = 1.7


def main(name, work, path, truth):
    work = Path(work)
    s = json.loads((work / "scene.json").read_text())
    maps = np.load(work / "truth-maps.npz")
    rng = np.random.default_rng(s["seed"] + 77)
    touch, material = maps["touch"], maps["material"]
    shape = touch.shape
    # ink: thin in the middle of blocks and under felt, a dark rim where it is pressed out, bare spots where the load was small
    inside = ndimage.distance_transform_edt(touch) / CELLS
    rim = np.exp(-inside / 0.35)
    load = 0.86 + 0.10 * smooth_noise(rng, shape, 16.0)
    speckle = smooth_noise(rng, shape, 0.22) * 0.5 + smooth_noise(rng, shape, 0.7) * 0.3
    ink = np.clip(load + 0.22 * rim - np.where(material == TEXTILE, 0.20, 0.06) * (1 + 0.9 * speckle), 0.12, 1.0) * ndimage.gaussian_filter(touch.astype(np.float32), 0.9)
    ink += np.clip(smooth_noise(rng, shape, 0.2) - 3.1, 0, 0.5) * np.exp(-ndimage.distance_transform_edt(~touch) / CELLS / 3)

    px = DPI / 25.4
    w, h = round(PAGE[0] * px), round(PAGE[1] * px)
    a = np.radians(TURN)
    # print frame: x to the right along the foot, y DOWN equals the sole's y up when mirrored, so y is kept
    centre = np.array([s["length"] / 2, s["y0"] + s["rows"] / CELLS / 2])
    m = px * np.array([[np.cos(a), -np.sin(a)], [np.sin(a), np.cos(a)]])
    t = np.array([w / 2, h / 2]) - m @ centre
    cells = np.array([[1 / CELLS, 0], [0, 1 / CELLS]])
    start = np.array([s["x0"] + 0.5 / CELLS, s["y0"] + 0.5 / CELLS])
    affine = np.column_stack([m @ cells, m @ start + t - 0.5])
    ink = cv2.warpAffine(ink.astype(np.float32), affine, (w, h), flags=cv2.INTER_AREA)
    paper = np.array([243, 240, 232], np.float32) + 2.0 * smooth_noise(rng, (h, w), 0.12)[..., None] + 2.5 * smooth_noise(rng, (h, w), 6.0)[..., None]
    colour = np.array([34, 38, 62], np.float32)
    page = paper * (1 - ink[..., None]) + colour * ink[..., None]
    cv2.line(page, (60, h - 60), (60 + round(100 * px), h - 60), (70, 70, 70), 2, cv2.LINE_AA)
    for k in range(11):
        x = 60 + round(k * 10 * px)
        cv2.line(page, (x, h - 60), (x, h - (74 if k % 5 else 82)), (70, 70, 70), 2, cv2.LINE_AA)
    cv2.putText(page, f"100 mm   print, {s['side']} sole   700 N   invented", (90 + round(100 * px), h - 58), cv2.FONT_HERSHEY_SIMPLEX, 0.8, (70, 70, 70), 2, cv2.LINE_AA)
    page += rng.normal(0, 1.6, (h, w, 1))
    Image.fromarray(page.clip(0, 255).astype(np.uint8)).save(path, quality=86, dpi=(DPI, DPI), optimize=True)
    Path(truth).write_text(json.dumps({
        "picture": f"../{s['where'].split('/')[1]}/{Path(path).name}", "invented": True, "kind": "print", "side": s["side"], "mirrored": True, "sizePx": [w, h],
        "scale": {"kind": "scan", "dpi": DPI, "scaleUncertaintyPct": 0}, "soleToPx": np.column_stack([m, t]).round(9).tolist(),
        "contactAreaMm2": round(s["contact_area"], 2)}, indent=1) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:5])
