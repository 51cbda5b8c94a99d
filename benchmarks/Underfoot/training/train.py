"""Trains the surface network and the dab network on made scenes and rendered ones (see README.md beside this file).

usage: train.py FOLDERS_WITH_SCENES OUT.bin MINUTES [START.pt]; folders parted by commas, each with how often it is drawn from: made:0.65,rendered:0.35.
Two processes of one thread each teach together, a sole each a step.
"""
import glob
import math
import multiprocessing
import os
import struct
import sys
import time

os.environ["ONEDNN_PRIMITIVE_CACHE_CAPACITY"] = os.environ["DNNL_PRIMITIVE_CACHE_CAPACITY"] = "4096"

import cv2
import numpy as np
import torch
import torch.nn.functional as F
from scipy import fft
from scipy.ndimage import distance_transform_edt, label, maximum_filter, minimum_filter, uniform_filter

RNG = np.random.default_rng(1)
WANTED = 2.2


def wide(values, radius):
    for _ in range(3):
        values = uniform_filter(values, 2 * radius + 1, mode="constant")
    return values


def planes(rgb, mask, per_mm):
    """The five input planes; SurfaceInput.cs computes the same."""
    c = rgb.astype(np.float32) / 255
    lin = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4).astype(np.float32)
    light = np.log(lin @ np.array([0.2126, 0.7152, 0.0722], np.float32) + 0.01)
    red = np.log((lin[..., 0] + 0.01) / (lin[..., 1] + 0.01))
    blue = np.log((lin[..., 2] + 0.01) / (lin[..., 1] + 0.01))
    on = mask > 0
    inner = np.where(on, light, light[on].mean())
    detail = inner - uniform_filter(inner, 3, mode="nearest")
    grain = np.log(uniform_filter(detail * detail, 5, mode="nearest") + 1e-5)
    weight = wide(mask, int(round(12 * per_mm)))
    around = wide(np.where(on, light, 0), int(round(12 * per_mm))) / np.maximum(weight, 1e-3)
    out = [light - light[on].mean(), light - around, red - red[on].mean(), blue - blue[on].mean(), 0.5 * (grain - grain[on].mean()), np.ones_like(light)]
    return np.stack([np.where(on, p, 0) for p in out]).astype(np.float32)


def accumulated(v, dx, dy, reach):
    """Plane.Accumulated: half of what lies before less half of what lies behind along a direction."""
    if dy == 0:
        return accumulated(v.T, 0, 1, reach).T
    step = math.hypot(dx, dy)
    keep = math.exp(-step / reach)
    out = np.zeros_like(v)
    for sign in (1, -1):
        before = np.zeros_like(v)
        rows = range(1, v.shape[0]) if sign > 0 else range(v.shape[0] - 2, -1, -1)
        sx = sign * dx
        for y in rows:
            s = before[y - sign] + v[y - sign]
            if sx == 0:
                before[y] = keep * s
            elif sx > 0:
                before[y, 1:] = keep * s[:-1]
            else:
                before[y, :-1] = keep * s[1:]
        out += sign * 0.5 * step * before
    return out


def relief(flat, per_mm):
    """Narrow dark and bright structures, and heights from shade."""
    out = []
    for mm in (1.4, 3.2):
        size = 2 * max(1, int(round(mm * per_mm))) + 1
        high, low = (lambda v: maximum_filter(v, size, mode="nearest")), (lambda v: minimum_filter(v, size, mode="nearest"))
        out += [low(high(flat)) - flat, flat - high(low(flat))]
    for dx, dy in ((1, 0), (0, 1), (1, 1), (1, -1)):
        out.append(accumulated(flat, dx, dy, 4 * per_mm) / per_mm)
    return np.stack(out).astype(np.float32)


