"""A sole as maps in millimetres: what it is made of, where it touches the ground, how deep it is elsewhere.

Frame: x from heel to toe, y to the medial side, as a LEFT sole is seen from below with its toe to the right;
a right sole is its mirror image. Maps are arrays [row, column], row 0 at the lowest y, CELLS cells per mm.
"""
import numpy as np
import cv2
from scipy import ndimage
from scipy.interpolate import splev, splprep

CELLS = 8
MARGIN = 8.0
NONE, RUBBER, TEXTILE, LEATHER, OTHER = range(5)
NAMES = {RUBBER: "rubber", TEXTILE: "textile", LEATHER: "leather", OTHER: "other"}

MEDIAL = [(0.02, 14), (0.06, 26), (0.12, 33), (0.20, 35), (0.30, 32), (0.40, 28.5), (0.50, 30), (0.60, 38), (0.68, 44.5),
          (0.75, 47), (0.82, 46), (0.90, 40), (0.96, 29)]
LATERAL = [(0.96, -18), (0.90, -33), (0.82, -42), (0.75, -49), (0.68, -52.5), (0.60, -52), (0.50, -48), (0.40, -44),
           (0.30, -40), (0.20, -37), (0.12, -33.5), (0.06, -26), (0.02, -14)]


class Grid:
    """Where the cells of the maps lie."""

    def __init__(self, length, width_scale=1.0):
        points = [(0.0, 0.0)] + [(t, y * width_scale) for t, y in MEDIAL] + [(1.0, 7.0 * width_scale)] + [(t, y * width_scale) for t, y in LATERAL]
        p = np.array(points + points[:1], float)
        p[:, 0] *= length
        tck, _ = splprep([p[:, 0], p[:, 1]], s=30.0, per=True)
        self.outline = np.stack(splev(np.linspace(0, 1, 720, endpoint=False), tck), axis=1)
        self.x0 = self.outline[:, 0].min() - MARGIN
        self.y0 = self.outline[:, 1].min() - MARGIN
        self.columns = int(np.ceil((self.outline[:, 0].max() + MARGIN - self.x0) * CELLS))
        self.rows = int(np.ceil((self.outline[:, 1].max() + MARGIN - self.y0) * CELLS))
        self.length = length
        self.x, self.y = np.meshgrid(self.x0 + (np.arange(self.columns) + 0.5) / CELLS, self.y0 + (np.arange(self.rows) + 0.5) / CELLS)
        self.inside = self.fill(self.outline)
        self.depth_in = ndimage.distance_transform_edt(self.inside) / CELLS
        self.depth_out = ndimage.distance_transform_edt(~self.inside) / CELLS

    def fill(self, polygon):
        """Cells inside a polygon given in mm."""
        p = np.round((np.asarray(polygon) - [self.x0, self.y0]) * CELLS * 16 - 8).astype(np.int32)
        out = np.zeros((self.rows, self.columns), np.uint8)
        cv2.fillPoly(out, [p.reshape(-1, 1, 2)], 1, shift=4)
        return out.astype(bool)


