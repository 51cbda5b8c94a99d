"""The shape of the shoe, where both of a pair stand, and the camera that sees them; what a person would click on, with its truth. Used by the renderer and by the truth alike. mm; z up from the bench."""
import numpy as np

LENGTH = 295.0
T = np.array([0.0, 0.004, 0.01, 0.02, 0.06, 0.12, 0.20, 0.30, 0.40, 0.50, 0.60, 0.68, 0.75, 0.82, 0.90, 0.96, 0.985, 1.0])
MEDIAL = np.array([0, 10.5, 15.5, 20.5, 29.5, 34, 35, 32, 28.5, 30, 38, 44.5, 47, 46, 40, 29, 20, 7.0])
LATERAL = np.array([0, 10.5, 15.5, 20.5, 29.5, 34.5, 37, 40, 44, 48, 52, 52.5, 49, 42, 33, 18, 7, -7.0])
SOLE = 27.0
TOP_T = np.array([0.0, 0.05, 0.15, 0.28, 0.36, 0.42, 0.48, 0.55, 0.63, 0.72, 0.80, 0.88, 0.94, 0.98, 1.0])
TOP_H = np.array([66, 68, 74, 78, 78, 74, 67, 58, 49, 41, 35, 29, 22, 13, 3.0])
COLLAR_T = np.array([0.0, 0.06, 0.15, 0.25, 0.34, 0.40])
COLLAR_H = np.array([62, 56, 46, 43, 50, 66.0])
THROAT = 0.40


# The rear edge of the toe cap, laid by hand: fractions of the length by which it lies further forward, and by which it runs askew.
CAP_SHIFT = {(1, "left"): 0.0, (1, "right"): -0.003, (2, "left"): 0.004, (2, "right"): -0.013}
CAP_SKEW = {(2, "right"): 0.012}
CAP_LIFT = 1.6

VIEWS = {  # camera position, looked at (mm), focal px if the picture were 1320 wide
    "lateral": ((60, -1050, 460), (-5, 10, 40), 3250),
    "top": ((-20, -160, 1150), (0, 0, 40), 3300),
    "heel": ((-900, 30, 420), (-40, 0, 45), 3300),
    "toe": ((820, -60, 430), (50, 0, 35), 3000),
}
SIZE_PX = {"top": (1680, 1260)}
FOCAL_AT = 1320
SHEET = {"sheet": (420.0, 297.0), "sheet_turn": 0.7, "sheet_at": (-4.0, -2.0)}


def spring(t):
    """Toe spring of the whole shoe, mm."""
    return 14.0 * np.clip((t - 0.68) / 0.32, 0, 1) ** 2 + 3.0 * np.clip((0.05 - t) / 0.05, 0, 1)


def section(t, phi, lift=0.0):
    """Point of the upper at fraction t of the length and angle phi around: 0 lateral feather line, pi medial."""
    m, l = np.interp(t, T, MEDIAL) - 3.0, np.interp(t, T, LATERAL) - 3.0
    yc, hw = (m - l) / 2, np.maximum((m + l) / 2, 0.3)
    h = np.interp(t, TOP_T, TOP_H)
    c, s = np.cos(phi), np.sin(phi)
    lean = np.interp(t, [0, 0.3, 0.5, 1], [0.75, 0.8, 0.95, 1.0])
    y = yc - (hw + lift) * np.sign(c) * np.abs(c) ** lean
    z = SOLE - 4 + spring(t) + (h + lift) * s ** np.interp(t, [0, 0.35, 0.6, 1], [1.1, 1.0, 0.85, 0.75])
    x = t * LENGTH * 0.985 + 2.0 + lift * np.where(t > 0.93, (t - 0.93) / 0.07, np.where(t < 0.05, -(0.05 - t) / 0.05, 0))
    return np.stack([x, y, z], -1)


def collar_phi(t):
    """Angle at which the side ends at the collar."""
    h = np.interp(t, TOP_T, TOP_H)
    c = np.interp(t, COLLAR_T, COLLAR_H)
    return np.where(t < THROAT, np.arcsin(np.clip(c / h, 0, 1) ** (1 / 1.05)), np.pi / 2)


