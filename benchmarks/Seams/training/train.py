"""Teaches the row network on rows drawn at random, flat (rows.py) and in relief (relief.py), mixed with lessons: rows that the benchmark program draws, of numbers that are never measured.

usage: train.py OUT.bin MINUTES START.bin SEED PEAK-RATE LESSONS-FOLDER Needs Debian's python3-torch and python3-scipy.
"""
import glob
import math
import os
import struct
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

import relief
import rows
from rows import COLUMNS, STEP, truth

WIDTHS = (10, 20, 40, 56, 64)
LONG = 384
FIRST_POOL, POOL = 30, 300
OF_LESSONS, IN_RELIEF = 0.55, 0.3


class RowNet(torch.nn.Module):
    """Five levels, each half the size of the one before; UNet.cs runs the same. Log odds that a stitch's middle lies at a cell, that thread does, and that the middle of a skipped stitch does."""

    def __init__(self):
        super().__init__()
        conv = lambda i, o: torch.nn.Conv2d(i, o, 3, padding=1)
        a, b, c, d, e = WIDTHS
        pairs = [(3, a), (a, a), (a, b), (b, b), (b, c), (c, c), (c, d), (d, d), (d, e), (e, e), (e + d, d), (d + c, c), (c + b, b), (b + a, 12)]
        self.all = torch.nn.ModuleList([conv(i, o) for i, o in pairs] + [torch.nn.Conv2d(12, 3, 1)])

    def forward(self, x):
        k, r = self.all, F.relu
        pool, up = (lambda v: F.avg_pool2d(v, 2)), (lambda v: F.interpolate(v, scale_factor=2, mode="nearest"))
        s1 = r(k[1](r(k[0](x))))
        s2 = r(k[3](r(k[2](pool(s1)))))
        s3 = r(k[5](r(k[4](pool(s2)))))
        s4 = r(k[7](r(k[6](pool(s3)))))
        v = r(k[9](r(k[8](pool(s4)))))
        for layer, beside in zip(k[10:14], (s4, s3, s2, s1)):
            v = r(layer(torch.cat([up(v), beside], 1)))
        return k[14](v)


class Lessons:
    """Rows that the benchmark program drew, as it shows them to the network: planes of cells, middles of stitches, middles of skipped ones. What is not read stays on disk."""

    def __init__(self, folder):
        self.rows = []
        for file in sorted(glob.glob(os.path.join(folder, "*.bin"))):
            end = os.path.getsize(file)
            with open(file, "rb") as f:
                while f.tell() < end:
                    n, = struct.unpack("i", f.read(4))
                    at = f.tell()
                    f.seek(3 * n * COLUMNS * 2, 1)
                    places = []
                    for _ in range(2):
                        count, = struct.unpack("i", f.read(4))
                        places.append(np.frombuffer(f.read(8 * count), np.float32).reshape(-1, 2).astype(float) * STEP)
                    self.rows.append((file, at, n, *places))

    def draw(self, rng):
        file, at, n, centres, bare = self.rows[int(rng.integers(0, len(self.rows)))]
        planes = np.fromfile(file, np.float16, 3 * n * COLUMNS, offset=at).reshape(3, n, COLUMNS).astype(np.float32)
        move = lambda places: [(along, across - COLUMNS * STEP / 2) for along, across in places]
        return [planes, *truth(n, move(centres), move(bare)), np.zeros((n, COLUMNS), np.float32), np.zeros((1, 1), np.float32)]


class Drawings(torch.utils.data.IterableDataset):
    def __init__(self, seed, folder):
        self.seed, self.folder = seed, folder

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = np.random.default_rng((self.seed, info.id if info else 0))
        pools, drawings = {rows: [], relief: []}, 0
        while True:
            if drawings % 2000 == 0:
                lessons = Lessons(self.folder)
            drawings += 1
            if (which := rng.random()) < OF_LESSONS:
                drawing = lessons.draw(rng)
            else:
                way = relief if which < OF_LESSONS + IN_RELIEF else rows
                # Drawing is slower than teaching: each drawing is shown a few times, cut and turned anew.
                pool = pools[way]
                if len(pool) < FIRST_POOL or rng.random() < 0.15:
                    pool[:] = pool[-POOL + 1:] + [way.drawn(int(rng.integers(1 << 40)))]
                drawing = pool[int(rng.integers(0, len(pool)))]
            *drawing, has_cover = drawing
            for axis in (-2, -1):
                if rng.random() < 0.5:
                    drawing = [np.flip(v, axis) for v in drawing]
            n = drawing[1].shape[0]
            k = int(rng.integers(0, max(0, n - LONG) + 1))
            drawing = [v[..., k:k + LONG, :] for v in drawing]
            if n < LONG:
                drawing = [np.pad(v, [(0, 0)] * (v.ndim - 2) + [(0, LONG - n), (0, 0)]) for v in drawing]
            yield tuple(torch.from_numpy(np.ascontiguousarray(v)) for v in [*drawing, has_cover])


