"""An elastic girder on one-sided spring supports: in PyNite, and again by direct stiffness in numpy.

Levels and displacements are positive upwards, loads downwards, reactions are compressions.
Bending only (Euler and Bernoulli), no shear deformation.
"""

import itertools
from dataclasses import dataclass

import numpy as np
from Pynite import FEModel3D

COMBINATION = "Combo 1"


@dataclass(frozen=True)
class Girder:
    """A girder along x.

    supports: place (m), stiffness (N/m), level error (m).
    sections: from, to (m), bending stiffness EI (N m2); they follow each other from end to end.
    point_loads: place (m), force (N). uniform_loads: from, to (m), force per length (N/m).
    """

    name: str
    supports: tuple[tuple[float, float, float], ...]
    sections: tuple[tuple[float, float, float], ...]
    point_loads: tuple[tuple[float, float], ...] = ()
    uniform_loads: tuple[tuple[float, float, float], ...] = ()

    def total_n(self) -> float:
        """All loads, in N."""
        return sum(f for _, f in self.point_loads) + sum((b - a) * w for a, b, w in self.uniform_loads)


def section_at(girder: Girder, x: float) -> float:
    """Bending stiffness at a place within a section, in N m2."""
    return next(ei for start, end, ei in girder.sections if start < x < end)


def pynite_reactions(girder: Girder) -> np.ndarray:
    """Reactions (N); nodes only at supports and changes of section, loads as loads on members.

    Without level errors the supports are PyNite's support springs that resist downward movement only.
    With level errors they are compression-only springs on bases that are moved.
    """
    model = FEModel3D()
    model.add_material("unit", E=1.0, G=1.0, nu=0.3, rho=0.0)
    places = sorted({x for x, _, _ in girder.supports} | {x for a, b, _ in girder.sections for x in (a, b)})
    for index, x in enumerate(places):
        model.add_node(f"n{index}", x, 0.0, 0.0)
        model.def_support(f"n{index}", index == 0, False, True, True, True, False)
    for index, (start, end) in enumerate(itertools.pairwise(places)):
        ei = section_at(girder, 0.5 * (start + end))
        model.add_section(f"s{index}", A=ei, Iy=ei, Iz=ei, J=ei)
        model.add_member(f"m{index}", f"n{index}", f"n{index + 1}", "unit", f"s{index}")
        add_member_loads(model, f"m{index}", girder, start, end, index == 0)
    nodes = [f"n{places.index(x)}" for x, _, _ in girder.supports]
    levelled = any(level != 0.0 for _, _, level in girder.supports)
    for node, (x, stiffness, level) in zip(nodes, girder.supports, strict=True):
        if levelled:
            add_levelled_spring(model, node, x, stiffness, level)
        else:
            model.def_support_spring(node, "DY", stiffness, direction="-")
    model.analyze(check_stability=False, max_iter=100)
    if levelled:
        return np.array([spring_compression(model, node) for node in nodes])
    return np.array([float(model.nodes[node].RxnFY[COMBINATION]) for node in nodes])


def add_member_loads(model: FEModel3D, member: str, girder: Girder, start: float, end: float, first: bool) -> None:
    """Adds what lies on a member; a force on a node belongs to the member before it, at the left end to the first."""
    for x, force in girder.point_loads:
        if start < x <= end or (first and x == start):
            model.add_member_pt_load(member, "FY", -force, x - start)
    for a, b, per_length in girder.uniform_loads:
        low, high = max(a, start), min(b, end)
        if low < high:
            model.add_member_dist_load(member, "FY", -per_length, -per_length, low - start, high - start)


def add_levelled_spring(model: FEModel3D, node: str, x: float, stiffness: float, level: float) -> None:
    """Adds a spring below a node on a base at its level."""
    model.add_node(f"base {node}", x, -1.0, 0.0)
    model.def_support(f"base {node}", True, True, True, True, True, True)
    model.def_node_disp(f"base {node}", "DY", level)
    model.add_spring(f"spring {node}", f"base {node}", node, stiffness, comp_only=True)


def spring_compression(model: FEModel3D, node: str) -> float:
    """Compression in the spring below a node, in N."""
    spring = model.springs[f"spring {node}"]
    return -float(spring.f(COMBINATION)[6, 0]) if spring.active[COMBINATION] else 0.0


def direct_reactions(girder: Girder) -> np.ndarray:
    """Reactions (N) by direct stiffness, with every set of supports in contact tried in turn.

    The right set is the one without tension and without a support above the girder's underside where it is open.
    """
    places = sorted(
        {x for x, _, _ in girder.supports}
        | {x for a, b, _ in girder.sections for x in (a, b)}
        | {x for x, _ in girder.point_loads}
        | {x for a, b, _ in girder.uniform_loads for x in (a, b)}
    )
    matrix, loads = beam_matrix(girder, places), beam_loads(girder, places)
    rows = [2 * places.index(x) for x, _, _ in girder.supports]
    stiffness = np.array([k for _, k, _ in girder.supports])
    levels = np.array([e for _, _, e in girder.supports])
    for contact in itertools.product((True, False), repeat=len(rows)):
        held = np.array(contact)
        if np.count_nonzero(held) < 2:
            continue
        full, right = matrix.copy(), loads.copy()
        for row, k, e in zip(np.array(rows)[held], stiffness[held], levels[held], strict=True):
            full[row, row] += k
            right[row] += k * e
        compressions = stiffness * (levels - np.linalg.solve(full, right)[rows])
        if np.all(compressions[held] >= 0.0) and np.all(compressions[~held] <= 0.0):
            return np.where(held, compressions, 0.0)
    raise ArithmeticError(f"{girder.name}: no set of supports in contact is right")


def beam_matrix(girder: Girder, places: list[float]) -> np.ndarray:
    """Stiffness of the girder for displacement and slope at each place."""
    matrix = np.zeros((2 * len(places), 2 * len(places)))
    for index, (start, end) in enumerate(itertools.pairwise(places)):
        length, ei = end - start, section_at(girder, 0.5 * (start + end))
        element = np.array([
            [12.0, 6.0 * length, -12.0, 6.0 * length],
            [6.0 * length, 4.0 * length**2, -6.0 * length, 2.0 * length**2],
            [-12.0, -6.0 * length, 12.0, -6.0 * length],
            [6.0 * length, 2.0 * length**2, -6.0 * length, 4.0 * length**2],
        ])
        matrix[2 * index:2 * index + 4, 2 * index:2 * index + 4] += ei / length**3 * element
    return matrix


def beam_loads(girder: Girder, places: list[float]) -> np.ndarray:
    """Work-equivalent loads at each place: forces (N) and moments (N m)."""
    loads = np.zeros(2 * len(places))
    for x, force in girder.point_loads:
        loads[2 * places.index(x)] -= force
    for index, (start, end) in enumerate(itertools.pairwise(places)):
        length = end - start
        per_length = sum(w for a, b, w in girder.uniform_loads if a <= start and end <= b)
        shape = np.array([0.5, length / 12.0, 0.5, -length / 12.0])
        loads[2 * index:2 * index + 4] -= per_length * length * shape
    return loads
