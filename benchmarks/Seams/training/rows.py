"""Draws rows of stitches straightened along a careless path, with their truth: what train.py teaches the row network with.

It shares nothing with the rows that the tests and the benchmark draw: those stay unseen.
"""
import math

import numpy as np
from scipy.ndimage import gaussian_filter, map_coordinates, uniform_filter1d

STEP = 0.1
COLUMNS = 64
LIFT = 20.0
ROUNDING = (0.55, 1.2, 1.2)


def normal_texture(rng, shape, along, across):
    v = gaussian_filter(rng.standard_normal(shape).astype(np.float32), (along, across), mode="wrap")
    return v / max(1e-6, v.std())


def ground(rng, u, v, mm):
    """Texture of the ground in levels, about nought."""
    kind = rng.integers(0, 9)
    depth = math.exp(rng.uniform(math.log(0.5), math.log(11)))
    turn = rng.uniform(0, math.pi)
    p, q = u * math.cos(turn) + v * math.sin(turn), v * math.cos(turn) - u * math.sin(turn)
    fine = lambda scale: normal_texture(rng, u.shape, max(0.01, scale / mm), max(0.01, scale / mm))
    if kind <= 1:
        # leather: grain of one size, or of two with pores
        t = fine(rng.uniform(0.12, 0.6))
        if kind == 1:
            t = t - 1.2 * np.maximum(0, fine(rng.uniform(0.1, 0.35)) - rng.uniform(0.5, 1.5)) + 0.5 * fine(rng.uniform(0.5, 1.5))
        return depth * t
    weave = rng.uniform(0.35, 1.3)
    stretch = rng.uniform(0.7, 1.4)
    a, b = 2 * math.pi * p / weave, 2 * math.pi * q / (weave * stretch)
    wobble = 0.4 * fine(3.0) * rng.uniform(0, 1)
    if kind == 2:
        return depth * np.sin(a + wobble) * np.sin(b + wobble) + 0.3 * depth * fine(0.3)
    if kind == 3:
        return depth * (np.abs(np.sin(a / 2 + wobble)) + np.abs(np.sin(b / 2)) - 1.2) + 0.4 * depth * fine(0.2)
    if kind == 4:
        return depth * np.sin(a + b + wobble) + 0.3 * depth * fine(0.3)
    if kind == 5:
        # knit: loops in columns
        return depth * np.sin(a + wobble) * (0.5 + 0.5 * np.sin(b + 1.2 * np.abs(np.sin(a / 2)))) + 0.3 * depth * fine(0.2)
    if kind == 6:
        holes = np.cos(a / rng.uniform(1.5, 4)) + np.cos(b / rng.uniform(1.5, 4)) - 1.3
        return -2.0 * depth * np.clip(holes, 0, 0.6) + 0.4 * depth * fine(0.3)
    if kind == 7:
        # creases and scratches
        return depth * (0.5 * fine(rng.uniform(0.2, 0.8)) + np.exp(-0.5 * ((q - rng.uniform(-2, 2) + 0.5 * np.sin(p / 6)) / rng.uniform(0.1, 0.4)) ** 2))
    return 0.3 * depth * fine(rng.uniform(0.1, 0.6))


def stitches(rng, length):
    """Places along, aside, and whether each is there."""
    pitch = math.exp(rng.uniform(math.log(1.25), math.log(6)))
    jitter = rng.uniform(0.005, 0.11)
    first, last = (rng.uniform(-pitch, 9) if rng.random() < 0.8 else -3 for _ in range(2))
    s, places = first, []
    while s < length - last:
        places.append(s)
        s += pitch * max(0.55, 1 + jitter * rng.standard_normal())
    places = np.array(places if len(places) > 3 else [length * k / 8 for k in range(1, 8)])
    swing, period, phase = rng.uniform(0, 0.4), rng.uniform(12, 40), rng.uniform(0, 6)
    shake = rng.uniform(0, 0.13)
    wander = swing * np.sin(2 * math.pi * places / period + phase) + shake * rng.standard_normal(len(places))
    share = rng.uniform(0.02, 0.2) if rng.random() < 0.7 else 0
    there = rng.random(len(places)) >= share
    return pitch, places, wander, there