def outline(inset, n=260):
    """Closed line around the shoe at the feather line, with its fraction of the length."""
    t = np.linspace(0, 1, n // 2) * np.pi
    t = (1 - np.cos(t)) / 2
    x = np.concatenate([t, t[::-1]]) * LENGTH
    y = np.concatenate([np.interp(t, T, MEDIAL), -np.interp(t[::-1], T, LATERAL)])
    p = np.stack([x, y], -1)
    for _ in range(6):
        p = (np.roll(p, 1, 0) + p * 2 + np.roll(p, -1, 0)) / 4
    q = np.roll(p, -1, 0) - np.roll(p, 1, 0)
    normal = np.stack([-q[:, 1], q[:, 0]], -1)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-6)
    for _ in range(4):
        normal = (np.roll(normal, 1, 0) + normal + np.roll(normal, -1, 0)) / 3
    p = p - normal * inset
    return np.vstack([p, p[:1]])


def cap_edge(build, side, w):
    """Rear edge of the toe cap, at a fraction of the way round it, in fractions of the length."""
    return 0.868 + CAP_SHIFT[(build, side)] - 0.035 * (2 * w - 1) ** 2 + CAP_SKEW.get((build, side), 0.001) * (2 * w - 1)


def stand(view):
    """Where the middle of each shoe stands, its turn in degrees, and 1 or -1 where it is mirrored."""
    if view == "lateral":  # one behind the other, lateral side of the left one in front
        return {"left": ((0, -75, 0), 0, 1), "right": ((-35, 85, 0), 2, -1)}
    # seen from above with the toe to +x, the left shoe lies on +y and its medial side faces -y
    return {"left": ((0, 62, 0), 1.0, -1), "right": ((2, -62, 0), -1.5, 1)}


def placed(points, at, turn, mirror):
    """Points of a shoe in the world."""
    a = np.radians(turn)
    r = np.array([[np.cos(a), -np.sin(a), 0], [np.sin(a), np.cos(a), 0], [0, 0, 1]])
    p = np.asarray(points, float) * [1, mirror, 1]
    return (p - [LENGTH / 2, 0, 0]) @ r.T + np.array(at, float)


def camera(view):
    """Centre and columns right, up, back."""
    centre, target, _ = VIEWS[view]
    centre, target = np.array(centre, float), np.array(target, float)
    back = (centre - target) / np.linalg.norm(centre - target)
    up = np.array([0, 1.0, 0]) if view == "top" else np.array([0, 0, 1.0])
    right = np.cross(up, back)
    right /= np.linalg.norm(right)
    return centre, np.stack([right, np.cross(back, right), back], 1)


def size(view):
    return SIZE_PX.get(view, (1120, 840))


def focal_px(view):
    return VIEWS[view][2] * size(view)[0] / FOCAL_AT


def project(view, points):
    centre, columns = camera(view)
    c = (np.asarray(points, float) - centre) @ columns
    (w, h), f = size(view), focal_px(view)
    return np.stack([w / 2 - f * c[..., 0] / c[..., 2], h / 2 + f * c[..., 1] / c[..., 2]], -1)


def landmarks(build, side):
    """What is clicked from above, in the shoe's own frame: the foremost place of the rib around the toe, three places of the toe cap's rear edge, and the middle of the tongue's end."""
    rim = outline(-2.6 - 0.5)
    cap = lambda w: section(np.array(cap_edge(build, side, w)), np.array(0.02 + (np.pi - 0.04) * w), CAP_LIFT + 0.8)
    return {
        "toe-tip": np.array([*rim[rim[:, 0].argmax()], spring(1.0) + 17.0]),
        "toe-cap-edge-middle": cap(0.5),
        "toe-cap-edge-lateral": cap(0.3),
        "toe-cap-edge-medial": cap(0.7),
        "throat": section(np.array(0.64), np.array(np.pi / 2), 2.0),
    }
