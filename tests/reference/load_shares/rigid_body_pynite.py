"""A rigid load on one-sided springs as a space frame in PyNite: a hub at the centre with a stiff arm to each point.

Each point stands on a spring whose base is moved up by the level error.
PyNite's own compression-only springs are not used: once open in an iteration they stay open, also where the load comes
back to them.
So the points that carry are given, and the answer says whether the frame agrees: no carrying spring in tension and
every other point clear of its base.
"""

import numpy as np
from Pynite import FEModel3D

from load_case import LoadCase

COMBINATION = "Combo 1"

# Stiffness of an arm as a cantilever over that of the stiffest spring (dimensionless): what the arms give is of the
# order of the inverse, what rounding takes of the order of this number times 1e-14.
ARM_OVER_SPRING = 1e5


class WrongContact(Exception):
    """The frame shows tension in a spring said to carry, or a point below its base said to be open."""


def reactions(case: LoadCase, carries: np.ndarray) -> np.ndarray:
    """Reactions (N) at the expected weight, centre and levels with these points in contact."""
    model = stiff_frame(case)
    for index, point in enumerate(case.points):
        add_arm(model, index, point.x - case.centre[0], point.y - case.centre[1])
        if carries[index]:
            add_spring(model, index, point.stiffness, point.level)
    model.analyze(check_stability=False)
    return np.array([reaction(model, index, bool(carries[index]), p.level) for index, p in enumerate(case.points)])


def stiff_frame(case: LoadCase) -> FEModel3D:
    """The hub with the weight on it; it can only go down and tilt."""
    model = FEModel3D()
    bending = ARM_OVER_SPRING * float(np.max(case.stiffness())) * case.size_m() ** 3
    model.add_material("stiff", E=bending, G=bending, nu=0.3, rho=0.0)
    model.add_section("arm", A=1.0, Iy=1.0, Iz=1.0, J=1.0)
    model.add_node("hub", 0.0, 0.0, 0.0)
    model.def_support("hub", support_DX=True, support_DZ=True, support_RY=True)
    model.add_node_load("hub", "FY", -case.weight[1])
    return model


def add_arm(model: FEModel3D, index: int, x: float, y: float) -> None:
    """Adds an arm of the load; plan x, y are X, -Z of the frame, up is Y."""
    model.add_node(f"top {index}", x, 0.0, -y)
    model.add_member(f"arm {index}", "hub", f"top {index}", "stiff", "arm")


def add_spring(model: FEModel3D, index: int, stiffness: float, level: float) -> None:
    """Adds the spring below the end of an arm, on a base at its level."""
    top = model.nodes[f"top {index}"]
    model.add_node(f"base {index}", top.X, -1.0, top.Z)
    model.add_spring(f"spring {index}", f"base {index}", f"top {index}", stiffness)
    model.def_support(f"base {index}", True, True, True, True, True, True)
    model.def_node_disp(f"base {index}", "DY", level)


def reaction(model: FEModel3D, index: int, carries: bool, level: float) -> float:
    """Compression in the spring (N), after checking that contact is as was said."""
    if not carries:
        if model.nodes[f"top {index}"].DY[COMBINATION] < level:
            raise WrongContact(f"point {index} is below its base")
        return 0.0
    compression = -float(model.springs[f"spring {index}"].f(COMBINATION)[6, 0])
    if compression < 0.0:
        raise WrongContact(f"point {index} is in tension")
    return compression
