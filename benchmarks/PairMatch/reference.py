"""The same landmarks laid on each other by SciPy with Huber's loss and by OpenCV's similarity fit; neither states an uncertainty."""
import json
import time

import cv2
import numpy as np
from scipy.optimize import minimize

pairs = [(p["Bend"], np.array(p["Places"])) for p in json.load(open("pairs.json", encoding="utf-8"))]


def huber(bend, p):
    """Convex, with its gradient; turn and size are scaled so that all four numbers are of one order."""
    left, right, reach = p[:, :2], p[:, 2:], 100.0
    x, y = right[:, 0] / reach, right[:, 1] / reach

    def cost(v):
        dx, dy = v[0] * x - v[1] * y + v[2] - left[:, 0], v[1] * x + v[0] * y + v[3] - left[:, 1]
        length = np.hypot(dx, dy)
        inside = length <= bend
        weight = np.where(inside, 1.0, bend / np.maximum(length, bend))
        gx, gy = weight * dx, weight * dy
        value = np.where(inside, length**2 / 2, bend * length - bend**2 / 2).sum()
        return value, np.array([(gx * x + gy * y).sum(), (gy * x - gx * y).sum(), gx.sum(), gy.sum()])

    start = np.array([reach, 0.0, *(left.mean(0) - right.mean(0))])
    return minimize(cost, start, jac=True, method="BFGS", options={"gtol": 1e-8}).x / np.array([reach, reach, 1, 1])


def best_of(work):
    best, answers = float("inf"), None
    for _ in range(3):
        started = time.perf_counter()
        answers = [work(*p) for p in pairs]
        best = min(best, time.perf_counter() - started)
    return 1000 * best / len(pairs), answers


def size(v):
    return f"{np.hypot(v[0], v[1]):.5f}"


ms, answers = best_of(huber)
print(f"SciPy minimize (BFGS), Huber's loss that bends at the same place: {ms:.3f} ms; size of the first five {' '.join(size(v) for v in answers[:5])}")
ms, answers = best_of(lambda _, p: cv2.estimateAffinePartial2D(np.ascontiguousarray(p[:, 2:]), np.ascontiguousarray(p[:, :2]), method=cv2.LMEDS)[0])
print(f"OpenCV {cv2.__version__} estimateAffinePartial2D, least median of squares: {ms:.3f} ms; size of the first five {' '.join(size((m[0, 0], m[1, 0])) for m in answers[:5])}")
