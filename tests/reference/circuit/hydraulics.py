"""Oil, hoses and retracting rams with the libraries fluids and scipy; SI units throughout.

Friction is Churchill's of 1977, the law that the engine declares; everything else is textbook.
"""

import math

from fluids.core import K_from_f, Reynolds, dP_from_K
from fluids.friction import Churchill_1977
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

GRAVITY = 9.80665


def d341(v40_mm2_s: float, v100_mm2_s: float, temperature_c: float) -> float:
    """Kinematic viscosity (mm2/s) on the line of ASTM D341 through the values at 40 and 100 degrees Celsius.

    The line is solved for A and B as two equations, and the viscosity is then sought as a root.
    """

    def ordinate(v: float) -> float:
        return math.log10(math.log10(v + 0.7))

    t40, t100, t = (math.log10(c + 273.15) for c in (40.0, 100.0, temperature_c))
    slope = (ordinate(v40_mm2_s) - ordinate(v100_mm2_s)) / (t100 - t40)
    wanted = ordinate(v40_mm2_s) - slope * (t - t40)
    return brentq(lambda v: ordinate(v) - wanted, 1.0, 1e6, xtol=1e-13, rtol=1e-14)


def run_loss(flow: float, run: dict) -> float:
    """Pressure (Pa) that a flow (m3/s) loses along a hose and in its fittings."""
    bore = run["bore_m"]
    velocity = flow / (math.pi / 4.0 * bore**2)
    reynolds = Reynolds(V=velocity, D=bore, nu=run["viscosity_m2_s"])
    friction = K_from_f(fd=Churchill_1977(reynolds, 0.0), L=run["length_m"], D=bore)
    return dP_from_K(K=friction + run["fittings_k"], rho=run["density_kg_m3"], V=velocity)


def reynolds_of(flow: float, run: dict) -> float:
    """Reynolds number of a flow (m3/s) in the hose."""
    return Reynolds(V=flow / (math.pi / 4.0 * run["bore_m"] ** 2), D=run["bore_m"], nu=run["viscosity_m2_s"])


def driven_flow(pressure: float, run: dict) -> float:
    """Flow (m3/s) that a pressure (Pa) drives through the run."""
    return math.exp(brentq(lambda u: math.log(run_loss(math.exp(u), run) / pressure), -30.0, 0.0, xtol=1e-15))


def spring_pressure(x: float, ram: dict) -> float:
    """Pressure (Pa) with which spring and plunger drive the oil out at an extension (m)."""
    force = ram["preload_n"] + (ram["full_n"] - ram["preload_n"]) * x / ram["stroke_m"]
    return (force + ram["plunger_kg"] * GRAVITY) / ram["area_m2"] - ram["back_pressure_pa"]


def retract_by_quad(ram: dict, run: dict) -> float:
    """Time (s) as the integral of A / Q over the extension."""

    def slowness(x: float) -> float:
        return ram["area_m2"] / driven_flow(spring_pressure(x, ram), run)

    return quad(slowness, 0.0, ram["from_m"], epsabs=0.0, epsrel=1e-9, limit=400)[0]


def retract_by_steps(ram: dict, run: dict) -> float:
    """The same as a motion: dx/dt = -Q / A until the ram is closed."""

    def speed(_t: float, x: list[float]) -> list[float]:
        return [-driven_flow(spring_pressure(max(x[0], 0.0), ram), run) / ram["area_m2"]]

    def closed(_t: float, x: list[float]) -> float:
        return x[0]

    closed.terminal = True
    found = solve_ivp(speed, (0.0, 1e8), [ram["from_m"]], method="LSODA", events=closed, rtol=1e-8, atol=1e-11)
    return float(found.t_events[0][0])


def extra_oil(volume: float, pressure: float, modulus: float) -> float:
    """Oil (m3 at no pressure) that filling a volume at a pressure takes beyond it: dV/dp = -V/K integrated in steps."""
    found = solve_ivp(lambda _p, v: [v[0] / modulus], (0.0, pressure), [volume], rtol=1e-11, atol=1e-18)
    return float(found.y[0][-1]) - volume
