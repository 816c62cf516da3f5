"""Writes the files of reference cases for load shares beside this script; see README.md."""

import sys
import time
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import cases_elastic
import cases_envelope
import cases_equilibrium
import cases_girder
import cases_statics
from writing import header, write

FOLDER = Path(__file__).resolve().parent

SEED = 20_250_611

ELASTIC_NOTE = (
    "Reactions by scipy.optimize.nnls and numpy.linalg.lstsq on the points that carry, proved by rational arithmetic; "
    "pynite_agrees_to is how far a stiff frame in PyNite differs at most, over the weight."
)
EQUILIBRIUM_NOTE = (
    "By scipy.optimize.linprog (HiGHS). Discs are polygons of 720 sides drawn about them, so bounds are outward by at "
    "most polygon_tolerance (of the greatest weight; measured against polygons drawn in them)."
)
ENVELOPE_NOTE = (
    "By scipy.optimize.milp (HiGHS), discs to 2e-9 by tangents; each value is what a load of the case really gives, by "
    "scipy.optimize.nnls. every_contact_tried: scipy.optimize.linprog over every set in contact agrees to 1e-8. "
    "inside: naming vertices by signs misses an extreme, by missed_by_naming of the greatest weight at most. "
    "beyond_vertices: by how much the best vertex misses one (null: not tried)."
)
GIRDER_NOTE = "By PyNite; direct stiffness in numpy with every set in contact agrees to 1e-7 of the load. No shear deformation."
STATICS_NOTE = "By numpy.linalg.lstsq."


def kinds() -> list[tuple[str, str, float, str, Callable[[], list[dict]]]]:
    """Kind, library, tolerance, note and maker of each file."""
    return [
        ("elastic", "scipy", 1e-11, ELASTIC_NOTE, lambda: cases_elastic.make(SEED)),
        ("equilibrium", "scipy", 1e-9, EQUILIBRIUM_NOTE, lambda: cases_equilibrium.make(SEED + 1)),
        ("envelope", "scipy", 1e-8, ENVELOPE_NOTE, lambda: cases_envelope.make(SEED + 2)),
        ("girder", "PyNiteFEA", 1e-7, GIRDER_NOTE, cases_girder.make),
        ("statics", "numpy", 1e-10, STATICS_NOTE, cases_statics.make),
    ]


def main() -> int:
    """Writes every file and prints what it holds."""
    for kind, library, tolerance, note, make in kinds():
        start = time.perf_counter()
        cases = make()
        write(FOLDER / f"{kind}.json", header(kind, library, version(library), tolerance, note), cases)
        print(f"{kind}: {len(cases)} cases in {time.perf_counter() - start:.1f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
