"""Makes chances.json: one million seasons drawn with numpy, the reference for src/domain/rearing/chances.
Run: python3 tests/golden/rearing/make_chances.py   (numpy 2.4.6, Python 3.11; seed 20270612; standard error of a chance <= 0.0005)

A season draws every share once: Beta with the profile's middle value, its range read as the middle nine tenths. Figures are those of
src/domain/rearing/standard-text.ts, repeated here so that a change there is noticed."""
import json, pathlib
import numpy as np

rng = np.random.default_rng(20270612)
N = 1_000_000
Z = 1.6448536269514722

def share(value, low, high):
    sd = (high - low) / (2 * Z)
    size = value * (1 - value) / sd**2 - 1
    return rng.beta(value * size, (1 - value) * size, N)

def size(value, low, high):
    sd = (high - low) / (2 * Z)
    spread = np.log1p((sd / value) ** 2)
    return np.exp(rng.normal(np.log(value) - spread / 2, np.sqrt(spread), N))

def days(value, low, high, count):
    """Development times of a lot, as counts a day: 70 % on time, the rest evenly over the other days."""
    others = [d for d in range(low, high + 1) if d != value]
    return {value: 0.7, **{d: 0.3 / len(others) for d in others}}

out = {"origin": "tests/golden/rearing/make_chances.py", "seasons": N, "queens": [], "semen": []}

# Queens: larvae -> accepted -> emerged -> of age -> ready
for larvae, before, ages in [(20, 20, (5, 14)), (24, 20, (8, 9)), (30, 18, (6, 9))]:
    timing = sum(w for d, w in days(12, 11, 13, 1).items() if ages[0] <= before - d <= ages[1])
    ready = np.full(N, larvae)
    for s in [share(.8, .6, .95), share(.9, .75, .98), np.full(N, timing), share(.88, .75, .97)]:
        ready = rng.binomial(ready, s)
    out["queens"].append({"larvae": larvae, "daysBefore": before, "ages": ages, "mean": float(ready.mean()),
                          "atLeast": [[k, float((ready >= k).mean())] for k in (8, 10, 12, 14, 16)]})

# Semen of one comb: cells -> laid -> emerged -> alive and of age -> caught -> yielding -> µl -> less what stays behind
def comb(cells, laid_from, laid_to, ages):
    """laid_from, laid_to: days before the insemination day."""
    laid_days = range(laid_to, laid_from + 1)
    at14 = share(.45, .3, .6)
    ripe = np.zeros(N)
    for before in laid_days:
        for brood, weight in days(24, 23, 25, 1).items():
            age = before - brood
            if ages[0] <= age <= ages[1]:
                ripe += weight / len(laid_days) * at14 ** (age / 14)
    p = share(.5, .25, .8) * share(.8, .6, .95) * ripe * share(.6, .4, .8) * share(.595, .5, .7)
    donors = rng.binomial(cells, p)
    variation = 0.6
    volume = size(1.09, .72, 1.12) * (1 - share(.1, .05, .15)) * variation**2 * rng.gamma(donors / variation**2 + 1e-300)
    return donors, volume

for cells, laid_from, laid_to, ages in [(4300, 45, 38, (12, 28)), (4300, 45, 38, (14, 21)), (1200, 43, 36, (12, 28)), (400, 50, 40, (14, 28))]:
    donors, volume = comb(cells, laid_from, laid_to, ages)
    out["semen"].append({"cells": cells, "laidFrom": laid_from, "laidTo": laid_to, "ages": ages, "meanDonors": float(donors.mean()),
                         "donorsAtLeast": [[int(k), float((donors >= k).mean())] for k in np.quantile(donors, [.05, .25, .5, .75, .95])],
                         "volumeAtLeast": [[float(v), float((volume >= v).mean())] for v in np.quantile(volume, [.05, .1, .25, .5, .75, .9, .95])]})

pathlib.Path(__file__).with_name("chances.json").write_text(json.dumps(out, indent=1) + "\n")
