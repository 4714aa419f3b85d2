#!/usr/bin/python3
"""Writes belief.json: film tests, and the intervals of the time for a gradient by brute force:
limit, k, time of induction and scatter drawn from what is believed of films before a
test, each draw weighed by the density of the gradients that were measured (scipy's
multivariate normal distribution). No grid, no closed form, no least squares.

    /usr/bin/python3 belief.py > belief.json      (needs numpy and scipy)
"""
import json

import numpy as np
from scipy.stats import multivariate_normal

rng = np.random.default_rng(20260)
N = 400_000


def quantile(x, w, p):
    o = np.argsort(x)
    c = np.cumsum(w[o])
    return float(x[o][np.searchsorted(c, p * c[-1])])


cases = []
for minutes, gradients, reading, scatter, session, wanted in [
    ([6.75, 9.5], [0.50, 0.61], 0.012, 0.04, 0.0, 0.56),
    ([5, 7, 10, 14], [0.44, 0.55, 0.66, 0.77], 0.015, 0.04, 0.05, 0.60),
    ([5, 7, 10, 14], [0.30, 0.50, 0.66, 0.80], 0.010, 0.02, 0.05, 0.60),
    ([4, 5.5, 7.5, 10.5, 15, 21], [0.40, 0.52, 0.60, 0.74, 0.86, 0.90], 0.010, 0.04, 0.0, 0.65),
    ([4, 5.5, 7.5, 10.5, 15, 21], [0.40, 0.55, 0.58, 0.77, 0.83, 0.95], 0.010, 0.0, 0.05, 0.65),
]:
    t, g = np.array(minutes, float), np.array(gradients)
    middle = np.exp(np.log(t).mean())
    k = 0.8 / middle * np.exp(0.7 * rng.normal(size=N))
    longest = min(0.95 * t.min(), 3.0)
    t0 = np.where(rng.random(N) < 0.5, 0.0, rng.uniform(0, longest, N))
    usual = np.clip(rng.normal(size=N), -2.25, 2.25)
    s = np.full(N, scatter) if scatter else 0.04 * np.exp(0.5 * usual)
    centre = np.interp(np.log(middle), np.log(t), g)  # where the measured gradients are: flat round it
    level = rng.uniform(0.6 * centre, 1.4 * centre, N)
    v = 1 - np.exp(-k[:, None] * (t[None] - t0[:, None]))
    limit = level / (1 - np.exp(-k * (middle - t0)))
    # errors in proportion to the gradients of a smooth curve through the sheets
    fitted = np.polyval(np.polyfit(np.log(t), g, 1), np.log(t))
    logs = np.empty(N)
    for size in np.unique(np.round(s, 4)):
        at = np.round(s, 4) == size
        cov = np.diag((size * fitted) ** 2 + reading ** 2) + session ** 2 * np.outer(fitted, fitted)
        logs[at] = multivariate_normal(np.zeros(len(t)), cov).logpdf(g - limit[at, None] * v[at])
    w = np.exp(logs - logs.max())

    def times(of_limit):
        share = 1 - wanted / of_limit
        return np.where(share > 0, t0 - np.log(np.maximum(share, 1e-300)) / k, 1e9)

    own, later = times(limit), times(limit * (1 + session * rng.normal(size=N)))
    cases.append({"minutes": minutes, "gradients": gradients, "reading": reading, "scatter": scatter, "session": session,
                  "fitted": [float(x) for x in fitted], "wanted": wanted,
                  "own": [60 * quantile(own, w, 0.05), 60 * quantile(own, w, 0.95)],
                  "next": [60 * quantile(later, w, 0.05), 60 * quantile(later, w, 0.95)],
                  "k": [quantile(k, w, 0.05), quantile(k, w, 0.95)], "drawn": float(w.sum() ** 2 / (w * w).sum())})
print(json.dumps(cases, indent=1))
