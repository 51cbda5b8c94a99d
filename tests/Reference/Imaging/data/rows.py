"""Draws a double row of stitches (rows.png) and finds their middles with scipy.ndimage: label and centre_of_mass (rows.json)."""
import json
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage

rng = np.random.default_rng(7)
PER_MM = 10
height, width = 260, 900
picture = 95 + 4 * ndimage.gaussian_filter(rng.standard_normal((height, width)), 2) / 0.14
y, x = np.mgrid[:height, :width] + 0.5
rows = []
for line, apart in ((105, 27.0), (129, 26.0)):
    at = 40 + apart * np.arange(31) + rng.normal(0, 0.03 * apart, 31)
    off = line + 3 * np.sin(at / 60) + rng.normal(0, 0.6, 31)
    for cx, cy in zip(at, off):
        over = np.maximum(0, np.abs(x - cx) - 5)
        picture += 75 * np.clip((5 - np.hypot(over, y - cy)) / 1.5, 0, 1)
    rows.append([[float(cx), float(cy)] for cx, cy in zip(at, off)])
picture = np.clip(ndimage.gaussian_filter(picture, 0.8) + rng.normal(0, 1.5, picture.shape), 0, 255).astype(np.uint8)
here = Path(__file__).parent
cv2.imwrite(str(here / "rows.png"), picture)

thread, count = ndimage.label(ndimage.gaussian_filter(picture.astype(float), 1) > 130)
sizes = ndimage.sum_labels(thread > 0, thread, range(1, count + 1))
kept = [k + 1 for k in range(count) if sizes[k] > 60]
middles = [[float(cx) + 0.5, float(cy) + 0.5] for cy, cx in ndimage.center_of_mass(thread > 0, thread, kept)]
(here / "rows.json").write_text(json.dumps({
    "source": "SciPy " + __import__("scipy").__version__ + ", ndimage.label and center_of_mass of the thresholded picture",
    "pixelsPerMm": PER_MM,
    "upper": sorted(m for m in middles if m[1] < 117),
    "lower": sorted(m for m in middles if m[1] >= 117),
}, indent=1))
print(len(middles), [sum(m[1] < 117 for m in middles)], max(min(np.hypot(m[0] - p[0], m[1] - p[1]) for r in rows for p in r) for m in middles))
