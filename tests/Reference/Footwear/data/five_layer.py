#!/usr/bin/env python3
"""Temperatures of a five-layer stack by SciPy's stiff integrator, for five-layer.json.

Written apart from the program: method of lines on nodes at the faces and inside the layers (vertex-centred), 120 elements a layer,
LSODA's and Radau's answers compared, Debian's python3-scipy.  Run: python3 five_layer.py > five-layer.json
"""
import json

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.sparse import diags

# outside to inside: rubber foxing, cotton canvas, nonwoven, cellulose board, aluminium last; k, rho, c, thickness in m
LAYERS = [(0.18, 1150, 1700, 0.0025), (0.07, 500, 1350, 0.001), (0.045, 200, 1150, 0.0015), (0.1, 550, 1400, 0.002), (200.0, 2700, 900, 0.006)]
FILM, START = 31.0, 23.0
PROGRAM = [(25.0, 105.0), (20.0, 105.0), (5.0, 125.0), (40.0, 125.0), (0.0, 30.0), (20.0, 30.0)]
PER_LAYER = 120

widths, conductivity, capacity = [], [], []
for k, rho, c, thickness in LAYERS:
    for _ in range(PER_LAYER):
        widths.append(thickness / PER_LAYER)
        conductivity.append(k)
        capacity.append(rho * c)
widths, conductivity, capacity = map(np.array, (widths, conductivity, capacity))
nodes = len(widths) + 1
mass = np.zeros(nodes)
mass[:-1] += capacity * widths / 2
mass[1:] += capacity * widths / 2
between = conductivity / widths
diagonal = np.zeros(nodes)
diagonal[:-1] -= between
diagonal[1:] -= between
diagonal[0] -= FILM
matrix = (diags([between / mass[1:], diagonal / mass, between / mass[:-1]], [-1, 0, 1])).tocsc()


def run(method):
    temperature, air, time, rows, peak = np.full(nodes, START), START, 0.0, [], np.full(nodes, START)
    for minutes, to in PROGRAM:
        seconds = minutes * 60
        if seconds > 0:
            slope = (to - air) / seconds

            def rate(t, y, at=air, slope=slope):
                r = matrix @ y
                r[0] += FILM * (at + slope * t) / mass[0]
                return r

            answer = solve_ivp(rate, (0, seconds), temperature, method=method, jac=matrix, rtol=1e-8, atol=1e-8, t_eval=np.linspace(0, seconds, 241))
            temperature = answer.y[:, -1]
            peak = np.maximum(peak, answer.y.max(axis=1))
            time += seconds
            rows.append({"seconds": time, "facesC": [round(float(temperature[i * PER_LAYER]), 5) for i in range(len(LAYERS) + 1)]})
        air = to
    return rows, [round(float(peak[i * PER_LAYER:(i + 1) * PER_LAYER + 1].max()), 4) for i in range(len(LAYERS))]


rows, peaks = run("Radau")
other, _ = run("BDF")
worst = max(abs(a - b) for r, o in zip(rows, other) for a, b in zip(r["facesC"], o["facesC"]))
print(json.dumps({
    "source": f"computed with SciPy {scipy.__version__}, solve_ivp, Radau; BDF agrees within {worst:.1e} K; see five_layer.py",
    "layersOuterToInner": [{"k": k, "rho": rho, "c": c, "thicknessM": d} for k, rho, c, d in LAYERS],
    "film": FILM, "startC": START, "program": [{"minutes": m, "airC": a} for m, a in PROGRAM],
    "peaksC": peaks, "rows": rows}, indent=1))
