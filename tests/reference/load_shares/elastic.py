"""A rigid load on one-sided springs, R_j = k_j max(0, a + b x_j + c y_j + e_j), by non-negative least squares.

The reactions are those in equilibrium with the load for which `1/2 sum R_j^2 / k_j - sum e_j R_j` is least, R_j >= 0.
With t_j = R_j / sqrt(k_j) this asks for the admissible point nearest to sqrt(k_j) e_j, the problem "least distance
programming" of Lawson and Hanson, *Solving Least Squares Problems* (1974), chapter 23, which they turn into a
non-negative least-squares problem without penalty factors.
"""

from fractions import Fraction

import numpy as np

from load_case import LoadCase
from solvers import Clock, NoOptimum, non_negative_least_squares

# Greatest part of the load by which the reactions of the two steps may differ (dimensionless).
STEPS_AGREE = 1e-7


def nearest_admissible(directions: np.ndarray, limits: np.ndarray, clock: Clock) -> np.ndarray:
    """Multipliers u >= 0 of the shortest z with `directions z >= limits`; u_j > 0 where the limit is met."""
    stacked = np.vstack([directions.T, limits])
    target = np.zeros(stacked.shape[0])
    target[-1] = 1.0
    return non_negative_least_squares(stacked, target, clock)


def reactions(case: LoadCase, weight_n: float, at: np.ndarray, levels: np.ndarray, clock: Clock) -> np.ndarray:
    """Reactions (N) to a weight whose resultant acts at a place (m), with these level errors (m).

    The non-negative least-squares solution says which points carry; on these the equations are then solved by
    ordinary least squares, which keeps all digits.
    """
    size, k = case.size_m(), case.stiffness()
    softness = np.mean(k)
    root = np.sqrt(k / softness)
    offsets = (case.places() - at) / size
    equations = np.vstack([np.ones(len(k)), offsets.T]) * root
    total = np.array([1.0, 0.0, 0.0])
    wanted = root * levels * softness / weight_n

    nearest = balanced(equations, total, wanted)
    _, singular, rows = np.linalg.svd(equations)
    free = rows[np.count_nonzero(singular > 1e-12 * singular[0]):].T
    multipliers = nearest_admissible(free, -nearest, clock)
    carries = multipliers == 0.0
    residual = np.vstack([free.T, -nearest]) @ multipliers
    residual[-1] -= 1.0
    if -residual[-1] < 1e-14:
        raise NoOptimum("no equilibrium without tension")
    first = nearest - free @ residual[:-1] / residual[-1]

    shares = np.zeros(len(k))
    shares[carries] = root[carries] * balanced(equations[:, carries], total, wanted[carries])
    if np.max(np.abs(shares - root * first)) > STEPS_AGREE or np.min(shares) < -STEPS_AGREE:
        raise NoOptimum("the points that carry are not certain")
    return weight_n * np.maximum(shares, 0.0)


def balanced(equations: np.ndarray, total: np.ndarray, wanted: np.ndarray) -> np.ndarray:
    """The solution of the equations nearest to what is wanted, whatever its signs."""
    correction, *_ = np.linalg.lstsq(equations, total - equations @ wanted, rcond=1e-13)
    return wanted + correction


def expected_reactions(case: LoadCase, clock: Clock) -> np.ndarray:
    """Reactions (N) at the expected weight, centre and levels, without horizontal force."""
    return reactions(case, case.weight[1], np.array(case.centre), case.levels(), clock)


def exact_reactions(case: LoadCase, carries: np.ndarray) -> np.ndarray:
    """The same (N), in rational arithmetic, for the points said to carry.

    Raises NoOptimum unless every one of them carries no tension and every other one is open, which is proof that the
    points that carry are the right ones: the problem is convex.
    """
    places = [(Fraction(1), Fraction(p.x), Fraction(p.y)) for p in case.points]
    stiffness = [Fraction(p.stiffness) for p in case.points]
    levels = [Fraction(p.level) for p in case.points]
    moments = (Fraction(1), Fraction(case.centre[0]), Fraction(case.centre[1]))
    right = [Fraction(case.weight[1]) * m for m in moments]
    left = [[Fraction(0)] * 3 for _ in range(3)]
    for place, k, e, c in zip(places, stiffness, levels, carries, strict=True):
        if not c:
            continue
        for i in range(3):
            right[i] -= k * e * place[i]
            for j in range(3):
                left[i][j] += k * place[i] * place[j]
    plane = solved(left, right)
    compressions = [sum(a * b for a, b in zip(plane, place, strict=True)) + e for place, e in zip(places, levels, strict=True)]
    if any((s < 0) if c else (s > 0) for s, c in zip(compressions, carries, strict=True)):
        raise NoOptimum("a point carries that should be open, or the other way round")
    return np.array(
        [float(k * s) if c else 0.0 for k, s, c in zip(stiffness, compressions, carries, strict=True)]
    )


def solved(left: list[list[Fraction]], right: list[Fraction]) -> list[Fraction]:
    """Solution of a small system of equations in rational arithmetic (Gauss and Jordan)."""
    rows = [list(row) + [value] for row, value in zip(left, right, strict=True)]
    for i in range(len(rows)):
        pivot = next((r for r in range(i, len(rows)) if rows[r][i] != 0), None)
        if pivot is None:
            raise NoOptimum("the points that carry lie on one line")
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [value / rows[i][i] for value in rows[i]]
        for r in range(len(rows)):
            if r != i:
                rows[r] = [value - rows[r][i] * own for value, own in zip(rows[r], rows[i], strict=True)]
    return [row[-1] for row in rows]
