"""Ten sets of evidence of a film, and what an independent sampler believes of it.

Run with Debian's python3 (python3-scipy, python3-emcee):  python3 posterior.py > posterior.jsonl
The model is written down anew. What a session does to its sheets is a variable of its own here, sampled with the
rest, and nothing is integrated in closed form: D. Foreman-Mackey et al., PASP 125 (2013) 306 (emcee).
"""
import json
import math
import multiprocessing

import emcee
import numpy as np
from scipy import special

WALKERS, STEPS, BURN = 64, 8000, 2000
AIM = 0.62


def believed(theta, n):
    """Columns of theta as parameters: logs but for the induction, whose log is sampled too."""
    limit, rate, coefficient, sessions, sheets = (np.exp(theta[:, i]) for i in (0, 1, 3, 4, 5))
    return limit, rate, np.exp(theta[:, 2]), coefficient, sessions, sheets, np.exp(theta[:, 4:5]) * theta[:, 6:6 + n]


def normal(x, mean, spread):
    return -0.5 * ((x - mean) / spread) ** 2 - np.log(spread)


def student(x):
    return -2 * np.log1p(x ** 2 / 3)  # three degrees of freedom


def gradient(limit, rate, induction, coefficient, minutes, celsius, b):
    """What a session does counts as time, in full and not as a first-order term."""
    at20 = minutes * coefficient ** ((celsius - 20) / 10) * np.exp(b)
    return limit * -np.expm1(-rate * np.maximum(at20 - induction, 1e-12))


def log_density(theta, data):
    n = len(data["tests"]) + len(data["sessions"])
    limit, rate, induction, coefficient, sessions, sheets, b = believed(theta, n)
    out = normal(theta[:, 0], math.log(1.2), 0.34)
    out += normal(theta[:, 1], math.log(0.12), 0.6)
    out += -induction / 0.6 + theta[:, 2]  # and the change of variable
    out += normal(theta[:, 3], math.log(2.2), 0.095)
    out += normal(theta[:, 4], math.log(0.05), 0.4)
    out += normal(theta[:, 5], math.log(0.04), 0.3)
    for j in range(n):
        out += normal(theta[:, 6 + j], 0, 1)  # in units of the scatter, or the sampler sticks where that is small
    for j, test in enumerate(data["tests"]):
        for r in test:
            g = gradient(limit, rate, induction, coefficient, r["minutes"], r["celsius"], b[:, j])
            spread = np.hypot(r["error"] / r["gradient"], sheets)
            out += normal(math.log(r["gradient"]), np.log(g), spread)
    for j, s in enumerate(data["sessions"]):
        g = gradient(limit, rate, induction, coefficient, s["minutes"], s["celsius"], b[:, len(data["tests"]) + j])
        off = np.log(g) - math.log(s["wanted"])
        edge = math.log(1.2)
        p = {-1: special.ndtr((-edge - off) / 0.2), 1: special.ndtr((off - edge) / 0.2),
             0: special.ndtr((edge - off) / 0.2) - special.ndtr((-edge - off) / 0.2)}[s["look"]]
        out += np.log(np.maximum(p, 1e-300))
    for x in data["borrowed"]:
        share = x["wanted"] / limit
        reached = share < 1
        t = induction - np.log1p(-np.where(reached, share, 0.5)) / rate
        t /= coefficient ** ((x["celsius"] - 20) / 10)
        out += np.where(reached, student(np.log(x["minutes"] / t) / x["log"]), -np.inf)
    return np.where(np.isfinite(out), out, -np.inf)


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


def sample(data, rng):
    n = len(data["tests"]) + len(data["sessions"])
    middle = np.array([math.log(1.3), math.log(0.11), math.log(0.3), math.log(2.2), math.log(0.05), math.log(0.04)] + [0.0] * n)
    start = middle + 0.1 * rng.standard_normal((WALKERS, 6 + n))
    np.random.seed(7)
    sampler = emcee.EnsembleSampler(WALKERS, 6 + n, log_density, args=(data,), vectorize=True,
                                    moves=[(emcee.moves.DEMove(), 0.8), (emcee.moves.DESnookerMove(), 0.2)])
    sampler.run_mcmc(start, STEPS)
    chain = sampler.get_chain(discard=BURN, thin=5, flat=True)
    limit, rate, induction, coefficient, sessions, sheets, _ = believed(chain, 0)
    nxt = sessions * rng.standard_normal(len(sessions))

    def time(celsius, shift):
        share = AIM / limit
        t = np.where(share < 1, induction - np.log1p(-np.minimum(share, 1 - 1e-12)) / rate, 1e6)
        return t / coefficient ** ((celsius - 20) / 10) / np.exp(shift)

    found = {"limit": limit, "rate": rate, "coefficient": coefficient, "sessions": sessions,
             "time_20": time(20, nxt), "time_24": time(24, nxt), "film_20": time(20, 0)}
    return {k: [float(q) for q in np.quantile(v, [0.05, 0.5, 0.95])] for k, v in found.items()}


def believe(numbered):
    seed, data = numbered
    data["believed"] = sample(data, np.random.default_rng(seed))
    return data


def main():
    rng = np.random.default_rng(20261130)
    cases = [dict(tests=1, sheets=2), dict(tests=1, sheets=3), dict(tests=1, sheets=4), dict(tests=2, sheets=3), dict(tests=4, sheets=3),
             dict(tests=0, sheets=0, sessions=3, borrowed=1), dict(tests=1, sheets=3, sessions=5), dict(tests=1, sheets=1, borrowed=2),
             dict(tests=2, sheets=3, warm=True), dict(tests=4, sheets=4, warm=True, sessions=2, borrowed=1)]
    sets = [evidence(rng, **case) for case in cases]
    with multiprocessing.Pool(4) as pool:
        for data in pool.imap(believe, enumerate(sets)):
            print(json.dumps(data), flush=True)


main()