def drawn(seed):
    """Three planes of log levels on cells of STEP; middles of stitches and of skipped ones as soft targets and weights (truth); cover of thread, and that it is known."""
    rng = np.random.default_rng(seed)
    mm = math.exp(rng.uniform(math.log(0.04), math.log(0.18)))
    length = rng.uniform(28, 75)
    wide = COLUMNS * STEP + 1.0
    rows, cols = int(length / mm), int(wide / mm)
    s = (np.arange(rows, dtype=np.float32)[:, None] + 0.5) * mm + np.zeros((1, cols), np.float32)
    a = (np.arange(cols, dtype=np.float32)[None, :] + 0.5) * mm - wide / 2 + np.zeros((rows, 1), np.float32)

    base = rng.uniform(25, 215)
    level = base + ground(rng, s, a, mm)
    cover = np.zeros_like(level)
    colour = np.array([rng.uniform(0.75, 1.2), 1, rng.uniform(0.6, 1.25)])
    tone_on_tone = rng.random() < 0.5
    tone = rng.uniform(-4, 4) if tone_on_tone else rng.choice([-1, 1]) * math.exp(rng.uniform(math.log(6), math.log(80)))
    thread_colour = colour * (1 + (0 if tone_on_tone or rng.random() < 0.3 else 1) * rng.uniform(-0.15, 0.15, 3))

    # What lies along the row: other panels, edges, folds.
    for _ in range(rng.integers(0, 3)):
        at, slope = rng.choice([-1, 1]) * rng.uniform(0.7, 3.4), rng.uniform(-0.02, 0.02)
        line = at + slope * (s - length / 2) + rng.uniform(0, 0.3) * np.sin(s / rng.uniform(5, 20))
        if rng.random() < 0.5:
            level += rng.uniform(-35, 35) * (np.sign(at) * (a - line) > 0)
        else:
            level += rng.uniform(-25, 20) * np.exp(-0.5 * ((a - line) / rng.uniform(0.08, 0.5)) ** 2)
    if rng.random() < 0.35:
        level += rng.uniform(-18, 18) * np.exp(-0.5 * (a / rng.uniform(0.3, 1.2)) ** 2)

    centres, bare = [], []
    aside, drift, wave, start = rng.uniform(-0.9, 0.9), rng.uniform(0, 0.9), rng.uniform(35, 130), rng.uniform(0, 6)
    middle = lambda t: aside + drift * math.sin(2 * math.pi * t / wave + start)
    count = 0 if rng.random() < 0.06 else 2 if rng.random() < 0.12 else 1
    relief = rng.uniform(6, 34) if tone_on_tone else rng.uniform(2, 26)
    light = rng.uniform(0, 2 * math.pi)
    lx, ly = math.cos(light), math.sin(light)
    look = rng.integers(0, 4)
    slant = rng.uniform(-0.3, 0.3)
    hole, hole_radius = (rng.uniform(4, 50) if rng.random() < 0.75 else 0), rng.uniform(0.1, 0.32)
    zigzag = rng.uniform(0, 0.5) if rng.random() < 0.06 else 0
    for row in range(count):
        pitch, places, wander, there = stitches(rng, length)
        fill, radius = rng.uniform(0.5, 0.95), rng.uniform(0.16, max(0.2, min(0.55, 0.2 * pitch)))
        shift = 0 if row == 0 else rng.choice([-1, 1]) * rng.uniform(1.6, 2.8)
        for i, (place, off, is_there) in enumerate(zip(places, wander, there)):
            across = middle(place) + off + shift + zigzag * (-1) ** i
            half, strength = 0.5 * fill * pitch * rng.uniform(0.92, 1.08), rng.uniform(0.8, 1.2)
            if hole:
                for end in (-0.5 * pitch, 0.5 * pitch):
                    box, ds, da = window(place + end, across, 3 * hole_radius, mm, wide, rows, cols, s, a)
                    if box is not None:
                        level[box] -= 0.6 * hole * np.exp(-0.5 * (ds * ds + da * da) / (0.6 * hole_radius) ** 2)
            if not is_there:
                bare.append((place, across))
                continue
            box, ds, da = window(place, across, half + radius, mm, wide, rows, cols, s, a)
            if box is None:
                continue
            turn = slant + 0.06 * rng.standard_normal() + math.atan(2 * math.pi / wave * drift * math.cos(2 * math.pi * place / wave + start))
            c, n = math.cos(turn), math.sin(turn)
            along, aside_ = ds * c + da * n, da * c - ds * n
            over = np.maximum(0, np.abs(along) - max(0, half - radius))
            bulge = radius * (1 - (0.25 * (along / half) ** 2 if look == 3 else 0))
            q = np.sqrt(over * over + aside_ * aside_) / bulge
            on = np.clip((1.08 - q) / 0.16, 0, 1)
            nx, ny = 0.8 * over * np.sign(along) / radius, aside_ / radius
            wx, wy = nx * c - ny * n, nx * n + ny * c
            shade = relief * (wx * lx + wy * ly)
            if look == 1:
                shade = shade + 0.7 * relief * np.cos(4 * math.pi * along / (2.1 * half) + 0.4)
            elif look == 2:
                shade = shade + 0.5 * relief * np.cos(2 * math.pi * (along + rng.choice([-1, 1]) * 0.8 * aside_) / rng.uniform(0.3, 0.9))
            else:
                shade = shade + 0.35 * relief * (1 - q * q)
            level[box] = level[box] * (1 - on) + (base + tone + strength * shade) * on
            cover[box] = np.maximum(cover[box], on)
            if rng.random() < 0.9 or relief > 12:
                shadow = np.exp(-0.5 * ((aside_ * (1 if ly > 0 else -1) - 1.2 * radius) / (0.4 * radius)) ** 2) * (np.abs(along) < half)
                level[box] -= (1 - on) * rng.uniform(0, 0.5) * relief * shadow * (abs(ly) > 0.3)
            if -0.3 < place < length + 0.3 and abs(across) < COLUMNS * STEP / 2:
                centres.append((place, across))

    blur = rng.uniform(0.3, 1.6)
    level, thread = gaussian_filter(level, blur, mode="nearest"), gaussian_filter(cover, 0.8)
    shine = 1 + rng.uniform(-0.25, 0.25) * 2 * (s / length - 0.5) + rng.uniform(-0.15, 0.15) * 2 * a / wide
    noise = math.exp(rng.uniform(math.log(0.4), math.log(4)))
    rgb = [np.clip(np.rint(level * shine * (colour[k] + thread * (thread_colour[k] - colour[k])) + noise * rng.standard_normal(level.shape)), 0, 255) for k in range(3)]

    planes, cover = sampled(rgb, cover, mm, length, wide)
    return [planes, *truth(planes.shape[1], centres, bare), cover, np.ones((1, 1), np.float32)]


