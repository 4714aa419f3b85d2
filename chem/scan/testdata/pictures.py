#!/usr/bin/python3
"""Pictures of a step tablet and test negatives on a light panel, made by numpy and ImageMagick.

usage: pictures.py FOLDER NAME ENCODING [key=value ...]
 ENCODING: tiff16 (linear, 16 bits), png16 (linear), png8, jpeg (sRGB, 8 bits, quality 90)
 keys: seed, width, height, rotation (degrees), falloff (share lost across the width), dust (specks),
       veil (share of the panel's light added everywhere), strips, steps, step, grey (1: one channel),
       stain (density in blue that the negatives have more than in green, of 100; the tablet has none), flip (1: every second strip runs the other
       way), vertical (1: all turned by a quarter), sheet (1: strips lie within a larger sheet),
       flat (1: a second picture NAME-flat of the panel alone), full (electrons of a full pixel)
Writes NAME.<ending> and NAME.json: the tablet, and each strip's true densities with its ends in pixels.
Nothing of wetside is used: the check is independent.
"""
import json
import os
import subprocess
import sys

import numpy as np

folder, name, encoding = sys.argv[1:4]
opt = dict(seed=1, width=1500, height=1100, rotation=0.0, falloff=0.0, dust=0, veil=0.0, strips=4, steps=21,
           step=0.15, grey=0, stain=0, flip=0, vertical=0, sheet=0, flat=0, full=20000)
for a in sys.argv[4:]:
    k, v = a.split("=")
    opt[k] = type(opt[k])(float(v))
rng = np.random.default_rng(opt["seed"])
W, H, N = opt["width"], opt["height"], opt["steps"]
tablet = 0.05 + opt["step"] * np.arange(N)


def negative(k):
    """Densities of strip k behind the tablet: a toe, a straight part and a shoulder by a logistic in log H."""
    h = -tablet  # log exposure, relative
    top = 1.3 + 0.35 * k
    return 0.14 + top / (1 + np.exp(-(h + 1.55 + 0.02 * k) * 2.1))


def srgb(v):  # IEC 61966-2-1
    return np.where(v <= 0.0031308, 12.92 * v, 1.055 * np.clip(v, 1e-9, None) ** (1 / 2.4) - 0.055)


rows = 1 + opt["strips"]
pitch = 0.8 * W / N
tall = 0.62 * H / rows
yy, xx = np.mgrid[0:H, 0:W].astype(np.float32)
light = np.zeros((3, H, W), np.float32)
sub = [(-0.25, -0.25), (0.25, -0.25), (-0.25, 0.25), (0.25, 0.25)]
strips = []
for r in range(rows):
    dens = tablet if r == 0 else negative(r - 1)
    if r and opt["flip"] and r % 2:
        dens = dens[::-1]
    angle = np.deg2rad(opt["rotation"] * (1 if r % 2 else -0.6))
    cx, cy = W / 2 + (rng.random() - 0.5) * 0.04 * W, (r + 0.5) * H / rows
    strips.append(dict(dens=dens, c=np.cos(angle), s=np.sin(angle), cx=cx, cy=cy))
for dx, dy in sub:
    d = np.zeros((H, W), np.float32)
    stained = np.zeros((H, W), np.float32)
    for r, st in enumerate(strips):
        u = (xx + dx - st["cx"]) * st["c"] + (yy + dy - st["cy"]) * st["s"]
        v = -(xx + dx - st["cx"]) * st["s"] + (yy + dy - st["cy"]) * st["c"]
        i = np.floor(u / pitch + N / 2).astype(int)
        if r and opt["sheet"]:
            film = (np.abs(u) < pitch * (N / 2 + 0.7)) & (np.abs(v) < tall * 0.68)
            d = np.where(film, 0.14, d)
        inside = (i >= 0) & (i < N) & (np.abs(v) < tall / 2)
        stained = np.where(inside, float(r > 0), stained)
        d = np.where(inside, np.asarray(st["dens"], np.float32)[np.clip(i, 0, N - 1)], d)
    for c in range(3):
        light[c] += 10 ** (-d * (1 + stained * (c == 2) * opt["stain"] / 100)) / len(sub)
panel = 1 - opt["falloff"] * xx / W
light = light * panel + opt["veil"]
for _ in range(int(opt["dust"])):
    x, y, q = rng.integers(W), rng.integers(H), rng.integers(1, 4)
    light[:, max(0, y - q):y + q, max(0, x - q):x + q] *= 0.25 if rng.random() < 0.6 else 1.0
    light[:, max(0, y - q):y + q, max(0, x - q):x + q] = np.clip(light[:, max(0, y - q):y + q, max(0, x - q):x + q], 0, 1)


def expose(x):
    e = rng.poisson(np.clip(x * 0.92, 0, 1) * opt["full"]) + rng.normal(0, 6, x.shape)
    return np.clip(e / opt["full"], 0, 1)


def write(values, to):
    if opt["vertical"]:
        values = np.rot90(values, 1, (1, 2))
    bits = 8 if encoding in ("png8", "jpeg") else 16
    v = srgb(values) if bits == 8 else values
    q = np.round(v * (2**bits - 1)).astype(">u2" if bits == 16 else "u1")
    kind = b"P5" if opt["grey"] else b"P6"
    if opt["grey"]:
        q = q[1]
    else:
        q = np.moveaxis(q, 0, 2)
    head = kind + b"\n%d %d\n%d\n" % (q.shape[1], q.shape[0], 2**bits - 1)
    ending = {"tiff16": "tiff", "png16": "png", "png8": "png", "jpeg": "jpg"}[encoding]
    out = os.path.join(folder, to + "." + ending)
    extra = {"tiff16": ["-compress", "none"], "jpeg": ["-quality", "90"]}.get(encoding, [])
    subprocess.run(["convert", "-", *extra, out], input=head + q.tobytes(), check=True)


write(expose(light), name)
if opt["flat"]:
    write(expose(np.broadcast_to(panel + opt["veil"], (3, H, W))), name + "-flat")


def ends(st):
    a = [(st["cx"] + e * st["c"] * pitch * N / 2, st["cy"] + e * st["s"] * pitch * N / 2) for e in (-1, 1)]
    if opt["vertical"]:
        a = [(y, W - x) for x, y in a]
    return [round(v, 1) for p in a for v in p]


json.dump(dict(tablet=tablet.tolist(), tablet_at=ends(strips[0]),
               strips=[dict(densities=list(map(float, s["dens"])), at=ends(s)) for s in strips[1:]]),
          open(os.path.join(folder, name + ".json"), "w"))
