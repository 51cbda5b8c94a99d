"""What PyTorch makes of a small network of the U shape. Writes torch-unet.bin (weights) and torch-unet.json (input and output) beside itself.

Run with Debian's python3-torch; the values in the file are of version 1.13.1.
"""
import json
import os
import struct

import torch
import torch.nn.functional as F

torch.manual_seed(20261126)
SLOPE = 0.1
LEVELS = (3, 4, 5)
INPUTS, OUTPUTS, HEIGHT, WIDTH = 4, 2, 16, 32

conv = lambda i, o: torch.nn.Conv2d(i, o, 3, padding=1)
down = [layer for i, o in zip((INPUTS, *LEVELS), LEVELS) for layer in (conv(i, o), conv(o, o))]
rise = [conv(LEVELS[2] + LEVELS[1], LEVELS[1]), conv(LEVELS[1] + LEVELS[0], LEVELS[0])]
head = torch.nn.Conv2d(LEVELS[0], OUTPUTS, 1)
layers = [*down, *rise, head]
for layer in layers:
    for values in (layer.weight, layer.bias):
        # As the file holds them.
        values.data = (1.5 * values.data).half().float()

picture = torch.randint(-99, 100, (1, INPUTS, HEIGHT, WIDTH)) / 64
bent = lambda v: F.leaky_relu(v, SLOPE)
kept, x = [], picture
for n in range(0, len(down), 2):
    x = bent(down[n + 1](bent(down[n](F.avg_pool2d(x, 2) if n else x))))
    kept.append(x)
kept.pop()
for layer in rise:
    x = bent(layer(torch.cat([F.interpolate(x, scale_factor=2, mode="nearest"), kept.pop()], 1)))
answer = head(x)

here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "torch-unet.bin"), "wb") as f:
    for layer in layers:
        o, i, k, _ = layer.weight.shape
        f.write(struct.pack("<iii", o, i, k))
        for values in (layer.weight, layer.bias):
            f.write(values.detach().numpy().astype("<f2").tobytes())
with open(os.path.join(here, "torch-unet.json"), "w") as f:
    plane = lambda values: [[round(v, 6) for v in row] for row in values.detach().flatten(1).tolist()]
    json.dump({"version": torch.__version__, "slope": SLOPE, "levels": len(LEVELS), "width": WIDTH, "height": HEIGHT, "inputs": plane(picture[0]), "outputs": plane(answer[0])}, f)
