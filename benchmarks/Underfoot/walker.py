"""scikit-image's random walker on exported scenes, with the same dabs at the same size: time and error of the textile share.

One label for each material and one for what does not touch; the bench is nailed down by the true outline.
"""
import glob
import struct
import sys
import time

import numpy as np
from skimage.segmentation import random_walker

seconds, errors = [], []
for path in sorted(glob.glob(sys.argv[1] + "/*.bin")):
    data = open(path, "rb").read()
    width, height, _, dabs = struct.unpack("iifi", data[:16])
    kinds = np.frombuffer(data, np.uint8, dabs, 16)
    at, n = 16 + dabs, width * height
    rgb = np.frombuffer(data, np.uint8, n * 3, at).reshape(height, width, 3) / 255.0
    cover = np.frombuffer(data, np.uint8, n, at + 3 * n).reshape(height, width) / 4.0
    material = np.frombuffer(data, np.uint8, n, at + 4 * n).reshape(height, width)
    dab = np.frombuffer(data, np.uint8, n, at + 5 * n).reshape(height, width)
    seeds = np.zeros((height, width), np.int32)
    for k, kind in enumerate(kinds):
        seeds[dab == k + 1] = kind + 1
    seeds[material == 0] = -1
    begin = time.perf_counter()
    label = random_walker(rgb, seeds, beta=130, mode="cg_j", channel_axis=-1) - 1
    seconds.append(time.perf_counter() - begin)
    touching = (material > 0) & (label > 0)
    found = 100 * (touching & (label == 2)).sum() / max(1, touching.sum())
    true = 100 * cover[material == 2].sum() / cover[material > 0].sum()
    errors.append(abs(found - true))
print(f"random walker: {len(seconds)} soles, median {np.median(seconds):.3f} s, share error median {np.median(errors):.2f} worst {max(errors):.2f} points")