def load(path):
    data = open(path, "rb").read()
    width, height, per_mm, dabs = struct.unpack("iifi", data[:16])
    labels = np.frombuffer(data, np.uint8, dabs, 16)
    at = 16 + dabs
    n = width * height
    rgb = np.frombuffer(data, np.uint8, n * 3, at).reshape(height, width, 3)
    cover = np.frombuffer(data, np.uint8, n, at + 3 * n).reshape(height, width).astype(np.float32) / 4
    material = np.frombuffer(data, np.uint8, n, at + 4 * n).reshape(height, width)
    dab = np.frombuffer(data, np.uint8, n, at + 5 * n).reshape(height, width)
    ys, xs = np.where(material > 0)
    box = np.s_[max(0, ys.min() - 6):ys.max() + 7, max(0, xs.min() - 6):xs.max() + 7]
    mask = (material[box] > 0).astype(np.float32)
    return planes(rgb[box], mask, per_mm), per_mm, cover[box], material[box].copy(), dab[box].copy(), labels


def shifted(v, dy, dx):
    """v(y + dy, x + dx), 0 outside."""
    h, w = v.shape
    out = np.zeros_like(v)
    if abs(dy) < h and abs(dx) < w:
        out[max(0, -dy):h - max(0, dy), max(0, -dx):w - max(0, dx)] = v[max(0, dy):h + min(0, dy), max(0, dx):w + min(0, dx)]
    return out


def likeness(p, m):
    """Of p with itself, by shift: rows and columns in the order of a transform; 0 where too little lies over itself."""
    size = [fft.next_fast_len(2 * n, True) for n in p.shape]
    a, b, c = (fft.rfft2(v, size) for v in (p, p * p, m))
    both, ahead, over = (fft.irfft2(v, size) for v in (np.conj(a) * a, np.conj(c) * b, np.conj(c) * c))
    behind = np.roll(ahead[::-1, ::-1], (1, 1), (0, 1))
    return np.where(over > 0.15 * m.sum(), both / np.sqrt(np.maximum(ahead * behind, 1e-6)), 0)


VOTES, LEAST_LIKE = 12, 0.15


