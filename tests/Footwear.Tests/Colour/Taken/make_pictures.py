"""
Pictures of patches as a phone takes them, with the true colours beside them. It shares nothing with the program: its own Lab, sRGB and CIEDE2000; a sensor with crosstalk, photon noise and a Bayer mosaic;
noise reduction; a colour matrix that is a little wrong; a tone curve with more contrast in the middle than in the shadows, and raised blacks; more vivid colour; sharpening, local contrast and glare;
JPEG 4:2:0. Light from a near lamp, with the edge of a shadow, or with some from a coloured wall. Plain stuffs, canvas, mesh and suede. Noise, curves and light are common practice, no source.

    make_pictures.py FOLDER     writes pictures/*.jpg and pictures.json of two sets: with one card, and with further neutrals
"""
import json
import os
import sys
import numpy as np
from PIL import Image
from scipy import ndimage as nd

W, H = 480, 320
M = np.array([[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]])
MI = np.linalg.inv(M)
WHITE = np.array([0.95047, 1, 1.08883])

def lab_to_rgb(lab):
    L, a, b = lab
    fy = (L + 16) / 116
    f = np.array([fy + a / 500, fy, fy - b / 200])
    xyz = np.where(f ** 3 > 216 / 24389, f ** 3, (116 * f - 16) / (24389 / 27)) * WHITE
    return MI @ xyz

def encode(x):
    x = np.clip(x, 0, None)
    return np.where(x <= 0.0031308, 12.92 * x, 1.055 * np.power(x, 1 / 2.4) - 0.055)

SENSOR = np.array([[0.70, 0.24, 0.06], [0.16, 0.70, 0.14], [0.03, 0.27, 0.70]])

