"""The stacks of bench/heat.ts by a general-purpose solver: the method of lines on even cells, integrated by SciPy's LSODA
(banded Jacobian), the way a practitioner would do it with Debian's python3-scipy. Reads cases on stdin, writes JSON."""

import json
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp


def run(case, per_layer):
    c, half = [], []
    for layer in case["layers"]:
        dx = layer["L"] / per_layer
        c += [dx * layer["rc"]] * per_layer
        half += [2 * layer["k"] / dx] * per_layer
    c, half = np.array(c), np.array(half)
    r = 1 / half[:-1] + 1 / half[1:]
    for l, layer in enumerate(case["layers"][:-1]):
        r[(l + 1) * per_layer - 1] += layer["R"]
    g = 1 / r
    ends = [half[0] * case["hot"] / (half[0] + case["hot"]), half[-1] * case["cool"] / (half[-1] + case["cool"])]
    n = len(c)

    def rate(_, u):
        q = np.empty(n + 1)
        q[0] = ends[0] * (case["tHot"] - u[0])
        q[1:-1] = g * (u[:-1] - u[1:])
        q[-1] = ends[1] * (u[-1] - case["tCool"])
        return (q[:-1] - q[1:]) / c

    i = case["face"] * per_layer
    start = time.perf_counter()
    found = solve_ivp(rate, (0, case["report"][-1]), np.full(n, case["start"]), method="LSODA", t_eval=case["report"],
                      rtol=1e-7, atol=1e-6, lband=1, uband=1)
    ms = (time.perf_counter() - start) * 1000
    u = found.y
    face = u[i - 1] - g[i - 1] * (u[i - 1] - u[i]) / half[i - 1]
    return {"ms": ms, "cells": n, "degC": face.tolist(), "steps": int(found.nfev)}


cases = json.load(sys.stdin)
json.dump([[min((run(case, n) for _ in range(3)), key=lambda x: x["ms"]) for n in (16, 64)] for case in cases], sys.stdout)
