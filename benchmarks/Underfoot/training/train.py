"""Trains the surface network and the dab network on made scenes and rendered ones (see README.md beside this file).

usage: train.py FOLDERS_WITH_SCENES OUT.bin MINUTES [START.pt]; folders parted by commas, each drawn from as often as the others.
"""
import glob
import math
import struct
import sys
import time

import cv2
import numpy as np
import torch
import torch.nn.functional as F
from scipy.ndimage import distance_transform_edt, label, maximum_filter, minimum_filter, uniform_filter

RNG = np.random.default_rng(1)
torch.manual_seed(1)


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


conv = lambda i, o: torch.nn.Conv2d(i, o, 3, padding=1)
pool = lambda v: F.avg_pool2d(v, 2)
up = lambda v: F.interpolate(v, scale_factor=2, mode="nearest")


class UNet(torch.nn.Module):
    """Five levels, each half the size of the one before; SurfaceNetwork.cs runs the same."""

    def __init__(self, inputs, first, second, outputs):
        super().__init__()
        self.e1a, self.e1b = conv(inputs, first), conv(first, first)
        self.e2a, self.e2b = conv(first, second), conv(second, second)
        self.e3a, self.e3b = conv(second, 32), conv(32, 32)
        self.e4a, self.e4b = conv(32, 40), conv(40, 40)
        self.e5a, self.e5b = conv(40, 40), conv(40, 40)
        self.d4, self.d3, self.d2, self.d1 = conv(80, 40), conv(72, 32), conv(32 + second, second), conv(second + first, 16)
        self.head = torch.nn.Conv2d(16, outputs, 1)

    def layers(self):
        return [self.e1a, self.e1b, self.e2a, self.e2b, self.e3a, self.e3b, self.e4a, self.e4b, self.e5a, self.e5b, self.d4, self.d3, self.d2, self.d1, self.head]

    def through(self, x):
        r = F.relu
        s1 = r(self.e1b(r(self.e1a(x))))
        s2 = r(self.e2b(r(self.e2a(pool(s1)))))
        s3 = r(self.e3b(r(self.e3a(pool(s2)))))
        s4 = r(self.e4b(r(self.e4a(pool(s3)))))
        s5 = r(self.e5b(r(self.e5a(pool(s4)))))
        v = r(self.d4(torch.cat([up(s5), s4], 1)))
        v = r(self.d3(torch.cat([up(v), s3], 1)))
        v = r(self.d2(torch.cat([up(v), s2], 1)))
        v = r(self.d1(torch.cat([up(v), s1], 1)))
        return self.head(v)


class Net(UNet):
    """Looks at the picture alone: log odds of touching, then both spaces."""

    def __init__(self):
        super().__init__(14, 8, 20, 17)

    forward = UNet.through


MISSING = -4.0


class DabNet(UNet):
    """Looks at what the first one says together with the dabs, at half the size; says how far to trust it and the dabs, and what to add."""

    PLANES = (0, 1, 4, 6, 7, 8, 9, 5)

    def __init__(self):
        super().__init__(23, 16, 24, 3)
        torch.nn.init.zeros_(self.head.weight)
        torch.nn.init.zeros_(self.head.bias)

    def forward(self, x, out, touch, clear):
        """x: planes; out: what Net says; touch, clear: lists of masks of dabs. Log odds of touching, H,W."""
        z, ce = out[0].clamp(-8, 8), out[1:9]
        at = lambda dabs: evidence(ce, [ce[:, d].mean(1) for d in dabs]).clamp(-9, 0) if dabs else torch.full_like(z, MISSING)
        near, far = at(touch), at(clear)
        marks = torch.stack([sum((d.float() for d in dabs), torch.zeros_like(z)).clamp(max=1) for dabs in (touch, clear)])
        said = torch.stack([torch.full_like(z, float(len(dabs) > 0)) for dabs in (touch, clear)])
        v = torch.cat([x[list(self.PLANES)], 0.25 * z[None], ce, 0.3 * near[None], 0.3 * far[None], marks * 2, said])
        v = pool(v[None] * x[5][None, None])
        a, b, c = up(self.through(v))[0]
        return (1 + a) * z + (1 + b) * (near - far) + 4 * c


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


def augment(x, per_mm, cover, material, dab):
    x, cover, material, dab = (torch.from_numpy(np.ascontiguousarray(a)) for a in (x, cover, material, dab))
    s = float(np.exp(RNG.uniform(-0.25, 0.25))) if RNG.random() < 0.5 else 1.0
    s = min(s, math.sqrt(150000 / cover.numel()))
    if s != 1:
        size = [int(v * s) for v in cover.shape]
        per_mm *= s
        x = F.interpolate(x[None], size=size, mode="bilinear", align_corners=False)[0]
        cover = F.interpolate(cover[None, None], size=size, mode="bilinear", align_corners=False)[0, 0]
        material = F.interpolate(material[None, None].float(), size=size, mode="nearest")[0, 0].to(torch.uint8)
        dab = F.interpolate(dab[None, None].float(), size=size, mode="nearest")[0, 0].to(torch.uint8)
        x[5] = (material > 0).float()
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
    x *= x[5:6].clone()
    x = torch.cat([x, torch.from_numpy(relief(x[1].numpy(), per_mm)) * x[5:6]])
    h, w = cover.shape
    ph, pw = -h % 32, -w % 32
    x, cover, material, dab = F.pad(x, (0, pw, 0, ph)), F.pad(cover, (0, pw, 0, ph)), F.pad(material, (0, pw, 0, ph)), F.pad(dab, (0, pw, 0, ph))
    return x, cover, material, dab, per_mm


