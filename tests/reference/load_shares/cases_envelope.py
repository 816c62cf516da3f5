"""Cases of kind `envelope`: least and greatest reactions over all tolerances at once, by mixed-integer programmes."""

from dataclasses import dataclass
from random import Random

import numpy as np

import every_contact
from elastic import reactions as elastic_reactions
from envelope import Envelope, Extreme
from load_case import LoadCase, to_json
from naming import named_extreme, vertex_extremes
from plans import FAR_ORIGIN, moved, placed, plan_of, springs_of, weight_of, with_tolerances
from solvers import Clock
from writing import rounded

POINT_FIELDS = ("x", "y", "stiffness", "level", "half_band")

# Up to so many points every set in contact is tried as well, and every vertex.
MOST_FOR_EVERY_CONTACT = 11

# The two methods must agree to this part of the greatest weight.
METHODS_AGREE = 1e-8

# An extreme is missed by naming, or lies beyond all vertices, if by more than this part of the greatest weight.
MISSED = 1e-4


@dataclass(frozen=True)
class Wanted:
    """What a case is to show.

    twist: half band times typical stiffness over the mean reaction.
    known: known level errors in the same measure.
    spread: of the weight; box, disc, push: parts of the plan (see `plans.with_tolerances`).
    lifts, inside: whether points must lift off, and whether naming vertices must miss an extreme.
    """

    count: int
    twist: float
    lifts: bool
    inside: bool
    known: float = 0.0
    spread: float = 0.05
    box: float = 0.03
    disc: float = 0.0
    push: float = 0.0
    directed: int = 0
    far: bool = False


WANTED = (
    Wanted(4, 0.3, False, False),
    Wanted(4, 0.2, False, False, disc=0.02, push=0.01, directed=1),
    Wanted(4, 1.2, True, False, spread=0.1),
    Wanted(4, 2.0, True, True, box=0.06),
    Wanted(4, 3.0, True, True, box=0.05, spread=0.15, far=True),
    Wanted(5, 0.3, False, False, known=0.1),
    Wanted(5, 1.5, True, True),
    Wanted(5, 2.5, True, True, box=0.05, directed=2, push=0.02),
    Wanted(5, 1.0, True, False, disc=0.02, far=True),
    Wanted(5, 3.0, True, True, spread=0.0, box=0.0),
    Wanted(6, 0.2, False, False, disc=0.025, directed=1, push=0.01),
    Wanted(6, 1.0, True, True, disc=0.02),
    Wanted(6, 2.0, True, True, known=1.0),
    Wanted(6, 3.0, True, True, box=0.04, far=True),
    Wanted(6, 0.0, True, False, known=3.0, box=0.08, disc=0.02),
    Wanted(7, 0.6, True, False),
    Wanted(7, 1.5, True, True, disc=0.02, push=0.02),
    Wanted(7, 4.0, True, True, spread=0.2),
    Wanted(8, 0.2, False, False, disc=0.02),
    Wanted(8, 0.8, True, False, directed=2, push=0.01),
    Wanted(8, 1.5, True, True, box=0.05),
    Wanted(8, 3.0, True, True, disc=0.025, known=0.5),
    Wanted(10, 0.8, True, False, disc=0.02),
    Wanted(10, 1.5, True, True, box=0.04),
    Wanted(11, 1.0, True, False, far=True),
)


def candidate(rng: Random, name: str, wanted: Wanted) -> LoadCase:
    """A load that may or may not show what is wanted."""
    plan = plan_of(rng, wanted.count)
    weight = weight_of(rng, wanted.spread)
    typical = 10.0 ** rng.uniform(7.5, 9.0)
    unit = weight[1] / wanted.count / typical
    plan = moved(plan, FAR_ORIGIN) if wanted.far else plan
    points = springs_of(rng, plan, typical, 2.2, wanted.known * unit, wanted.twist * unit)
    case = LoadCase(name, points, weight, placed(rng, plan, 0.15))
    return with_tolerances(rng, case, wanted.box, wanted.disc, wanted.push, wanted.directed)


