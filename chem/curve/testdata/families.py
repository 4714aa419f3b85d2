#!/usr/bin/python3
"""Writes families.jsonl: 200 random families of curves, with what scipy makes
of them: PchipInterpolator between readings, brentq for the speed point, the
contrast index and the time for a target, numpy's polyfit for gamma, curve_fit
for the growth, make_smoothing_spline for smoothing. Every definition is written
out here anew.

    /usr/bin/python3 families.py > families.jsonl      (needs numpy and scipy)
"""
import json
import math
import warnings

import numpy as np
from scipy.interpolate import PchipInterpolator, make_smoothing_spline
from scipy.optimize import brentq, curve_fit

rng = np.random.default_rng(20240301)
warnings.simplefilter("error")


def first(f, y, x, level):
    """Least exposure at which the curve comes to the level from below."""
    if y[0] == level:
        return x[0]
    if y[0] > level:
        return None
    for i in range(len(x) - 1):
        if y[i + 1] >= level:
            if level - float(f(x[i + 1])) > -1e-14:  # rounding at a reading
                return x[i + 1]
            return brentq(lambda h: float(f(h)) - level, x[i], x[i + 1], xtol=1e-14)
    return None


def contrast_index(f, x, y, base):
    """Origin on the base level, curve points at 0.2 and 2.2 in one line with
    it: solved for the origin's angle, the steepest line first."""
    def apart(a):
        near = first(f, y, x, base + 0.2 * math.sin(a))
        far = first(f, y, x, min(base + 2.2 * math.sin(a), max(y)))
        return None if near is None or far is None else far - near - 2.0 * math.cos(a)
    top = math.asin(min(1.0, max(0.0, (max(y) - base) / 2.2)))
    angles = np.linspace(top, 0, 400)[:-1]
    high = apart(top)
    if high is None or high < 0:
        return None
    for a, b in zip(angles, angles[1:]):
        v = apart(b)
        if v is None:
            return None
        if v <= 0:
            a = brentq(apart, b, a, xtol=1e-14)
            # the geometry itself: the distances from the origin
            n = first(f, y, x, base + 0.2 * math.sin(a))
            origin = n - 0.2 * math.cos(a)
            far = first(f, y, x, min(base + 2.2 * math.sin(a), max(y)))
            assert abs(math.hypot(far - origin, float(f(far)) - base) - 2.2) < 1e-9
            return math.tan(a)
    return None


def gamma(x, y):
    best = None
    for i in range(len(x)):
        if x[i] + 0.60 > x[-1] + 0.01:
            break
        inside = [k for k in range(i, len(x)) if x[k] <= x[i] + 0.61]
        if len(inside) >= 3:
            slope = np.polyfit(np.array(x)[inside], np.array(y)[inside], 1)[0]
            best = slope if best is None else max(best, slope)
    return None if best is None else float(best)


def family():
    limit, k = rng.uniform(0.7, 1.4), rng.uniform(0.08, 0.25)
    t0 = rng.uniform(0.3, 1.5) if rng.random() < 0.3 else 0.0
    toe, start, fog = rng.uniform(0.1, 0.3), rng.uniform(-2.6, -1.9), rng.uniform(0.05, 0.3)
    noise = rng.choice([0.0, 0.003, 0.01])
    x = np.round(np.cumsum(rng.choice([0.10, 0.15, 0.20, 0.30], int(rng.integers(12, 28)))) - 3.2, 2)
    curves = []
    for minutes in sorted(rng.choice(np.arange(4, 20), int(rng.integers(3, 6)), replace=False)):
        slope = 1.2 * limit * (1 - math.exp(-k * (minutes - t0))) * rng.normal(1, 0.02)
        y = slope * toe * np.log1p(np.exp((x - start) / toe))
        y = fog + 3.6 * (1 - np.exp(-y / 3.6)) + rng.normal(0, noise, len(x))
        y = [round(float(v), 3) for v in y]
        base = round(fog, 3) if rng.random() < 0.5 else None
        curves.append({"time_s": int(minutes) * 60, "base": base, "density": y})
    return {"log_h": [float(v) for v in x], "curves": curves, "induction": bool(t0 > 0)}


def results(c, x):
    y = c["density"]
    f = PchipInterpolator(x, y)
    base = min(y) if c["base"] is None else c["base"]
    m = first(f, y, x, base + 0.10)
    rise = None
    if m is not None and m + 1.30 <= x[-1]:
        rise = float(f(m + 1.30)) - (base + 0.10)
    s = make_smoothing_spline(np.array(x), np.array(y), lam=0.001)
    return {"speed_point": m, "rise": rise, "contrast_index": contrast_index(f, x, y, base),
            "gamma": gamma(x, y), "smooth": [round(float(v), 10) for v in s(np.array(x))]}


def growth(fam):
    pairs = [(c["time_s"] / 60, c["results"]["rise"] / 1.3) for c in fam["curves"] if c["results"]["rise"] is not None]
    if len(pairs) < (4 if fam["induction"] else 3):
        return None
    t, g = np.array(pairs).T
    if fam["induction"]:
        model, guess = (lambda t, a, k, t0: a * (1 - np.exp(-k * (t - t0)))), [1.0, 0.12, 0.5]
    else:
        model, guess = (lambda t, a, k: a * (1 - np.exp(-k * t))), [1.0, 0.12]
    try:
        p, _ = curve_fit(model, t, g, guess, ftol=1e-15, xtol=1e-15, gtol=1e-15, maxfev=20000)
    except (RuntimeError, Warning):
        return None
    # fits at the edge of what can be fitted are not compared
    if not (0.05 < p[1] < 1.5) or p[0] > 5 or (fam["induction"] and not 0.05 < p[2] < 0.9 * min(t)):
        return None
    wanted = float(model((max(t) + min(t)) / 2, *p))
    time = brentq(lambda u: model(u, *p) - wanted, min(t) * 0.5, max(t) * 2, xtol=1e-13)
    return {"limit": p[0], "k": p[1], "t0": p[2] if len(p) > 2 else 0.0,
            "rss": float(np.sum((g - model(t, *p)) ** 2)), "wanted": wanted, "time_s": time * 60}


for _ in range(200):
    fam = family()
    for c in fam["curves"]:
        c["results"] = results(c, fam["log_h"])
    fam["growth"] = growth(fam)
    print(json.dumps(fam, separators=(",", ":")))
