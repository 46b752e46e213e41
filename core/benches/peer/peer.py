"""The peer of the benchmarks: the same work by numpy, scipy and pandas. `cargo xtask bench` starts it and takes the times.

    peer.py tables FOLDER               writes the invented tables that both sides read
    peer.py text FILE                   reads a long table by pandas: means, F, differences to the first sample, verdicts by t
    peer.py json FILE                   reads a balanced wide table; all pairs by Tukey, Holm, Benjamini and Hochberg, sign
                                        flips of whole assessors, distances with assessors drawn again; prints JSON
    peer.py inside FILE A S R           reads a wide table by numpy and fits the closed form; prints two medians in seconds

The native side does more in each of them: notices, checks, Dunnett's law, verdicts without each assessor, the map.
"""

import json
import statistics
import sys
import time
from pathlib import Path

import numpy as np

DRAWS, PATTERNS = 2000, 10_000


def invented(assessors, samples, attributes, replicates, seed):
    chance = np.random.default_rng(seed)
    level = chance.normal(0, 6, (assessors, 1, 1, attributes))
    effect = chance.normal(0, 10, (1, samples, 1, attributes))
    own = chance.normal(0, 5, (assessors, samples, 1, attributes))
    error = chance.normal(0, 9, (assessors, samples, replicates, attributes))
    return np.clip(50 + level + effect + own + error, 0, 100).round().astype(int)


def rows(scores):
    for assessor, sample, replicate in np.ndindex(scores.shape[:3]):
        yield f"A{assessor},S{sample},{replicate + 1}", scores[assessor, sample, replicate]


def write_wide(path, scores, leave_out=0):
    head = "assessor,sample,replicate," + ",".join(f"k{at}" for at in range(scores.shape[3]))
    lines = [f"{names},{','.join(map(str, row))}" for names, row in rows(scores)]
    kept = [line for at, line in enumerate(lines) if not leave_out or at % leave_out != 7]
    path.write_text("\n".join([head, *kept]) + "\n")


def write_long(path, scores):
    lines = (f"{names},k{at},{score}" for names, row in rows(scores) for at, score in enumerate(row))
    path.write_text("assessor,sample,replicate,attribute,score\n" + "\n".join(lines) + "\n")


