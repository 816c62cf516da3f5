"""Least and greatest reaction of a rigid load on one-sided springs with unknown level errors, by mixed-integer programmes.

`R_j = k_j max(0, s_j)` with `s_j = a + b x_j + c y_j + e_j` is written with a gap f_j >= 0 and a contact z_j of 0 or 1:
`R_j / k_j - s_j = f_j`, `R_j <= P_j z_j`, `f_j <= F_j (1 - z_j)`.
P_j is the greatest reaction of any equilibrium; F_j follows from it (`gap_limits`).
Forces are divided by the greatest weight W, lengths by the size of the plan, settlements by W over the mean stiffness.

The disc is the polygon of some tangents; more are added where a solution leaves the disc, until it names a true load.
"""

import math
from dataclasses import dataclass

import numpy as np

import equilibrium
from elastic import reactions as elastic_reactions
from load_case import LoadCase
from load_rows import LoadColumns, add_balance, add_load, finer_tangents, regular_directions, true_load
from solvers import Clock, LinearModel, NoOptimum, minimum_lp, minimum_milp

# Sides of the polygons to start from.
START_SIDES = 16

# The bound and what a true load reaches may differ by this part of the greatest weight (dimensionless).
REACHED = 2e-9

# What the mixed-integer programme says and its linear programme at the same contact may differ by this part.
SOLVERS_AGREE = 1e-6

# Tangents are added at most so many times.
MOST_ROUNDS = 40


@dataclass(frozen=True)
class Extreme:
    """One extreme: its bound (N), what the load found really gives (N), that load and its levels, who carries."""

    bound_n: float
    reached_n: float
    weight_n: float
    at: np.ndarray
    levels: np.ndarray
    reactions_n: np.ndarray


@dataclass(frozen=True)
class Columns:
    """Columns of the model beside those of the load."""

    load: LoadColumns
    reactions: list[int]
    levels: list[int]
    contacts: list[int]


def settlement_unit(case: LoadCase) -> float:
    """What settlements are divided by, in m."""
    return case.weight[2] / float(np.mean(case.stiffness()))


def gap_limits(case: LoadCase, pressed: np.ndarray, clock: Clock) -> np.ndarray:
    """Greatest gap at each point of any state of the load, in settlement units.

    No point is pressed further than its greatest reaction `pressed` allows, and where the resultant acts the load lies
    no lower than minus the highest level: the reactions, as weights, average the plane to more than that.
    The resultant lies in the polygon of the tangents to its region; the worst place is a corner.
    """
    unit, size = settlement_unit(case), case.size_m()
    highest = (case.levels() + case.half_bands()) / unit
    stiffness = case.stiffness() * unit / case.weight[2]
    offsets = (case.places() - np.array(case.centre)) / size
    plane_rows = np.column_stack([np.ones(len(highest)), offsets])
    deepest = pressed / stiffness - (case.levels() - case.half_bands()) / unit
    worst = np.full(len(highest), -math.inf)
    for corner in resultant_corners(case):
        form = {
            "A_ub": np.vstack([plane_rows, [-1.0, -corner[0] / size, -corner[1] / size]]),
            "b_ub": np.append(deepest, np.max(highest)),
        }
        for j, row in enumerate(plane_rows):
            plane = minimum_lp(form, np.array([[-math.inf, math.inf]] * 3), row, clock)
            worst[j] = max(worst[j], -float(row @ plane))
    return 1.001 * (worst - (case.levels() - case.half_bands()) / unit)


def resultant_corners(case: LoadCase) -> list[np.ndarray]:
    """Corners of a polygon about every place of the resultant, from the expected centre, in m."""
    directions = regular_directions(START_SIDES)
    reach = [case.reach_nm(d, case.weight[0]) / case.weight[0] for d in directions]
    return [
        np.linalg.solve(np.array([directions[i - 1], directions[i]]), np.array([reach[i - 1], reach[i]]))
        for i in range(len(directions))
    ]


