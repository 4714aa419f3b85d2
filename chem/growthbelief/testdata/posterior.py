"""Ten sets of evidence of a film, and what an independent sampler believes of it.

Run with Debian's python3 (python3-numpy, python3-scipy):  python3 posterior.py > posterior.jsonl
The model is written down anew: films are drawn from the prior by a random generator, 1.5 million of them, and weighed
by how likely they make the evidence. What a session does counts as time in full, and is integrated by Gauss-Hermite
quadrature; no set is drawn near the answer, and nothing is integrated in closed form.
"""
import json
import math

import numpy as np
from scipy import special

FILMS, CHUNK, AIM = 1_500_000, 50_000, 0.62
NODES, WEIGHTS = np.polynomial.hermite_e.hermegauss(15)
WEIGHTS = WEIGHTS / WEIGHTS.sum()


def gradient(film, minutes, celsius, b):
    at20 = minutes * film["coefficient"] ** ((celsius - 20) / 10) * np.exp(b)
    return film["limit"] * -np.expm1(-film["rate"] * np.maximum(at20 - film["induction"], 1e-12))


def time(film, wanted, celsius, b=0.0):
    share = wanted / film["limit"]
    t = np.where(share < 1, film["induction"] - np.log1p(-np.minimum(share, 1 - 1e-12)) / film["rate"], 1e6)
    return t / film["coefficient"] ** ((celsius - 20) / 10) / np.exp(b)


def drawn(rng):
    z = rng.standard_normal((5, CHUNK))
    return {"limit": 1.2 * np.exp(0.34 * z[0]), "rate": 0.12 * np.exp(0.6 * z[1]), "induction": rng.exponential(0.6, CHUNK),
            "coefficient": 2.2 * np.exp(0.095 * z[2]), "sessions": 0.05 * np.exp(0.3 * z[3]), "sheets": 0.04 * np.exp(0.25 * z[4])}


def log_of_test(film, test):
    terms = []
    for node, weight in zip(NODES, WEIGHTS):
        log = math.log(weight)
        for r in test:
            g = gradient(film, r["minutes"], r["celsius"], film["sessions"] * node)
            spread = np.hypot(r["error"] / r["gradient"], film["sheets"])
            log = log - 0.5 * ((math.log(r["gradient"]) - np.log(g)) / spread) ** 2 - np.log(spread)
        terms.append(log)
    return special.logsumexp(np.array(terms), axis=0)


def log_of_session(film, s):
    edge, p = math.log(1.2), 0.0
    for node, weight in zip(NODES, WEIGHTS):
        off = np.log(gradient(film, s["minutes"], s["celsius"], film["sessions"] * node)) - math.log(s["wanted"])
        thin, dense = special.ndtr((-edge - off) / 0.2), special.ndtr((off - edge) / 0.2)
        p = p + weight * {-1: thin, 1: dense, 0: 1 - thin - dense}[s["look"]]
    return np.log(np.maximum(p, 1e-300))


def log_of_borrowed(film, x):
    t = time(film, x["wanted"], x["celsius"])
    log = -2 * np.log1p((np.log(x["minutes"] / t) / x["log"]) ** 2 / 3)  # Student's, three degrees of freedom
    return np.where(film["limit"] > x["wanted"], log, -np.inf)


def evidence(rng, tests, sheets, sessions=0, borrowed=0, warm=False):
    limit, rate = rng.uniform(0.9, 1.6), rng.uniform(0.08, 0.2)
    at = lambda t, c: limit * -math.expm1(-rate * (t * 2.2 ** ((c - 20) / 10) - 0.4))
    data = {"tests": [], "sessions": [], "borrowed": []}
    for j in range(tests):
        shift, celsius, one = 0.05 * rng.standard_normal(), (24 if warm and j % 2 else 20), []
        for i in range(sheets):
            t = 5 * 1.4 ** i * (0.7 if celsius > 20 else 1)
            one.append({"minutes": t, "celsius": celsius, "error": 0.02,
                        "gradient": at(t * math.exp(shift), celsius) * math.exp(0.045 * rng.standard_normal())})
        data["tests"].append(one)
    for _ in range(sessions):
        t = rng.uniform(5, 12)
        off = math.log(at(t, 20) / AIM) + 0.2 * rng.standard_normal()
        data["sessions"].append({"minutes": t, "celsius": 20, "wanted": AIM, "look": int(off > math.log(1.2)) - int(off < -math.log(1.2))})
    for _ in range(borrowed):
        data["borrowed"].append({"minutes": rng.uniform(6, 14), "celsius": 20, "wanted": AIM, "log": 0.3})
    return data


def believe(data, rng):
    films, weights = [], []
    for _ in range(FILMS // CHUNK):
        film = drawn(rng)
        log = sum((log_of_test(film, t) for t in data["tests"]), np.zeros(CHUNK))
        log += sum((log_of_session(film, s) for s in data["sessions"]), np.zeros(CHUNK))
        log += sum((log_of_borrowed(film, x) for x in data["borrowed"]), np.zeros(CHUNK))
        b = film["sessions"] * rng.standard_normal(CHUNK)
        keep = log > log.max() - 30
        values = {"limit": film["limit"], "rate": film["rate"], "coefficient": film["coefficient"], "sessions": film["sessions"],
                  "time_20": time(film, AIM, 20, b), "time_24": time(film, AIM, 24, b), "film_20": time(film, AIM, 20)}
        films.append({k: v[keep] for k, v in values.items()})
        weights.append(log[keep])
    log = np.concatenate(weights)
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    found = {}
    for k in films[0]:
        value = np.concatenate([f[k] for f in films])
        order = np.argsort(value)
        found[k] = [float(value[order][np.searchsorted(np.cumsum(weight[order]), q)]) for q in (0.05, 0.5, 0.95)]
    return found, float(1 / (weight ** 2).sum())


def main():
    rng = np.random.default_rng(20261130)
    cases = [dict(tests=1, sheets=2), dict(tests=1, sheets=3), dict(tests=1, sheets=4), dict(tests=2, sheets=3), dict(tests=4, sheets=3),
             dict(tests=0, sheets=0, sessions=3, borrowed=1), dict(tests=1, sheets=3, sessions=5), dict(tests=1, sheets=1, borrowed=2),
             dict(tests=2, sheets=3, warm=True), dict(tests=4, sheets=4, warm=True, sessions=2, borrowed=1)]
    for data in [evidence(rng, **case) for case in cases]:
        data["believed"], data["films"] = believe(data, rng)
        print(json.dumps(data), flush=True)


main()
