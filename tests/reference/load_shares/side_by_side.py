"""Solves files of cases with scipy and prints the time its solvers take, to be held beside other programs' times.

Kinds: `elastic` by non-negative least squares, `equilibrium` by linear programmes, `envelope` by mixed-integer
programmes (cases of more than eight points are left out).
Only the time inside scipy's solvers counts, not reading, building models, small numpy algebra or printing.
"""

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np

import elastic
import envelope
import equilibrium
from load_case import LoadCase, from_json
from solvers import Clock

# Envelopes of more points are left out.
MOST_POINTS = 8


def solve_elastic(case: LoadCase, clock: Clock, _sides: int) -> dict[str, np.ndarray]:
    """Expected reactions, in N."""
    return {"expected": elastic.expected_reactions(case, clock)}


def solve_equilibrium(case: LoadCase, clock: Clock, sides: int) -> dict[str, np.ndarray]:
    """Least and greatest reactions of any equilibrium, in N, with a polygon of so many sides for the discs."""
    least, greatest = equilibrium.bounds(case, clock, sides=sides)
    return {"least": least, "greatest": greatest}


def solve_envelope(case: LoadCase, clock: Clock, _sides: int) -> dict[str, np.ndarray]:
    """Least and greatest reactions on springs with unknown levels, in N."""
    least, greatest = envelope.extremes(case, clock)
    return {"least": np.array([e.reached_n for e in least]), "greatest": np.array([e.reached_n for e in greatest])}


SOLVE: dict[str, Callable[[LoadCase, Clock, int], dict[str, np.ndarray]]] = {
    "elastic": solve_elastic,
    "equilibrium": solve_equilibrium,
    "envelope": solve_envelope,
}


def difference(answers: dict[str, np.ndarray], record: dict, weight_n: float) -> float | None:
    """Greatest difference from the answers in the file, over the greatest weight; None if it has none."""
    known = [key for key in answers if key in record]
    return max((float(np.max(np.abs(answers[key] - record[key]))) / weight_n for key in known), default=None)


def run_case(kind: str, record: dict, repeat: int, sides: int) -> float:
    """Solves a case so many times, prints a line and returns the least time, in s."""
    case = from_json(record)
    times, calls, answers = [], 0, {}
    for _ in range(repeat):
        clock = Clock()
        answers = SOLVE[kind](case, clock, sides)
        times.append(clock.seconds)
        calls = clock.calls
    off = difference(answers, record, case.weight[2])
    against = "no answer in the file" if off is None else f"differs by {off:.1e} W"
    print(f"{kind} {case.name}: {len(case.points)} points, {1e3 * min(times):.3f} ms in {calls} calls, {against}")
    return min(times)


def run_file(path: Path, kind: str | None, repeat: int, sides: int) -> None:
    """Solves the cases of a file and prints the total time."""
    document = json.loads(path.read_text(encoding="utf-8"))
    kind = kind or document["header"]["kind"]
    if kind not in SOLVE:
        raise SystemExit(f"{path.name}: cases of kind {kind} are not solved here")
    records = [r for r in document["cases"] if kind != "envelope" or len(r["points"]) <= MOST_POINTS]
    total = sum(run_case(kind, record, repeat, sides) for record in records)
    print(f"total {kind}: {len(records)} cases, {1e3 * total:.3f} ms in solvers (least of {repeat})")


def at_least(least: int) -> Callable[[str], int]:
    """Reads a count from the command line."""

    def count(text: str) -> int:
        value = int(text)
        if value < least:
            raise argparse.ArgumentTypeError(f"at least {least}")
        return value

    return count


def main() -> int:
    """Reads the command line."""
    parser = argparse.ArgumentParser(description="Solve cases with scipy and print the time in its solvers.")
    parser.add_argument("paths", nargs="+", type=Path, metavar="CASES.json")
    parser.add_argument("--repeat", type=at_least(1), default=1, help="solve each case so often; the least time counts")
    parser.add_argument(
        "--sides", type=at_least(3), default=equilibrium.SIDES, help="sides of the polygon for a disc, kind equilibrium"
    )
    parser.add_argument("--kind", choices=sorted(SOLVE), help="kind of the cases if their header does not say")
    arguments = parser.parse_args()
    for path in arguments.paths:
        run_file(path, arguments.kind, arguments.repeat, arguments.sides)
    return 0


if __name__ == "__main__":
    sys.exit(main())