def model_of(case: LoadCase, tangents: list[np.ndarray], pressed: np.ndarray, gaps: np.ndarray) -> tuple[LinearModel, Columns]:
    """The mixed-integer model for all objectives."""
    model, unit = LinearModel(), settlement_unit(case)
    offsets = (case.places() - np.array(case.centre)) / case.size_m()
    stiffness = case.stiffness() * unit / case.weight[2]
    lowest, highest = (case.levels() - case.half_bands()) / unit, (case.levels() + case.half_bands()) / unit
    reactions = [model.variable(0.0, float(limit)) for limit in pressed]
    levels = [model.variable(float(low), float(high)) for low, high in zip(lowest, highest, strict=True)]
    contacts = [model.variable(0.0, 1.0, integer=True) for _ in pressed]
    plane = [model.variable(-math.inf, math.inf) for _ in range(3)]
    load = add_load(model, case, tangents)
    add_balance(model, case, load, reactions)
    for j, (r, e, z) in enumerate(zip(reactions, levels, contacts, strict=True)):
        gap = {r: 1.0 / stiffness[j], e: -1.0, plane[0]: -1.0, plane[1]: -offsets[j, 0], plane[2]: -offsets[j, 1]}
        model.row(gap, 0.0, math.inf)
        model.row({**gap, z: float(gaps[j])}, -math.inf, float(gaps[j]))
        model.row({r: 1.0, z: -float(pressed[j])}, -math.inf, 0.0)
    return model, Columns(load, reactions, levels, contacts)


class Envelope:
    """The extremes of one case; tangents found for one extreme serve the next."""

    def __init__(self, case: LoadCase, clock: Clock):
        self.case = case
        self.clock = clock
        self.tangents = regular_directions(START_SIDES)
        self.pressed = np.minimum(equilibrium.bounds(case, clock)[1] / case.weight[2] * (1.0 + 1e-9), 1.0)
        self.gaps = gap_limits(case, self.pressed, clock)

    def extreme(self, point: int, sign: float) -> Extreme:
        """The least (sign 1) or greatest (sign -1) reaction of a point."""
        for _ in range(MOST_ROUNDS):
            model, columns = model_of(self.case, self.tangents, self.pressed, self.gaps)
            objective = np.zeros(len(model.lower))
            objective[columns.reactions[point]] = sign
            x = minimum_milp(model, objective, self.clock)
            found = self.at_contact(point, sign, x[columns.contacts] > 0.5)
            if found is None:
                raise NoOptimum(f"{self.case.name}: the contact found has no load")
            bound, (extreme, cut) = x[columns.reactions[point]] * self.case.weight[2], found
            if not cut and abs(bound - extreme.bound_n) > SOLVERS_AGREE * self.case.weight[2]:
                raise NoOptimum(f"{self.case.name}: mixed-integer and linear programme differ at point {point}")
            if not cut:
                return extreme
        raise NoOptimum(f"{self.case.name}: the disc is not reached at point {point}")

    def at_contact(self, point: int, sign: float, contact: np.ndarray) -> tuple[Extreme, bool] | None:
        """The extreme among loads with this contact, and whether tangents had to be added; None without such loads."""
        cut = False
        for _ in range(MOST_ROUNDS):
            model, columns = model_of(self.case, self.tangents, self.pressed, self.gaps)
            limits = np.column_stack([model.lower, model.upper])
            limits[columns.contacts] = np.column_stack([contact, contact])
            objective = np.zeros(len(limits))
            objective[columns.reactions[point]] = sign
            x = minimum_lp(model.linear_form(), limits, objective, self.clock)
            if x is None:
                return None
            extreme = self.checked(columns, x, point)
            if abs(extreme.bound_n - extreme.reached_n) <= REACHED * self.case.weight[2]:
                return extreme, cut
            finer = finer_tangents(self.case, columns.load, x)
            if not finer:
                raise NoOptimum(f"{self.case.name}: the elastic solution differs at point {point}")
            self.tangents.extend(finer)
            cut = True
        raise NoOptimum(f"{self.case.name}: the disc is not reached at point {point}")

    def checked(self, columns: Columns, x: np.ndarray, point: int) -> Extreme:
        """The load a solution names, solved again as a load on springs."""
        weight, at = true_load(self.case, columns.load, x)
        levels = x[columns.levels] * settlement_unit(self.case)
        shares = elastic_reactions(self.case, weight, at, levels, self.clock)
        bound = float(x[columns.reactions[point]]) * self.case.weight[2]
        return Extreme(bound, float(shares[point]), weight, at, levels, shares)


def extremes(case: LoadCase, clock: Clock) -> tuple[list[Extreme], list[Extreme]]:
    """Least and greatest reaction at every point."""
    envelope = Envelope(case, clock)
    count = range(len(case.points))
    return [envelope.extreme(p, 1.0) for p in count], [envelope.extreme(p, -1.0) for p in count]
