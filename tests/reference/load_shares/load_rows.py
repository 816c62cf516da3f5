"""All loads of a case as rows of a linear programme, in dimensionless numbers.

Forces are divided by the greatest weight and lengths by the size of the plan.
With (W, Q = W g + m) as columns everything is linear: the box and the disc in proportion to the weight scale with W.
The discs are one polygon of tangents in given directions, drawn about their sum.
"""

import math
from dataclasses import dataclass

import numpy as np

from load_case import LoadCase
from solvers import LinearModel

# A solution is on the disc if it lies outside by no more than this part of the radius (dimensionless).
LEAST_EXCESS = 1e-10

# Tangents on each side of the direction of a solution outside the disc, with the one at its end.
FINER_STEPS = 6


def regular_directions(count: int) -> list[np.ndarray]:
    """Unit vectors at equal angles, the first along x."""
    angles = [2.0 * math.pi * index / count for index in range(count)]
    return [np.array([math.cos(a), math.sin(a)]) for a in angles]


@dataclass(frozen=True)
class LoadColumns:
    """Columns of the weight, the moments of the box and of the disc, and the sizes of the directed pushes."""

    weight: int
    box: tuple[int, int]
    disc: tuple[int, int]
    sizes: tuple[int, ...]


def disc_radius(case: LoadCase) -> tuple[float, float]:
    """Radius of the disc of moments: the part in proportion to the weight and the constant part (dimensionless).

    The sum of two discs is the disc of the sum of their radii; that of two polygons with the same directions likewise.
    """
    return case.disc_m / case.size_m(), case.push_radius_nm / (case.weight[2] * case.size_m())


def add_load(model: LinearModel, case: LoadCase, tangents: list[np.ndarray], shrink: float = 1.0) -> LoadColumns:
    """Adds the columns and rows of the load; the radii are multiplied by `shrink`."""
    size, greatest = case.size_m(), case.weight[2]
    per_weight, constant = disc_radius(case)
    weight = model.variable(case.weight[0] / greatest, 1.0)
    box, disc = free_pair(model, 0.0 < max(case.half)), free_pair(model, 0.0 < per_weight + constant)
    for column, half in zip(box, case.half, strict=True):
        model.row({column: 1.0, weight: -half / size}, -math.inf, 0.0)
        model.row({column: -1.0, weight: -half / size}, -math.inf, 0.0)
    for d in tangents if 0.0 < per_weight + constant else []:
        model.row({disc[0]: d[0], disc[1]: d[1], weight: -shrink * per_weight}, -math.inf, shrink * constant)
    sizes = tuple(model.variable(0.0, 1.0) for _ in case.pushes_nm)
    return LoadColumns(weight, box, disc, sizes)


def free_pair(model: LinearModel, free: bool) -> tuple[int, int]:
    """Two columns of any size, or both nought."""
    limit = math.inf if free else 0.0
    return model.variable(-limit, limit), model.variable(-limit, limit)


def add_balance(model: LinearModel, case: LoadCase, load: LoadColumns, reactions: list[int]) -> None:
    """Adds the three equations of equilibrium about the expected centre."""
    size, greatest = case.size_m(), case.weight[2]
    offsets = (case.places() - np.array(case.centre)) / size
    model.row({**{column: 1.0 for column in reactions}, load.weight: -1.0}, 0.0, 0.0)
    for axis in (0, 1):
        terms = {column: float(offset) for column, offset in zip(reactions, offsets[:, axis], strict=True)}
        terms |= {load.box[axis]: -1.0, load.disc[axis]: -1.0}
        terms |= {c: -v[axis] / (greatest * size) for c, v in zip(load.sizes, case.pushes_nm, strict=True)}
        model.row(terms, 0.0, 0.0)


def true_load(case: LoadCase, load: LoadColumns, x: np.ndarray) -> tuple[float, np.ndarray]:
    """Weight (N) and place of the resultant (m) of a solution, with what lies outside the disc drawn back on to it."""
    size, greatest = case.size_m(), case.weight[2]
    weight = x[load.weight]
    excess = disc_excess(case, load, x)
    moment = x[list(load.box)] + x[list(load.disc)] / (1.0 + max(0.0, excess))
    for column, vector in zip(load.sizes, case.pushes_nm, strict=True):
        moment = moment + x[column] * np.array(vector) / (greatest * size)
    return weight * greatest, np.array(case.centre) + size * moment / weight


def disc_excess(case: LoadCase, load: LoadColumns, x: np.ndarray) -> float:
    """By what part of its radius a solution lies outside the disc (dimensionless); negative within."""
    per_weight, constant = disc_radius(case)
    radius = per_weight * x[load.weight] + constant
    return float(np.linalg.norm(x[list(load.disc)])) / radius - 1.0 if 0.0 < radius else -1.0


def finer_tangents(case: LoadCase, load: LoadColumns, x: np.ndarray) -> list[np.ndarray]:
    """Tangents to the part of the disc that a solution outside it sees; none for a solution within."""
    excess = disc_excess(case, load, x)
    if excess <= LEAST_EXCESS:
        return []
    vector = x[list(load.disc)]
    middle, seen = math.atan2(vector[1], vector[0]), math.acos(1.0 / (1.0 + excess))
    angles = [middle + seen * step / FINER_STEPS for step in range(-FINER_STEPS + 1, FINER_STEPS)]
    return [np.array([math.cos(a), math.sin(a)]) for a in angles]
