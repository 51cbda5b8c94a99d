"""What the camera does to a picture of the pair: python3 finish_pair.py RAW.png OUT.jpg SEED"""
import sys

import cv2
import numpy as np
from PIL import Image

from finish import develop

raw = np.minimum(cv2.imread(sys.argv[1], cv2.IMREAD_UNCHANGED) * 1.22, 65535)
about = Image.Exif()
about[0x010E], about[0x0131] = "Rendered picture of an invented shoe", "demo/scenes"
picture = develop(raw, {"grain": 0.010}, np.random.default_rng(int(sys.argv[3])))
Image.fromarray(picture).save(sys.argv[2], quality=86, subsampling=2, exif=about, optimize=True)
