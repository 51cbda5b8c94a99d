"""The two review folders of the demo: python3 make_reviews.py WORK REPOSITORY.

Marks are placed where a person would put them: corners clicked with an error of 1 px, zones traced with 1.5 px, short dabs in
the middle of what they name. Nothing else is taken from the truth; figures are never written here, only evidence.
"""
import json
import sys
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage

import camera as cam
import pair
import panel
from catalogue import BY_NAME
from trade import cost, duty
from tread import CELLS, TEXTILE

NOTE_4B = "The style owner's own limit, adopted 3 Aug 2026: more than half is common practice, no source. For customs the Harmonized System, chapter 64 note 4(b), asks for the material with the greatest surface in contact with the ground: let a customs broker decide."
SHORE = "The style owner's own limit, adopted 3 Aug 2026: about 60 Shore A for vulcanized outsole rubber is common practice, no source"

# dabs on a left sole: where to start and end, mm (x heel to toe, y to the medial side)
DABS = {
    "textile": [((208, 14), (216, 20)), ((236, -12), (243, -16)), ((172, -22), (178, -16)), ((40, 6), (47, 0))],
    "rubber": [((186, -45), (197, -45.5)), ((226, 38.5), (236, 38)), ((88, 10), (88, -6)), ((134, 4), (134, -10)), ((8, -8), (8, 4))],
    "clear": [((112, 12), (112, -14))],
}
GROOVES = [(200, 0), (228, 24), (52, -8)]
ALIGN = [(20, 12), (62, 28), (66, -30), (140, 20), (146, -40), (215, 38), (220, -36), (272, 4)]


