"""Cases of kind `elastic`: known levels, one answer; by scipy, proved in rational arithmetic, compared with PyNite."""

import math
from random import Random

import numpy as np

import rigid_body_pynite
from elastic import exact_reactions, expected_reactions
from load_case import LoadCase, to_json
from plans import FAR_ORIGIN, moved, placed, plan_of, springs_of, weight_of
from solvers import Clock
from writing import rounded

POINT_FIELDS = ("x", "y", "stiffness", "level")

# Greatest difference accepted between scipy and rational arithmetic, and between scipy and PyNite, over the weight.
EXACT_AGREES = 1e-11
PYNITE_AGREES = 1e-5

# Number of points, whether the origin is far, typical stiffness times level error over the mean reaction, how far off
# centre, number of points that must be open.
WANTED = (
    (4, False, 0.0, 0.2, 0),
    (4, False, 1.0, 0.1, 0),
    (4, False, 3.0, 0.1, 1),
    (4, True, 2.0, 0.5, 1),
    (5, False, 0.0, 0.9, 1),
    (5, False, 2.0, 0.3, 2),
    (5, True, 1.5, 0.4, 1),
    (6, False, 0.5, 0.1, 0),
    (6, False, 2.0, 0.5, 2),
    (6, True, 4.0, 0.3, 3),
    (7, False, 1.0, 0.7, 2),
    (7, True, 0.0, 1.0, 2),
    (8, False, 0.4, 0.2, 0),
    (8, False, 3.0, 0.2, 3),
    (8, True, 2.0, 0.6, 3),
    (9, False, 5.0, 0.4, 5),
    (10, False, 1.5, 0.5, 3),
    (10, True, 4.0, 0.2, 5),
    (11, False, 2.0, 0.3, 4),
    (12, False, 1.0, 0.3, 1),
    (12, False, 6.0, 0.3, 7),
    (12, True, 2.5, 0.6, 5),
)


def candidate(rng: Random, name: str, count: int, far: bool, twist: float, off_centre: float) -> LoadCase:
    """A load that may or may not show what is wanted."""
    plan = plan_of(rng, count)
    weight = weight_of(rng, 0.0)
    typical = 10.0 ** rng.uniform(7.5, 9.0)
    level_m = twist * weight[1] / count / typical
    plan = moved(plan, FAR_ORIGIN) if far else plan
    points = springs_of(rng, plan, typical, math.sqrt(5.0), level_m, 0.0)
    return LoadCase(name, points, weight, placed(rng, plan, off_centre))


def make(seed: int) -> list[dict]:
    """All cases, as JSON."""
    rng, clock = Random(seed), Clock()
    return [wanted_case(rng, f"elastic-{index:02}", clock, *wanted) for index, wanted in enumerate(WANTED, start=1)]


def wanted_case(rng: Random, name: str, clock: Clock, count: int, far: bool, twist: float, off: float, opened: int) -> dict:
    """The first candidate with its resultant well inside the hull and at least so many points open."""
    while True:
        case = candidate(rng, name, count, far, twist, off)
        if case.margin_m() < 0.05 * case.size_m():
            continue
        shares = expected_reactions(case, clock)
        lifted = int(np.count_nonzero(shares == 0.0))
        if (lifted == 0 and opened == 0) or (0 < opened <= lifted):
            return recorded(case, shares)


def recorded(case: LoadCase, shares: np.ndarray) -> dict:
    """The case with its answer, once rational arithmetic and PyNite agree with it."""
    weight = case.weight[1]
    exact = np.max(np.abs(exact_reactions(case, 0.0 < shares) - shares)) / weight
    frame = np.max(np.abs(rigid_body_pynite.reactions(case, 0.0 < shares) - shares)) / weight
    if EXACT_AGREES < exact or PYNITE_AGREES < frame:
        raise ArithmeticError(f"{case.name}: rational differs by {exact:.1e}, PyNite by {frame:.1e} of the weight")
    record = to_json(case, POINT_FIELDS, with_domain=False)
    record["expected"] = rounded(shares, weight, 12)
    record["open_points"] = int(np.count_nonzero(shares == 0.0))
    record["pynite_agrees_to"] = float(f"1e{math.ceil(math.log10(max(frame, 1e-9)))}")
    return record
