"""What the picture of the pair from above truly shows: python3 pair_truth.py BUILD REPOSITORY"""
import json
import sys
from pathlib import Path

import numpy as np

import camera as cam
import pair

build, repository = int(sys.argv[1]), Path(sys.argv[2])
seen = {side: {name: pair.placed(p, *spot) for name, p in pair.landmarks(build, side).items()} for side, spot in pair.stand("top").items()}
level = lambda side, one, other: float(np.hypot(*(seen[side][one] - seen[side][other])[:2]))
lengths = {name: {side: round(level(side, "toe-tip", to), 3) for side in seen} for name, to in (("toe-cap-length", "toe-cap-edge-middle"), ("throat-length", "throat"))}
truth = {"picture": f"../build-{build}/pair-top.jpg", "invented": True, "sizePx": pair.size("top"), "focalPx": pair.focal_px("top"),
         "scale": {"kind": "rectangle", "corners": pair.project("top", cam.sheet_corners(pair.SHEET)).round(3).tolist(), "sizeMm": pair.SHEET["sheet"]},
         "landmarks": {side: {name: {"mm": p.round(3).tolist(), "px": pair.project("top", p).round(3).tolist()} for name, p in places.items()} for side, places in seen.items()},
         "lengthsMm": lengths, "differencesMm": {name: round(v["left"] - v["right"], 3) for name, v in lengths.items()}}
(repository / f"demo/truth/build-{build}-pair-top.json").write_text(json.dumps(truth) + "\n")
print(build, lengths)
