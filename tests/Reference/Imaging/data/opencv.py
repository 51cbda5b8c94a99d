"""What OpenCV makes of the same points: homography, lens both ways, pose. Writes opencv.json beside itself.

Run with Debian's python3-opencv; the values in the file are of version 4.6.0.
"""
import json
import os

import cv2
import numpy as np

random = np.random.default_rng(20261125)
size = (4000, 3000)
focal = 3100.0
camera = np.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1]])
lens = np.array([-0.07, 0.021, 0.0006, -0.0009, 0.004])
fine = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 1000, 1e-16)

# Places on a sheet, and a pose over it: x right, y down, z away from the camera.
sheet = np.array([[x, y, 0.0] for y in (15, 70, 140, 195) for x in (15, 100, 200, 282)])
turn, _ = cv2.Rodrigues(np.array([0.31, -0.22, 0.4]))
shift = np.array([[-95.0], [-88.0], [520.0]])
plain, _ = cv2.projectPoints(sheet, turn, shift, camera, None)
plain = plain.reshape(-1, 2)
noisy = plain + random.normal(0, 0.8, plain.shape)
homography, _ = cv2.findHomography(sheet[:, :2], noisy, 0)

bent, _ = cv2.projectPoints(sheet, turn, shift, camera, lens)
bent = bent.reshape(-1, 2)
straight = cv2.undistortPointsIter(bent.reshape(-1, 1, 2), camera, lens, None, None, fine).reshape(-1, 2)

radial = np.array([-0.07, 0.021, 0, 0, 0])
seen, _ = cv2.projectPoints(sheet, turn, shift, camera, radial)
found, rotation, translation = cv2.solvePnP(sheet, seen, camera, radial, flags=cv2.SOLVEPNP_ITERATIVE)
rotation, translation = cv2.solvePnPRefineLM(sheet, seen, camera, radial, rotation, translation, (3, 1000, 1e-15))

json.dump(
    {
        "version": cv2.__version__,
        "size": size,
        "focalPx": focal,
        "lens": lens.tolist(),
        "sheetMm": sheet[:, :2].tolist(),
        "homography": {"pictures": noisy.tolist(), "matrix": homography.tolist()},
        "distortion": {"directions": ((plain - camera[:2, 2]) / focal).tolist(), "pictures": bent.tolist(), "undistorted": straight.tolist()},
        "pose": {"pictures": seen.reshape(-1, 2).tolist(), "rotation": cv2.Rodrigues(rotation)[0].tolist(), "translation": translation.ravel().tolist()},
    },
    open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "opencv.json"), "w"),
    indent=1,
)
