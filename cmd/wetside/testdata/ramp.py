#!/usr/bin/python3
# When a developing step that begins at 60 s has had 540 s as at 20 C, the bath
# warming from 20 C by 5 K in 600 s, coefficient 2.2: quadrature and root by scipy.
from scipy.integrate import quad
from scipy.optimize import brentq
rate = lambda t: 2.2 ** (5 * t / 600 / 10)
print(brentq(lambda x: quad(rate, 60, x, epsabs=1e-12, epsrel=1e-12)[0] - 540, 60, 600, xtol=1e-12))
