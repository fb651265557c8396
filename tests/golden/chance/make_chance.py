"""Makes chance.json: probabilities and quantiles by scipy, the independent reference for src/numeric/chance and src/numeric/intervals.
Run: python3 tests/golden/chance/make_chance.py   (scipy 1.17.1, numpy 2.4.6, Python 3.11)"""
import json, math, pathlib, sys
import numpy, scipy
from scipy import special, stats

SHAPES = [0.3, 0.5, 1, 2.5, 8, 57.5, 400, 12345.6]
XS = [1e-6, 0.01, 0.2, 0.45, 0.595, 0.9, 0.999]
COUNTS = [(8, 10), (17, 20), (0, 12), (12, 12), (43, 50), (1, 3), (0, 1), (154, 177), (168, 200), (950, 1000)]

def wilson(x, n):
    low, high = stats.binomtest(x, n).proportion_ci(0.95, "wilson")
    return [low, high]

def cp(x, n):
    low, high = stats.binomtest(x, n).proportion_ci(0.95, "exact")
    return [low, high]

def jeffreys(x, n):
    low, high = stats.beta.ppf([0.025, 0.975], x + 0.5, n - x + 0.5)
    return [0.0 if x == 0 else low, 1.0 if x == n else high]

def garwood(k):
    return [0.0 if k == 0 else stats.chi2.ppf(0.025, 2 * k) / 2, stats.chi2.ppf(0.975, 2 * k + 2) / 2]

def least(k, p, sure):
    n = k
    while stats.binom.sf(k - 1, n, p) < sure - 1e-12:  # an exact tie (8 of 15 at one half) is enough
        n += 1
    return n

out = {
    "origin": "tests/golden/chance/make_chance.py",
    "versions": {"scipy": scipy.__version__, "numpy": numpy.__version__, "python": sys.version.split()[0]},
    "logGamma": [[x, special.gammaln(x)] for x in [1e-5, 0.1, 0.5, 0.9, 1.1, 1.9, 2.3, 7, 15.5, 100, 12345.6, 1e7]],
    "incompleteBeta": [[a, b, x, special.betainc(a, b, x)] for a in SHAPES for b in SHAPES for x in XS if 1e-290 < special.betainc(a, b, x)],
    "betaQuantile": [[p, a, b, stats.beta.ppf(p, a, b)] for a in SHAPES for b in SHAPES for p in [0.025, 0.5, 0.975]
                     if 1e-12 < stats.beta.ppf(p, a, b) < 1 - 1e-12],
    "incompleteGamma": [[a, a * f, special.gammainc(a, a * f), special.gammaincc(a, a * f)] for a in SHAPES for f in [0.1, 0.5, 0.95, 1, 1.05, 1.5, 3]],
    "gammaQuantile": [[p, a, stats.gamma.ppf(p, a)] for a in SHAPES for p in [0.025, 0.5, 0.975] if stats.gamma.ppf(p, a) > 1e-12],
    "binomial": [[k, n, p, stats.binom.pmf(k, n, p), stats.binom.sf(k - 1, n, p)]
                 for n in [1, 12, 60, 231, 4300] for p in [0.05, 0.5, 0.595, 0.9] for k in sorted({0, 1, n // 3, n // 2, int(n * p), n})
                 if stats.binom.pmf(k, n, p) > 1e-280],
    "leastTrials": [[k, p, s, least(k, p, s)] for k in [1, 8, 10, 12, 96, 106, 330] for p in [0.4, 0.5, 0.595, 0.6, 0.7, 0.8] for s in [0.5, 0.9, 0.95, 0.99]],
    "betaBinomial": [[k, n, a, b, stats.betabinom.pmf(k, n, a, b)] for n in [10, 60] for a, b in [(8, 2), (1, 1), (40, 60)] for k in [0, 3, n // 2, n]],
    "counts": [[x, n, *wilson(x, n), *cp(x, n), *jeffreys(x, n)] for x, n in COUNTS],
    "poissonExact": [[k, *garwood(k)] for k in [0, 1, 7, 10, 172, 5000]],
    "normalQuantile": [[p, stats.norm.ppf(p)] for p in [1e-9, 0.001, 0.025, 0.3, 0.5, 0.9, 0.975, 0.999999]],
}
pathlib.Path(__file__).with_name("chance.json").write_text(json.dumps(out, indent=0).replace(",\n", ",") + "\n")
