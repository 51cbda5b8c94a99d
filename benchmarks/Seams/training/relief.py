"""Draws rows of stitches in relief, straightened along a careless path: heights of ground and thread under a lamp that casts shadows, with their truth. What train.py teaches the row network with beside rows.py.

It shares nothing with the renderer of ../rendered: those rows are only measured.
"""
import math

import numpy as np
from scipy.ndimage import gaussian_filter, map_coordinates

from rows import COLUMNS, STEP, sampled, stitches, truth, window

FINE = 0.06
UP = np.array([0, 0, 1.0])


def noise(rng, shape, sigma_mm):
    sigma = sigma_mm / FINE
    if sigma < 8:
        v = gaussian_filter(rng.standard_normal(shape).astype(np.float32), sigma) if sigma > 0.3 else rng.standard_normal(shape).astype(np.float32)
    else:
        k = int(sigma / 3)
        small = gaussian_filter(rng.standard_normal((shape[0] // k + 3, shape[1] // k + 3)).astype(np.float32), 3)
        v = map_coordinates(small, np.meshgrid(np.arange(shape[0]) / k + 1, np.arange(shape[1]) / k + 1, indexing="ij"), order=1)
    return v / max(1e-6, v.std())


def log_uniform(rng, low, high):
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def ground(rng, s, a):
    """Heights in mm, and how light each place is beside the ground's own tone."""
    u, shape = rng.uniform, s.shape
    height, tone = u(0, 0.3) * noise(rng, shape, u(4, 12)), np.ones(shape, np.float32)
    turn = u(0, math.pi)
    p, q = s * math.cos(turn) + a * math.sin(turn), a * math.cos(turn) - s * math.sin(turn)
    kind = rng.integers(0, 8)
    if kind == 0:
        # plain weave: warp and weft over each other by turns
        w, v, deep = u(0.35, 1.1), u(0.35, 1.1), u(0.02, 0.12)
        warp = np.abs(np.cos(math.pi * p / w)) * (0.5 + 0.5 * np.sin(math.pi * q / v) * np.sign(np.sin(math.pi * p / w)))
        weft = np.abs(np.cos(math.pi * q / v)) * (0.5 - 0.5 * np.sin(math.pi * p / w) * np.sign(np.sin(math.pi * q / v)))
        height = height + deep * np.maximum(warp, weft)
        tone = tone * (1 + u(-0.1, 0.1) * (warp > weft))
    elif kind == 1:
        # ribs and twill
        w, deep, slope = u(0.4, 1.4), u(0.02, 0.14), u(-1, 1)
        height = height + deep * np.sqrt(np.abs(np.sin(math.pi * (p + slope * q) / w + 0.3 * noise(rng, shape, 2))))
    elif kind <= 3:
        # grain: cells parted by creases, with pores
        size, deep = u(0.12, 0.5), u(0.01, 0.10)
        height = height - deep * np.exp(-np.abs(noise(rng, shape, size)) / u(0.15, 0.5))
        if kind == 3:
            height = height - u(0.02, 0.1) * np.clip(noise(rng, shape, u(0.08, 0.2)) - u(1, 2), 0, 1)
    elif kind == 4:
        # nap
        height = height + u(0.005, 0.05) * noise(rng, shape, u(0.04, 0.2))
        tone = tone * (1 + u(0.02, 0.15) * noise(rng, shape, u(0.06, 0.5)))
    elif kind == 5:
        # holes in rows
        w, v = u(0.8, 2.6), u(0.8, 2.6)
        k, l = p / w, q / v
        k = k + (0.5 if rng.random() < 0.6 else 0) * (np.floor(l) % 2)
        away = np.hypot((k - np.floor(k) - 0.5) * w, (l - np.floor(l) - 0.5) * v)
        hole = 1 / (1 + np.exp(np.clip((away - u(0.15, 0.35) * min(w, v)) / u(0.03, 0.12), -30, 30)))
        height = height - u(0.05, 0.4) * hole
        tone = tone * (1 - u(0, 0.8) * hole)
    elif kind == 6:
        # knit: loops in columns
        w, v = u(0.6, 1.5), u(0.5, 1.3)
        height = height + u(0.03, 0.12) * np.abs(np.sin(math.pi * p / w)) * (0.6 + 0.4 * np.sin(2 * math.pi * q / v + 2.2 * np.abs(np.sin(math.pi * p / w))))
    height = height + u(0.001, 0.012) * noise(rng, shape, 0.1)
    return height, tone * (1 + u(0, 0.06) * noise(rng, shape, u(0.1, 4)))


def lit(height, normal, towards, soft, rng):
    """How much of a lamp falls on each place, 0 to 1: facing, and not in the shadow of what stands between."""
    facing = np.clip((normal * towards).sum(-1), 0, None)
    flat = np.hypot(towards[0], towards[1])
    seen = np.ones(height.shape, np.float32)
    if flat > 0.15:
        most, climb = height.max() - height.min(), towards[2] / flat
        reach = min(4.0, most / max(0.05, climb))
        covers = []
        for turn, lift in ((0, 0),) if soft < 0.05 else ((-soft, 0), (soft, 0), (0, -soft), (0, soft)):
            c, n = math.cos(turn), math.sin(turn)
            ds, da = (towards[0] * c - towards[1] * n) / flat, (towards[0] * n + towards[1] * c) / flat
            rise = math.tan(max(0.05, math.atan(climb) + lift))
            cover = np.zeros(height.shape, bool)
            for k in np.arange(1, max(2, int(reach / (1.5 * FINE)))):
                i, j = int(round(1.5 * k * ds)), int(round(1.5 * k * da))
                cover |= moved(height, i, j) > height + 1.5 * k * FINE * rise + 0.01
            covers.append(cover)
        seen = 1 - gaussian_filter(np.mean(covers, 0).astype(np.float32), 0.5 + 6 * soft)
    return facing * seen


def moved(v, i, j):
    out = np.full(v.shape, -9, v.dtype)
    n, m = v.shape
    out[max(0, -i):min(n, n - i), max(0, -j):min(m, m - j)] = v[max(0, i):min(n, n + i), max(0, j):min(m, m + j)]
    return out


def drawn(seed):
    """As rows.drawn."""
    rgb, cover, mm, length, wide, centres, bare = picture(seed)
    planes, thread = sampled([rgb[..., k] for k in range(3)], cover, mm, length, wide)
    return [planes, *truth(planes.shape[1], centres, bare), thread, np.ones((1, 1), np.float32)]


def picture(seed):
    """Levels of red, green, blue; cover of thread; mm of a pixel, length and width in mm; middles of stitches and of skipped ones, mm along and aside."""
    rng = np.random.default_rng(seed)
    u = rng.uniform
    mm, length, wide = log_uniform(rng, 0.05, 0.15), u(30, 60), COLUMNS * STEP + 1.0
    rows, cols = int(length / FINE), int(wide / FINE)
    s = (np.arange(rows, dtype=np.float32)[:, None] + 0.5) * FINE + np.zeros((1, cols), np.float32)
    a = (np.arange(cols, dtype=np.float32)[None, :] + 0.5) * FINE - wide / 2 + np.zeros((rows, 1), np.float32)
    height, tone = ground(rng, s, a)
    base = log_uniform(rng, 0.02, 0.7) * np.array([u(0.7, 1.35), u(0.8, 1.1), u(0.6, 1.3)])
    colour = base * tone[..., None]
    alike = rng.random() < 0.5
    yarn = base * u(0.9, 1.1) if alike else base * log_uniform(rng, 0.2, 7) * np.array([u(0.75, 1.25), 1, u(0.75, 1.25)])
    yarn = np.clip(yarn, 0.008, 0.9)

    aside, drift, wave, start = u(-0.9, 0.9), u(0, 0.9), u(35, 130), u(0, 6)
    middle = lambda t: aside + drift * math.sin(2 * math.pi * t / wave + start)

    # Edges, folds and steps along the row; what the thread pulls down.
    for _ in range(rng.integers(0, 3)):
        at = middle(length / 2) + rng.choice([-1, 1]) * u(0.9, 3.2) + u(-0.015, 0.015) * (s - length / 2)
        side = rng.choice([-1, 1])
        if rng.random() < 0.6:
            beyond = 1 / (1 + np.exp(np.clip(-side * (a - at) / u(0.03, 0.12), -30, 30)))
            height = height - u(0.2, 1.5) * beyond
            if rng.random() < 0.6:
                other = np.clip(base * log_uniform(rng, 0.3, 3) * np.array([u(0.8, 1.2), 1, u(0.8, 1.2)]), 0.01, 0.9)
                colour = colour * (1 - beyond[..., None]) + other * tone[..., None] * beyond[..., None]
        else:
            height = height + u(-0.2, 0.2) * np.exp(-0.5 * ((a - at) / u(0.1, 0.5)) ** 2)
    height = height - u(0, 0.2) * np.exp(-0.5 * ((a - middle(length / 2)) / u(0.4, 1.1)) ** 2)

    centres, bare = [], []
    cover, strand = np.zeros_like(height), np.zeros_like(height)
    fibre = u(0, 0.25)
    for row in range(0 if rng.random() < 0.05 else 2 if rng.random() < 0.12 else 1):
        pitch, places, wander, there = stitches(rng, length)
        shift = 0 if row == 0 else rng.choice([-1, 1]) * u(1.6, 2.8)
        radius = u(0.13, max(0.16, min(0.45, 0.17 * pitch)))
        fill, slant, bed, arch = u(0.7, 1.02), u(-0.35, 0.35), u(-0.2, 0.7) * radius, u(0, 0.4)
        plies, twist, steep = rng.integers(1, 4), u(0.5, 1.8), u(0.5, 1.8)
        hole, hole_wide, dark = (u(0.1, 0.7) if rng.random() < 0.8 else 0), u(0.12, 0.3), u(0, 0.8)
        ends = np.concatenate([[places[0] - pitch / 2], (places[1:] + places[:-1]) / 2, [places[-1] + pitch / 2]])
        for i, (place, off, is_there) in enumerate(zip(places, wander, there)):
            across = middle(place) + off + shift
            if hole:
                for end in (ends[i], ends[i + 1]):
                    box, ds, da = window(end, across, 4 * hole_wide, FINE, wide, rows, cols, s, a)
                    if box is not None:
                        r2 = (ds * ds + da * da) / hole_wide ** 2
                        height[box] -= 0.6 * hole * np.exp(-0.5 * r2 * r2) + 0.3 * hole * np.exp(-0.12 * r2)
                        colour[box] *= (1 - dark * np.exp(-0.5 * r2 * r2))[..., None]
            if not is_there:
                bare.append((place, across))
            elif -0.3 < place < length + 0.3 and abs(across) < COLUMNS * STEP / 2:
                centres.append((place, across))
        under = height.copy()
        for i, (place, off, is_there) in enumerate(zip(places, wander, there)):
            if not is_there:
                continue
            across = middle(place) + off + shift
            half = 0.5 * fill * min(ends[i + 1] - place, place - ends[i]) * 2
            box, ds, da = window(place, across, half + radius, FINE, wide, rows, cols, s, a)
            if box is None:
                continue
            turn = slant + 0.05 * rng.standard_normal() + math.atan(2 * math.pi / wave * drift * math.cos(2 * math.pi * place / wave + start))
            c, n = math.cos(turn), math.sin(turn)
            along, aside_ = ds * c + da * n, da * c - ds * n
            # The thread comes out of one hole and goes into the next: it rises steeply, lies, and dives.
            rest = half - np.abs(along)
            lie = np.median(under[box]) + radius - bed
            axis = lie - 2.2 * radius * np.exp(-np.clip(rest, 0, None) / (steep * radius)) + arch * radius * (1 - (along / half) ** 2)
            q = np.abs(aside_) / radius
            if plies > 1:
                phase = 2 * math.pi * along / twist
                wound = 0.12 * radius * np.abs(np.cos(0.5 * plies * (phase + np.arcsin(np.clip(aside_ / radius, -1, 1)))))
            else:
                wound = 0
            top = axis + radius * np.sqrt(np.clip(1 - q * q, 0, 1)) - radius + wound
            on = (q < 1) & (rest > -0.3 * radius) & (top > height[box])
            height[box] = np.where(on, top, height[box])
            cover[box] = np.maximum(cover[box], on)
            strand[box] = np.where(on, np.cos(2 * math.pi * (along + aside_) / 0.18), strand[box])
    colour = np.where(cover[..., None] > 0, yarn * (1 + fibre * strand[..., None]), colour)

    height = gaussian_filter(height, 0.5).astype(np.float32)
    gs, ga = np.gradient(height, FINE)
    normal = np.stack([-gs, -ga, np.ones_like(gs)], -1)
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    light = np.zeros(colour.shape)
    gloss_ground, gloss_yarn, sharp = (u(0, 0.25) if rng.random() < 0.6 else 0), (u(0, 0.35) if rng.random() < 0.7 else 0), log_uniform(rng, 4, 60)
    for lamp in range(1 if rng.random() < 0.75 else 2):
        azimuth, low = u(0, 2 * math.pi), math.radians(u(10, 40) if alike or rng.random() < 0.5 else u(30, 80))
        towards = np.array([math.cos(azimuth) * math.cos(low), math.sin(azimuth) * math.cos(low), math.sin(low)])
        power = (u(0.6, 1.2) if lamp == 0 else u(0.1, 0.6)) * np.array([1, u(0.85, 1), u(0.7, 1)])
        soft = u(0, 0.25)
        fall = lit(height, normal, towards, soft, rng)
        halfway = (towards + UP) / np.linalg.norm(towards + UP)
        gloss = np.where(cover > 0, gloss_yarn, gloss_ground) * np.clip((normal * halfway).sum(-1), 0, None) ** sharp * (fall > 0.02)
        light += power * (colour * fall[..., None] + gloss[..., None])
    # The room's own light reaches what lies deep less.
    open_sky = np.clip(1 - u(0.5, 2.0) * np.clip(gaussian_filter(height, 0.4 / FINE) - height, 0, 0.5) / 0.5, 0.15, 1)
    light += u(0.1, 0.6) * colour * (open_sky * (0.5 + 0.5 * normal[..., 2]))[..., None]
    light *= (1 + u(-0.25, 0.25) * 2 * (s / length - 0.5) + u(-0.15, 0.15) * 2 * a / wide)[..., None]

    # What a camera makes of it.
    sigma = max(0.4 * mm, u(0.3, 1.1) * mm) / FINE
    pixels = np.meshgrid((np.arange(int(length / mm)) + 0.5) * mm / FINE - 0.5, (np.arange(int(wide / mm)) + 0.5) * mm / FINE - 0.5, indexing="ij")
    shown = lambda v: map_coordinates(gaussian_filter(v.astype(np.float32), sigma), pixels, order=1, mode="nearest")
    linear = np.stack([shown(light[..., k]) for k in range(3)], -1)
    linear *= u(0.3, 0.65) / np.quantile(linear.mean(-1), 0.9)
    linear = np.clip(linear + rng.standard_normal(linear.shape) * np.sqrt(np.maximum(linear, 0) * log_uniform(rng, 0.3, 6) * 1e-4 + 2e-6), 0, 1)
    level = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-6) ** (1 / 2.4) - 0.055)
    if rng.random() < 0.5:
        level = level + u(0.2, 0.9) * (level - gaussian_filter(level, (1, 1, 0)))
    if rng.random() < 0.4:
        # Colour is kept coarser than light.
        grey = level.mean(-1, keepdims=True)
        level = grey + gaussian_filter(level - grey, (1.2, 1.2, 0))
    return np.clip(np.rint(255 * level), 0, 255), shown(cover), mm, length, wide, centres, bare
