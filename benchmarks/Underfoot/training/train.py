"""Trains the surface network on made scenes (see README.md beside this file).

usage: train.py FOLDER_WITH_SCENES OUT.bin MINUTES [START.pt]
"""
import glob
import math
import struct
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F
from scipy.ndimage import maximum_filter, minimum_filter, uniform_filter

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


class Net(torch.nn.Module):
    def __init__(self):
        super().__init__()
        conv = lambda i, o: torch.nn.Conv2d(i, o, 3, padding=1)
        self.e1a, self.e1b = conv(14, 8), conv(8, 8)
        self.e2a, self.e2b = conv(8, 20), conv(20, 20)
        self.e3a, self.e3b = conv(20, 32), conv(32, 32)
        self.e4a, self.e4b = conv(32, 40), conv(40, 40)
        self.e5a, self.e5b = conv(40, 40), conv(40, 40)
        self.d4, self.d3, self.d2, self.d1 = conv(80, 40), conv(72, 32), conv(52, 20), conv(28, 16)
        self.head = torch.nn.Conv2d(16, 17, 1)

    def layers(self):
        return [self.e1a, self.e1b, self.e2a, self.e2b, self.e3a, self.e3b, self.e4a, self.e4b, self.e5a, self.e5b, self.d4, self.d3, self.d2, self.d1, self.head]

    def forward(self, x):
        r, pool = F.relu, lambda v: F.avg_pool2d(v, 2)
        up = lambda v: F.interpolate(v, scale_factor=2, mode="nearest")
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


def augment(x, per_mm, cover, material, dab):
    x, cover, material, dab = (torch.from_numpy(np.ascontiguousarray(a)) for a in (x, cover, material, dab))
    if RNG.random() < 0.5:
        s = float(np.exp(RNG.uniform(-0.25, 0.25)))
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
    ph, pw = -h % 16, -w % 16
    x, cover, material, dab = F.pad(x, (0, pw, 0, ph)), F.pad(cover, (0, pw, 0, ph)), F.pad(material, (0, pw, 0, ph)), F.pad(dab, (0, pw, 0, ph))
    return x, cover, material, dab


def evidence(embedding, prototypes):
    """Log of the mean over prototypes of exp(-squared distance). embedding: D,H,W."""
    d = [((embedding - p[:, None, None]) ** 2).sum(0) for p in prototypes]
    return torch.logsumexp(-torch.stack(d), 0) - math.log(len(d))


def losses(out, cover, material, dab, labels):
    on = material > 0
    z, ce, me = out[0], out[1:9], out[9:17]
    weight = on.float() / on.sum()
    bce = lambda logit: (F.binary_cross_entropy_with_logits(logit, cover, reduction="none") * weight).sum()
    total = bce(z)
    proto = {}
    for k, label in enumerate(labels):
        hit = dab == k + 1
        if hit.any() and RNG.random() < 0.85:
            proto.setdefault(int(label), []).append((ce[:, hit].mean(1), me[:, hit].mean(1)))
    touch = [c for label, list_ in proto.items() if label > 0 for c, _ in list_]
    clear = [c for c, _ in proto.get(0, [])]
    with_dabs = z
    if touch and clear:
        with_dabs = z + evidence(ce, touch) - evidence(ce, clear)
    total = total + bce(with_dabs)
    kinds = [m for m in sorted(proto) if m > 0]
    accuracy = float("nan")
    if len(kinds) > 1:
        logits = torch.stack([evidence(me, [m for _, m in proto[k]]) for k in kinds])
        target = torch.zeros_like(material, dtype=torch.long)
        known = torch.zeros_like(on)
        for i, k in enumerate(kinds):
            target[material == k] = i
            known |= material == k
        w = known.float() * (0.2 + 0.8 * cover)
        total = total + 0.7 * (F.cross_entropy(logits[None], target[None], reduction="none")[0] * w).sum() / w.sum()
        accuracy = (((logits.argmax(0) == target).float() * w).sum() / w.sum()).item()
    with torch.no_grad():
        good = ((((with_dabs > 0) == (cover > 0.5)).float()) * weight).sum().item()
        alone = ((((z > 0) == (cover > 0.5)).float()) * weight).sum().item()
    return total, alone, good, accuracy


def save(net, path):
    with open(path, "wb") as f:
        for layer in net.layers():
            o, i, k, _ = layer.weight.shape
            f.write(struct.pack("iii", o, i, k))
            f.write(layer.weight.detach().numpy().astype("<f2").tobytes())
            f.write(layer.bias.detach().numpy().astype("<f2").tobytes())


def main():
    files = sorted(glob.glob(sys.argv[1] + "/*.bin"))
    minutes = float(sys.argv[3])
    net = Net()
    if len(sys.argv) > 4:
        start = torch.load(sys.argv[4])
        old = start["e1a.weight"]
        if old.shape[1] < 14:
            start["e1a.weight"] = torch.cat([old, 0.1 * torch.randn(8, 14 - old.shape[1], 3, 3)], 1)
        net.load_state_dict(start)
    print(sum(p.numel() for p in net.parameters()), "weights", len(files), "scenes", flush=True)
    peak = 3e-3 if len(sys.argv) < 5 else 1.5e-3
    best = torch.optim.AdamW(net.parameters(), lr=peak, weight_decay=1e-4)
    begin, step, window, cache = time.time(), 0, [], {}
    while time.time() - begin < 60 * minutes:
        done = (time.time() - begin) / (60 * minutes)
        for group in best.param_groups:
            group["lr"] = peak * min(1, (step + 1) / 60) * (0.5 + 0.5 * math.cos(math.pi * done)) + 2e-5
        best.zero_grad()
        for _ in range(2):
            name = files[int(RNG.integers(0, len(files)))]
            if name not in cache:
                cache[name] = load(name)
            x, per_mm, cover, material, dab, labels = cache[name]
            x, cover, material, dab = augment(x, per_mm, cover, material, dab)
            total, *rest = losses(net(x[None])[0], cover, material, dab, labels)
            (total / 2).backward()
            window.append((total.item(), *rest))
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        best.step()
        step += 1
        if step % 50 == 0:
            print(step, f"{(time.time() - begin) / 60:.1f} min loss %.4f contact alone %.4f with dabs %.4f material %.4f" % tuple(np.nanmean(np.array(window), 0)), flush=True)
            window = []
            files = sorted(glob.glob(sys.argv[1] + "/*.bin"))
            save(net, sys.argv[2])
            torch.save(net.state_dict(), sys.argv[2] + ".pt")
    save(net, sys.argv[2])
    torch.save(net.state_dict(), sys.argv[2] + ".pt")


main()