def tables(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    write_wide(folder / "unbalanced.csv", invented(8, 12, 15, 2, 1), leave_out=23)
    write_wide(folder / "12x5x100x2.csv", invented(12, 5, 100, 2, 2))
    large = invented(30, 20, 500, 4, 3)
    write_wide(folder / "30x20x500x4.csv", large)
    write_long(folder / "30x20x500x4_long.csv", large)
    write_wide(folder / "18x5x34x2.csv", invented(18, 5, 34, 2, 4))
    write_wide(folder / "20x10x100x2.csv", invented(20, 10, 100, 2, 5))


def closed_form(scores):
    """Balanced two-way mixed model: F, error, cell means; scores are [assessor, sample, replicate, attribute]."""
    assessors, samples, replicates, _ = scores.shape
    cells = scores.mean(axis=2)
    grand = cells.mean(axis=(0, 1))
    by_assessor, by_sample = cells.mean(axis=1), cells.mean(axis=0)
    ss_sample = assessors * replicates * ((by_sample - grand) ** 2).sum(axis=0)
    interaction = cells - by_assessor[:, None] - by_sample[None] + grand
    ss_interaction = replicates * (interaction**2).sum(axis=(0, 1))
    ss_error = ((scores - cells[:, :, None]) ** 2).sum(axis=(0, 1, 2))
    df = (assessors - 1) * (samples - 1)
    return {
        "cells": cells,
        "df": df,
        "ms": ss_interaction / df,
        "error": ss_error,
        "f": (ss_sample / (samples - 1)) / (ss_interaction / df),
    }


def differences(cells):
    own = cells[:, 1:] - cells[:, :1]
    return own, own.mean(axis=0), own.std(axis=0, ddof=1) / np.sqrt(len(own))


def pairs(fit, replicates):
    from scipy import stats

    cells, df = fit["cells"], fit["df"]
    means, groups = cells.mean(axis=0), cells.shape[1]
    one, other = np.triu_indices(groups, 1)
    difference = means[other] - means[one]
    t = difference / np.sqrt(2 * fit["ms"] / (len(cells) * replicates))
    plain = 2 * stats.t.sf(np.abs(t), df)
    tukey = stats.studentized_range.sf(np.sqrt(2) * np.abs(t), groups, df)
    order = np.sort(plain, axis=0)
    holm = np.maximum.accumulate(np.minimum(order * np.arange(len(one), 0, -1)[:, None], 1), axis=0)
    share = stats.false_discovery_control(plain, axis=0)
    critical = float(stats.studentized_range.ppf(0.95, groups, df))
    return {"p": plain, "tukey": tukey, "holm": holm, "bh": share, "difference": difference, "critical": critical}


def flips(own):
    """Step-down largest difference over attributes, signs of whole assessors flipped, one candidate after the other."""
    chance, n = np.random.default_rng(1), len(own)
    exact = n <= 18
    signs = np.arange(2 ** (n - 1))[:, None] >> np.arange(n) & 1 if exact else chance.integers(0, 2, (PATTERNS, n))
    signs = 1.0 - 2.0 * signs
    found = []
    for candidate in np.moveaxis(own, 1, 0):
        scaled = candidate / np.sqrt((candidate**2).mean(axis=0) + np.median((candidate**2).mean(axis=0)))
        seen = np.abs(scaled.sum(axis=0))
        order = np.argsort(seen)
        reached = np.zeros(len(seen))
        for part in np.array_split(signs, max(1, len(signs) * len(seen) // 2**22)):
            largest = np.maximum.accumulate(np.abs(part @ scaled)[:, order], axis=1)
            reached[order] += (largest >= seen[order] * (1 - 1e-9)).sum(axis=0)
        found.append(reached / len(signs))
    return np.array(found)


def distances(own):
    chance, n = np.random.default_rng(2), len(own)
    drawn = [((own[chance.integers(0, n, n)].mean(axis=0)) ** 2).sum(axis=1) for _ in range(DRAWS)]
    return np.quantile(np.sqrt(drawn), [0.025, 0.975], axis=0)


def analyse_as_json(path):
    names = np.loadtxt(path, delimiter=",", skiprows=1, usecols=(0, 1, 2), dtype=str)
    shape = [len(np.unique(column)) for column in names.T]
    attributes = Path(path).open().readline().count(",") - 2
    scores = np.loadtxt(path, delimiter=",", skiprows=1, usecols=range(3, 3 + attributes)).reshape(*shape, -1)
    fit = closed_form(scores)
    own, mean, error = differences(fit["cells"])
    found = {"f": fit["f"], "mean": mean, "error": error, **pairs(fit, shape[2])}
    found |= {"off": flips(own), "distance": distances(own)}
    as_list = lambda value: value.tolist() if isinstance(value, np.ndarray) else value
    print(json.dumps({name: as_list(value) for name, value in found.items()}, indent=2))


def analyse_as_text(path):
    import pandas as pd
    from scipy import stats

    table = pd.read_csv(path)
    names = [table[name].astype("category") for name in ("assessor", "sample", "replicate", "attribute")]
    shape = [len(name.cat.categories) for name in names]
    place = np.ravel_multi_index([name.cat.codes for name in names], shape)
    scores = np.empty(np.prod(shape))
    scores[place] = table["score"]
    fit = closed_form(scores.reshape(shape))
    own, mean, error = differences(fit["cells"])
    bound = np.abs(mean) + stats.t.ppf(0.95, len(own) - 1) * error
    off = flips(own) < 0.05
    for candidate in range(mean.shape[0]):
        print(candidate + 1, int((bound[candidate] < 10).sum()), int(off[candidate].sum()))


def median_seconds(work, rounds=5):
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def inside(path, assessors, samples, replicates):
    read = lambda: np.loadtxt(path, delimiter=",", skiprows=1)
    table = read()

    def analyse():
        fit = closed_form(table[:, 3:].reshape(assessors, samples, replicates, -1))
        return differences(fit["cells"])

    print(median_seconds(read), median_seconds(analyse))


match sys.argv[1:]:
    case ["tables", folder]:
        tables(folder)
    case ["text", file]:
        analyse_as_text(file)
    case ["json", file]:
        analyse_as_json(file)
    case ["inside", file, *sizes]:
        inside(file, *map(int, sizes))
    case _:
        sys.exit(__doc__)
