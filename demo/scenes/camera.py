"""Where things lie and how a point becomes a pixel. Used by the renderer and by the truth alike. mm; z up from the bench."""
import numpy as np


def rotation_z(degrees):
    a = np.radians(degrees)
    return np.array([[np.cos(a), -np.sin(a), 0], [np.sin(a), np.cos(a), 0], [0, 0, 1.0]])


class Camera:
    """A pinhole: columns of `axes` are right, up, back (the camera looks along -back)."""

    def __init__(self, s):
        self.w, self.h = s["size_px"]
        self.f = s["focal_px"]
        target = np.array([*s["look_at"], s["plane"]])
        t, a = np.radians(s["tilt"]), np.radians(s["tilt_azimuth"])
        back = np.array([np.sin(t) * np.cos(a), np.sin(t) * np.sin(a), np.cos(t)])
        self.centre = target + back * (s["distance"] - s["plane"])
        up = np.array([0, 1.0, 0]) - back * back[1]
        up /= np.linalg.norm(up)
        self.axes = np.stack([np.cross(up, back), up, back], axis=1)

    def project(self, points):
        c = (np.asarray(points, float) - self.centre) @ self.axes
        return np.stack([self.w / 2 - self.f * c[..., 0] / c[..., 2], self.h / 2 + self.f * c[..., 1] / c[..., 2]], -1)

    def on_plane(self, u, v, z):
        """World x, y where the ray of a pixel meets the plane at height z."""
        d = np.stack([(u - self.w / 2) / self.f, -(v - self.h / 2) / self.f, -np.ones_like(u)], -1) @ self.axes.T
        k = (z - self.centre[2]) / d[..., 2]
        return self.centre[0] + k * d[..., 0], self.centre[1] + k * d[..., 1]


def sole_to_world(s, points_xy):
    """Sole frame (x heel to toe) to world; the middle of the sole's length lies at sole_at."""
    p = np.asarray(points_xy, float) - [s["length"] / 2, 0]
    r = rotation_z(s["sole_turn"])[:2, :2]
    return p @ r.T + s["sole_at"]


def world_to_sole(s, x, y):
    r = rotation_z(-s["sole_turn"])[:2, :2]
    px, py = x - s["sole_at"][0], y - s["sole_at"][1]
    return r[0, 0] * px + r[0, 1] * py + s["length"] / 2, r[1, 0] * px + r[1, 1] * py


def sheet_corners(s):
    """Top-left, top-right, bottom-right, bottom-left in the world, z = 0."""
    w, h = s["sheet"]
    c = np.array([(-w / 2, h / 2, 0), (w / 2, h / 2, 0), (w / 2, -h / 2, 0), (-w / 2, -h / 2, 0)]) @ rotation_z(s["sheet_turn"]).T
    return c + [*s["sheet_at"], 0]


INSET = 10.0


def crosses(s):
    """The four crosses printed inside the edges of the sheet, in the order of its corners."""
    w, h = s["sheet"]
    smaller = dict(s, sheet=(w - 2 * INSET, h - 2 * INSET))
    return sheet_corners(smaller), smaller["sheet"]


BAR = (150.0, 13.0, 0.6)


def bar_ends(s):
    """Both ends of the steel bar along its middle line, on its upper face."""
    at = np.array([*s["sheet_at"], 0]) + [-40, -105, BAR[2]]
    r = rotation_z(s["sheet_turn"] + 1.5)
    return np.array([(-75.0, 0, 0), (75.0, 0, 0)]) @ r.T + at
