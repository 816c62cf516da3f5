"""Generated plans: places of points and the loads on them. Everything is invented."""

import math
from random import Random

from load_case import LoadCase, Point

# Where the origin of some plans lies, far from the load, in m.
FAR_ORIGIN = (12_480.0, -8_350.0)


def significant(value: float, digits: int) -> float:
    """The value with so many digits, as a person would write it."""
    return float(f"{value:.{digits}g}")


def grid_plan(columns: int, rows: int, length_m: float, width_m: float) -> list[tuple[float, float]]:
    """Points in columns along x and rows along y, centred, in m."""
    return [
        (length_m * (i / (columns - 1) - 0.5), width_m * (j / (rows - 1) - 0.5))
        for j in range(rows)
        for i in range(columns)
    ]


def ring_plan(rng: Random, count: int, length_m: float, width_m: float) -> list[tuple[float, float]]:
    """Points about an ellipse, none regular, in m to the centimetre."""
    start = rng.uniform(0.0, 2.0 * math.pi)
    plan = []
    for index in range(count):
        angle = start + 2.0 * math.pi * (index + rng.uniform(-0.25, 0.25)) / count
        radius = rng.uniform(0.6, 1.0)
        plan.append((round(0.5 * length_m * radius * math.cos(angle), 2), round(0.5 * width_m * radius * math.sin(angle), 2)))
    return plan


def scattered_plan(rng: Random, count: int, length_m: float, width_m: float) -> list[tuple[float, float]]:
    """Points anywhere in a rectangle but no two close to each other, in m to the centimetre."""
    plan: list[tuple[float, float]] = []
    while len(plan) < count:
        place = (round(rng.uniform(-0.5, 0.5) * length_m, 2), round(rng.uniform(-0.5, 0.5) * width_m, 2))
        if all(math.dist(place, other) > 0.08 * (length_m + width_m) for other in plan):
            plan.append(place)
    return plan


def moved(plan: list[tuple[float, float]], by: tuple[float, float]) -> list[tuple[float, float]]:
    """The plan in coordinates of another origin, in m to the millimetre."""
    return [(round(x + by[0], 3), round(y + by[1], 3)) for x, y in plan]


def plan_of(rng: Random, count: int) -> list[tuple[float, float]]:
    """A plan of one of the kinds above, between 4 m and 16 m long."""
    length_m = round(rng.uniform(4.0, 16.0), 1)
    width_m = round(length_m * rng.uniform(0.4, 1.0), 1)
    if count % 2 == 0 and rng.random() < 0.35:
        return moved(grid_plan(count // 2, 2, length_m, width_m), (0.0, 0.0))
    kind = ring_plan if rng.random() < 0.6 else scattered_plan
    return kind(rng, count, length_m, width_m)


def middle_of(plan: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean of the points, in m."""
    return (sum(x for x, _ in plan) / len(plan), sum(y for _, y in plan) / len(plan))


def extent_of(plan: list[tuple[float, float]]) -> tuple[float, float]:
    """Length and width of the plan, in m."""
    return (max(x for x, _ in plan) - min(x for x, _ in plan), max(y for _, y in plan) - min(y for _, y in plan))


def stiffness_of(rng: Random, typical: float, ratio: float) -> float:
    """A stiffness between `typical / ratio` and `typical * ratio`, in N/m, to three digits."""
    return significant(typical * ratio ** rng.uniform(-1.0, 1.0), 3)


def springs_of(
    rng: Random, plan: list[tuple[float, float]], typical: float, ratio: float, level_m: float, band_m: float
) -> tuple[Point, ...]:
    """Points with stiffnesses, level errors within `+- level_m` and half bands up to `band_m`."""
    return tuple(
        Point(
            x,
            y,
            stiffness_of(rng, typical, ratio),
            round(rng.uniform(-level_m, level_m), 5),
            round(band_m * rng.uniform(0.5, 1.0), 5),
        )
        for x, y in plan
    )


def placed(rng: Random, plan: list[tuple[float, float]], off_centre: float) -> tuple[float, float]:
    """A centre of gravity up to a part of the extent away from the mean of the points, in m to the centimetre."""
    (x, y), (length, width) = middle_of(plan), extent_of(plan)
    return (
        round(x + off_centre * length * rng.uniform(-0.5, 0.5), 2),
        round(y + off_centre * width * rng.uniform(-0.5, 0.5), 2),
    )


def weight_of(rng: Random, spread: float) -> tuple[float, float, float]:
    """Least, expected and greatest weight, in N, to three digits."""
    expected = significant(rng.uniform(0.4e6, 6e6), 3)
    return (significant(expected * (1.0 - spread), 3), expected, significant(expected * (1.0 + spread), 3))


def with_tolerances(rng: Random, case: LoadCase, box: float, disc: float, push: float, directed: int) -> LoadCase:
    """The case with a box, a disc and pushes, as parts of the plan's extent and of the weight."""
    length, width = extent_of([(p.x, p.y) for p in case.points])
    moment = case.weight[1] * min(length, width)
    angles = [rng.uniform(0.0, 2.0 * math.pi) for _ in range(directed)]
    sizes = [moment * push * rng.uniform(0.5, 1.5) for _ in range(directed)]
    return LoadCase(
        name=case.name,
        points=case.points,
        weight=case.weight,
        centre=case.centre,
        half=(round(box * length * rng.uniform(0.5, 1.5), 3), round(box * width * rng.uniform(0.5, 1.5), 3)),
        disc_m=round(disc * min(length, width), 3),
        push_radius_nm=significant(moment * push, 3) if 0.0 < push else 0.0,
        pushes_nm=tuple(
            (significant(size * math.cos(a), 3), significant(size * math.sin(a), 3))
            for size, a in zip(sizes, angles, strict=True)
        ),
    )
