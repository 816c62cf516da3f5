"""The named functions of the expressions, in SI units, written from the definitions that the sheet prints."""

import math

from .units import FORCE, LENGTH, NONE, PRESSURE, VOLUME, Unreadable, Value

AREA, FLOW = (2, 0, 0, 0), (3, 0, -1, 0)
MOMENT, INERTIA = (2, 1, -2, 0), (4, 0, 0, 0)
VISCOSITY, DENSITY = (2, 0, -1, 0), (-3, 1, 0, 0)
INTERVALS = 64


def churchill(reynolds, roughness):
    """Darcy friction factor; divided through by 8 / Re, so that nothing overflows."""
    inner = 2.457 * math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * roughness))
    a_and_b = inner**16 + (37530 / reynolds) ** 16
    return 8 * (8 / reynolds) * (1 + (reynolds / 8) ** 12 / a_and_b**1.5) ** (1 / 12)


def velocity_pressure(bore, density, flow):
    velocity = 4 * flow / (math.pi * bore**2)
    return density * velocity**2 / 2


def loss_of_run(flow, viscosity, length, bore, density, coefficient):
    velocity = 4 * flow / (math.pi * bore**2)
    factor = churchill(velocity * bore / viscosity, 0.0)
    return (factor * length / bore + coefficient) * velocity_pressure(bore, density, flow)


def driven_flow(pressure, *run):
    """The flow whose loss in the run is the pressure, by halving."""
    low, high = 0.0, 1e-12
    while loss_of_run(high, *run) < pressure:
        low, high = high, high * 2
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if loss_of_run(middle, *run) < pressure:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def mean_flow(start, end, *run):
    """The constant flow that takes as long: log-mean pressure over the mean of p / q over ln p."""
    if start == end:
        return driven_flow(start, *run)
    width = math.log(start / end)
    total = 0.0
    for step in range(INTERVALS + 1):
        pressure = end * math.exp(width * step / INTERVALS)
        weight = 1 if step in (0, INTERVALS) else 4 if step % 2 else 2
        total += weight * pressure / driven_flow(pressure, *run)
    return (start - end) / width / (total / (3 * INTERVALS))


RUN = [VISCOSITY, LENGTH, LENGTH, (NONE, DENSITY), NONE]

# Name, dimensions of the arguments (a tuple of two: either), dimension of the value, function of SI values.
TABLE = {
    "tan": ([NONE], NONE, math.tan),
    "sin": ([NONE], NONE, math.sin),
    "cos": ([NONE], NONE, math.cos),
    "ln": ([NONE], NONE, math.log),
    "exp": ([NONE], NONE, math.exp),
    "log10": ([NONE], NONE, math.log10),
    "pow4": ([NONE], NONE, lambda x: x**4),
    "growth": ([NONE], NONE, lambda r: (1 + (4 / math.pi - 1) * r) / (1 - r)),
    "impact_factor": ([LENGTH, LENGTH], NONE, lambda h, d: 1 + math.sqrt(1 + 2 * h / d)),
    "churchill": ([NONE, NONE], NONE, churchill),
    "darcy_weisbach": (
        [NONE, LENGTH, LENGTH, (NONE, DENSITY), FLOW],
        PRESSURE,
        lambda f, length, d, rho, q: f * length / d * velocity_pressure(d, rho, q),
    ),
    "fittings": ([NONE, LENGTH, (NONE, DENSITY), FLOW], PRESSURE, lambda k, d, rho, q: k * velocity_pressure(d, rho, q)),
    "loss_of_run": ([FLOW, *RUN], PRESSURE, loss_of_run),
    "mean_flow": ([PRESSURE, PRESSURE, *RUN], FLOW, mean_flow),
    "compression": ([VOLUME, PRESSURE, PRESSURE], VOLUME, lambda v, p, k: v * math.expm1(p / k)),
    "bending_in": ([MOMENT, LENGTH, INERTIA], PRESSURE, lambda m, y, i: m * y / i),
    "stress_on": ([FORCE, AREA], PRESSURE, lambda f, a: f / a),
    "pressure_on": ([FORCE, AREA], PRESSURE, lambda f, a: f / a),
}


def call(name, arguments):
    """The value of a named function."""
    if name in ("max", "min"):
        if len(arguments) < 2 or len({one.dimension for one in arguments}) != 1:
            raise Unreadable(f"{name} of different dimensions")
        return (max if name == "max" else min)(arguments, key=lambda one: one.si)
    if name == "sqrt" and len(arguments) == 1:
        return root(arguments[0])
    if name not in TABLE:
        raise Unreadable(f"function not known: {name}")
    wanted, gives, function = TABLE[name]
    if len(wanted) != len(arguments):
        raise Unreadable(f"{name} takes {len(wanted)} arguments and has {len(arguments)}")
    for place, (dimension, argument) in enumerate(zip(wanted, arguments), 1):
        either = dimension if isinstance(dimension[0], tuple) else (dimension,)
        if argument.dimension not in either:
            raise Unreadable(f"argument {place} of {name} has the wrong dimension")
    return Value(function(*(argument.si for argument in arguments)), gives)


def root(value):
    if value.si < 0 or any(part % 2 for part in value.dimension):
        raise Unreadable("no root of this")
    return Value(math.sqrt(value.si), tuple(part // 2 for part in value.dimension))
