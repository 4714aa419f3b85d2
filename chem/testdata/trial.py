#!/usr/bin/python3
# Makes trial.json: drifts fitted by scipy's curve_fit (Levenberg-Marquardt, an
# independent method) to the same noisy readings. Run: /usr/bin/python3 trial.py
import json
import numpy as np
from scipy.optimize import curve_fit

rng = np.random.default_rng(20)
model = lambda t, ts, t0, tau: ts + (t0 - ts) * np.exp(-t / tau)
cases = []
for _ in range(20):
    ts, t0, tau = rng.uniform(15, 19), rng.uniform(22, 30), rng.uniform(900, 3600)
    t = np.arange(0, 3601, 240.0)
    y = np.round(model(t, ts, t0, tau) + rng.normal(0, 0.05, t.size), 3)
    p, _ = curve_fit(model, t, y, p0=(17, 25, 1800), ftol=1e-14, xtol=1e-14, gtol=1e-14)
    cases.append(dict(t=t.tolist(), y=y.tolist(), settle=p[0], start=p[1], tau=p[2]))
json.dump(cases, open("trial.json", "w"), indent=0)
