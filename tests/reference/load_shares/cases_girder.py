"""Cases of kind `girder`: a continuous girder on spring supports, by PyNite, compared with direct stiffness in numpy."""

import numpy as np

from girder import Girder, direct_reactions, pynite_reactions
from writing import rounded

# PyNite and direct stiffness must agree to this part of the load.
METHODS_AGREE = 1e-7

STIFF, MEDIUM, SOFT = 2.0e9, 1.5e8, 2.0e7

GIRDERS = (
    Girder("girder-two-spans-stiff", ((0.0, STIFF, 0.0), (6.0, STIFF, 0.0), (12.0, STIFF, 0.0)), ((0.0, 12.0, 4.0e8),),
           uniform_loads=((0.0, 12.0, 90e3),)),
    Girder("girder-three-spans-soft", ((0.0, SOFT, 0.0), (5.0, SOFT, 0.0), (10.5, SOFT, 0.0), (15.0, SOFT, 0.0)),
           ((0.0, 15.0, 2.5e8),), uniform_loads=((0.0, 15.0, 60e3),)),
    Girder("girder-mixed-springs", ((0.0, STIFF, 0.0), (4.0, SOFT, 0.0), (9.0, MEDIUM, 0.0), (13.0, STIFF, 0.0)),
           ((0.0, 13.0, 3.2e8),), ((2.5, 180e3), (7.0, 420e3)), ((0.0, 13.0, 25e3),)),
    Girder("girder-overhangs", ((1.5, MEDIUM, 0.0), (6.5, MEDIUM, 0.0), (12.0, MEDIUM, 0.0)), ((0.0, 14.0, 5.0e8),),
           ((0.0, 90e3), (14.0, 120e3)), ((0.0, 14.0, 40e3),)),
    Girder("girder-stepped", ((0.0, STIFF, 0.0), (6.0, STIFF, 0.0), (12.0, STIFF, 0.0), (18.0, STIFF, 0.0)),
           ((0.0, 5.0, 2.0e8), (5.0, 13.0, 9.0e8), (13.0, 18.0, 3.0e8)), ((9.0, 650e3),), ((0.0, 18.0, 30e3),)),
    Girder("girder-partial-loads", ((0.0, MEDIUM, 0.0), (5.0, STIFF, 0.0), (11.0, MEDIUM, 0.0)),
           ((0.0, 7.0, 3.0e8), (7.0, 11.0, 1.2e8)), (), ((1.0, 4.0, 120e3), (6.5, 9.5, 70e3), (0.0, 11.0, 15e3))),
    Girder("girder-levels-in-contact", ((0.0, MEDIUM, 0.001), (6.0, MEDIUM, -0.0015), (12.0, MEDIUM, 0.0005)),
           ((0.0, 12.0, 4.0e8),), ((4.0, 300e3),), ((0.0, 12.0, 50e3),)),
    Girder("girder-level-high-middle", ((0.0, STIFF, 0.0), (5.0, STIFF, 0.004), (10.0, STIFF, 0.0), (15.0, STIFF, -0.002)),
           ((0.0, 15.0, 2.0e8),), (), ((0.0, 15.0, 80e3),)),
    Girder("girder-level-open-middle", ((0.0, STIFF, 0.0), (5.0, STIFF, -0.030), (10.0, STIFF, 0.0)),
           ((0.0, 10.0, 6.0e8),), ((5.0, 200e3),), ((0.0, 10.0, 20e3),)),
    Girder("girder-level-open-two", ((0.0, MEDIUM, 0.002), (4.0, MEDIUM, -0.012), (8.0, MEDIUM, 0.003), (12.0, MEDIUM, -0.010),
                                     (16.0, MEDIUM, 0.001)),
           ((0.0, 16.0, 9.0e8),), (), ((0.0, 16.0, 35e3),)),
    Girder("girder-end-lifts-under-overhang", ((0.0, MEDIUM, 0.0), (6.0, MEDIUM, 0.0), (12.0, MEDIUM, 0.0)),
           ((0.0, 16.0, 5.0e8),), ((16.0, 170e3),), ((0.0, 16.0, 12e3),)),
    Girder("girder-first-lifts-between-spans", ((0.0, STIFF, 0.0), (3.0, STIFF, 0.0), (11.0, STIFF, 0.0), (14.0, STIFF, 0.0)),
           ((0.0, 14.0, 3.0e8),), ((7.0, 800e3),), ((0.0, 14.0, 8e3),)),
    Girder("girder-soft-end-and-level", ((0.0, SOFT, 0.006), (4.5, STIFF, 0.0), (9.0, SOFT, -0.004), (15.0, MEDIUM, 0.001)),
           ((0.0, 8.0, 5.0e8), (8.0, 15.0, 2.5e8)), ((2.0, 150e3), (12.5, 260e3)), ((3.0, 11.0, 45e3),)),
    Girder("girder-six-supports", ((0.5, MEDIUM, 0.0), (4.0, SOFT, 0.001), (8.0, MEDIUM, -0.001), (12.0, MEDIUM, 0.002),
                                   (16.0, SOFT, 0.0), (19.5, MEDIUM, -0.002)),
           ((0.0, 6.0, 3.0e8), (6.0, 14.0, 7.0e8), (14.0, 20.0, 3.0e8)), ((10.0, 500e3), (20.0, 60e3)),
           ((0.0, 20.0, 22e3), (7.0, 13.0, 55e3))),
)


def make() -> list[dict]:
    """All cases, as JSON."""
    return [recorded(girder) for girder in GIRDERS]


def recorded(girder: Girder) -> dict:
    """A girder with PyNite's answer, once direct stiffness agrees."""
    frame, direct = pynite_reactions(girder), direct_reactions(girder)
    worst = float(np.max(np.abs(frame - direct))) / girder.total_n()
    if METHODS_AGREE < worst:
        raise ArithmeticError(f"{girder.name}: PyNite and direct stiffness differ by {worst:.1e} of the load")
    return {
        "name": girder.name,
        "supports": [{"x": x, "stiffness": k, "level": e} for x, k, e in girder.supports],
        "sections": [{"from": a, "to": b, "bending_stiffness_nm2": ei} for a, b, ei in girder.sections],
        "point_loads": [{"x": x, "force": force} for x, force in girder.point_loads],
        "uniform_loads": [{"from": a, "to": b, "force_per_m": w} for a, b, w in girder.uniform_loads],
        "expected": rounded(frame, girder.total_n(), 9),
        "open_supports": int(np.count_nonzero(frame == 0.0)),
    }
