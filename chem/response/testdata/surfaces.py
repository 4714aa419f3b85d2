"""Families of curves with toes, shoulders and growth of many kinds, and what scipy's surface makes of them.

    /usr/bin/python3 surfaces.py > surfaces.jsonl

The surface is scipy.interpolate.RectBivariateSpline through the densities over base plus fog, cubic in log exposure and in
log time, and brentq solves on it: an account that shares nothing with the package's fit. Readings are given to 0.0001.
true_s and true_shadow are of the family's own law, without any surface.
"""
import json
import numpy as np
from scipy.interpolate import RectBivariateSpline
from scipy.optimize import brentq
from scipy.special import erf

rng = np.random.default_rng(20261130)
TIMES = np.array([4, 5.5, 7.5, 10.5, 14])
LOG_H = np.round(np.arange(21) * 0.15 - 2.75, 2)


def toe():
    kind = rng.integers(4)
    w = rng.uniform(0.15, 0.35)
    if kind == 0:
        return lambda x: w * np.logaddexp(0, x / w)
    if kind == 1:  # the integral of a normal distribution's
        return lambda x: x * (1 + erf(x / w / np.sqrt(2))) / 2 + w * np.exp(-((x / w) ** 2) / 2) / np.sqrt(2 * np.pi)
    if kind == 2:  # a hyperbola
        return lambda x: (x + np.sqrt(x * x + w * w / 2)) / 2
    width = 4 * w  # a parabola and its tangent
    return lambda x: np.where(x < width / 2, np.maximum(0, x + width / 2) ** 2 / (2 * width), x)


def shoulder():
    top, kind = rng.uniform(2, 4), rng.integers(3)
    if kind == 0:
        return lambda d: top * -np.expm1(-d / top)
    if kind == 1:
        return lambda d: top * np.tanh(d / top)
    return lambda d: d


def growth():
    kind = rng.integers(3)
    if kind == 0:
        limit, k = rng.uniform(0.8, 1.3), rng.uniform(0.08, 0.2)
        return lambda t: limit * -np.expm1(-k * t)
    if kind == 1:
        limit, k = rng.uniform(1.2, 1.8), rng.uniform(0.07, 0.13)
        return lambda t: limit * k * t / (1 + k * t)
    k, start = rng.uniform(0.3, 0.6), rng.uniform(1, 2)
    scale = rng.uniform(0.5, 0.7) / (1 - (8 / start) ** -k)
    return lambda t: scale * (1 - (t / start) ** -k)


def family():
    f, s, g = toe(), shoulder(), growth()
    fog, speed, at = rng.uniform(0.08, 0.2), rng.uniform(0, 0.1), rng.uniform(-2.1, -1.8)

    def over(h, t):
        return g(t) * s(f(h - at + speed * np.log(t / 8)))

    base = np.array([fog * (1 + 0.01 * t) for t in TIMES])
    read = np.array([np.round(over(LOG_H, t) + b, 4) for t, b in zip(TIMES, base)])
    base = np.round(base, 4)
    surface = RectBivariateSpline(LOG_H, np.log(TIMES), (read - base[:, None]).T, kx=3, ky=3, s=0)

    def density(h, t):
        return float(surface(h, np.log(t))[0, 0])

    def shadow(t):
        grid = np.linspace(LOG_H[0], LOG_H[-1], 400)
        first = int(np.argmax(surface(grid, np.log(t))[:, 0] > 0.1))
        return brentq(lambda h: density(h, t) - 0.1, grid[first - 1], grid[first])

    def rise(t, length):
        h = shadow(t)
        return density(h + length, t) - 0.1

    middle = rng.uniform(6, 11)
    on_film = rng.uniform(1.4, 1.8)
    gradient, paper = round(rise(middle, 1.3) / 1.3, 4), round(rise(middle, on_film), 4)
    out = {"log_h": LOG_H[0], "step": 0.15, "times_s": [60 * float(t) for t in TIMES], "base": base.tolist(), "density": read.tolist()}
    for name, length, wanted in (("average", 1.3, gradient * 1.3), ("print", on_film, paper)):
        t = brentq(lambda t: rise(t, length) - wanted, TIMES[0], TIMES[-1])

        def true_shadow(t):
            return brentq(lambda h: over(h, t) - 0.1, -6, 2)

        true = brentq(lambda t: over(true_shadow(t) + length, t) - 0.1 - wanted, 3.2, 40)
        out[name] = {"wanted": gradient if name == "average" else paper, "on_film": round(float(length), 6), "time_s": round(60 * t, 3), "shadow": round(shadow(t), 5), "true_s": round(60 * float(true), 3), "true_shadow": round(float(true_shadow(true)), 5)}
    return out


made = 0
while made < 500:
    try:
        one = family()
    except ValueError:  # an aim that the times do not reach, or readings that begin over the speed point
        continue
    print(json.dumps(one, separators=(",", ":")))
    made += 1
