"""Last step: what the camera does to the picture, and the truth beside it. python3 finish.py NAME WORK REPOSITORY"""
import json
import sys
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

import camera as cam
from tread import CELLS, NAMES


def develop(raw, s, rng):
    """Denoise a little, fall-off to the corners, a slight cast, sharpening and grain: 8 bit RGB."""
    picture = (raw.astype(np.float32) / 257.0).clip(0, 255).astype(np.uint8)
    picture = cv2.fastNlMeansDenoisingColored(picture, None, 2.5, 6, 3, 11)
    p = picture[..., ::-1].astype(np.float32) / 255
    h, w = p.shape[:2]
    yy, xx = np.mgrid[:h, :w].astype(np.float32)
    r2 = ((xx - w / 2) ** 2 + (yy - h / 2) ** 2) / (w * w / 4 + h * h / 4)
    p *= (1 - 0.13 * r2)[..., None]
    p *= 1 + rng.normal(0, 0.012, 3)
    p += 0.3 * (p - cv2.GaussianBlur(p, (0, 0), 1.1))
    luma = cv2.GaussianBlur(rng.standard_normal((h, w)).astype(np.float32), (0, 0), 0.6)
    chroma = cv2.GaussianBlur(rng.standard_normal((h, w, 3)).astype(np.float32), (0, 0), 1.2)
    level = s["grain"] * (1.2 - 0.6 * p)
    p += level * (1.6 * luma[..., None] + 1.2 * chroma)
    return (p.clip(0, 1) * 255 + 0.5).astype(np.uint8)


def truth_maps(s, maps):
    """Both maps as the camera sees the contact plane: label of what touches, and material with the grooves."""
    c = cam.Camera(s)
    u, v = np.meshgrid(np.arange(c.w) + 0.5, np.arange(c.h) + 0.5)
    x, y = cam.world_to_sole(s, *c.on_plane(u, v, s["plane"]))
    column = np.floor((x - s["x0"]) * CELLS).astype(int)
    row = np.floor((y - s["y0"]) * CELLS).astype(int)
    ok = (column >= 0) & (column < s["columns"]) & (row >= 0) & (row < s["rows"])
    material = np.zeros(u.shape, np.uint8)
    touch = np.zeros(u.shape, bool)
    material[ok] = maps["material"][row[ok], column[ok]]
    touch[ok] = maps["touch"][row[ok], column[ok]]
    return np.where(touch, material, 0).astype(np.uint8), material


def plane_to_pixels(s):
    """3 x 3: world x, y (mm) on the contact plane to pixels."""
    c = cam.Camera(s)
    r = c.axes.T
    t = -r @ c.centre
    k = np.array([[-c.f, 0, c.w / 2], [0, c.f, c.h / 2], [0, 0, 1]])
    h = k @ np.column_stack([r[:, 0], r[:, 1], r[:, 2] * s["plane"] + t])
    return h / h[2, 2]


def exif(s):
    e = Image.Exif()
    e[0x010E] = "Rendered picture of an invented shoe"
    e[0x0131] = "demo/scenes"
    w, h = s["size_px"]
    resolution = round(s["focal_px"] / 7.0 * 10, 4)  # pixels per cm of the sensor of a lens of 7 mm
    e[0x8769] = {0xA002: w, 0xA003: h, 0x920A: 7.0, 0xA20E: resolution, 0xA20F: resolution, 0xA210: 3}
    return e


def write_map(path, labels):
    image = Image.fromarray(labels)
    image.save(path, optimize=True)


def main(name, work, repository):
    work, repository = Path(work), Path(repository)
    s = json.loads((work / "scene.json").read_text())
    rng = np.random.default_rng(s["seed"] + 1000)
    folder, truth = (repository / s["where"], repository / "demo/truth") if s["where"] != "tests" else (repository / "tests/Imaging.Tests/Rendered",) * 2
    folder.mkdir(parents=True, exist_ok=True)
    truth.mkdir(parents=True, exist_ok=True)
    file = name.split("-", 2)[2] if s["where"] != "tests" else name
    raw = cv2.imread(str(work / "raw.png"), cv2.IMREAD_UNCHANGED)
    if raw.shape[1] != s["size_px"][0]:
        raise SystemExit(f"{name}: the render is {raw.shape[1]} px wide, the scene says {s['size_px'][0]}")
    Image.fromarray(develop(raw, s, rng)).save(folder / f"{file}.jpg", quality=s["jpeg"], subsampling=2, exif=exif(s), optimize=True)

    label, material = truth_maps(s, np.load(work / "truth-maps.npz"))
    write_map(truth / f"{name}.contact.png", label)
    write_map(truth / f"{name}.material.png", material)
    c = cam.Camera(s)
    outline = np.column_stack([cam.sole_to_world(s, s["outline"]), np.full(len(s["outline"]), s["plane"])])
    if s["scale"] == "rectangle":
        z0 = 0.0
        places, size = cam.sheet_corners(s), s["sheet"]
        seen = c.project(places)
        if seen.min() < 3 or (seen > np.array(s["size_px"]) - 3).any():  # a corner of the sheet is out of the picture: its printed crosses then
            places, size = cam.crosses(s)
        scale = {"kind": "rectangle", "corners": c.project(places).round(3).tolist(), "sizeMm": size}
    else:
        z0 = cam.BAR[2]
        scale = {"kind": "bar", "ends": c.project(cam.bar_ends(s)).round(3).tolist(), "lengthMm": cam.BAR[0]}
    scale["planeHeightMm"] = {"value": round(s["plane"] - z0, 3), "unit": "mm", "standardUncertainty": 0}
    scale["focalLengthPx"] = s["focal_px"]
    scale["scaleUncertaintyPct"] = 0
    record = {
        "picture": f"{'../' + s['where'].split('/')[1] + '/' if s['where'] != 'tests' else ''}{file}.jpg",
        "invented": True, "side": s["side"], "seenFrom": "below", "sizePx": s["size_px"], "scale": scale,
        "camera": {"focalPx": s["focal_px"], "principalPointPx": [c.w / 2, c.h / 2], "lensDistortion": 0, "centreMm": c.centre.round(4).tolist(),
                   "axes": {"right": c.axes[:, 0].round(8).tolist(), "up": c.axes[:, 1].round(8).tolist(), "back": c.axes[:, 2].round(8).tolist()}, "tiltDegrees": s["tilt"]},
        "contactPlane": {"heightMm": s["plane"], "mmToPx": plane_to_pixels(s).tolist()},
        "contactAreaMm2": round(s["contact_area"], 2),
        "areaMm2": {k: round(v, 2) for k, v in s["areas"].items()},
        "sharePct": {k: round(v, 3) for k, v in s["shares"].items()},
        "outlinePx": c.project(outline[::6]).round(2).tolist(),
        "maps": {"contact": f"{name}.contact.png", "material": f"{name}.material.png", "labels": {"0": "none", **{str(k): v for k, v in NAMES.items()}}},
    }
    (truth / f"{name}.json").write_text(json.dumps(record, indent=1) + "\n")
    print(name, (folder / f"{file}.jpg").stat().st_size // 1024, "kB")


if __name__ == "__main__":
    main(*sys.argv[1:4])
