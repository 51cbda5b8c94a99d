"""What the camera does to a picture of the pair: python3 finish_pair.py RAW.png OUT.jpg SEED VIEW"""
import sys

import cv2
import numpy as np
from PIL import Image

import pair
from finish import develop

raw = np.minimum(cv2.imread(sys.argv[1], cv2.IMREAD_UNCHANGED) * 1.22, 65535)
about = Image.Exif()
about[0x010E], about[0x0131] = "Rendered picture of an invented shoe", "demo/scenes"
view = sys.argv[4]
if view == "top":  # the one that is measured
    w, h = pair.size(view)
    resolution = round(pair.focal_px(view) / 7.0 * 10, 4)
    about[0x8769] = {0xA002: w, 0xA003: h, 0x920A: 7.0, 0xA20E: resolution, 0xA20F: resolution, 0xA210: 3}
picture = develop(raw, {"grain": 0.010}, np.random.default_rng(int(sys.argv[3])))
Image.fromarray(picture).save(sys.argv[2], quality=86, subsampling=2, exif=about, optimize=True)
