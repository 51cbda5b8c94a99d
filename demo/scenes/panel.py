"""The flat lay for seams and colour: what lies where on it, in mm (x right, y up, z up from the bench), and the camera that sees it. Used by the renderer and by the truth alike.

A cut quarter of the left shoe: suede eyestay over twill, held by a double row. Beside it the suede of the confirmation sample and a strip of grey card; on it a piece of that card and a steel bar.
"""
import numpy as np

SIZE_PX = (1560, 1080)
FOCAL_PX = 3900.0
DISTANCE = 318.0
LOOK_AT = np.array([60.0, 42.0, 2.0])
TILT = {1: (3.0, 200.0), 2: (4.5, 320.0)}

TWILL_Z, SUEDE_Z = 1.2, 2.5
PANEL = (6.0, 27.0, 114.0, 81.0)
SWATCH = (8.0, 12.5, 44.0, 24.5)
CARD = (4.0, 1.0, 116.0, 9.0)
SECOND_CARD = (82.0, 60.0, 104.0, 74.0)
SWATCH_Z, CARD_Z, SECOND_CARD_Z = 1.3, 0.4, 2.9
BAR_AT, BAR = (26.0, 31.5), (60.0, 5.0, 0.5)
BAR_TURN = -0.8

PITCH = {1: 2.90, 2: 3.25}
JITTER = {1: 0.03, 2: 0.06}
SKIPPED = {1: [], 2: [17]}
RADIUS = 0.24
TWIN = 2.1
# Linear RGB. The bulk suede of the second build is a little redder and darker than that of the confirmation sample.
SUEDE = (0.42, 0.31, 0.19)
SUEDE_OF = {1: SUEDE, 2: (0.385, 0.262, 0.154)}
TWILL = (0.105, 0.11, 0.055)
THREAD = (0.62, 0.55, 0.42)
GREY = (0.48, 0.48, 0.48)


def edge(x):
    """The lower edge of the eyestay."""
    return 46.0 + 3.2 * np.sin((x - 10.0) / 34.0)


class Row:
    """A row of stitches beside the edge; the outer one 2 mm inside it, the inner one further by TWIN."""

    def __init__(self, build, inner):
        rng = np.random.default_rng(100 * build + inner)
        x = np.arange(8.0, 112.0, 0.02)
        margin = 2.0 + (TWIN if inner else 0.0)
        slope = np.gradient(edge(x), x)
        n = np.hypot(1, slope)
        x, y = x - margin * slope / n, edge(x) + margin / n
        self.s = np.concatenate([[0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
        self.x, self.y = x, y
        pitch = PITCH[build]
        count = int((self.s[-1] - 6.0) / pitch)
        steps = pitch * np.maximum(0.6, 1 + JITTER[build] * rng.normal(size=count - 1))
        self.at = 3.0 + rng.uniform(0, 1) * pitch + np.concatenate([[0], np.cumsum(steps)])
        self.at = self.at[self.at < self.s[-1] - 3.0]
        swing = {1: 0.06, 2: 0.22}[build]
        self.wander = swing * np.sin(2 * np.pi * self.at / 24.0 + rng.uniform(0, 6)) + 0.04 * rng.normal(size=len(self.at))
        self.skipped = [] if inner else SKIPPED[build]

    def on(self, s, across=0.0):
        x, y = np.interp(s, self.s, self.x), np.interp(s, self.s, self.y)
        dx, dy = np.interp(s + 0.2, self.s, self.x) - np.interp(s - 0.2, self.s, self.x), np.interp(s + 0.2, self.s, self.y) - np.interp(s - 0.2, self.s, self.y)
        n = np.hypot(dx, dy)
        return np.stack([x - across * dy / n, y + across * dx / n], -1)

    def holes(self):
        at = np.concatenate([[self.at[0] - (self.at[1] - self.at[0]) / 2], (self.at[1:] + self.at[:-1]) / 2, [self.at[-1] + (self.at[-1] - self.at[-2]) / 2]])
        aside = np.concatenate([[self.wander[0]], (self.wander[1:] + self.wander[:-1]) / 2, [self.wander[-1]]])
        return at, aside


def bar_ends():
    a = np.radians(BAR_TURN)
    start = np.array([*BAR_AT, TWILL_Z + BAR[2]])
    return np.stack([start, start + [BAR[0] * np.cos(a), BAR[0] * np.sin(a), 0]])


def axes(build):
    """Where the camera stands, and its columns right, up, back."""
    tilt, way = np.radians(TILT[build])
    back = np.array([np.sin(tilt) * np.cos(way), np.sin(tilt) * np.sin(way), np.cos(tilt)])
    up = np.array([0, 1.0, 0]) - back * back[1]
    up /= np.linalg.norm(up)
    return LOOK_AT + back * DISTANCE, np.stack([np.cross(up, back), up, back], 1)


def project(build, points):
    centre, columns = axes(build)
    c = (np.asarray(points, float) - centre) @ columns
    return np.stack([SIZE_PX[0] / 2 - FOCAL_PX * c[..., 0] / c[..., 2], SIZE_PX[1] / 2 + FOCAL_PX * c[..., 1] / c[..., 2]], -1)
