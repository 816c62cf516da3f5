"""Cases of kind `equilibrium`: least and greatest reactions of any equilibrium, by linear programmes."""

from dataclasses import dataclass
from random import Random

import numpy as np

import equilibrium
from load_case import LoadCase, Point, to_json
from plans import FAR_ORIGIN, grid_plan, moved, placed, plan_of, weight_of, with_tolerances
from solvers import Clock
from writing import rounded

POINT_FIELDS = ("x", "y")


@dataclass(frozen=True)
class Wanted:
    """What a case is to show: number of points, tolerances (see `plans.with_tolerances`), and whether all loads must be
    inside the hull or part of them outside."""

    count: int
    spread: float = 0.05
    box: float = 0.03
    disc: float = 0.0
    push: float = 0.0
    directed: int = 0
    off: float = 0.2
    far: bool = False
    outside: bool = False


WANTED = (
    Wanted(4),
    Wanted(4, disc=0.025, push=0.01, far=True),
    Wanted(4, box=0.1, disc=0.08, off=0.6, outside=True),
    Wanted(5, box=0.0, disc=0.03),
    Wanted(5, spread=0.1, directed=1, push=0.02),
    Wanted(6, disc=0.025),
    Wanted(6, box=0.05, push=0.03, directed=2, far=True),
    Wanted(6, box=0.12, disc=0.05, off=0.7, outside=True),
    Wanted(8, disc=0.03, push=0.01, directed=1),
    Wanted(8, spread=0.0, box=0.06, off=0.4),
    Wanted(12, disc=0.025),
    Wanted(12, spread=0.2, box=0.04, disc=0.02, push=0.02, directed=3, far=True),
    Wanted(20, box=0.02, disc=0.025),
    Wanted(20, spread=0.1, box=0.03, push=0.02, directed=2, off=0.5),
)


def make(seed: int) -> list[dict]:
    """All cases, as JSON."""
    rng, clock = Random(seed), Clock()
    cases = centred_rectangles() + [
        generated(rng, f"equilibrium-{index:02}", wanted) for index, wanted in enumerate(WANTED, start=1)
    ]
    return [recorded(case, clock) for case in cases]


def centred_rectangles() -> list[LoadCase]:
    """Rectangles with the load in the middle: two diagonals can carry all, so a point carries half or nothing."""
    square = tuple(Point(x, y) for x, y in moved(grid_plan(2, 2, 8.0, 5.0), (0.0, 0.0)))
    fixed = LoadCase("equilibrium-rectangle", square, (1.2e6, 1.2e6, 1.2e6), (0.0, 0.0))
    boxed = LoadCase("equilibrium-rectangle-box", square, (1.1e6, 1.2e6, 1.3e6), (0.0, 0.0), (0.2, 0.1))
    return [fixed, boxed]


def generated(rng: Random, name: str, wanted: Wanted) -> LoadCase:
    """The first candidate that lies as wanted."""
    while True:
        plan = plan_of(rng, wanted.count)
        plan = moved(plan, FAR_ORIGIN) if wanted.far else plan
        centre = placed(rng, plan, wanted.off)
        case = LoadCase(name, tuple(Point(x, y) for x, y in plan), weight_of(rng, wanted.spread), centre)
        nominal = case.margin_m() / case.size_m()
        case = with_tolerances(rng, case, wanted.box, wanted.disc, wanted.push, wanted.directed)
        margin = case.margin_m() / case.size_m()
        if (wanted.outside and 0.02 < nominal and margin < -0.02) or (not wanted.outside and 0.03 < margin):
            return case


def recorded(case: LoadCase, clock: Clock) -> dict:
    """The case with its answers; the difference between polygons about and in the disc is its own tolerance."""
    greatest_weight = case.weight[2]
    least, greatest = equilibrium.bounds(case, clock)
    inner_least, inner_greatest = equilibrium.bounds(case, clock, equilibrium.INNER)
    gap = max(float(np.max(inner_least - least)), float(np.max(greatest - inner_greatest))) / greatest_weight
    record = to_json(case, POINT_FIELDS, with_domain=True)
    record["least"] = rounded(least, greatest_weight, 10)
    record["greatest"] = rounded(greatest, greatest_weight, 10)
    record["partly_outside"] = case.margin_m() < 0.0
    record["polygon_tolerance"] = float(f"{max(gap, 0.0) * 1.05:.1e}") if gap > 1e-9 else 0.0
    return record