def steps_of(p, m, per_mm):
    """Shifts by which p, 0 on average and outside, is most like itself: TreadRepeats.cs finds the same."""
    halved = [pool(torch.from_numpy(v)[None, None])[0, 0].numpy() for v in (p, m)]
    like = likeness(*halved)
    h, w = like.shape
    dy, dx = np.minimum(np.arange(h), np.arange(h) - h * (np.arange(h) > h // 2))[:, None], (np.arange(w) - w * (np.arange(w) > w // 2))[None]
    far = np.hypot(dy, dx) * 2 / per_mm
    top = (like == maximum_filter(like, 3, mode="wrap")) & (like > LEAST_LIKE) & (far > 4) & (far < 45) & ((dy > 0) | ((dy == 0) & (dx > 0)))
    ys, xs = np.where(top)
    out = []
    # Of steps about as alike the shorter ones, which reach nearer to the edge.
    for i in np.argsort(-like[ys, xs] * (1 - far[ys, xs] / 150), kind="stable")[:VOTES]:
        best = None
        for y in range(2 * int(dy[ys[i], 0]) - 2, 2 * int(dy[ys[i], 0]) + 3):
            for x in range(2 * int(dx[0, xs[i]]) - 2, 2 * int(dx[0, xs[i]]) + 3):
                score = (p * shifted(p, y, x)).sum()
                best = max(best or (score, y, x), (score, y, x))
        if best[1:] not in out:
            out.append(best[1:])
    return out


def repeats(z, mask, per_mm):
    """What the tread says elsewhere, where it repeats: log odds of touching a step of the pattern away, by how alike the surroundings are there; and that likeness. 2,H,W."""
    z, m = z.numpy(), (mask > 0.5).float().numpy()
    if not m.any():
        return torch.zeros(2, *z.shape)
    p = 1 / (1 + np.exp(-z))
    p = (p - (p * m).sum() / m.sum()) * m
    radius = int(round(10 * per_mm))

    def around(v):
        for _ in range(2):
            v = cv2.blur(v, (2 * radius + 1, 2 * radius + 1), borderType=cv2.BORDER_CONSTANT)
        return v

    told, weight, alike = np.zeros_like(z), np.full_like(z, 0.2), np.zeros_like(z)
    for y, x in steps_of(p, m, per_mm):
        for s in (1, -1):
            q, on = shifted(p, s * y, s * x), shifted(m, s * y, s * x)
            both = m * on
            n = around(both) + 1e-3
            a, b = around(p * both) / n, around(q * both) / n
            together, own, other = around(p * q * both) / n - a * b, around(p * p * both) / n - a * a, around(q * q * both) / n - b * b
            k = on * np.clip(together / np.sqrt(np.maximum(own * other, 0) + 1e-4), 0, 1) * np.minimum(1, n / 0.3)
            told += k * k * shifted(z, s * y, s * x)
            weight += k * k
            alike = np.maximum(alike, k)
    return torch.from_numpy(np.stack([0.25 * told / weight * m, alike * m]).astype(np.float32))


class Sixteen(torch.autograd.Function):
    """A convolution in sixteen bits, forward and back to what went in; the processors at hand do that several times as fast.

    The change of the weights is counted in thirty-two: torch 1.13 gets it wrong in sixteen for some sizes.
    """

    @staticmethod
    def forward(ctx, x, weight, bias):
        small = weight.bfloat16().contiguous(memory_format=torch.channels_last)
        ctx.save_for_backward(x, small)
        return F.conv2d(x, small, bias.bfloat16(), padding=small.shape[-1] // 2)

    @staticmethod
    def backward(ctx, change):
        x, small = ctx.saved_tensors
        pad = small.shape[-1] // 2
        change = change.contiguous(memory_format=torch.channels_last)
        back = F.conv2d(change, small.flip(2, 3).transpose(0, 1).contiguous(memory_format=torch.channels_last), padding=pad) if ctx.needs_input_grad[0] else None
        by_place = lambda v: v.float().permute(0, 2, 3, 1).reshape(-1, v.shape[1])
        rows = by_place(change)
        bias = torch.mv(rows.T, torch.ones(len(rows)))
        if pad == 0:
            return back, (rows.T @ by_place(x)).view(small.shape), bias
        weight = torch.ops.aten.convolution_backward(
            change.float(), x.float(), small.float(), None, [1, 1], [pad, pad], [1, 1], False, [0, 0], 1, [False, True, False])[1]
        return back, weight, bias


class Conv(torch.nn.Conv2d):
    def __init__(self, i, o, size=3):
        super().__init__(i, o, size, padding=size // 2)
        torch.nn.init.kaiming_normal_(self.weight, nonlinearity="relu")
        torch.nn.init.zeros_(self.bias)

    def forward(self, x):
        return Sixteen.apply(x, self.weight, self.bias)


conv = Conv
pool = lambda v: F.avg_pool2d(v, 2)
leaky = lambda v: F.leaky_relu(v, 0.1)


class Up(torch.autograd.Function):
    """Each value four times. Torch's own way backward (1.13) gives no numbers in sixteen bits."""

    @staticmethod
    def forward(ctx, v):
        n, c, h, w = v.shape
        return v.permute(0, 2, 3, 1)[:, :, None, :, None].expand(n, h, 2, w, 2, c).reshape(n, 2 * h, 2 * w, c).permute(0, 3, 1, 2)

    @staticmethod
    def backward(ctx, change):
        return 4 * pool(change.contiguous(memory_format=torch.channels_last))


up = Up.apply


class UNet(torch.nn.Module):
    """Levels, each half the size of the one before; UNet.cs runs the same."""

    def __init__(self, inputs, widths, outputs):
        super().__init__()
        self.widths = (inputs, *widths)
        self.down = torch.nn.ModuleList()
        for i, o in zip((inputs, *widths), widths):
            self.down += [conv(i, o), conv(o, o)]
        self.rise = torch.nn.ModuleList(conv(below + beside, beside) for below, beside in zip(widths[:0:-1], widths[-2::-1]))
        self.head = Conv(widths[0], outputs, 1)

    def layers(self):
        return [*self.down, *self.rise, self.head]

    def through(self, x):
        return self.levels(x.bfloat16().contiguous(memory_format=torch.channels_last)).float()

    def levels(self, x):
        kept = []
        for n in range(0, len(self.down), 2):
            x = leaky(self.down[n + 1](leaky(self.down[n](pool(x) if n else x))))
            kept.append(x)
        kept.pop()
        for layer in self.rise:
            x = leaky(layer(torch.cat([up(x), kept.pop()], 1)))
        return self.head(x)


SPACE = 8
FEATURES = 12


class Net(UNet):
    """Looks at the picture alone, four pixels at once: log odds of touching of each; then both spaces and features at half the size."""

    def __init__(self):
        super().__init__(56, (24, 40, 56, 72, 72, 72), 4 + 2 * SPACE + FEATURES)
        with torch.no_grad():
            self.head.weight *= 0.3

    def forward(self, x):
        z, ce, me, features = self.through(F.pixel_unshuffle(x[None], 2)).contiguous().split([4, SPACE, SPACE, FEATURES], 1)
        return F.pixel_shuffle(z, 2)[0, 0].clamp(-8, 8), ce[0], me[0], features[0]


MISSING = -4.0


def still(net):
    """A judge that begins by changing nothing."""
    torch.nn.init.zeros_(net.head.weight)
    torch.nn.init.zeros_(net.head.bias)


def mean_places(space, marks):
    """Where each mark lies in a space: marks,D."""
    m = torch.stack(marks).flatten(1)
    return (m @ space.flatten(1).T) / m.sum(1, keepdim=True)


class ContactNet(UNet):
    """Sees at half the size what the first one says together with the dabs; says how far to trust both, and what to add."""

    def __init__(self):
        super().__init__(FEATURES + 11, (16, 24, 32, 40, 48, 48), 3)
        still(self)

    def forward(self, z, ce, features, mask, again, touch, clear, lines):
        """again: what repeats() gives; touch, clear: marks of dabs at half the size; lines: where traced zones meet, None without tracing. Log odds of touching, H,W."""
        at = lambda dabs: evidence(ce, mean_places(ce, dabs)).clamp(-9, 0) if dabs else torch.full_like(ce[0], MISSING)
        near, far = at(touch), at(clear)
        marks = [sum(dabs, torch.zeros_like(mask)).clamp(max=1) for dabs in (touch, clear)]
        said = [torch.full_like(mask, float(v)) for v in (len(touch) > 0, len(clear) > 0, lines is not None)]
        small = pool(z[None, None])[0]
        v = torch.cat([features, 0.25 * small, 0.3 * near[None], 0.3 * far[None], torch.stack([2 * marks[0], 2 * marks[1], *said, torch.zeros_like(mask) if lines is None else 2 * lines]), again])
        a, b, c = self.through((v * mask)[None])[0]
        whole = up(torch.stack([a, (1 + b) * (near - far) + 4 * c])[None])[0]
        return (1 + whole[0]) * z + whole[1]


class MaterialNet(UNet):
    """Sees at a quarter of the size how near each place lies to the dabs of one material and to those of the others."""

    def __init__(self):
        super().__init__(FEATURES + 5, (24, 32, 40, 40, 48), 2)
        still(self)

    def forward(self, z, me, features, mask, dabs):
        """dabs: by material, marks at half the size. Scores by material, half the size."""
        small = pool(z[None, None])[0]
        places = mean_places(me, [d for each in dabs for d in each]).split([len(each) for each in dabs])
        scores = []
        views = []
        for k, own in enumerate(places):
            near = evidence(me, own).clamp(-9, 0)
            far = evidence(me, torch.cat([other for j, other in enumerate(places) if j != k])).clamp(-9, 0)
            mine = sum(dabs[k], torch.zeros_like(mask)).clamp(max=1)
            others = sum((d for j, other in enumerate(dabs) if j != k for d in other), torch.zeros_like(mask)).clamp(max=1)
            views.append(torch.cat([features, 0.25 * small, torch.stack([0.3 * near, 0.3 * far, 2 * mine, 2 * others])]) * mask)
            scores.append(0.5 * (near - far))
        said = up(self.through(pool(torch.stack(views))))
        return [(1 + said[k, 0]) * s + 2 * said[k, 1] for k, s in enumerate(scores)]


def strokes(cover, material, per_mm):
    """Dabs of an invented hand: on what touches of one material (some run over grooves), and in grooves."""
    h, w = cover.shape
    touching, hollow = cover > 0.8, (cover < 0.2) & (material > 0)

    def draw(where, length, radius, allowed, least):
        ys, xs = where
        for _ in range(12):
            k = int(RNG.integers(0, len(ys)))
            turn, half = RNG.uniform(0, math.pi), length / 2
            line = np.zeros((h, w), np.uint8)
            p, q = ((int(xs[k] + s * half * math.cos(turn)), int(ys[k] + s * half * math.sin(turn))) for s in (-1, 1))
            cv2.line(line, p, q, 1, max(1, int(round(2 * radius))))
            line = line > 0
            if line.any() and (line & allowed).sum() >= least * line.sum():
                return line & (material > 0)
        return None

    touch, clear = [], []
    kinds = [m for m in np.unique(material) if m > 0 and (touching & (material == m)).sum() > 30]
    if RNG.random() < 0.62:
        for m in kinds:
            on = material == m
            for _ in range(int(RNG.integers(1, 6))):
                over = RNG.random() < 0.25
                d = draw(np.where(touching & on), RNG.uniform(2, 30 if over else 16) * per_mm, RNG.uniform(0.4, 1.6) * per_mm, on if over else touching & on, 0.97)
                if d is not None:
                    touch.append((int(m), d))
    if hollow.sum() > 20 and RNG.random() < 0.93:
        parts, n = label(hollow)
        sizes = np.bincount(parts.ravel())
        big = [k for k in range(1, n + 1) if sizes[k] > 6 * per_mm * per_mm]
        deep = distance_transform_edt(hollow)
        for _ in range(int(RNG.integers(1, 6))):
            place = hollow if not big or RNG.random() < 0.5 else parts == big[int(RNG.integers(0, len(big)))]
            d = draw(np.where(place & (deep >= np.quantile(deep[place], 0.5))), RNG.choice([0, RNG.uniform(1, 14)]) * per_mm, RNG.uniform(0.35, 1.0) * per_mm, hollow, 0.85)
            if d is not None:
                clear.append(d)
    return touch, clear


def recolour(x, per_mm, material):
    """The same relief in other stuffs: lightness and colour of each material move by themselves; now and then all are made alike."""
    on = material > 0
    kinds = [m for m in torch.unique(material) if m > 0]
    alike = RNG.random() < 0.3
    for planes, sigma in (((0, 1), 0.5), ((2,), 0.12), ((3,), 0.12)):
        change = torch.zeros(material.shape)
        for m in kinds:
            to = float(RNG.normal(0, 0.1 * sigma if alike else sigma))
            change[material == m] = to - (float(x[planes[0]][material == m].mean()) if alike else 0.0)
        change -= change[on].mean()
        x[planes[0]] += change
        if len(planes) > 1:
            size = 2 * int(round(12 * per_mm)) + 1
            inner, weight = (change * on).numpy().copy(), on.float().numpy()
            for _ in range(3):
                inner, weight = (cv2.blur(v, (size, size), borderType=cv2.BORDER_CONSTANT) for v in (inner, weight))
            x[1] += change - torch.from_numpy(inner / np.maximum(weight, 1e-3))


def augment(x, per_mm, cover, material, dab, room):
    """room: most pixels; a larger sole is made smaller or cut."""
    x, cover, material, dab = (torch.from_numpy(np.ascontiguousarray(a)) for a in (x.astype(np.float32), cover.astype(np.float32), material, dab))
    s = WANTED / per_mm * float(np.exp(RNG.uniform(-0.25, 0.15))) if RNG.random() < 0.6 else 1.0
    s = max(0.7 * WANTED / per_mm, min(s, math.sqrt(room / cover.numel()) if RNG.random() < 0.4 else 9))
    if s != 1:
        size = [int(v * s) for v in cover.shape]
        per_mm *= s
        x = F.interpolate(x[None], size=size, mode="bilinear", align_corners=False)[0]
        cover = F.interpolate(cover[None, None], size=size, mode="bilinear", align_corners=False)[0, 0]
        material = F.interpolate(material[None, None].float(), size=size, mode="nearest")[0, 0].to(torch.uint8)
        dab = F.interpolate(dab[None, None].float(), size=size, mode="nearest")[0, 0].to(torch.uint8)
        x[5] = (material > 0).float()
    if cover.numel() > room:
        h, w = cover.shape
        along = int(room / min(h, w))
        at = int(RNG.integers(0, max(h, w) - along + 1))
        part = (..., slice(at, at + along), slice(None)) if h > w else (..., slice(at, at + along))
        x, cover, material, dab = x[part], cover[part], material[part], dab[part]
    k = int(RNG.integers(0, 4))
    x, cover, material, dab = (torch.rot90(a, k, (-2, -1)) for a in (x, cover, material, dab))
    if RNG.random() < 0.5:
        x, cover, material, dab = (torch.flip(a, (-1,)) for a in (x, cover, material, dab))
    x = x.clone()
    if RNG.random() < 0.4:
        soft = F.avg_pool2d(x[None, :4], 3, 1, 1, count_include_pad=False)[0]
        x[:4] += float(RNG.uniform(-0.6, 1)) * (soft - x[:4])
    g = float(np.exp(RNG.uniform(-0.35, 0.35)))
    x[:2] *= g
    x[2:4] *= float(np.exp(RNG.uniform(-0.5, 0.5)))
    x[4] = x[4] * float(np.exp(RNG.uniform(-0.4, 0.4))) + float(RNG.uniform(-0.2, 0.2))
    n = torch.randn(x.shape[1:]) * float(RNG.uniform(0, 0.06))
    x[0] += n
    x[1] += n
    if RNG.random() < 0.5:
        coarse = F.interpolate(torch.randn(1, 1, int(RNG.integers(3, 24)), int(RNG.integers(3, 12))), size=x.shape[1:], mode="bicubic", align_corners=False)[0, 0] * float(RNG.uniform(0, 0.12))
        x[0] += coarse
        x[1] += coarse
    if RNG.random() < 0.5:
        recolour(x, per_mm, material)
    x *= x[5:6].clone()
    x = torch.cat([x, torch.from_numpy(relief(x[1].numpy(), per_mm)) * x[5:6]])
    h, w = cover.shape
    # Few sizes, so that the convolutions made for one are used again.
    ph, pw = -h % 64, -w % 64
    x, cover, material, dab = F.pad(x, (0, pw, 0, ph)), F.pad(cover, (0, pw, 0, ph)), F.pad(material, (0, pw, 0, ph)), F.pad(dab, (0, pw, 0, ph))
    return x, cover, material, dab, per_mm


def evidence(embedding, prototypes):
    """Log of the mean over prototypes of exp(-squared distance). embedding: D,H,W."""
    flat = embedding.flatten(1)
    d = (flat * flat).sum(0) - 2 * prototypes @ flat + (prototypes * prototypes).sum(1, keepdim=True)
    return (torch.logsumexp(-d, 0) - math.log(len(d))).view(embedding.shape[1:])


def lines_of(material):
    """Where traced zones meet, as a hand traced them, at half the size."""
    m = torch.roll(material, (int(RNG.integers(-2, 3)), int(RNG.integers(-2, 3))), (0, 1)) if RNG.random() < 0.7 else material
    edge = torch.zeros(m.shape)
    for axis in (0, 1):
        a, b = m.narrow(axis, 0, m.shape[axis] - 1), m.narrow(axis, 1, m.shape[axis] - 1)
        edge.narrow(axis, 0, m.shape[axis] - 1)[(a != b) & (a > 0) & (b > 0)] = 1
    return pool(edge[None, None])[0, 0]


def losses(nets, x, cover, material, dab, labels, per_mm):
    net, contact, kind = nets
    z, ce, me, features = net(x)
    on = material > 0
    half = lambda v: pool(v[None, None])[0, 0]
    mask = half(on.float())
    weight = on.float() / on.sum()
    bce = lambda logit: (F.binary_cross_entropy_with_logits(logit, cover, reduction="none") * weight).sum()
    traced = RNG.random() < 0.4
    if len(labels) and RNG.random() < 0.5:
        kept = [(int(l), dab == k + 1) for k, l in enumerate(labels) if RNG.random() < 0.9]
        touch = [(l, d) for l, d in kept if l > 0 and d.any()]
        clear = [d for l, d in kept if l == 0 and d.any()]
    else:
        touch, clear = strokes(cover.numpy(), material.numpy(), per_mm)
        touch, clear = [(l, torch.from_numpy(d)) for l, d in touch], [torch.from_numpy(d) for d in clear]
    if traced and RNG.random() < 0.8:
        touch = []
    touch, clear = [(l, half((d & on).float())) for l, d in touch if (d & on).any()], [half((d & on).float()) for d in clear if (d & on).any()]
    again = repeats(half(z.detach()), mask, per_mm / 2)
    said = contact(z, ce, features, mask, again, [d for _, d in touch], clear, lines_of(material) if traced else None)
    # The share counts: what is too much of one material and too little of another.
    p, whole = torch.sigmoid(said), cover.sum()
    bias = [(((p - cover) * (material == m)).sum() / whole) for m in torch.unique(material) if m > 0]
    amiss = sum(torch.sqrt(v * v + 1e-5) for v in bias)
    worse = sum(v * v for v in bias)
    total = 0.4 * bce(z) + 1.5 * bce(said) + 1.5 * amiss + 4 * worse
    accuracy, wrong = float("nan"), float("nan")
    kinds = sorted({l for l, _ in touch})
    if len(kinds) > 1:
        dabs = [[d for l, d in touch if l == k] for k in kinds]
        scores = torch.stack(kind(z, me, features, mask, dabs))
        plain = torch.stack([evidence(me, mean_places(me, each)) for each in dabs])
        shares = torch.stack([half((material == k).float()) for k in kinds])
        known = shares.sum(0) > 0.5
        target = shares.argmax(0)
        w = known.float() * (0.2 + 0.8 * half(cover))
        ask = lambda logits: (F.cross_entropy(logits[None], target[None], reduction="none")[0] * w).sum() / w.sum()
        touching = half(p * on) * known
        got = (torch.softmax(scores, 0) * touching).sum((1, 2)) / touching.sum()
        truth = (shares * half(cover) * known).sum((1, 2)) / (half(cover) * known).sum()
        off = torch.sqrt((got - truth) ** 2 + 1e-5).sum()
        total = total + 0.15 * ask(plain) + 0.6 * ask(scores) + 0.7 * off
        wrong = 50 * off.item()
        accuracy = (((scores.argmax(0) == target).float() * w).sum() / w.sum()).item()
    with torch.no_grad():
        good = ((((said > 0) == (cover > 0.5)).float()) * weight).sum().item()
        alone = ((((z > 0) == (cover > 0.5)).float()) * weight).sum().item()
    return total, alone, good, 50 * amiss.item(), accuracy, wrong


def save(nets, path):
    with open(path, "wb") as f:
        for layer in [layer for net in nets for layer in net.layers()]:
            o, i, k, _ = layer.weight.shape
            f.write(struct.pack("iii", o, i, k))
            f.write(layer.weight.detach().numpy().astype("<f2").tobytes())
            f.write(layer.bias.detach().numpy().astype("<f2").tobytes())


def state(nets):
    return {name: net.state_dict() for name, net in zip(("net", "contact", "kind"), nets)}


def teach(rank, shared, barrier, nets):
    global RNG
    RNG = np.random.default_rng(100 + rank + int(time.time()))
    both = np.random.default_rng(7)
    torch.manual_seed(rank)
    torch.set_num_threads(1)
    where = [part.split(":") for part in sys.argv[1].split(",")]
    # Each process draws from its own half, even and odd numbers, so that no sole is kept in memory twice.
    listing = lambda: [[f for f in sorted(glob.glob(d + "/*.bin")) if int("".join(c for c in os.path.basename(f) if c.isdigit())) % 2 == rank] for d, _ in where]
    groups, odds, minutes = listing(), np.array([float(o) for _, o in where]), float(sys.argv[3])
    every = [p for net in nets for p in net.parameters()]
    smooth = [p.detach().clone() for p in every]
    peak = float(sys.argv[5]) if len(sys.argv) > 5 else 2e-3
    best = torch.optim.AdamW(every, lr=peak, weight_decay=1e-4)
    begin, step, window, cache, turn, done = time.time(), 0, [], {}, 0, 0.0
    while done < 1:
        for group in best.param_groups:
            group["lr"] = peak * min(1, (step + 1) / 300) * (0.5 + 0.5 * math.cos(math.pi * done)) + 1e-5
        best.zero_grad()
        files = groups[int(RNG.choice(len(groups), p=odds / odds.sum()))]
        name = files[int(RNG.integers(0, len(files)))]
        if name not in cache:
            x, per_mm, cover, material, dab, labels = load(name)
            cache[name] = x.astype(np.float16), per_mm, cover.astype(np.float16), material, dab, labels
        *sole, labels = cache[name]
        x, cover, material, dab, scale = augment(*sole, int(both.uniform(55000, 130000)))
        total, *rest = losses(nets, x, cover, material, dab, labels, scale)
        (total / 2).backward()
        window.append((total.item(), *rest))
        flat = torch.cat([(p.grad if p.grad is not None else torch.zeros_like(p)).flatten() for p in every])
        shared[turn][rank].copy_(torch.cat([torch.nan_to_num(flat), torch.tensor([(time.time() - begin) / (60 * minutes)])]))
        barrier.wait()
        flat = shared[turn][0] + shared[turn][1]
        done, turn = float(shared[turn][0][-1]), 1 - turn
        at = 0
        for p in every:
            p.grad = flat[at:at + p.numel()].view_as(p).clone()
            at += p.numel()
        torch.nn.utils.clip_grad_norm_(every, 1.0)
        best.step()
        step += 1
        keep = min(0.999, (step + 1) / (step + 20))
        with torch.no_grad():
            for s, p in zip(smooth, every):
                s.lerp_(p, 1 - keep)
        if step % 100 == 0:
            groups = listing()
        if rank == 0 and (step % 100 == 0 or done >= 1):
            print(step, f"{(time.time() - begin) / 60:.1f} min loss %.4f contact alone %.4f with dabs %.4f share amiss %.2f material %.4f share of all amiss %.2f" % tuple(np.nanmean(np.array(window), 0)), flush=True)
            window = []
            now = [p.detach().clone() for p in every]
            with torch.no_grad():
                for s, p in zip(smooth, every):
                    p.copy_(s)
                save(nets, sys.argv[2])
                torch.save(state(nets), sys.argv[2] + ".pt")
                for n, p in zip(now, every):
                    p.copy_(n)


def grown(net, old):
    """State of a network as it stands or smaller, with fewer inputs, levels or channels: it begins by doing nearly the same, as nothing heeds what is new."""
    new = {key: value.clone() for key, value in net.state_dict().items()}
    levels = lambda state: sum(key.startswith("down") for key in state) // 4
    more = levels(new) - levels(old)
    for n, width in enumerate(net.widths[-2:0:-1][:more]):
        weight = new[f"rise.{n}.weight"]
        weight.zero_()
        weight[range(width), range(weight.shape[1] - width, weight.shape[1]), 1, 1] = 1
    for key, value in old.items():
        part, *n, what = key.split(".")
        name = f"rise.{int(n[0]) + more}.{what}" if part == "rise" else key
        to, value = new[name], value.float()
        if what == "bias":
            to[:len(value)] = value
            continue
        # What comes from below stands before what lies beside, and each has grown at its own end.
        beside = (lambda state, at: state[f"{part}.{at}.weight"].shape[0]) if part == "rise" else (lambda state, at: 0)
        was = value.shape[1] - (beside(old, int(n[0])) if part == "rise" else 0)
        now = to.shape[1] - (beside(new, int(n[0]) + more) if part == "rise" else 0)
        to[:len(value)] = 0
        to[:len(value), :was] = value[:, :was]
        to[:len(value), now:now + value.shape[1] - was] = value[:, was:]
    return new


def main():
    torch.set_num_threads(1)
    torch.manual_seed(1)
    nets = [net.to(memory_format=torch.channels_last) for net in (Net(), ContactNet(), MaterialNet())]
    if len(sys.argv) > 4 and sys.argv[4] != "-":
        start = torch.load(sys.argv[4])
        for name, net in zip(("net", "contact", "kind"), nets):
            net.load_state_dict(grown(net, start[name]))
    count = sum(p.numel() for net in nets for p in net.parameters())
    print(count, "weights", [sum(p.numel() for p in net.parameters()) for net in nets], flush=True)
    shared = [[torch.zeros(count + 1).share_memory_() for _ in range(2)] for _ in range(2)]
    barrier = multiprocessing.Barrier(2)
    hands = [multiprocessing.Process(target=teach, args=(rank, shared, barrier, nets)) for rank in range(2)]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()


if __name__ == "__main__":
    main()
