"""Teaches the row network on rows drawn at random (rows.py).

usage: train.py OUT.bin MINUTES [START.pt [SEED]]. Needs Debian's python3-torch and python3-scipy.
"""
import math
import struct
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

from rows import drawn

WIDTHS = (10, 20, 28, 32, 32)
LONG = 384
POOL = 300
PEAK = 3e-3


class RowNet(torch.nn.Module):
    """Five levels, each half the size of the one before; UNet.cs runs the same. Log odds that a stitch's middle lies at a cell, and that thread does."""

    def __init__(self):
        super().__init__()
        conv = lambda i, o: torch.nn.Conv2d(i, o, 3, padding=1)
        a, b, c, d, e = WIDTHS
        pairs = [(3, a), (a, a), (a, b), (b, b), (b, c), (c, c), (c, d), (d, d), (d, e), (e, e), (e + d, d), (d + c, c), (c + b, b), (b + a, 12)]
        self.all = torch.nn.ModuleList([conv(i, o) for i, o in pairs] + [torch.nn.Conv2d(12, 2, 1)])

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


class Drawings(torch.utils.data.IterableDataset):
    def __init__(self, seed):
        self.seed = seed

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = np.random.default_rng((self.seed, info.id if info else 0))
        pool = []
        while True:
            # Drawing is slower than teaching: each drawing is shown a few times, cut and turned anew.
            if len(pool) < POOL or rng.random() < 0.25:
                pool = pool[-POOL + 1:] + [drawn(int(rng.integers(1 << 40)))]
            drawing = pool[int(rng.integers(0, len(pool)))]
            for axis in (-2, -1):
                if rng.random() < 0.5:
                    drawing = [np.flip(v, axis) for v in drawing]
            n = drawing[1].shape[0]
            k = int(rng.integers(0, max(0, n - LONG) + 1))
            drawing = [v[..., k:k + LONG, :] for v in drawing]
            if n < LONG:
                drawing = [np.pad(v, [(0, 0)] * (v.ndim - 2) + [(0, LONG - n), (0, 0)]) for v in drawing]
            yield tuple(torch.from_numpy(np.ascontiguousarray(v)) for v in drawing)


def save(net, path):
    with open(path, "wb") as f:
        for layer in net.all:
            o, i, k, _ = layer.weight.shape
            f.write(struct.pack("iii", o, i, k))
            f.write(layer.weight.detach().numpy().astype("<f2").tobytes())
            f.write(layer.bias.detach().numpy().astype("<f2").tobytes())
    torch.save(net.state_dict(), path + ".pt")


def main():
    torch.manual_seed(1)
    torch.set_num_threads(1)
    minutes, net = float(sys.argv[2]), RowNet()
    with torch.no_grad():
        net.all[14].bias.copy_(torch.tensor([-4.0, -2.5]))
    if len(sys.argv) > 3:
        net.load_state_dict(torch.load(sys.argv[3]))
    best = torch.optim.AdamW(net.parameters(), lr=PEAK, weight_decay=1e-4)
    data = iter(torch.utils.data.DataLoader(Drawings(int(sys.argv[4]) if len(sys.argv) > 4 else 1), batch_size=4, num_workers=1, prefetch_factor=6))
    begin, step, seen = time.time(), 0, []
    while (done := (time.time() - begin) / (60 * minutes)) < 1:
        planes, heat, cover, weight = next(data)
        for group in best.param_groups:
            group["lr"] = PEAK * min(1, (step + 1) / 100) * (0.5 + 0.5 * math.cos(math.pi * done)) + 1e-5
        out = net(planes)
        middle = (F.binary_cross_entropy_with_logits(out[:, 0], heat, reduction="none") * weight).sum() / weight.sum()
        thread = (F.binary_cross_entropy_with_logits(out[:, 1], cover, reduction="none") * weight).sum() / weight.sum()
        floor = -(heat.clamp(1e-6, 1 - 1e-6) * heat.clamp(1e-6, 1).log() + (1 - heat) * (1 - heat).clamp(1e-6, 1).log()).sum() / weight.sum()
        best.zero_grad()
        (4 * middle + thread).backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        best.step()
        seen.append(((middle - floor).item(), thread.item()))
        step += 1
        if step % 200 == 0:
            print(step, f"{(time.time() - begin) / 60:.1f} min, middles %.5f above the least, thread %.4f" % tuple(np.mean(seen, 0)), flush=True)
            seen = []
            save(net, sys.argv[1])
    save(net, sys.argv[1])


if __name__ == "__main__":
    main()