def smooth_noise(rng, shape, sigma_mm):
    """Noise with a correlation length, scaled to unit standard deviation."""
    step = max(1, int(sigma_mm * CELLS / 3))
    small = ndimage.gaussian_filter(rng.standard_normal((shape[0] // step + 4, shape[1] // step + 4)), sigma_mm * CELLS / step)
    small /= small.std()
    return cv2.resize(small, (shape[1], shape[0]), interpolation=cv2.INTER_CUBIC)


# ---- grooves: true where the sole does not reach the ground -------------------------------------------------------

def turned(x, y, degrees):
    a = np.radians(degrees)
    return x * np.cos(a) + y * np.sin(a), -x * np.sin(a) + y * np.cos(a)


def zigzag(x, y, pitch, width, swing, period, turn=0):
    u, v = turned(x, y, turn)
    saw = np.abs(((v / period) % 1.0) * 2 - 1) * swing
    return ((u + saw) % pitch) < width


def waves(x, y, pitch, width, swing, period, turn=0):
    u, v = turned(x, y, turn)
    return ((u + swing * np.sin(2 * np.pi * v / period)) % pitch) < width


def lattice(x, y, pitch, width, turn=45, skew=90):
    u, _ = turned(x, y, turn)
    w, _ = turned(x, y, turn + skew)
    return ((u % pitch) < width) | ((w % pitch) < width)


def bricks(x, y, long, short, width, turn=0):
    u, v = turned(x, y, turn)
    row = np.floor(v / short)
    return ((v % short) < width) | (((u + (row % 2) * long / 2) % long) < width)


def rings(x, y, centre, pitch, width):
    return (np.hypot(x - centre[0], y - centre[1]) % pitch) < width


def hexes(x, y, size, width):
    """Hexagonal lugs: cells nearer to the edge between two centres of a triangular lattice than half the groove."""
    a = np.stack([x, y], -1)
    best = np.full(x.shape, 1e9)
    second = np.full(x.shape, 1e9)
    dy = size * np.sqrt(3)
    for shift in ((0.0, 0.0), (size / 2, dy / 2)):
        for extra in ((0, 0), (size, 0), (-size, 0)):
            cx = np.round((a[..., 0] - shift[0]) / size) * size + shift[0] + extra[0]
            cy = np.round((a[..., 1] - shift[1]) / dy) * dy + shift[1]
            d = np.hypot(a[..., 0] - cx, a[..., 1] - cy)
            second = np.where(d < best, best, np.where((d > best + 1e-9), np.minimum(second, d), second))
            best = np.minimum(best, d)
    return (second - best) < width


def swallow_slivers(touch, smallest_mm2):
    """Joins what is too small to be moulded to the groove beside it."""
    labels, n = ndimage.label(touch)
    if n == 0:
        return touch
    area = ndimage.sum_labels(touch, labels, np.arange(n + 1)) / CELLS ** 2
    return touch & (area[labels] >= smallest_mm2)


# ---- surfaces -----------------------------------------------------------------------------------------------------

def flock(rng, shape, density=9.0, length=(0.5, 1.3)):
    """Short fibres lying every which way: height 0..1 and a lightness around 0."""
    height = np.zeros(shape, np.float32)
    shade = np.zeros(shape, np.float32)
    n = int(density * shape[0] * shape[1] / CELLS ** 2)
    px = rng.uniform(0, shape[1], n)
    py = rng.uniform(0, shape[0], n)
    lay = smooth_noise(rng, shape, 7.0)
    angle = rng.uniform(0, np.pi, n) * 0.75 + lay[py.astype(int), px.astype(int)] * 0.8
    half = rng.uniform(*length, n) * CELLS / 2
    tone = rng.normal(0, 1, n)
    level = np.sort(rng.uniform(0.1, 1.0, n))
    for i in range(n):
        c, s = np.cos(angle[i]) * half[i], np.sin(angle[i]) * half[i]
        a = (int((px[i] - c) * 16), int((py[i] - s) * 16))
        b = (int((px[i] + c) * 16), int((py[i] + s) * 16))
        cv2.line(height, a, b, float(level[i]), 1, cv2.LINE_AA, 4)
        cv2.line(shade, a, b, float(tone[i]), 1, cv2.LINE_AA, 4)
    return height, shade + 0.8 * lay


def twill(rng, shape, pitch=1.1):
    """A woven rib: height 0..1 and a lightness around 0."""
    yy, xx = np.mgrid[:shape[0], :shape[1]] / CELLS
    wob = smooth_noise(rng, shape, 3.0) * 0.12
    rib = np.abs(np.sin(np.pi * (xx * 0.8 + yy * 0.6 + wob) / pitch)) ** 0.7
    thread = np.abs(np.sin(np.pi * (xx * -0.6 + yy * 0.8 + wob) / (pitch * 0.55)))
    h = rib * (0.6 + 0.4 * thread)
    return h.astype(np.float32), (h - h.mean()) * 2 + rng.normal(0, 0.5, shape) + 0.4 * smooth_noise(rng, shape, 1.0)