def sampled(rgb, cover, mm, length, wide):
    """Planes and cover as the programme samples a picture of mm per pixel: twice as fine as cells, then means of two by two."""
    n = int(length / STEP)
    fine_s = (np.arange(2 * n) + 0.5) * STEP / 2
    fine_a = (np.arange(2 * COLUMNS) + 0.5) * STEP / 2 - COLUMNS * STEP / 2
    grid = np.meshgrid(fine_s / mm - 0.5, (fine_a + wide / 2) / mm - 0.5, indexing="ij")
    sample = lambda v: map_coordinates(v.astype(np.float32), grid, order=1, mode="nearest")
    log = lambda v: 100 * np.log(v + LIFT)
    r, g, b = (sample(v) for v in rgb)
    planes = [log(0.299 * r + 0.587 * g + 0.114 * b), log(r) - log(g), log(b) - (log(r) + log(g)) / 2]
    mean = lambda v: v.reshape(n, 2, COLUMNS, 2).mean((1, 3))
    return even(np.stack([mean(v) for v in planes])), mean(sample(cover)).astype(np.float32)


def truth(n, centres, bare):
    """Soft targets on n rows of cells: middles of stitches, middles of skipped ones (mm along, mm off the middle column); weight of each cell: places of the row count more, bare ones above all."""
    at_s, at_a = (np.arange(n) + 0.5) * STEP, (np.arange(COLUMNS) + 0.5) * STEP - COLUMNS * STEP / 2
    heats = [np.zeros((n, COLUMNS), np.float32) for _ in range(2)]
    weight = np.ones((n, COLUMNS), np.float32)
    for heat, places, more in zip(heats, (centres, bare), (2.0, 12.0)):
        for place, across in places:
            near = slice(max(0, int((place - 1.5) / STEP)), max(0, int((place + 1.5) / STEP)))
            spot = lambda along, aside: np.outer(np.exp(-0.5 * ((at_s[near] - place) / along) ** 2), np.exp(-0.5 * ((at_a - across) / aside) ** 2))
            heat[near] = np.maximum(heat[near], spot(0.2, 0.25))
            weight[near] += more * spot(0.3, 0.35)
    return [*heats, weight]


def window(place, across, reach, mm, wide, rows, cols, s, a):
    y0, y1 = int((place - reach) / mm) - 1, int((place + reach) / mm) + 2
    x0, x1 = int((across + wide / 2 - reach) / mm) - 1, int((across + wide / 2 + reach) / mm) + 2
    y0, y1, x0, x1 = max(0, y0), min(rows, y1), max(0, x0), min(cols, x1)
    if y0 >= y1 or x0 >= x1:
        return None, None, None
    box = np.s_[y0:y1, x0:x1]
    return box, s[box] - place, a[box] - across


def even(planes):
    """Relief.Of with means over 9 mm and no blur: what is the same all along is taken out, contrast is evened."""
    reach = round(4.5 / STEP)
    out = []
    for plane, rounding in zip(planes, ROUNDING):
        sums = np.concatenate([np.zeros((1, plane.shape[1])), np.cumsum(plane, 0)])
        i = np.arange(len(plane))
        lo, hi = np.maximum(0, i - reach), np.minimum(len(plane), i + reach + 1)
        v = plane - (sums[hi] - sums[lo]) / (hi - lo)[:, None]
        own = np.sqrt((v * v).mean(0))
        scale = 1 / np.sqrt(0.5 * (own * own + own.mean() ** 2) + rounding ** 2)
        out.append(np.clip(v * scale, -4, 4))
    return np.stack(out).astype(np.float32)