def make(seed: int) -> list[dict]:
    """All cases, as JSON."""
    rng, clock = Random(seed), Clock()
    return [wanted_case(rng, f"envelope-{index:02}", wanted, clock) for index, wanted in enumerate(WANTED, start=1)]


def wanted_case(rng: Random, name: str, wanted: Wanted, clock: Clock) -> dict:
    """The first candidate well inside the hull that shows what is wanted."""
    while True:
        case = candidate(rng, name, wanted)
        if case.margin_m() < 0.06 * case.size_m():
            continue
        envelope = Envelope(case, clock)
        least = [envelope.extreme(p, 1.0) for p in range(wanted.count)]
        greatest = [envelope.extreme(p, -1.0) for p in range(wanted.count)]
        missed = missed_by_naming(case, least, greatest, clock)
        lifted = any(np.any(e.reactions_n == 0.0) for e in least + greatest)
        if lifted == wanted.lifts and (missed > MISSED or not wanted.inside):
            return recorded(envelope, least, greatest, missed)


def missed_by_naming(case: LoadCase, least: list[Extreme], greatest: list[Extreme], clock: Clock) -> float:
    """By how much naming vertices misses an extreme at most, over the greatest weight."""
    short = [named_extreme(case, p, 1.0, clock) - e.reached_n for p, e in enumerate(least)]
    short += [e.reached_n - named_extreme(case, p, -1.0, clock) for p, e in enumerate(greatest)]
    return float(max(short)) / case.weight[2]


def beyond_vertices(case: LoadCase, least: np.ndarray, greatest: np.ndarray, clock: Clock) -> float | None:
    """By how much an extreme exceeds all vertices at most, over the greatest weight; None where that was not tried."""
    if MOST_FOR_EVERY_CONTACT < len(case.points):
        return None
    found = vertex_extremes(case, clock)
    return None if found is None else float(max(np.max(found[0] - least), np.max(greatest - found[1])) / case.weight[2])


def check_every_contact(envelope: Envelope, least: list[Extreme], greatest: list[Extreme]) -> bool:
    """Compares with every set in contact; False if there are too many points for that."""
    if MOST_FOR_EVERY_CONTACT < len(envelope.case.points):
        return False
    low, high = every_contact.bounds(envelope)
    worst = max(np.max(np.abs(low - [e.bound_n for e in least])), np.max(np.abs(high - [e.bound_n for e in greatest])))
    if METHODS_AGREE * envelope.case.weight[2] < worst:
        raise ArithmeticError(f"{envelope.case.name}: every contact tried in turn differs by {worst} N")
    return True


def recorded(envelope: Envelope, least: list[Extreme], greatest: list[Extreme], missed: float) -> dict:
    """The case with its answers."""
    case, clock = envelope.case, envelope.clock
    low, high = np.array([e.reached_n for e in least]), np.array([e.reached_n for e in greatest])
    nominal = elastic_reactions(case, case.weight[1], np.array(case.centre), case.levels(), clock)
    record = to_json(case, POINT_FIELDS, with_domain=True)
    record["least"] = rounded(low, case.weight[2], 10)
    record["expected"] = rounded(nominal, case.weight[2], 10)
    record["greatest"] = rounded(high, case.weight[2], 10)
    record["inside"] = missed > MISSED
    record["lifts_off"] = any(bool(np.any(e.reactions_n == 0.0)) for e in least + greatest)
    record["missed_by_naming"] = round(max(0.0, missed), 6)
    beyond = beyond_vertices(case, low, high, clock)
    record["beyond_vertices"] = None if beyond is None else round(max(0.0, beyond), 6)
    record["every_contact_tried"] = check_every_contact(envelope, least, greatest)
    return record
