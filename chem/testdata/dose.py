#!/usr/bin/python3
"""Writes dose.jsonl: 1,000 random baths with the dose between two times, by
adaptive quadrature of scipy on the temperature and the rate written out here
anew. One case a line: times in seconds, temperatures in degrees Celsius.

    /usr/bin/python3 dose.py > dose.jsonl      (needs numpy and scipy)
"""
import json
import math
import random

import numpy as np
from scipy.integrate import quad

random.seed(20240229)


def temperature(case, t):
    at = [p["at_s"] for p in case["readings"]]
    value = [p["t_c"] for p in case["readings"]]
    drift = case["drift"]
    if drift and t > at[-1]:
        return drift["settle_c"] + (value[-1] - drift["settle_c"]) * math.exp((at[-1] - t) / drift["tau_s"])
    return float(np.interp(t, at, value))


def log_time(table, t):
    """ln(time) linear between entries, the end lines going on."""
    x = [p["t_c"] for p in table]
    y = [math.log(p["time_s"]) for p in table]
    if t < x[0]:
        return y[0] + (y[1] - y[0]) / (x[1] - x[0]) * (t - x[0])
    if t > x[-1]:
        return y[-1] + (y[-2] - y[-1]) / (x[-2] - x[-1]) * (t - x[-1])
    return float(np.interp(t, x, y))


def rate(case, t):
    if case["table"]:
        return math.exp(log_time(case["table"], case["reference_c"]) - log_time(case["table"], t))
    return case["coefficient"] ** ((t - case["reference_c"]) / 10)


def breaks(case):
    """Times at which the integrand has a corner: readings, and crossings of
    table entries found by a scan and bisection."""
    found = [p["at_s"] for p in case["readings"] if case["from_s"] < p["at_s"] < case["to_s"]]
    grid = np.linspace(case["from_s"], case["to_s"], 2001)
    for entry in case["table"] or []:
        f = lambda t: temperature(case, t) - entry["t_c"]
        for a, b in zip(grid[:-1], grid[1:]):
            if f(a) * f(b) < 0:
                for _ in range(60):
                    m = (a + b) / 2
                    a, b = (m, b) if f(a) * f(m) > 0 else (a, m)
                found.append((a + b) / 2)
    return sorted(set(found))


def make():
    case = {"reference_c": random.choice([18, 20, 21, 24]), "coefficient": None, "table": None, "drift": None}
    if random.random() < 0.5:
        case["coefficient"] = round(random.uniform(1.2, 4), 3)
    else:
        t, time, table = 9.5, 2400.0, []
        while t < 33.5:
            table.append({"t_c": round(t, 2), "time_s": round(time, 1)})
            step = random.uniform(1, 6)
            t, time = t + step, time * math.exp(-step * random.uniform(0.02, 0.13))
        table.append({"t_c": max(34.0, round(t, 2)), "time_s": round(time, 1)})
        case["table"] = table
    at = random.uniform(-1200, 300)
    readings = []
    for _ in range(random.randint(1, 6)):
        readings.append({"at_s": round(at, 3), "t_c": round(random.uniform(9.1, 34.5), 2)})
        at += random.uniform(5, 600)
    case["readings"] = readings
    if random.random() < 0.7:
        case["drift"] = {"settle_c": round(random.uniform(9.1, 34.5), 2), "tau_s": round(random.uniform(60, 7200), 3)}
    case["from_s"] = round(random.uniform(-60, 600), 3)
    case["to_s"] = round(case["from_s"] + random.uniform(20, 5000), 3)
    corners = [case["from_s"]] + breaks(case) + [case["to_s"]]
    dose = sum(
        quad(lambda t: rate(case, temperature(case, t)), a, b, epsabs=1e-9, epsrel=1e-12, limit=200)[0]
        for a, b in zip(corners[:-1], corners[1:])
    )
    case["dose_s"] = dose
    return case


for _ in range(1000):
    print(json.dumps(make()))
