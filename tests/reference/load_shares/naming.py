"""Short cuts to an extreme reaction that are not exact, to find the cases in which they are wrong.

While contact does not change, a reaction is multi-affine in weight, centre and levels, so the signs of its gradient name
the vertex of its extreme. Once points lift off this can fail in two ways: another vertex has the extreme, or none has.
"""

import itertools
import math
from dataclasses import dataclass

import numpy as np

from elastic import reactions as elastic_reactions
from load_case import LoadCase
from solvers import Clock

# Vertices named one after another before giving up.
MOST_NAMED = 12


@dataclass(frozen=True)
class Vertex:
    """A load (N, and the place of its resultant in m) with levels (m)."""

    weight_n: float
    at: np.ndarray
    levels: np.ndarray


def named_vertex(case: LoadCase, point: int, sign: float, carries: np.ndarray) -> Vertex:
    """The vertex named by the gradient of a reaction while these points carry; sign 1 for the least, -1 for the greatest."""
    k, offsets = case.stiffness(), case.places() - np.array(case.centre)
    rows = np.column_stack([np.ones(len(k)), offsets])
    held = k * carries
    inverse = np.linalg.pinv(rows.T @ (held[:, None] * rows))
    to_load = k[point] * inverse @ rows[point]
    to_levels = -held * (rows @ to_load)
    to_levels[point] += k[point]
    wanted = -sign * to_load[1:]
    moment = np.sign(wanted) * np.array(case.half)
    length = float(np.linalg.norm(wanted))
    unit = wanted / length if 0.0 < length else np.zeros(2)
    moment = moment + unit * case.disc_m
    fixed = unit * case.push_radius_nm
    fixed = sum((np.array(v) for v in case.pushes_nm if 0.0 < wanted @ np.array(v)), fixed)
    to_weight = float(to_load @ np.array([1.0, *moment]))
    weight = case.weight[0] if 0.0 < sign * to_weight else case.weight[2]
    levels = case.levels() - sign * np.sign(to_levels) * case.half_bands()
    return Vertex(weight, np.array(case.centre) + moment + fixed / weight, levels)


def named_extreme(case: LoadCase, point: int, sign: float, clock: Clock) -> float:
    """The extreme (N) by naming vertices: first with every point in contact, then with those that carry at each vertex."""
    nominal = elastic_reactions(case, case.weight[1], np.array(case.centre), case.levels(), clock)
    best = float(nominal[point])
    for carries in (np.ones(len(nominal), dtype=bool), 0.0 < nominal):
        visited: list[tuple] = []
        for _ in range(MOST_NAMED):
            if tuple(carries) in visited or not carries[point]:
                break
            visited.append(tuple(carries))
            vertex = named_vertex(case, point, sign, carries)
            shares = elastic_reactions(case, vertex.weight_n, vertex.at, vertex.levels, clock)
            best = -sign * max(-sign * best, -sign * float(shares[point]))
            carries = 0.0 < shares
    return best


def vertex_extremes(case: LoadCase, clock: Clock) -> tuple[np.ndarray, np.ndarray] | None:
    """Least and greatest reactions (N) over all vertices of a case without discs; None for one with a disc."""
    if 0.0 < case.disc_m + case.push_radius_nm:
        return None
    least, greatest = np.full(len(case.points), math.inf), np.zeros(len(case.points))
    bands = [(p.level - p.half_band, p.level + p.half_band) for p in case.points]
    corners = itertools.product((-case.half[0], case.half[0]), (-case.half[1], case.half[1]))
    pushes = itertools.product((0.0, 1.0), repeat=len(case.pushes_nm))
    loads = list(itertools.product({case.weight[0], case.weight[2]}, corners, pushes))
    for levels in itertools.product(*bands):
        for weight, corner, sizes in sorted(loads):
            moment = sum((s * np.array(v) for s, v in zip(sizes, case.pushes_nm, strict=True)), np.zeros(2))
            at = np.array(case.centre) + np.array(corner) + moment / weight
            shares = elastic_reactions(case, weight, at, np.array(levels), clock)
            least, greatest = np.minimum(least, shares), np.maximum(greatest, shares)
    return least, greatest
