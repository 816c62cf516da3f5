"""The scipy solvers behind one small face, with a clock that counts only the time spent in them."""

import time
from dataclasses import dataclass, field

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, linprog, milp, nnls

# Tolerances of HiGHS for linear programmes (dimensionless: all models are scaled to about one).
LP_OPTIONS = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}

# HiGHS stops a mixed-integer search at an absolute gap of 1e-6 that scipy cannot change, so objectives are scaled up.
MILP_OBJECTIVE_SCALE = 1e4


class NoOptimum(Exception):
    """A solver ended without an optimum."""


@dataclass
class Clock:
    """Time spent in solvers, in s, and the number of calls."""

    seconds: float = 0.0
    calls: int = 0

    def timed(self, function, *arguments, **options):
        """Calls the function and adds its time."""
        start = time.perf_counter()
        result = function(*arguments, **options)
        self.seconds += time.perf_counter() - start
        self.calls += 1
        return result


@dataclass
class LinearModel:
    """A linear or mixed-integer programme, built column by column and row by row."""

    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    integer: list[bool] = field(default_factory=list)
    rows: list[dict[int, float]] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)

    def variable(self, lower: float, upper: float, integer: bool = False) -> int:
        """Adds a column and returns its index."""
        self.lower.append(lower)
        self.upper.append(upper)
        self.integer.append(integer)
        return len(self.lower) - 1

    def row(self, terms: dict[int, float], lower: float, upper: float) -> None:
        """Adds `lower <= sum of coefficient times column <= upper`."""
        self.rows.append(terms)
        self.row_lower.append(lower)
        self.row_upper.append(upper)

    def matrix(self) -> sparse.csr_array:
        """All rows."""
        entries = [(r, c, v) for r, terms in enumerate(self.rows) for c, v in terms.items()]
        r, c, v = zip(*entries, strict=True)
        return sparse.csr_array((v, (r, c)), shape=(len(self.rows), len(self.lower)))

    def linear_form(self) -> dict:
        """Rows in the form of `linprog`, to be used for many objectives."""
        matrix, low, high = self.matrix(), np.array(self.row_lower), np.array(self.row_upper)
        equal = low == high
        upper, lower = ~equal & np.isfinite(high), ~equal & np.isfinite(low)
        return {
            "A_eq": matrix[equal],
            "b_eq": high[equal],
            "A_ub": sparse.vstack([matrix[upper], -matrix[lower]]),
            "b_ub": np.concatenate([high[upper], -low[lower]]),
        }


def minimum_lp(form: dict, bounds: np.ndarray, objective: np.ndarray, clock: Clock) -> np.ndarray | None:
    """Columns at the least value of a linear programme (HiGHS), None if it has no feasible point."""
    result = clock.timed(linprog, objective, bounds=bounds, method="highs", options=LP_OPTIONS, **form)
    if result.status == 2:
        return None
    if result.status != 0:
        raise NoOptimum(result.message)
    return result.x


def minimum_milp(model: LinearModel, objective: np.ndarray, clock: Clock) -> np.ndarray:
    """Columns at the least value of a mixed-integer programme (HiGHS, no gap allowed)."""
    result = clock.timed(
        milp,
        objective * MILP_OBJECTIVE_SCALE,
        integrality=np.array(model.integer, dtype=int),
        bounds=Bounds(model.lower, model.upper),
        constraints=LinearConstraint(model.matrix(), model.row_lower, model.row_upper),
        options={"mip_rel_gap": 0.0},
    )
    if result.status != 0:
        raise NoOptimum(result.message)
    return result.x


def non_negative_least_squares(matrix: np.ndarray, target: np.ndarray, clock: Clock) -> np.ndarray:
    """Least squares with no negative unknown (Lawson and Hanson)."""
    unknowns, _ = clock.timed(nnls, matrix, target, maxiter=100 * matrix.shape[1])
    return unknowns
