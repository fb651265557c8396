"""Prints every figure of breeding-values.test.ts, parents-only.test.ts, variances.test.ts and index-and-validation.test.ts, dense, in numpy.

    python3 make_evaluation.py

Made with Python 3 and numpy 2.4. Generalised least squares on the full model, V built outright; the restricted likelihood from V, and again from the
mixed model equations of make_evaluation.R (Matrix, sparse Cholesky), which shares no code with this file.
"""
import json
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "pedigree"))
from make_kinship import kinship  # noqa: E402

np.set_printoptions(linewidth=150, suppress=True, precision=6)
nodes = json.loads((HERE.parent / "pedigree" / "shared-batch.json").read_text())["nodes"]
ids = [node["id"] for node in nodes]
at = {name: i for i, name in enumerate(ids)}
d, F, A, A_inverse = kinship(nodes)
n = len(ids)

# queen, pool she carries, yard-year, honey, calmness
RECORDS = [("A", "sA", 0, 42, 3.2), ("B", "sB", 0, 35, 2.8), ("Q1", "P", 0, 47, 3.6),
           ("Q2", "P", 1, 30, None), ("Q3", "s3", 1, 28, 3.0), ("Q4", "s4", 1, 21, 2.4)]


def worker_row(queen, pool):
    z = np.zeros(n)
    z[at[queen]] += 0.5
    z[at[pool]] += 1
    return z


def unit(queen):
    z = np.zeros(n)
    z[at[queen]] = 1
    return z


def evaluate(G, R, relationship=A):
    """Fixed effects, effects (2t x n), their covariance of errors; traits by the size of R."""
    t = len(R)
    X, Z, y, residual = [], [], [], []
    for trait in range(t):
        for r, (queen, pool, level, *values) in enumerate(RECORDS):
            if values[trait] is None:
                continue
            x = np.zeros(2 * t)
            x[2 * trait + level] = 1
            z = np.zeros((2 * t, n))
            z[2 * trait], z[2 * trait + 1] = worker_row(queen, pool), unit(queen)
            X.append(x), Z.append(z.ravel()), y.append(values[trait]), residual.append((r, trait))
    X, Z, y = np.array(X), np.array(Z), np.array(y, float)
    K = np.kron(G, relationship)
    E = np.array([[R[a][b] if i == j else 0 for j, b in residual] for i, a in residual])
    V = Z @ K @ Z.T + E
    Vi = np.linalg.inv(V)
    XVX = X.T @ Vi @ X
    b = np.linalg.solve(XVX, X.T @ Vi @ y)
    P = Vi - Vi @ X @ np.linalg.solve(XVX, X.T @ Vi)
    u = K @ Z.T @ P @ y
    errors = K - K @ Z.T @ P @ Z @ K
    likelihood = -0.5 * (np.linalg.slogdet(V)[1] + np.linalg.slogdet(XVX)[1] + y @ P @ y)
    return dict(b=b, u=u.reshape(2 * t, n), errors=errors, P=P, Z=Z, X=X, y=y, V=V, likelihood=likelihood)


G, R = np.array([[6.0, -2], [-2, 4]]), np.array([[10.0]])
one = evaluate(G, R)
u, errors = one["u"], one["errors"]
print("one trait: yard-years", one["b"])
for i, name in enumerate(ids):
    print(f"  {name:3} {u[0, i]:9.5f} {u[1, i]:9.5f}  pev {errors[i, i]:8.5f} {errors[n + i, n + i]:8.5f}")
for queen, pool, *_ in RECORDS:
    k = worker_row(queen, pool)
    mother = np.concatenate([k, k])
    sure = 1 - (mother @ errors @ mother) / (mother @ np.kron(G, A) @ mother)
    print(f"  {queen:3} as mother {mother @ u.ravel():8.5f} as colony {k @ u[0] + u[1, at[queen]]:8.5f} reliability {sure:.4f}")

print("restricted likelihood", f"{one['likelihood']:.9f}")
P, Z, y = one["P"], one["Z"], one["y"]
moved = []
for i, j in ((0, 0), (0, 1), (1, 1)):
    E = np.zeros((2, 2))
    E[i, j] = E[j, i] = 1
    moved.append(Z @ np.kron(E, A) @ Z.T)
moved.append(np.eye(len(y)))
print("score", np.array([-0.5 * (np.trace(P @ m) - y @ P @ m @ P @ y) for m in moved]))
print("average information\n", np.array([[0.5 * y @ P @ a @ P @ b @ P @ y for b in moved] for a in moved]))
U = u.T
traces = [[np.trace(A_inverse @ errors[i * n:(i + 1) * n, j * n:(j + 1) * n]) for j in range(2)] for i in range(2)]
print("EM step, G\n", (U.T @ A_inverse @ U + traces) / n)
print("EM step, R", R[0, 0] + R[0, 0] ** 2 * (y @ P @ P @ y - np.trace(P)) / len(y))

two = evaluate(
    np.array([[6, -2, 0.5, 0.1], [-2, 4, 0.2, 0.3], [0.5, 0.2, 0.30, -0.05], [0.1, 0.3, -0.05, 0.20]]),
    np.array([[10, 0.4], [0.4, 0.5]]),
)
print("two traits: yard-years", two["b"])
for name in ("A", "B", "Q1", "Q2", "P"):
    print(f"  {name:3}", two["u"][:, at[name]])

# Genetic groups 1 = {A, B}, 2 = {C and open drones}: random with the variance of a queen; values hold the part of the group.
share = np.zeros((n, 2))
for i, node in enumerate(nodes):
    if node["kind"] == "Q" and "dam" not in node:
        share[i] = (0, 1) if node["id"] == "C" else (1, 0)
    elif node["kind"] == "Q":
        share[i] = 0.5 * share[at[node["dam"]]] + share[at[node["sem"]]]
    elif not node["from"]:
        share[i] = (0, 0.5)
    else:
        share[i] = sum(0.5 * c * share[at[source]] for _, source, c, _ in node["from"])
grouped = evaluate(G, R, A + share @ share.T)
print("groups: yard-years", grouped["b"])
held = np.kron(G, share.T) @ Z.T @ grouped["P"] @ y
print("  effects of groups (worker, queen)\n", held.reshape(2, 2))
for name in ("A", "B", "C", "Q1", "P"):
    print(f"  {name:3}", grouped["u"][:, at[name]])

Pi = np.array([[100, 2, 3], [2, 0.5, 0.05], [3, 0.05, 40]])
Gi = np.array([[25, 1, 0.8], [1, 0.15, 0.02], [0.8, 0.02, 8]])
v = np.array([1, 10, 0.6])
b = np.linalg.solve(Pi, Gi @ v)
spread = np.sqrt(b @ Pi @ b)
print("index", b, "accuracy", spread / np.sqrt(v @ Gi @ v), "response", Gi @ b / spread, "goal", spread)
without = np.array([0.8, -0.4, 1.2, 0.1, -0.9, 0.5, 0.3, -0.2])
whole = np.array([1.1, -0.3, 1.0, 0.4, -1.2, 0.2, 0.6, -0.5])
c = np.cov(without, whole)
print("validation: bias", (without - whole).mean(), "dispersion", c[0, 1] / c[0, 0], "correlation", c[0, 1] / np.sqrt(c[0, 0] * c[1, 1]))
print("  ratio", c[0, 1] / c[1, 1], "reliability", c[0, 1] / ((1 + 0.02 - 2 * 0.03) * 2))