class Marks:
    def __init__(self, name, work):
        self.s = json.loads((Path(work) / name / "scene.json").read_text())
        self.maps = np.load(Path(work) / name / "truth-maps.npz")
        self.camera = cam.Camera(self.s)
        self.rng = np.random.default_rng(self.s["seed"] + 500)
        self.mirror = -1.0 if self.s["side"] == "right" else 1.0

    def click(self, points, sigma):
        p = np.asarray(points, float)
        return (p + self.rng.normal(0, sigma, p.shape)).round(1).tolist()

    def exact(self, left_points):
        """Left-sole mm to pixels of this picture."""
        p = np.atleast_2d(np.asarray(left_points, float)) * [1, self.mirror]
        w = cam.sole_to_world(self.s, p)
        return self.camera.project(np.column_stack([w, np.full(len(w), self.s["plane"])]))

    def scale(self):
        return {"kind": "rectangle", "corners": self.click(self.camera.project(cam.sheet_corners(self.s)), 1.0), "sizeMm": list(self.s["sheet"]),
                "planeHeightMm": {"value": self.s["plane"] + 0.4, "unit": "mm", "standardUncertainty": 1.0}}

    def groove(self, near):
        """The middle of the groove next to a place, and a stretch along it."""
        touch = self.maps["touch"]
        y = near[1] * self.mirror
        deep = ndimage.distance_transform_edt(~touch) / CELLS
        r, c = np.nonzero(deep > 0.75)
        x_mm, y_mm = self.s["x0"] + (c + 0.5) / CELLS, self.s["y0"] + (r + 0.5) / CELLS
        d = np.hypot(x_mm - near[0], y_mm - y)
        a = d.argmin()
        ring = np.abs(np.hypot(x_mm - x_mm[a], y_mm - y_mm[a]) - 4.0)
        b = np.nonzero(ring < 0.3)[0]
        e = b[0] if len(b) else a
        return [(x_mm[a], y_mm[a] * self.mirror), (x_mm[e], y_mm[e] * self.mirror)]

    def dabs(self, radius=9, grooves=True):
        out = []
        for material, strokes in DABS.items():
            out += [{"material": material, "path": self.click(self.exact(np.array(s)), 1.5), "radiusPx": radius} for s in strokes]
        if grooves:
            out += [{"material": "clear", "path": self.click(self.exact(np.array(self.groove(g))), 0.5), "radiusPx": 2.5} for g in GROOVES]
        return out

    def zones(self):
        """The felt inlays, traced corner by corner."""
        found, _ = cv2.findContours((self.maps["material"] == TEXTILE).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
        out = []
        for c in found:
            if cv2.contourArea(c) < 40 * CELLS ** 2:
                continue
            p = cv2.approxPolyDP(c, 0.35 * CELLS, True)[:, 0].astype(float)
            mm = np.column_stack([self.s["x0"] + (p[:, 0] + 0.5) / CELLS, (self.s["y0"] + (p[:, 1] + 0.5) / CELLS) * self.mirror])
            out.append({"material": "textile", "polygon": self.click(self.exact(mm), 1.5)})
        return sorted(out, key=lambda z: z["polygon"][0])

    def outline(self):
        o = np.array(self.s["outline"])[::8] * [1, self.mirror]
        return self.click(self.exact(o), 1.2)


def underfoot(build, work, repository):
    entries = []
    for side in ("left", "right"):
        m = Marks(f"build-{build}-sole-{side}", work)
        entry = {"id": side, "side": side, "kind": "sole", "photo": {"file": f"sole-{side}.jpg", "scale": m.scale()}, "outline": m.outline()}
        if side == "left":
            entry["regions"] = m.zones()
            entry["dabs"] = m.dabs()
        else:
            entry["dabs"] = m.dabs()
        if build == 1 and side == "left":
            truth = json.loads((Path(repository) / "demo/truth/build-1-print-left.json").read_text())
            t = np.array(truth["soleToPx"])
            places = np.array(ALIGN, float)
            entry["print"] = {"photo": {"file": "print-left.jpg", "scale": {"kind": "scan", "dpi": truth["scale"]["dpi"]}}, "loadN": 700,
                              "align": [[a, b] for a, b in zip(m.click(m.exact(places), 0.8), m.click(places @ t[:, :2].T + t[:, 2], 0.8))]}
        entries.append(entry)
    return entries


def hardness(build):
    first = {
        1: [("left", [60.0, 59.5, 60.5, 61.0, 60.0]), ("right", [60.5, 61.0, 60.0, 60.0, 61.5])],
        2: [("left", [64.0, 65.0, 64.5, 65.5, 64.5]), ("right", [64.5, 65.0, 64.0, 65.0, 64.5])],
    }[build]
    spots = [{"id": i, "component": "outsole rubber, waist bar", "scale": "ShoreA", "readings": r, "surface": "bare", "thicknessMm": 6.4, "edgeMm": 12,
              "spacingMm": 7, "dwellS": 3, "backing": "bench", "temperatureC": 22.8} for i, r in first]
    footbed = {"id": "footbed", "component": "footbed foam, cut face", "scale": "JisC", "readings": [{1: 36, 2: 35.5}[build], 35, 36, 35.5, 36.5], "surface": "cut",
               "thicknessMm": 10.2, "edgeMm": 15, "spacingMm": 10, "dwellS": 1, "backing": "bench", "temperatureC": 22.8}
    common = {"operator": "R. Vell (invented)", "readOn": DATES[build][1], "hoursSinceMoulding": 240}
    return [{"id": "outsole", "spots": spots, "instrument": "durometer-a", "testBlock": {"nominal": 60.0, "reading": 60.5}, "standard": "ISO 48-4", **common},
            {"id": "footbed", "spots": [footbed], "instrument": "durometer-c", "testBlock": {"nominal": 40.0, "reading": 40.0}, "standard": "JIS K 7312", **common}]


DATES = {1: ("2026-08-20", "2026-08-31"), 2: ("2026-10-19", "2026-11-02")}


def readings(build):
    mass = {1: ([386.4, 386.6, 386.4], [388.1, 388.0, 388.2]), 2: ([397.2, 397.1, 397.3], [399.0, 399.2, 399.0])}[build]
    bond = {1: [3.4, 3.7, 3.5, 3.6, 3.3], 2: [3.2, 3.5, 3.3, 3.6, 3.4]}[build]
    common = {"standardUncertainty": 0.1, "resolution": 0.1, "instrument": "balance-1"}
    return {"id": "main", "operator": "R. Vell (invented)", "readOn": DATES[build][1], "items": [
        {"id": "mass-left", "quantity": "mass of the left shoe", "unit": "g", "values": mass[0], "method": "own procedure, three weighings", **common},
        {"id": "mass-right", "quantity": "mass of the right shoe", "unit": "g", "values": mass[1], "method": "own procedure, three weighings", **common},
        {"id": "tape-peel", "quantity": "peel force of the foxing tape", "unit": "N/mm", "values": bond, "method": "own procedure, 90 degrees at 100 mm/min", "resolution": 0.1,
         "standardUncertainty": 0.05, "instrument": "peel-gauge-1", "limit": {"min": 2.5, "severity": "major", "source": "The style owner's own limit, adopted 3 Aug 2026; no published source"}},
        {"id": "suede-thickness", "quantity": "thickness of the suede vamp", "unit": "mm", "values": [1.32, 1.35, 1.31], "method": "own procedure, three places", "resolution": 0.01,
         "standardUncertainty": 0.01, "instrument": "thickness-1", "limit": {"min": 1.2, "max": 1.5, "severity": "minor", "source": "The style owner's own limit, adopted 3 Aug 2026; no published source"}},
    ]}


CAP = "The style owner's own limit, adopted 3 Aug 2026: a couple of millimetres between left and right, since toe caps are laid by hand, is common practice, no source"
STITCHES = "The style owner's own limit, adopted 3 Aug 2026; 8 to 10 stitches an inch is common practice, no source"
SHADE = "The style owner's own limit, adopted 3 Aug 2026: against the suede of the confirmation sample; no published source"
CLICK, TIMES = 1.2, 3


def clicks(rng, points, sigma=CLICK):
    p = np.asarray(points, float)
    return (p + rng.normal(0, sigma, p.shape)).round(1).tolist()


def pair_match(build):
    """Toe caps from above, both shoes on one sheet: landmarks clicked three times, heights read with a height gauge."""
    rng = np.random.default_rng(700 + build)
    photo = {"file": "pair-top.jpg", "scale": {"kind": "rectangle", "corners": clicks(rng, pair.project("top", cam.sheet_corners(pair.SHEET)), 1.0), "sizeMm": list(pair.SHEET["sheet"])}}
    shoes, heights = {}, {}
    for side, spot in pair.stand("top").items():
        places = {name: pair.placed(p, *spot) for name, p in pair.landmarks(build, side).items()}
        shoes[side] = {"photo": photo, "landmarks": {name: clicks(rng, np.tile(pair.project("top", p), (TIMES, 1))) for name, p in places.items()}}
        heights = {name: heights.get(name, []) + [p[2]] for name, p in places.items()}
    depths = {name: {"value": round(float(np.mean(z) + rng.normal(0, 1.0)), 1), "unit": "mm", "standardUncertainty": 1.5} for name, z in heights.items()}
    return [{"id": "toe-caps", "view": "top", **shoes, "depths": depths, "features": [
        {"id": "toe-cap-length", "from": "toe-tip", "to": "toe-cap-edge-middle"},
        {"id": "throat-length", "from": "toe-tip", "to": "throat"},
        {"id": "cap-askew", "from": "toe-cap-edge-lateral", "to": "toe-cap-edge-medial", "along": "x"}]}]


def seams(build):
    """The double row of the eyestay, flat on the bench, with a steel bar on the twill beside it."""
    rng = np.random.default_rng(800 + build)
    bar = clicks(rng, panel.project(build, panel.bar_ends()), 0.8)
    below = panel.SUEDE_Z + panel.RADIUS / 2 - panel.TWILL_Z - panel.BAR[2]
    scale = {"kind": "bar", "ends": bar, "lengthMm": panel.BAR[0], "planeHeightMm": {"value": round(below, 1), "unit": "mm", "standardUncertainty": 0.3}}
    rows = []
    for name, inner in (("outer", False), ("inner", True)):
        row = panel.Row(build, inner)
        s = np.linspace(row.at[0], row.at[-1], 6)
        path = panel.project(build, np.column_stack([row.on(s, rng.normal(0, 0.25, len(s))), np.full(len(s), panel.SUEDE_Z)]))
        rows.append({"id": name, "path": path.round(1).tolist(), "component": "eyestay", "side": "left", "twin": "inner" if name == "outer" else "outer"})
    x = np.linspace(12.0, 108.0, 13)
    rows[0]["edge"] = clicks(rng, panel.project(build, np.column_stack([x, panel.edge(x), np.full(len(x), panel.SUEDE_Z)])), 1.0)
    return [{"id": "eyestay", "photo": {"file": "quarter-flat.jpg", "scale": scale}, "rows": rows}]


def colour(build):
    """The suede of the build against that of the confirmation sample, in one picture with a strip of grey card."""
    def rect(x0, y0, x1, y1, z):
        p = panel.project(build, np.array([[x0, y0, z], [x1, y0, z], [x1, y1, z], [x0, y1, z]]))
        low, high = np.ceil(p.min(0)).astype(int), np.floor(p.max(0)).astype(int)
        return [int(low[0]), int(low[1]), int(high[0] - low[0]), int(high[1] - low[1])]

    card = lambda x: rect(x, 2.5, x + 14, 7.5, panel.CARD_Z)
    x0, y0, x1, y1 = panel.SECOND_CARD
    return [{"id": "suede", "photo": {"file": "quarter-flat.jpg"}, "neutral": {"rect": card(20), "lab": [75, 0, 0]},
             "neutrals": [{"rect": card(x)} for x in (5, 52, 76, 100)] + [{"rect": rect(x0 + 2, y0 + 2, x1 - 2, y1 - 2, panel.SECOND_CARD_Z)}],
             "patches": [{"id": "sample", "rect": rect(10, 14, 24, 23, panel.SWATCH_Z), "repeats": [rect(28, 14, 42, 23, panel.SWATCH_Z)], "component": "suede of the confirmation sample"},
                         {"id": "eyestay", "rect": rect(10, 56, 24, 64, panel.SUEDE_Z), "repeats": [rect(30, 60, 44, 68, panel.SUEDE_Z), rect(60, 60, 74, 68, panel.SUEDE_Z)], "component": "suede of the eyestay", "side": "left"}]}]


# What eyes do not answer, or nobody looked at.
LEFT_OUT = {"children-extra", "seam-strength", "leather-finish", "bag-warning"}

# Checks of what this shoe has not.
HAS_NONE = {"buckle-edges"}


def walk_round(build, catalogue, pictures):
    findings = {
        1: [{"check": "inside-glue", "answer": "finding", "severity": "minor", "side": "right", "place": "inside, medial waist", "words": "A line of dried cement 12 mm long beside the footbed edge.",
             "correction": "Wipe before the footbed is laid."},
            {"check": "eyelets-front", "answer": "finding", "severity": "minor", "side": "left", "place": "fourth eyelet, medial", "words": "Paint rubbed off where the punch struck; cosmetic.",
             "correction": "Dress the punch; touch up or replace."}],
        2: [{"check": "toe-cap-edge", "answer": "finding", "severity": "minor", "side": "right", "place": "toe cap, rear edge", "photo": "pair-top.jpg",
             "words": "The toe cap edge of the right shoe lies further back than that of the left and runs askew.", "correction": "Lay both caps to the same gauge; hold the pair side by side before the oven."},
            {"check": "cleanliness", "answer": "finding", "severity": "minor", "side": "left", "place": "lateral forefoot, above the foxing", "photo": "pair-lateral.jpg",
             "words": "Dried glue stands above the foxing tape.", "correction": "Mark the cement line lower; clean before the oven."}],
    }[build]
    for f in findings:
        if "photo" in f and f["photo"] not in pictures:
            del f["photo"]
        elif "photo" in f:
            f["mark"] = PAIR_MARKS[f["check"]]
    named = {f["check"] for f in findings}
    unseen = {1: {"flex"}, 2: {"flex", "heel-height"}}[build]
    other = {"left": "right", "right": "left"}
    items = [item for f in findings for item in (f, {"check": f["check"], "answer": "sound", "side": other[f["side"]]})]
    for c in catalogue["checks"]:
        if c.get("constructions") and "vulcanized" not in c["constructions"] or c["id"] in named | LEFT_OUT:
            continue
        items.append({"check": c["id"], "answer": "not-seen" if c["id"] in unseen else "has-none" if c["id"] in HAS_NONE else "sound"})
    return {"id": "main", "items": items}


def section(build):
    """Thicknesses by gauge through the forepart; in the second build the outsole came out thinner."""
    gauge = lambda mm: {"value": mm, "unit": "mm", "standardUncertainty": 0.03}
    return [{"id": "forepart", "place": "underfoot", "layers": [
        {"id": "outsole", "component": "outsole rubber", "material": "rubber", "thicknessMm": gauge({1: 4.12, 2: 3.86}[build]), "areaDm2": 2.3, "fitted": "before-oven"},
        {"id": "filler", "component": "ground rubber filler", "material": "regrind-rubber", "thicknessMm": gauge(2.05), "areaDm2": 1.7, "fitted": "before-oven"},
        {"id": "sock", "component": "strobel sock", "material": "nonwoven", "thicknessMm": gauge(1.08), "areaDm2": 2.0, "fitted": "before-oven"},
        {"id": "footbed", "component": "footbed", "material": "eva-foam-footbed", "thicknessMm": gauge(4.4), "areaDm2": 2.0, "fitted": "after-oven"}],
        "lasting": {"perimeterMm": {"value": 640, "standardUncertainty": 4}, "massGM2": 900}}]


def oven(build):
    layer = lambda name, material, fitted: {"id": name, "material": material, "thicknessMm": {"from": f"section/forepart/{name}.thickness"}, "fitted": fitted}
    return [{"id": "forepart", "process": "autoclave", "gaugeMPa": 0.3, "airFilm": {"value": 50, "unit": "W/(m2.K)", "standardUncertainty": 12},
             "stack": [layer("outsole", "rubber", "before-oven"), layer("filler", "regrind-rubber", "before-oven"), layer("sock", "nonwoven", "before-oven"), layer("footbed", "eva-foam-footbed", "after-oven")],
             "program": [{"minutes": 25, "airC": 112}, {"minutes": 65, "airC": 112}],
             "inner": {"kind": "last", "material": "aluminium", "thicknessMm": 6},
             "cure": {"referenceC": 115, "activationEnergyKJmol": {"value": 90, "unit": "kJ/mol", "standardUncertainty": 6}},
             "changes": [{"id": "polypropylene-sock", "layer": "sock", "material": "polypropylene"}]}]


PAIR_MARKS = {"toe-cap-edge": {"rect": [1176, 690, 124, 375]}, "cleanliness": {"rect": [622, 548, 106, 46]}}


def main(work, repository):
    repository = Path(repository)
    catalogue_file = repository / "data/walk-round/checks.json"
    for build in (1, 2):
        folder = repository / f"demo/build-{build}"
        have = {p.name for p in folder.glob("*.jpg")}
        views = [("sole-left.jpg", "sole", "left"), ("sole-right.jpg", "sole", "right"), ("print-left.jpg", "sole", "left"), ("pair-lateral.jpg", "lateral", None), ("pair-top.jpg", "top", None),
                 ("pair-toe.jpg", "toe", None), ("pair-heel.jpg", "heel", None),
                 ("quarter-flat.jpg", "lateral", "left")]
        evidence = {"underfoot": underfoot(build, work, repository), "hardness": hardness(build), "readings": readings(build), "pair-match": pair_match(build), "seams": seams(build),
                    "colour": colour(build), "section": section(build), "oven": oven(build)}
        if catalogue_file.exists():
            evidence["walk-round"] = walk_round(build, json.loads(catalogue_file.read_text()), have)
        evidence |= {"duty": duty(build), "cost": cost(build)}
        share = {"min": 50, "severity": "major", "source": NOTE_4B}
        shore = {"min": 55, "max": 65, "severity": "major", "source": SHORE}
        review = {
            "format": "pairbench-review/1",
            "style": {"name": "Mirrow deck shoe (invented)", "id": "mirrow-deck", "construction": "vulcanized", "category": "leisure, low cut",
                      "limits": {"underfoot/left/share.textile": share, "underfoot/right/share.textile": share,
                                 "hardness/outsole/left.hardness": shore, "hardness/outsole/right.hardness": shore,
                                 "pair-match/toe-caps/toe-cap-length.difference": {"min": -3, "max": 3, "severity": "minor", "source": CAP},
                                 "seams/eyestay/outer.per-inch": {"min": 7.5, "max": 10.5, "severity": "minor", "source": STITCHES},
                                 "seams/eyestay/outer.skipped": {"max": 0, "severity": "minor", "source": STITCHES},
                                 "colour/suede/sample..eyestay.delta-e00": {"max": 2.0, "severity": "minor", "source": SHADE}}},
            "build": {"label": {1: "confirmation", 2: "bulk 1: smaller inlays, second rubber compound"}[build], "factory": "Works 12 (invented)", "date": DATES[build][0],
                      "colourway": {1: "sand suede, olive twill, moss sole", 2: "sand suede, olive twill, black sole"}[build], "order": "MD-0412 (invented)",
                      "confirmationSample": {"id": "MD-CS-3", "signedBy": "T. Arlow (invented)", "signedOn": "2026-08-03", "validUntil": "2027-02-03"}},
            "pair": {"size": "42", "sizeSystem": "EU", "origin": "invented"},
            "examiner": {"name": "R. Vell (invented)", "date": DATES[build][1]},
            "instruments": [
                {"id": "durometer-a", "kind": "durometer, Shore A", "calibratedOn": "2026-03-02", "calibrationUntil": "2027-03-02"},
                {"id": "durometer-c", "kind": "foam gauge, JIS K 7312", "calibratedOn": "2026-03-02", "calibrationUntil": "2027-03-02"},
                {"id": "balance-1", "kind": "balance, 0.1 g", "calibratedOn": "2026-03-02", "calibrationUntil": "2027-03-02"},
                {"id": "peel-gauge-1", "kind": "force gauge", "calibratedOn": "2026-05-11", "calibrationUntil": "2027-05-11"},
                {"id": "thickness-1", "kind": "thickness gauge, 0.01 mm", "calibratedOn": "2026-03-02", "calibrationUntil": "2027-03-02"}],
            "room": {"temperatureC": {"value": 22.6, "unit": "Cel", "standardUncertainty": 0.3}, "humidityPct": {"value": 51, "unit": "%", "standardUncertainty": 2}},
            "photos": [{k: v for k, v in {"file": f, "view": v, "side": s}.items() if v is not None} for f, v, s in views if f in have],
            "evidence": evidence,
        }
        (folder / "review.json").write_text(json.dumps(review, indent=1) + "\n")
        print(folder.name, len(json.dumps(review)) // 1024, "kB")


if __name__ == "__main__":
    main(*sys.argv[1:3])
