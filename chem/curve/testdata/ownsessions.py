#!/usr/bin/python3
"""Writes ownsessions.json: films tested in several sessions, and the scatter between the
sessions by brute force: limit, k, time of induction, scatter of sheets and of sessions drawn from
what is believed beforehand, each draw weighed by the density of the gradients that were measured
(numpy). One scatter between sessions for all films: its drawn values are kept in bins of
the logarithm, the weight of a bin is the mean of its draws, and films multiply.

    /usr/bin/python3 ownsessions.py > ownsessions.json      (needs numpy)
"""
import json

import numpy as np

rng = np.random.default_rng(20261130)
N = 600_000
EDGES = np.linspace(-3.5, 3.5, 36)
MIDDLES = (EDGES[1:] + EDGES[:-1]) / 2
SIZES = 0.05 * np.exp(0.5 * MIDDLES)


def explains(sheets, reading):
    """The mean likelihood of each bin of the scatter between sessions."""
    session, t, g = (np.array(x, float) for x in zip(*sheets))
    middle = np.exp(np.log(t).mean())
    fitted = np.polyval(np.polyfit(np.log(t), g, 1), np.log(t)) if len(set(t)) > 1 else np.full(len(t), np.exp(np.log(g).mean()))
    same = (session[:, None] == session[None]).astype(float) * np.outer(fitted, fitted)
    k = 0.8 / middle * np.exp(0.7 * rng.normal(size=N))
    longest = min(0.95 * t.min(), 3.0)
    t0 = np.where(rng.random(N) < 0.5, 0.0, rng.uniform(0, longest, N))
    own = 0.04 * np.exp(0.5 * np.clip(rng.normal(size=N), -2.25, 2.25))
    level = rng.uniform(0.5 * g.mean(), 1.5 * g.mean(), N)
    grown = 1 - np.exp(-k[:, None] * (t[None] - t0[:, None]))
    off = g - (level / (1 - np.exp(-k * (middle - t0))))[:, None] * grown
    logs = np.empty(N)
    bins = rng.integers(0, len(SIZES), N)
    steps = np.round(np.log(own) * 20) / 20  # scatter of sheets in steps of 5 %
    for b, size in enumerate(SIZES):
        for step in np.unique(steps):
            at = (bins == b) & (steps == step)
            if at.any():
                cov = np.diag((np.exp(step) * fitted) ** 2 + reading ** 2) + size ** 2 * same
                root = np.linalg.cholesky(cov)
                z = np.linalg.solve(root, off[at].T)
                logs[at] = -0.5 * (z * z).sum(0) - np.log(np.diag(root)).sum()
    most = logs.max()
    return np.log([np.exp(logs[bins == b] - most).mean() for b in range(len(SIZES))])


def answer(films, reading):
    logs = -MIDDLES ** 2 / 2 + sum(explains(f, reading) for f in films)
    w = np.exp(logs - logs.max())
    w /= w.sum()
    cut = lambda p: float(np.exp(np.interp(p, np.cumsum(w) - w / 2, np.log(SIZES))))
    return {"films": films, "reading": reading, "mean": float((w * SIZES).sum()), "low": cut(0.05), "high": cut(0.95)}


def made(sessions, times, size, sheets=0.04, limit=1.1, k=0.11):
    out = []
    for s in range(sessions):
        here = 1 + size * rng.normal()
        for t in times:
            out.append([s, t, round(limit * (1 - np.exp(-k * t)) * here * (1 + sheets * rng.normal()), 4)])
    return out


cases = [answer([made(4, [5, 8, 12], 0.12)], 0.012), answer([made(7, [6, 9], 0.01)], 0.012),
         answer([made(3, [5, 8, 12], 0.06), made(2, [7, 10], 0.06), made(6, [8], 0.06)], 0.012)]
print(json.dumps(cases))
