"""Fits the weights of a judged place (JudgedPlace.cs) by logistic regression.

usage: fit_places.py PLACES.csv, which `Pairbench.Benchmarks.Seams places FROM TO` writes. Needs Debian's python3-numpy.
"""
import csv
import sys

import numpy as np


def main():
    with open(sys.argv[1]) as f:
        rows = [r for r in csv.DictReader(f) if r["truth"] in ("0", "1") and r["is_end"] == "0"]
    column = lambda name: np.array([float(r[name]) for r in rows])
    truth, seen, alike, was = column("truth"), column("seen"), column("alike"), column("is_mark")
    inputs = np.column_stack([seen, alike, np.ones(len(truth))])
    weights = np.zeros(3)
    for _ in range(50):
        odds = 1 / (1 + np.exp(-inputs @ weights))
        weights += np.linalg.solve((inputs * (odds * (1 - odds))[:, None]).T @ inputs + 0.1 * np.eye(3), inputs.T @ (truth - odds) - 0.1 * weights)
    print(len(truth), "places,", int((truth == 0).sum()), "skipped; weights of what is seen, of likeness, and before: %.2f %.2f %.2f" % tuple(weights))
    for name, told in (("as found", was == 0), ("as fitted", inputs @ weights < 0), ("as told", 0.9 * seen + alike <= np.where(was == 1, -1, 1))):
        print(name, "stitches told as skipped:", int((told & (truth == 1)).sum()), "skipped told as stitches:", int((~told & (truth == 0)).sum()))


if __name__ == "__main__":
    main()
