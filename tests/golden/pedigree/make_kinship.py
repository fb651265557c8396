"""Writes A, its inverse, own variances and inbreeding of the pedigrees in every-mating.json and shared-batch.json, dense, in numpy.

    python3 make_kinship.py [--check]

Made with Python 3 and numpy 2.4. Every node is a linear function of older ones and of an independent part, so row after row
    A_ij = sum_p b_ip A_pj (j older),  A_ii = b_i' A b_i + d_i.
b and d follow from the definition of each mating: a queen has half of her dam and all of a drawn gamete of the pool (two gametes of a pool
differ by 1/2 - A_pp); a pool of n drones of a queen with inbreeding F averages gametes of variance (1 - F)/4; n draws from a pool average its
gametes; open drones are unrelated, each of variance 1/2; J sisters average J draws of a sister. --check compares with what is kept.
"""
import json
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
FILES = ["every-mating", "shared-batch"]


def kinship(nodes):
    at = {node["id"]: i for i, node in enumerate(nodes)}
    n = len(nodes)
    A, W, d, F = np.zeros((n, n)), np.zeros((n, n)), np.zeros(n), {}
    for i, node in enumerate(nodes):
        b = np.zeros(n)
        own = 0.0
        if node["kind"] in "QG":
            F[node["id"]] = 0.0
            if "dam" in node:
                q, s = at[node["dam"]], at[node["sem"]]
                b[q], b[s] = 0.5, 1.0
                own = 0.25 * (1 - F[node["dam"]]) + 0.5 - A[s, s]
                F[node["id"]] = A[q, s]
            else:
                own = 1.0
            own /= node.get("J", 1)
        else:
            F[node["id"]] = None
            if not node["from"]:
                own = 0.5 / node["n"]
            for kind, source, share, drones in node["from"]:
                p = at[source]
                if kind == "pool":
                    b[p] += share
                    own += 0 if drones is None else share**2 * (0.5 - A[p, p]) / drones
                else:
                    b[p] += 0.5 * share
                    own += share**2 * 0.25 * (1 - F[source]) / drones
        A[i, :i] = A[:i, i] = b[:i] @ A[:i, :i]
        A[i, i] = b @ A @ b + own
        W[i], d[i] = b, own
    L = np.eye(n) - W
    # both ways to the inverse: from A, and from its factors
    inverse = L.T @ np.diag(1 / d) @ L
    assert np.abs(inverse @ A - np.eye(n)).max() < 1e-10
    return d, F, A, inverse


def main():
    for name in FILES:
        path = HERE / f"{name}.json"
        held = json.loads(path.read_text())
        d, F, A, inverse = kinship(held["nodes"])
        if "--check" in sys.argv:
            gaps = [np.abs(np.array(held[key]) - now).max() for key, now in (("d", d), ("A", A), ("Ainv", inverse))]
            gaps.append(max(abs(held["F"][key] - value) for key, value in F.items() if value is not None))
            print(name, "largest differences of d, A, inverse, F:", *gaps)
            assert max(gaps) < 1e-10
        else:
            held.update(d=d.tolist(), F=F, A=A.tolist(), Ainv=inverse.tolist())
            path.write_text(json.dumps(held))


if __name__ == "__main__":
    main()