def texture(kind, rng, h, w):
    """Unit mean in expectation."""
    if kind == 'plain':
        return np.ones((h, w))
    y, x = np.mgrid[0:h, 0:w]
    if kind == 'canvas':
        p = rng.uniform(5, 8)
        warp = 1 + 0.03 * nd.gaussian_filter1d(rng.normal(size=w), 1)[None, :] * 2
        weft = 1 + 0.03 * nd.gaussian_filter1d(rng.normal(size=h), 1)[:, None] * 2
        return (1 + 0.22 * np.sin(2 * np.pi * x / p) * np.sin(2 * np.pi * y / p)) * warp * weft
    if kind == 'mesh':
        p = rng.uniform(9, 13)
        r = np.hypot((x % p) - p / 2, ((y + (x // p % 2) * p / 2) % p) - p / 2)
        open_ = 1 / (1 + np.exp((r - 0.27 * p) / 0.7))
        t = 1 - 0.75 * open_
        yy, xx = np.mgrid[0:400, 0:400]
        rr = np.hypot((xx % p) - p / 2, ((yy + (xx // p % 2) * p / 2) % p) - p / 2)
        return t / (1 - 0.75 / (1 + np.exp((rr - 0.27 * p) / 0.7))).mean()
    if kind == 'suede':
        n = nd.gaussian_filter(rng.normal(size=(h, w)), 8); n /= 1 / (2 * np.sqrt(np.pi) * 8)
        f = nd.gaussian_filter(rng.normal(size=(h, w)), 1.0); f /= 1 / (2 * np.sqrt(np.pi) * 1.0)
        s1, s2 = 0.05, 0.08
        return np.exp(s1 * n - s1 * s1 / 2 + s2 * f - s2 * s2 / 2)
    raise ValueError(kind)

def light(kind, rng):
    y, x = np.mgrid[0:H, 0:W]
    u, v = (x - W / 2) / (W / 2), (y - H / 2) / (W / 2)
    one = np.ones((H, W, 3))
    if kind == 'even':
        return one
    if kind == 'fall':            # 5 % from side to side
        t = rng.uniform(0, 2 * np.pi)
        return one * (1 + 0.025 * (np.cos(t) * u + np.sin(t) * v))[..., None]
    if kind == 'lamp':            # a near lamp: cosine and inverse square, picture about 0.4 m wide, lamp 0.5 to 0.8 m up
        t = rng.uniform(0, 2 * np.pi); d = rng.uniform(0.1, 0.4); z = rng.uniform(0.5, 0.8)
        lx, ly = d * np.cos(t), d * np.sin(t)
        r2 = (0.2 * u - lx) ** 2 + (0.2 * v - ly) ** 2 + z * z
        f = z / r2 ** 1.5
        return one * (f / f[H // 2, W // 2])[..., None]
    if kind == 'shadow':          # a soft edge over part of the picture
        t = rng.uniform(0, 2 * np.pi); o = rng.uniform(-0.5, 0.5); s = rng.uniform(0.05, 0.2); k = rng.uniform(0.05, 0.15)
        e = 1 / (1 + np.exp(-((np.cos(t) * u + np.sin(t) * v) - o) / s))
        return one * (1 - k * e)[..., None] * np.array([1 - 0.1 * k, 1, 1 + 0.1 * k])
    if kind == 'wall':            # light from a coloured wall on one side
        side = rng.choice([-1, 1]); k = rng.uniform(0.03, 0.08); c = rng.uniform(0.3, 1, 3); c /= c.max()
        w = np.exp(-(1 - side * u) / 0.6)
        return one + k * w[..., None] * c
    raise ValueError(kind)

def tone(e, kind):
    if kind == 'none':
        return e
    a, lift, g = kind
    e = np.clip(e, 0, 1) ** g
    e = e - a * np.sin(2 * np.pi * e) / (2 * np.pi)
    return lift + (1 - lift) * e

def shoot(refl, lit, rng, full=4000, lamp=(1, 1, 1), matrix=0.0, nr=True, tonek='none', sat=0.0, sharp=0.0, local=0.0, flare=0.0, q=None, exposure=0.85):
    scene = refl * lit * np.array(lamp) * exposure
    scene = scene + flare * scene.mean((0, 1))
    raw = scene @ SENSOR.T
    mosaic = np.zeros((H, W)); pat = np.zeros((H, W), int)
    pat[0::2, 1::2] = 1; pat[1::2, 0::2] = 1; pat[1::2, 1::2] = 2
    mosaic = np.take_along_axis(raw, pat[..., None], 2)[..., 0]
    if full:
        mosaic = np.clip(rng.normal(mosaic, np.sqrt(np.maximum(mosaic, 0) / full + (3.0 / full) ** 2)), 0, 1.2)
    rgb = np.empty((H, W, 3))
    for c, k in ((0, np.array([[1, 2, 1], [2, 4, 2], [1, 2, 1]]) / 4), (1, np.array([[0, 1, 0], [1, 4, 1], [0, 1, 0]]) / 4), (2, np.array([[1, 2, 1], [2, 4, 2], [1, 2, 1]]) / 4)):
        m = (pat == c)
        rgb[..., c] = nd.convolve(mosaic * m, k, mode='mirror') / nd.convolve(m.astype(float), k, mode='mirror')
    C = np.linalg.inv(SENSOR)
    E = rng.normal(0, matrix, (3, 3)) if matrix else np.zeros((3, 3))
    np.fill_diagonal(E, 0); E -= np.diag(E.sum(1))
    rgb = rgb @ ((np.eye(3) + E) @ C).T
    if nr:
        Y = rgb @ np.array([0.25, 0.6, 0.15]); ch = rgb - Y[..., None]
        for c in range(3):
            ch[..., c] = nd.gaussian_filter(ch[..., c], 2.5)
        Y = 0.5 * Y + 0.5 * nd.gaussian_filter(Y, 1.2)
        rgb = Y[..., None] + ch
    e = tone(encode(rgb), tonek)
    K = np.array([0.299, 0.587, 0.114])
    Y = e @ K; ch = (e - Y[..., None]) * (1 + sat)
    if sharp:
        Y = Y + sharp * (Y - nd.gaussian_filter(Y, 1.2))
    if local:
        Y = Y + local * (Y - nd.gaussian_filter(Y, 20))
    e = np.clip(Y[..., None] + ch, 0, 1)
    return np.floor(255 * e + 0.5).astype(np.uint8)

# Two rows of four patches, the card between them, steps of grey beside it and strips of the card's stuff about the patches.
PW, PH = 85, 85
PLACES = [(25 + 115 * (i % 4) + (10 if i % 2 == 0 else -10), 20 if i < 4 else 215) for i in range(8)]
CARD = (200, 125, 80, 70)
STEPS = [((75, 130, 50, 55), 96.0), ((135, 130, 50, 55), 38.0), ((295, 130, 50, 55), 20.0), ((355, 130, 50, 55), 80.0)]
STRIPS = [(4, 20, 25, 85), (451, 20, 25, 85), (4, 215, 25, 85), (451, 215, 25, 85), (228, 20, 24, 85), (228, 215, 24, 85)]


def draw_lab(rng, family):
    L = {'dark': (12, 30), 'mid': (35, 65), 'light': (70, 92), 'vivid': (35, 65)}[family]
    while True:
        l = rng.uniform(*L); c = rng.uniform(35, 65) if family == 'vivid' else rng.uniform(0, 20); h = rng.uniform(0, 2 * np.pi)
        lab = np.array([l, c * np.cos(h), c * np.sin(h)])
        rgb = lab_to_rgb(lab)
        if rgb.min() > 0.01 and rgb.max() < 0.95:
            return lab

def ciede2000(p, q):
    L1, a1, b1 = p; L2, a2, b2 = q
    C = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    G = 0.5 * (1 - np.sqrt(C ** 7 / (C ** 7 + 25 ** 7)))
    a1, a2 = a1 * (1 + G), a2 * (1 + G)
    C1, C2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    dh = (h2 - h1 + 180) % 360 - 180 if C1 * C2 else 0
    dL, dC, dH = L2 - L1, C2 - C1, 2 * np.sqrt(C1 * C2) * np.sin(np.radians(dh / 2))
    L, C = (L1 + L2) / 2, (C1 + C2) / 2
    h = (h1 + h2) if C1 * C2 == 0 else ((h1 + h2) / 2 if abs(h1 - h2) <= 180 else (h1 + h2 + (360 if h1 + h2 < 360 else -360)) / 2)
    r = np.radians
    T = 1 - .17 * np.cos(r(h - 30)) + .24 * np.cos(r(2 * h)) + .32 * np.cos(r(3 * h + 6)) - .2 * np.cos(r(4 * h - 63))
    th = 30 * np.exp(-((h - 275) / 25) ** 2); Rc = 2 * np.sqrt(C ** 7 / (C ** 7 + 25 ** 7))
    SL = 1 + .015 * (L - 50) ** 2 / np.sqrt(20 + (L - 50) ** 2); SC = 1 + .045 * C; SH = 1 + .015 * C * T; RT = -np.sin(2 * r(th)) * Rc
    return float(np.sqrt((dL / SL) ** 2 + (dC / SC) ** 2 + (dH / SH) ** 2 + RT * dC / SC * dH / SH))

def scene(seed, lightk='fall', families=('dark', 'mid', 'light', 'vivid'), textures=('plain',), steps=(), even=(), most=6.0, **cam):
    """One picture with four pairs: pixels, evidence, truth."""
    rng = np.random.default_rng(seed)
    refl = np.empty((H, W, 3)); refl[:] = lab_to_rgb((74, 1, 4))
    truth, patches, pairs = {}, [], []
    for k in range(4):
        fam = families[(k + seed) % len(families)]; tex = textures[(k + seed) % len(textures)]
        first = draw_lab(rng, fam)
        want = rng.uniform(0, most)
        d = rng.normal(size=3) * np.array([1, 1, 1]); d /= np.linalg.norm(d)
        s = 0.0
        lo, hi = 0, 60
        for _ in range(40):
            s = (lo + hi) / 2
            if ciede2000(first, first + s * d) < want: lo = s
            else: hi = s
        second = first + s * d
        names = (f'p{k}a', f'p{k}b')
        for j, (nm, lab) in enumerate(zip(names, (first, second))):
            x, y = PLACES[2 * k + j]
            refl[y:y + PH, x:x + PW] = lab_to_rgb(lab) * texture(tex, rng, PH, PW)[..., None]
            patches.append({'id': nm, 'rect': [x + 6, y + 6, PW - 12, PH - 12]})
        pairs.append(list(names))
        truth[f'p{k}a..p{k}b'] = dict(de=ciede2000(first, second), d=list(second - first), fam=fam, tex=tex, first=list(first))
    def neutral(r, L):
        x, y, w, h = r
        refl[y:y + h, x:x + w] = lab_to_rgb((L, 0, 0))
        return {'rect': [x + 4, y + 4, w - 8, h - 8], 'lab': [L, 0, 0]}
    ev = {'photo': {'file': f's{seed}.png'}, 'patches': patches, 'pairs': pairs, 'neutral': neutral(CARD, 62.0)}
    more = [neutral(STEPS[i][0], STEPS[i][1]) for i in steps]
    more += [neutral(STRIPS[i], 62.0) for i in even]
    if more: ev['neutrals'] = more
    q = cam.pop('q', None)
    px = shoot(refl, light(lightk, rng), rng, **cam)
    return px, ev, truth, q


def phone(number, **more):
    r = np.random.default_rng(7000 + number)
    kind = str(r.choice(['fall', 'lamp', 'wall', 'shadow'], p=[.5, .2, .2, .1]))
    return scene(number, kind, textures=('plain', 'canvas', 'mesh', 'suede'), full=float(np.exp(r.uniform(np.log(3000), np.log(40000)))), q=int(r.integers(80, 96)),
                 lamp=tuple(np.exp(r.normal(0, .03, 3))), exposure=r.uniform(.6, .78), matrix=.03, sat=r.uniform(0, .2), sharp=r.uniform(0, .8), local=r.uniform(0, .1), flare=r.uniform(0, .01),
                 tonek=(r.uniform(0, .35), r.uniform(0, .04), r.uniform(.85, 1.15)), **more)


def main(out):
    os.makedirs(f'{out}/pictures', exist_ok=True)
    listed = []
    for name, count, more in (('card', 12, {}), ('neutrals', 12, dict(steps=(0, 1, 2, 3), even=(0, 1, 2, 3, 4, 5)))):
        for i in range(count):
            px, evidence, truth, quality = phone(500 + i, **more)
            evidence['photo'] = {'file': f'{name}-{i}.jpg'}
            Image.fromarray(px).save(f'{out}/pictures/{name}-{i}.jpg', quality=quality, subsampling=2)
            listed.append({'set': name, 'evidence': evidence, 'truth': {k: {'deltaE00': round(t['de'], 4), 'difference': [round(x, 4) for x in t['d']]} for k, t in truth.items()}})
    with open(f'{out}/pictures.json', 'w') as file:
        file.write('[\n' + ',\n'.join(json.dumps(p, separators=(',', ':')) for p in listed) + '\n]\n')


if __name__ == '__main__':
    main(sys.argv[1])
