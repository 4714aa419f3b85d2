#!/usr/bin/python3
"""Writes plover-200.csv and plover-200.cgats: an INVENTED film, Plover 200, as
the invented Saltmarsh harbour darkroom might have read it. Four sheets behind
one step tablet of 21 steps, read in blue; normal noise from a fixed seed.

    /usr/bin/python3 plover.py        (in this folder)
"""
import math
import random

random.seed(200)
LIMIT, K = 1.10, 0.105  # gradient in the end, and its growth for each minute
FOG, TOE, SPEED = 0.16, 0.15, -2.35  # density, log H, log H of the toe
READING, SCATTER = 0.010, 0.035
LOG_H0 = -0.30  # log10 of lux seconds behind tablet density 0
TIMES = {"5m": 5, "7m": 7, "9m30s": 9.5, "13m": 13}
tablet = [0.05 + 0.15 * i for i in range(21)]


def density(gradient, h):
    return FOG + gradient * TOE * math.log1p(math.exp((h - SPEED) / TOE))


sheets = {}
for name, minutes in TIMES.items():
    g = 1.15 * LIMIT * (1 - math.exp(-K * minutes)) * random.gauss(1, SCATTER)
    sheets[name] = [density(g, LOG_H0 - d) + random.gauss(0, READING) for d in tablet]
base = {name: FOG + random.gauss(0, READING) for name in TIMES}

with open("plover-200.csv", "w", newline="\n") as f:
    f.write("# Plover 200, an invented film: invented readings (plover.py), blue channel\n")
    f.write("log_h," + ",".join(TIMES) + "\n")
    f.write("base," + ",".join(f"{base[n]:.2f}" for n in TIMES) + "\n")
    for i in reversed(range(21)):
        f.write(f"{LOG_H0 - tablet[i]:.2f}," + ",".join(f"{sheets[n][i]:.2f}" for n in TIMES) + "\n")

with open("plover-200.cgats", "w", newline="\r\n") as f:
    f.write("ISO28178\n")
    f.write('ORIGINATOR "Saltmarsh harbour darkroom"\n')
    f.write('DESCRIPTOR "Plover 200, the sheet of 9m30s: invented readings"\n')
    f.write('KEYWORD "DARKROOM_FILM"\nDARKROOM_FILM "Plover 200"\n')
    f.write("NUMBER_OF_FIELDS 3\nBEGIN_DATA_FORMAT\nSAMPLE_ID\tD_VIS\tD_BLUE\nEND_DATA_FORMAT\n")
    f.write("NUMBER_OF_SETS 21\nBEGIN_DATA\n")
    for i, d in enumerate(sheets["9m30s"], 1):
        f.write(f"{i}\t{FOG - 0.03 + (d - FOG) / 1.3:.2f}\t{d:.2f}\n")
    f.write("END_DATA\n")
