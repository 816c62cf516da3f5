"""Writes `cases.json` beside this script, or compares it with what the libraries give now; see README.md."""

import argparse
import json
import random
import sys
from importlib.metadata import version
from pathlib import Path

import hydraulics as h

FILE = Path(__file__).resolve().parent / "cases.json"
SEED = 20_261_126
# How far two ways to the same retract time may differ.
TWO_WAYS = 2e-6
# How far the file may differ from what is computed again.
SAME = 1e-9
GRADES = [(15.0, 3.4), (22.0, 4.3), (32.0, 5.4), (46.0, 6.8), (68.0, 8.7)]


def digits(value: float, count: int = 12) -> float:
    """The value to so many digits, so that machines agree."""
    return float(f"{value:.{count}g}")


def a_run(rng: random.Random, viscosity: tuple[float, float]) -> dict:
    """A hose with its oil, invented."""
    return {
        "bore_m": digits(rng.uniform(5e-3, 14e-3), 4),
        "length_m": digits(rng.uniform(3.0, 60.0), 4),
        "fittings_k": digits(rng.choice([0.0, rng.uniform(2.0, 40.0)]), 4),
        "density_kg_m3": digits(rng.uniform(850.0, 890.0), 4),
        "viscosity_m2_s": digits(rng.uniform(*viscosity) * 1e-6, 4),
    }


def viscosity_cases(rng: random.Random) -> list[dict]:
    """Six oils at a temperature."""
    cases = []
    for index in range(6):
        v40, v100 = GRADES[index % len(GRADES)]
        temperature = digits(rng.uniform(-15.0, 85.0), 4)
        found = h.d341(v40, v100, temperature)
        cases.append(
            {
                "name": f"viscosity-{index + 1}",
                "v40_mm2_s": v40,
                "v100_mm2_s": v100,
                "temperature_c": temperature,
                "viscosity_mm2_s": digits(found),
            }
        )
    return cases


def loss_cases(rng: random.Random) -> list[dict]:
    """Twelve flows: six laminar, two between, four turbulent."""
    wanted = [(50.0, 1800.0)] * 6 + [(2000.0, 4000.0)] * 2 + [(4200.0, 20_000.0)] * 4
    cases = []
    for index, (least, most) in enumerate(wanted):
        run = a_run(rng, (10.0, 60.0))
        reynolds = rng.uniform(least, most)
        flow = digits(reynolds * run["viscosity_m2_s"] * 3.141592653589793 * run["bore_m"] / 4.0, 6)
        cases.append(
            {
                "name": f"loss-{index + 1}",
                "run": run,
                "flow_m3_s": flow,
                "reynolds": digits(h.reynolds_of(flow, run)),
                "loss_pa": digits(h.run_loss(flow, run)),
            }
        )
    return cases


def retract_case(rng: random.Random, index: int, thin: bool) -> dict:
    """A ram with a spring; `thin` oil and wide hoses make the flow turbulent."""
    run = a_run(rng, (5.0, 9.0) if thin else (20.0, 600.0))
    if thin:
        run["bore_m"], run["length_m"] = digits(rng.uniform(6e-3, 14e-3), 4), digits(rng.uniform(4.0, 20.0), 4)
    area, stroke = digits(rng.uniform(10e-4, 160e-4), 4), digits(rng.uniform(0.05, 0.35), 3)
    full = digits(area * rng.uniform(2.5e5, 9e5), 4)
    ram = {
        "area_m2": area,
        "stroke_m": stroke,
        "from_m": digits(stroke * rng.uniform(0.4, 1.0), 4),
        "preload_n": digits(full * rng.uniform(0.15, 0.9), 4),
        "full_n": full,
        "plunger_kg": digits(rng.choice([0.0, rng.uniform(0.2, 20.0)]), 3),
        "back_pressure_pa": digits(rng.choice([0.0, rng.uniform(0.0, 3e4)]), 3),
    }
    time, again = h.retract_by_quad(ram, run), h.retract_by_steps(ram, run)
    if TWO_WAYS < abs(time / again - 1.0):
        raise SystemExit(f"two ways to one time differ: {time} and {again}")
    most = max(h.driven_flow(h.spring_pressure(x, ram), run) for x in (0.0, ram["from_m"]))
    return {
        "name": f"retract-{index + 1}",
        "run": run,
        "ram": ram,
        "reynolds": digits(h.reynolds_of(most, run), 6),
        "time_s": digits(time, 9),
    }


def compression_cases(rng: random.Random) -> list[dict]:
    """Three volumes under pressure."""
    cases = []
    for index in range(3):
        volume, pressure = digits(rng.uniform(1e-3, 0.2), 4), digits(rng.uniform(1e7, 7.2e7), 4)
        modulus = digits(rng.uniform(1.3e9, 2.0e9), 4)
        cases.append(
            {
                "name": f"compression-{index + 1}",
                "volume_m3": volume,
                "pressure_pa": pressure,
                "modulus_pa": modulus,
                "extra_m3": digits(h.extra_oil(volume, pressure, modulus), 9),
            }
        )
    return cases


def document() -> dict:
    """All cases."""
    rng = random.Random(SEED)
    return {
        "header": {
            "made_by": "make_cases.py",
            "seed": SEED,
            "libraries": {name: version(name) for name in ("fluids", "scipy")},
            "note": "Invented circuits, generated; no real equipment.",
            "tolerances": {"viscosity": 1e-9, "loss": 1e-9, "retract": 1e-4, "compression": 1e-7},
        },
        "viscosity": viscosity_cases(rng),
        "loss": loss_cases(rng),
        "retract": [retract_case(rng, index, thin=index % 3 == 2) for index in range(9)],
        "compression": compression_cases(rng),
    }


def differences(one, other, place: str = "") -> list[str]:
    """Where two documents differ by more than rounding."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return [found for key in one for found in differences(one[key], other[key], f"{place}/{key}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        return [found for i, pair in enumerate(zip(one, other)) for found in differences(*pair, f"{place}/{i}")]
    if isinstance(one, float) and isinstance(other, float):
        return [] if abs(one - other) <= SAME * max(abs(one), abs(other)) else [f"{place}: {one} and {other}"]
    return [] if one == other else [f"{place}: {one!r} and {other!r}"]


def main() -> int:
    """Writes the file, or compares it."""
    parser = argparse.ArgumentParser(description="Make the reference cases of the circuit.")
    parser.add_argument("--compare", action="store_true", help="compare with the file instead of writing it")
    made = document()
    if not parser.parse_args().compare:
        FILE.write_text(json.dumps(made, indent=1) + "\n", encoding="utf-8")
        return 0
    # Through JSON, so that whole numbers and lists are read alike.
    found = differences(json.loads(FILE.read_text(encoding="utf-8")), json.loads(json.dumps(made)))
    print("\n".join(found) if found else f"{FILE.name}: all cases are as the libraries give them now")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
