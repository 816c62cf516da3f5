"""Cases of kind `statics`: one to three points, where equilibrium alone gives the reactions, by numpy."""

import numpy as np

from load_case import LoadCase, Point, to_json
from plans import FAR_ORIGIN, moved
from writing import rounded

# Greatest residual of equilibrium, over the weight and over the weight times the size of the plan (dimensionless).
BALANCED = 1e-11

PLANS = (
    ("statics-one", [(3.2, -1.4)], 0.75e6, (3.2, -1.4)),
    ("statics-two", [(-4.0, 0.0), (4.0, 0.0)], 1.9e6, (-0.6, 0.0)),
    ("statics-two-slanting", [(1.0, 2.0), (9.0, 8.0)], 2.4e6, (4.2, 4.4)),
    ("statics-three", [(0.0, 0.0), (7.5, 0.4), (3.1, 5.6)], 3.3e6, (3.4, 1.9)),
    ("statics-three-slender", [(-9.0, -0.8), (9.0, -0.6), (0.5, 1.1)], 5.1e6, (1.2, -0.2)),
    ("statics-three-far", moved([(-3.0, -2.2), (4.1, -1.7), (0.4, 3.8)], FAR_ORIGIN), 0.98e6, (12_480.5, -8_350.2)),
)


def make() -> list[dict]:
    """All cases, as JSON."""
    return [recorded(name, plan, weight, centre) for name, plan, weight, centre in PLANS]


def recorded(name: str, plan: list, weight: float, centre: tuple[float, float]) -> dict:
    """A case with its answer: the three equations of equilibrium about the centre, by least squares."""
    case = LoadCase(name, tuple(Point(x, y) for x, y in plan), (weight, weight, weight), centre)
    size = max(case.size_m(), 1.0)
    equations = np.vstack([np.ones(len(plan)), ((case.places() - np.array(centre)) / size).T])
    shares, *_ = np.linalg.lstsq(equations, np.array([1.0, 0.0, 0.0]), rcond=None)
    if BALANCED < np.max(np.abs(equations @ shares - [1.0, 0.0, 0.0])):
        raise ArithmeticError(f"{name}: no equilibrium")
    record = to_json(case, ("x", "y"), with_domain=False)
    record["expected"] = rounded(weight * shares, weight, 11)
    return record
