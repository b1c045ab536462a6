"""One contact problem of thole_bench solved by scipy, for the ratio of speed. Reads JSON from stdin:
M, q, E, e, two_way (rows first). Prints the seconds of one solve and the forces.

    min s'Ms/2 + q's,  E s = e,  s >= 0 but for the first two_way
"""

import json
import sys
import time

import numpy as np
from scipy.optimize import minimize

case = json.load(sys.stdin)
M, q, E, e = (np.array(case[k], dtype=float) for k in ("M", "q", "E", "e"))
n = len(q)
scale = 1 / np.sqrt(np.diag(M))
Ms = M * scale[:, None] * scale[None, :]
size = max(np.abs(q * scale).max(), 1e-300)
qs = q * scale / size
Es = E * scale[None, :]
row = np.linalg.norm(Es, axis=1)
row[row == 0] = 1
Es = Es / row[:, None]
es = e / row / size
bounds = [(None, None)] * case["two_way"] + [(0, None)] * (n - case["two_way"])


def solve():
    return minimize(
        lambda s: 0.5 * s @ Ms @ s + qs @ s,
        np.zeros(n),
        jac=lambda s: Ms @ s + qs,
        bounds=bounds,
        constraints={"type": "eq", "fun": lambda s: Es @ s - es, "jac": lambda s: Es},
        method="SLSQP",
        options={"ftol": 1e-14, "maxiter": 1000},
    )


best = float("inf")
for _ in range(5):
    start = time.perf_counter()
    result = solve()
    best = min(best, time.perf_counter() - start)
print(json.dumps({"seconds": best, "solved": bool(result.success),
                  "forces": list(result.x * scale * size)}))