def save(net, path):
    with open(path, "wb") as f:
        for layer in net.all:
            o, i, k, _ = layer.weight.shape
            f.write(struct.pack("iii", o, i, k))
            f.write(layer.weight.detach().numpy().astype("<f2").tobytes())
            f.write(layer.bias.detach().numpy().astype("<f2").tobytes())


def load(net, path):
    """Weights of a network as wide or less so: what is new is seen by no layer that was there, so that it begins by doing the same."""
    with open(path, "rb") as f:
        old = []
        while head := f.read(12):
            o, i, k = struct.unpack("iii", head)
            old.append((np.frombuffer(f.read(2 * o * i * k * k), "<f2").reshape(o, i, k, k).astype(np.float32), np.frombuffer(f.read(2 * o), "<f2").astype(np.float32)))
    outs = [w.shape[0] for w, _ in old]
    new = [layer.weight.shape[0] for layer in net.all]
    with torch.no_grad():
        for n, (layer, (weight, bias)) in enumerate(zip(net.all, old)):
            # On the way up the inputs are what comes from below, then what lies beside: each part grew at its own end.
            parts = [n - 1] if not 10 <= n < 14 else [n - 1, 2 * (13 - n) + 1]
            at, was = 0, 0
            o = weight.shape[0]
            for part in parts:
                i, wider = (3, 3) if part < 0 else (outs[part], new[part])
                layer.weight[:o, at:at + wider] = 0
                layer.weight[:o, at:at + i] = torch.from_numpy(weight[:, was:was + i].copy())
                at, was = at + wider, was + i
            layer.bias[:o] = torch.from_numpy(bias.copy())


def off(out, target, weight):
    return (F.binary_cross_entropy_with_logits(out, target, reduction="none") * weight).sum() / weight.sum().clamp_min(1)


def main():
    torch.manual_seed(1)
    torch.set_num_threads(1)
    minutes, peak, net = float(sys.argv[2]), float(sys.argv[5]), RowNet()
    with torch.no_grad():
        net.all[14].bias.copy_(torch.tensor([-4.0, -2.5, -6.0]))
        net.all[14].weight[2] = 0
    load(net, sys.argv[3])
    net = net.to(memory_format=torch.channels_last)
    best = torch.optim.AdamW(net.parameters(), lr=peak, weight_decay=1e-4)
    data = iter(torch.utils.data.DataLoader(Drawings(int(sys.argv[4]), sys.argv[6]), batch_size=4, num_workers=1, prefetch_factor=6))
    begin, step, seen = time.time(), 0, []
    while (done := (time.time() - begin) / (60 * minutes)) < 1:
        planes, heat, bare, weight, cover, has_cover = next(data)
        for group in best.param_groups:
            group["lr"] = peak * min(1, (step + 1) / 100) * (0.5 + 0.5 * math.cos(math.pi * done)) + 1e-5
        with torch.autocast("cpu", dtype=torch.bfloat16):
            out = net(planes.to(memory_format=torch.channels_last))
        out = out.float()
        middle, skipped, thread = off(out[:, 0], heat, weight), off(out[:, 2], bare, weight), off(out[:, 1], cover, weight * has_cover)
        floor = off(torch.logit(heat, 1e-6), heat, weight)
        best.zero_grad()
        (4 * middle + 4 * skipped + thread).backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        best.step()
        seen.append(((middle - floor).item(), skipped.item(), thread.item()))
        step += 1
        if step % 200 == 0:
            print(step, f"{(time.time() - begin) / 60:.1f} min, middles %.5f above the least, skipped %.5f, thread %.4f" % tuple(np.mean(seen, 0)), flush=True)
            seen = []
            save(net, sys.argv[1])
    save(net, sys.argv[1])


if __name__ == "__main__":
    main()
