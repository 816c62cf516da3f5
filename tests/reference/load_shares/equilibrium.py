"""Least and greatest reaction of any equilibrium without tension, by linear programmes (HiGHS through scipy)."""

import math

import numpy as np

from load_case import LoadCase
from load_rows import add_balance, add_load, regular_directions
from solvers import Clock, LinearModel, NoOptimum, minimum_lp

# Sides of the polygon that stands for a disc.
SIDES = 720

# From the polygon about a disc to the one in it (dimensionless).
INNER = math.cos(math.pi / SIDES)


def bounds(
    case: LoadCase, clock: Clock, shrink: float = 1.0, sides: int = SIDES
) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest reaction (N) at every point.

    Loads that leave the hull of the points have no equilibrium and drop out.
    With `shrink` 1 the discs are polygons drawn about them, with `INNER` polygons drawn in them.
    """
    model = LinearModel()
    reactions = [model.variable(0.0, math.inf) for _ in case.points]
    add_balance(model, case, add_load(model, case, regular_directions(sides), shrink), reactions)
    form, limits = model.linear_form(), np.column_stack([model.lower, model.upper])
    least = [extreme(form, limits, column, 1.0, clock) for column in reactions]
    greatest = [extreme(form, limits, column, -1.0, clock) for column in reactions]
    return np.array(least) * case.weight[2], np.array(greatest) * case.weight[2]


def extreme(form: dict, limits: np.ndarray, column: int, sign: float, clock: Clock) -> float:
    """Least (sign 1) or greatest (sign -1) value of a column."""
    objective = np.zeros(len(limits))
    objective[column] = sign
    x = minimum_lp(form, limits, objective, clock)
    if x is None:
        raise NoOptimum("no load of the case has an equilibrium")
    return max(0.0, float(x[column]))
