"""Draws log odds over a sole whose tread repeats and is ill seen in places; by NumPy and scipy.ndimage, without a Fourier transform: how like itself it is by
shift, and what is told where it repeats (repeats.json)."""
import json
from pathlib import Path

import numpy as np
from scipy import ndimage

PER_MM = 1.1
height, width = 64, 130
rng = np.random.default_rng(3)
y, x = np.mgrid[:height, :width].astype(float)
a, b = ((9 * x + 2 * y) / 93) % 1 - 0.5, ((10 * y - 3 * x) / 93 - 0.2) % 1 - 0.5
tread = np.where((np.abs(a) < 0.3) & (np.abs(b) < 0.34), 2.5, -2.0)
seen = np.where(x > 75, 0.2, 1.0)
odds = (seen * tread + ndimage.gaussian_filter(rng.standard_normal(tread.shape), 1) * 2.2).astype(np.float32)
mask = (((x - 64) / 61) ** 2 + ((y - 31) / 28) ** 2 < 1).astype(np.float32)

p = 1 / (1 + np.exp(-odds.astype(float)))
p = (p - (p * mask).sum() / mask.sum()) * mask


def there(v, dx, dy):
    out = np.zeros_like(v)
    high, wide = v.shape
    for row in range(high):
        for column in range(wide):
            if 0 <= row + dy < high and 0 <= column + dx < wide:
                out[row, column] = v[row + dy, column + dx]
    return out


def likeness(p, mask, reach):
    like = {}
    for dy in range(0, reach):
        for dx in range(-reach, reach + 1):
            q, on = there(p, dx, dy), there(mask, dx, dy)
            enough = (mask * on).sum() > 0.15 * mask.sum()
            like[dx, dy] = float((p * q).sum() / np.sqrt((p * p * on).sum() * (q * q * mask).sum())) if enough else 0.0
    return like


like = likeness(p, mask, 54)
halved = lambda v: v.reshape(height // 2, 2, width // 2, 2).mean((1, 3))
coarse = likeness(halved(p), halved(mask), 27)
of = lambda table, dx, dy: table.get((dx, dy), table.get((-dx, -dy), 0.0))
around = [(i, j) for i in range(-1, 2) for j in range(-1, 2)]
far = lambda dx, dy: np.hypot(dx, dy) * 2 / PER_MM
tops = [(v * (1 - far(*at) / 150), *at) for at, v in coarse.items()
        if v > 0.15 and 4 < far(*at) < 45 and (at[1] > 0 or at[0] > 0) and all(of(coarse, at[0] + i, at[1] + j) <= v for i, j in around)]
steps = []
for _, dx, dy in sorted(tops, reverse=True)[:12]:
    _, y, x = max(((p * there(p, 2 * dx + i, 2 * dy + j)).sum(), 2 * dy + j, 2 * dx + i) for i in range(-2, 3) for j in range(-2, 3))
    if (x, y) not in steps:
        steps.append((x, y))

side = 2 * round(10 * PER_MM) + 1
mean = lambda v: ndimage.uniform_filter(ndimage.uniform_filter(v, side, mode="constant"), side, mode="constant")


def alike(dx, dy):
    q, on = there(p, dx, dy), there(mask, dx, dy)
    both = mask * on
    n = mean(both) + 1e-3
    u, v = mean(p * both) / n, mean(q * both) / n
    spread = (mean(p * p * both) / n - u * u) * (mean(q * q * both) / n - v * v)
    return on * np.clip((mean(p * q * both) / n - u * v) / np.sqrt(np.maximum(spread, 0) + 1e-4), 0, 1) * np.minimum(1, n / 0.3)


def told(steps):
    total, weight, most = np.zeros_like(p), np.full_like(p, 0.2), np.zeros_like(p)
    for dx, dy in steps:
        k = alike(dx, dy)
        for by, sx, sy in ((k, dx, dy), (there(k * mask, -dx, -dy), -dx, -dy)):
            total += by * by * there(odds.astype(float), sx, sy)
            weight += by * by
            most = np.maximum(most, by)
    return 0.25 * total / weight * mask, most * mask


here = Path(__file__).parent
t, m = told(steps)
numbers = lambda v, digits: [round(float(n), digits) for n in np.asarray(v).ravel()]
(here / "repeats.json").write_text(json.dumps({
    "source": f"NumPy {np.__version__}, SciPy {__import__('scipy').__version__}",
    "width": width, "height": height, "pixelsPerMm": PER_MM, "logOdds": numbers(odds, 6), "mask": numbers(mask, 0),
    "like": {f"{dx},{dy}": round(v, 5) for (dx, dy), v in like.items()}, "steps": steps, "told": numbers(t, 5), "alike": numbers(m, 5),
}))
# A step of the pattern that is well seen, where it is ill seen.
y, x = np.mgrid[:height, :width]
ill = (x > 82) & (x < 110) & (mask > 0)
print("right", np.mean((odds > 0)[ill] == (tread > 0)[ill]), "told", np.mean((t > 0)[ill] == (tread > 0)[ill]))