def evidence(embedding, prototypes):
    """Log of the mean over prototypes of exp(-squared distance). embedding: D,H,W."""
    d = [((embedding - p[:, None, None]) ** 2).sum(0) for p in prototypes]
    return torch.logsumexp(-torch.stack(d), 0) - math.log(len(d))


def losses(net, dabs, x, cover, material, dab, labels, per_mm):
    out = net(x[None])[0]
    on = material > 0
    z, me = out[0], out[9:17]
    weight = on.float() / on.sum()
    bce = lambda logit: (F.binary_cross_entropy_with_logits(logit, cover, reduction="none") * weight).sum()
    if len(labels) and RNG.random() < 0.5:
        kept = [(int(l), dab == k + 1) for k, l in enumerate(labels) if RNG.random() < 0.9]
        touch = [(l, d) for l, d in kept if l > 0 and d.any()]
        clear = [d for l, d in kept if l == 0 and d.any()]
        if RNG.random() < 0.4:
            touch = []
    else:
        touch, clear = strokes(cover.numpy(), material.numpy(), per_mm)
        touch, clear = [(l, torch.from_numpy(d)) for l, d in touch], [torch.from_numpy(d) for d in clear]
    said = dabs(x, out, [d for _, d in touch], clear)
    # The share counts: what is too much of one material and too little of another.
    p, whole = torch.sigmoid(said), cover.sum()
    bias = [(((p - cover) * (material == m)).sum() / whole) for m in torch.unique(material) if m > 0]
    amiss = sum(torch.sqrt(v * v + 1e-5) for v in bias)
    total = 0.5 * bce(z) + 1.5 * bce(said) + 1.0 * amiss
    accuracy = float("nan")
    kinds = sorted({l for l, _ in touch})
    if len(kinds) > 1:
        logits = torch.stack([evidence(me, [me[:, d].mean(1) for l, d in touch if l == k]) for k in kinds])
        target = torch.zeros_like(material, dtype=torch.long)
        known = torch.zeros_like(on)
        for i, k in enumerate(kinds):
            target[material == k] = i
            known |= material == k
        w = known.float() * (0.2 + 0.8 * cover)
        total = total + 0.5 * (F.cross_entropy(logits[None], target[None], reduction="none")[0] * w).sum() / w.sum()
        accuracy = (((logits.argmax(0) == target).float() * w).sum() / w.sum()).item()
    with torch.no_grad():
        good = ((((said > 0) == (cover > 0.5)).float()) * weight).sum().item()
        alone = ((((z > 0) == (cover > 0.5)).float()) * weight).sum().item()
    return total, alone, good, 100 * amiss.item(), accuracy


def save(nets, path):
    with open(path, "wb") as f:
        for layer in [layer for net in nets for layer in net.layers()]:
            o, i, k, _ = layer.weight.shape
            f.write(struct.pack("iii", o, i, k))
            f.write(layer.weight.detach().numpy().astype("<f2").tobytes())
            f.write(layer.bias.detach().numpy().astype("<f2").tobytes())


def main():
    listing = lambda: [v for v in (sorted(glob.glob(d + "/*.bin")) for d in sys.argv[1].split(",")) if v]
    groups = listing()
    minutes = float(sys.argv[3])
    net, dabs = Net(), DabNet()
    if len(sys.argv) > 4:
        start = torch.load(sys.argv[4])
        net.load_state_dict(start["net"] if "net" in start else start)
        if "dabs" in start:
            dabs.load_state_dict(start["dabs"])
    every = list(net.parameters()) + list(dabs.parameters())
    print(sum(p.numel() for p in every), "weights", [len(g) for g in groups], "scenes", flush=True)
    peak = 2e-3 if len(sys.argv) < 5 or "dabs" not in start else 1e-3
    best = torch.optim.AdamW([{"params": net.parameters(), "k": 0.5}, {"params": dabs.parameters(), "k": 1.0}], lr=peak, weight_decay=1e-4)
    begin, step, window, cache = time.time(), 0, [], {}
    while time.time() - begin < 60 * minutes:
        done = (time.time() - begin) / (60 * minutes)
        for group in best.param_groups:
            group["lr"] = group["k"] * (peak * min(1, (step + 1) / 60) * (0.5 + 0.5 * math.cos(math.pi * done)) + 2e-5)
        best.zero_grad()
        for _ in range(2):
            files = groups[int(RNG.integers(0, len(groups)))]
            name = files[int(RNG.integers(0, len(files)))]
            if name not in cache:
                cache[name] = load(name)
            x, per_mm, cover, material, dab, labels = cache[name]
            x, cover, material, dab, scale = augment(x, per_mm, cover, material, dab)
            total, *rest = losses(net, dabs, x, cover, material, dab, labels, scale)
            (total / 2).backward()
            window.append((total.item(), *rest))
        torch.nn.utils.clip_grad_norm_(every, 1.0)
        best.step()
        step += 1
        if step % 50 == 0:
            print(step, f"{(time.time() - begin) / 60:.1f} min loss %.4f contact alone %.4f with dabs %.4f share amiss %.2f material %.4f" % tuple(np.nanmean(np.array(window), 0)), flush=True)
            window = []
            groups = listing()
            save((net, dabs), sys.argv[2])
            torch.save({"net": net.state_dict(), "dabs": dabs.state_dict()}, sys.argv[2] + ".pt")
    save((net, dabs), sys.argv[2])
    torch.save({"net": net.state_dict(), "dabs": dabs.state_dict()}, sys.argv[2] + ".pt")


if __name__ == "__main__":
    main()
