"""Interference fits solved as boundary problems of Lame's equations, for the tests of the engine.

Usage: make_cases.py [--check]

Writes interference_fits.json beside this file; with --check it compares instead and fails where anything differs.
"""

import json
import pathlib
import random
import sys

import numpy as np

HERE = pathlib.Path(__file__).parent
SEED = 20261126
CASES = 32
DIGITS = 12


def solve(fit):
    """Contact pressure and hub stress at the joint, in MPa, from displacements u = a r + b / r in both members.

    Unknown: a and b of the hub, a and b of the shaft. Four boundary equations: no radial stress at the hub's outside, none at
    the shaft's hole (no b in a solid shaft), equal radial stress at the joint, and the two displacements there differing by
    the radial interference. Plane stress. Lengths in units of the joint's radius, so that the numbers are of one size.
    """
    radius = fit["joint_diameter_mm"] / 2.0
    outside = fit["hub_outside_mm"] / 2.0 / radius
    hole = fit["shaft_bore_mm"] / 2.0 / radius

    def radial(modulus, poisson, r):
        """Coefficients of a and b in the radial stress at r."""
        factor = modulus / (1.0 - poisson**2)
        return factor * (1.0 + poisson), -factor * (1.0 - poisson) / r**2

    hub = (fit["hub_modulus_mpa"], fit["hub_poisson"])
    shaft = (fit["shaft_modulus_mpa"], fit["shaft_poisson"])
    at_joint, inside = radial(*hub, 1.0), radial(*shaft, 1.0)
    hole_row = [0.0, 0.0, 0.0, 1.0] if hole == 0.0 else [0.0, 0.0, *radial(*shaft, hole)]
    matrix = np.array(
        [
            [*radial(*hub, outside), 0.0, 0.0],
            hole_row,
            [at_joint[0], at_joint[1], -inside[0], -inside[1]],
            [1.0, 1.0, -1.0, -1.0],
        ]
    )
    # Rows of one size.
    scale = np.abs(matrix).max(axis=1)
    right = np.array([0.0, 0.0, 0.0, fit["radial_interference_mm"] / radius]) / scale
    a, b, _, _ = np.linalg.solve(matrix / scale[:, None], right)
    pressure = -(at_joint[0] * a + at_joint[1] * b)
    modulus, poisson = hub
    hoop = modulus / (1.0 - poisson**2) * ((1.0 + poisson) * a + (1.0 - poisson) * b)
    return float(pressure), float(hoop)


def case(number, rng):
    joint = round(rng.uniform(8.0, 400.0), 1)
    hub = round(joint * rng.uniform(1.05, 5.0), 1)
    hole = 0.0 if number % 3 == 0 else round(joint * rng.uniform(0.05, 0.9), 1)
    steel, other = (207_000.0, 0.292), (round(rng.uniform(60e3, 130e3), -2), round(rng.uniform(0.2, 0.36), 3))
    hub_is, shaft_is = [(steel, steel), (other, steel), (steel, other), (other, other)][number % 4]
    return {
        "joint_diameter_mm": joint,
        "joint_length_mm": round(joint * rng.uniform(0.3, 3.0), 1),
        "hub_outside_mm": hub,
        "shaft_bore_mm": hole,
        "hub_modulus_mpa": hub_is[0],
        "hub_poisson": hub_is[1],
        "shaft_modulus_mpa": shaft_is[0],
        "shaft_poisson": shaft_is[1],
        "radial_interference_mm": round(joint * rng.uniform(0.0001, 0.003), 5),
        "friction": round(rng.uniform(0.05, 0.3), 3),
    }


def solved(fit):
    pressure, hoop = solve(fit)
    surface = np.pi * fit["joint_diameter_mm"] * fit["joint_length_mm"]
    digits = lambda value: float(f"{value:.{DIGITS}g}")
    return {
        **fit,
        "contact_pressure_mpa": digits(pressure),
        "hub_bore_hoop_mpa": digits(hoop),
        "force_n": digits(pressure * surface * fit["friction"]),
    }


def main():
    rng = random.Random(SEED)
    document = {
        "solved_by": f"numpy {np.__version__}, linalg.solve of four boundary equations",
        "seed": SEED,
        "tolerance": 1e-9,
        "cases": [solved(case(number, rng)) for number in range(CASES)],
    }
    path = HERE / "interference_fits.json"
    if "--check" not in sys.argv[1:]:
        path.write_text(json.dumps(document, indent=1) + "\n")
        print(f"{len(document['cases'])} cases written")
        return
    kept = json.loads(path.read_text())
    for made, old in zip(document["cases"], kept["cases"], strict=True):
        for name, value in made.items():
            if abs(value - old[name]) > 1e-9 * abs(value):
                sys.exit(f"{name}: {old[name]} is kept and {value} comes out, in {made}")
    print(f"{len(document['cases'])} cases come out as they are kept")


if __name__ == "__main__":
    main()
