"""What the camera does to a flat lay, and the truth beside it: OPENCV_IO_ENABLE_OPENEXR=1 python3 finish_panel.py RAW.exr BUILD REPOSITORY"""
import json
import os
import sys
from pathlib import Path

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"
import cv2  # noqa: E402
import numpy as np  # noqa: E402
from PIL import Image  # noqa: E402

import panel  # noqa: E402


def lab(rgb):
    """L*a*b* under D65 of a linear sRGB colour (IEC 61966-2-1, CIE 15)."""
    xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]) @ np.asarray(rgb, float)
    t = xyz / [0.9505, 1.0, 1.089]
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t * (29 / 6) ** 2 / 3 + 4 / 29)
    return [116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])]


def main(raw, build, repository):
    build, repository = int(build), Path(repository)
    rng = np.random.default_rng(80 + build)
    light = cv2.imread(raw, cv2.IMREAD_UNCHANGED)[..., 2::-1].astype(np.float32)
    if light.shape[1::-1] != panel.SIZE_PX:
        raise SystemExit(f"{raw}: {light.shape[1::-1]} pixels, the flat lay says {panel.SIZE_PX}")
    x, y = panel.project(build, np.array([60.0, 5.0, panel.CARD_Z])).astype(int)
    card = light[y - 15:y + 15, x - 60:x + 60].mean((0, 1))
    light *= 0.46 / card.mean() * np.array([1.0, 0.995, 0.985])
    h, w = light.shape[:2]
    yy, xx = np.mgrid[:h, :w].astype(np.float32)
    light *= (1 - 0.06 * ((xx - w / 2) ** 2 + (yy - h / 2) ** 2) / (w * w / 4 + h * h / 4))[..., None]
    light = cv2.GaussianBlur(light, (0, 0), 0.6)
    light += rng.normal(size=light.shape) * np.sqrt(np.maximum(light, 0) * 1.2e-4 + 2e-6)
    light = light.clip(0, 1)
    shown = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-6) ** (1 / 2.4) - 0.055)
    shown += 0.25 * (shown - cv2.GaussianBlur(shown, (0, 0), 1.0))
    about = Image.Exif()
    about[0x010E], about[0x0131] = "Rendered picture of an invented shoe", "demo/scenes"
    resolution = round(panel.FOCAL_PX / 7.0 * 10, 4)
    about[0x8769] = {0xA002: w, 0xA003: h, 0x920A: 7.0, 0xA20E: resolution, 0xA20F: resolution, 0xA210: 3}
    picture = (shown.clip(0, 1) * 255 + 0.5).astype(np.uint8)
    Image.fromarray(picture).save(repository / f"demo/build-{build}/quarter-flat.jpg", quality=88, subsampling=2, exif=about, optimize=True)

    rows = {}
    for name, inner in (("outer", False), ("inner", True)):
        row = panel.Row(build, inner)
        seen = lambda s, aside, up: panel.project(build, np.column_stack([row.on(s, aside), np.full(np.size(s), panel.SUEDE_Z + up)])).round(3).tolist()
        kept = [i for i in range(len(row.at)) if i not in row.skipped]
        rows[name] = {
            "stitchesPx": seen(row.at[kept], row.wander[kept], panel.RADIUS), "skippedPx": seen(row.at[row.skipped], row.wander[row.skipped], 0.0) if row.skipped else [],
            "pitchMm": round(float(np.diff(row.at).mean()), 4), "wanderMm": round(float(np.sqrt((row.wander[kept] ** 2).mean())), 4)}
    truth = {"picture": f"../build-{build}/quarter-flat.jpg", "invented": True, "sizePx": panel.SIZE_PX, "focalPx": panel.FOCAL_PX,
             "bar": {"endsPx": panel.project(build, panel.bar_ends()).round(3).tolist(), "lengthMm": panel.BAR[0], "belowSeamMm": round(panel.SUEDE_Z - panel.TWILL_Z - panel.BAR[2], 3)},
             "rows": rows, "suedeLab": {"sample": np.round(lab(panel.SUEDE), 3).tolist(), "build": np.round(lab(panel.SUEDE_OF[build]), 3).tolist()}, "cardLab": np.round(lab(panel.GREY), 3).tolist()}
    (repository / f"demo/truth/build-{build}-quarter-flat.json").write_text(json.dumps(truth) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:4])
