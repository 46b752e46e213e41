"""The peer of the benchmarks: numpy reads the same tables and does the balanced mixed analysis of variance in closed form.

Usage: python3 numpy_closed_form.py TARGET_FOLDER   (after `cargo bench`, which writes the tables and its own figures there)
The work is numpy.loadtxt, cell means, sums of squares, F and per-assessor differences to the first sample for every
attribute; the native side does more (p-values, intervals, verdicts, notices). Prints medians and ratios.
"""

import json
import statistics
import sys
import time
from pathlib import Path

import numpy as np

SIZES = {"12k": (10, 10, 3), "120k": (20, 20, 3), "1200k": (30, 40, 4)}


def read(path):
    return np.loadtxt(path, delimiter=",", skiprows=1)


def analyse(table, assessors, samples, replicates):
    scores = table[:, 3:].reshape(assessors, samples, replicates, -1)
    cells = scores.mean(axis=2)
    grand = cells.mean(axis=(0, 1))
    by_assessor, by_sample = cells.mean(axis=1), cells.mean(axis=0)
    ss_sample = assessors * replicates * ((by_sample - grand) ** 2).sum(axis=0)
    interaction = cells - by_assessor[:, None] - by_sample[None] + grand
    ss_interaction = replicates * (interaction**2).sum(axis=(0, 1))
    ss_error = ((scores - cells[:, :, None]) ** 2).sum(axis=(0, 1, 2))
    df = (assessors - 1) * (samples - 1)
    f = (ss_sample / (samples - 1)) / (ss_interaction / df)
    differences = cells[:, 1:] - cells[:, :1]
    errors = differences.std(axis=0, ddof=1) / np.sqrt(assessors)
    return f, ss_error, differences.mean(axis=0), errors


def median_seconds(work, rounds=5):
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def native_seconds(target, size, part):
    path = target / "criterion" / size / part / "new" / "estimates.json"
    return json.loads(path.read_text())["median"]["point_estimate"] / 1e9


def main():
    target = Path(sys.argv[1])
    print(f"numpy {np.__version__}; seconds, median; ratio = numpy / native")
    for size, (assessors, samples, replicates) in SIZES.items():
        path = target / "bench" / f"{size}.csv"
        table = read(path)
        peer = {
            "read": median_seconds(lambda: read(path)),
            "analyse": median_seconds(lambda: analyse(table, assessors, samples, replicates)),
        }
        native = {part: native_seconds(target, size, part) for part in peer}
        peer["both"], native["both"] = sum(peer.values()), sum(native.values())
        for part in peer:
            ratio = peer[part] / native[part]
            print(f"{size:>6} {part:>8}: numpy {peer[part]:.4f}  native {native[part]:.4f}  ratio {ratio:.2f}")


main()
