"""OpenCV's warpPerspective on the same picture size and the same corners, bicubic; the best of eight."""
import time

import cv2
import numpy as np

picture = np.random.default_rng(20261125).integers(0, 256, (3000, 4000, 3), dtype=np.uint8)
corners = np.float32([[300, 250], [3700, 350], [3500, 2700], [450, 2600]])
matrix = cv2.getPerspectiveTransform(corners, np.float32([[0, 0], [4000, 0], [4000, 3000], [0, 3000]]))
best = work = float("inf")
for _ in range(8):
    started, before = time.perf_counter(), time.process_time()
    cv2.warpPerspective(picture, matrix, (4000, 3000), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_CONSTANT, borderValue=(128, 128, 128))
    best = min(best, time.perf_counter() - started)
    work = min(work, time.process_time() - before)
print(f"OpenCV {cv2.__version__} on {cv2.getNumThreads()} threads: {1000 * best:.0f} ms, {1000 * work:.0f} ms of processor")
