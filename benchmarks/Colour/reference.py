"""scikit-image's deltaE_ciede2000 over a pair of 12-megapixel pictures; writes the pair and the result, prints its median time in seconds."""
import sys
import time

import numpy as np
from skimage.color import deltaE_ciede2000, rgb2lab

folder = sys.argv[1]
random = np.random.default_rng(2000)
rgb = random.integers(0, 256, (3000, 4000, 3)).astype(np.uint8)
near = np.clip(rgb.astype(int) + random.integers(-12, 13, rgb.shape), 0, 255).astype(np.uint8)
first, second = rgb2lab(rgb), rgb2lab(near)
times = []
for _ in range(3):
    begin = time.perf_counter()
    result = deltaE_ciede2000(first, second)
    times.append(time.perf_counter() - begin)
for name, values in (("first", first), ("second", second), ("expected", result)):
    np.ascontiguousarray(values, np.float64).tofile(f"{folder}/{name}.bin")
print(sorted(times)[1])
