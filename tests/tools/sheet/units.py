"""Printed quantities: numbers as they stand on the page, and units with their dimensions.

Factors follow from the exact definitions of pound, inch, standard gravity and US gallon (NIST SP 811, appendix B).
"""

import math
import re
from dataclasses import dataclass

POUND, INCH, GRAVITY = 0.45359237, 0.0254, 9.80665
LBF, FOOT = POUND * GRAVITY, 12 * INCH
GALLON = 231 * INCH**3

# Dimensions are exponents of metre, kilogram, second and kelvin.
NONE = (0, 0, 0, 0)
LENGTH, MASS, TIME, TEMPERATURE = (1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)
FORCE, PRESSURE, VOLUME = (1, 1, -2, 0), (-1, 1, -2, 0), (3, 0, 0, 0)

SYMBOLS = {
    "1": (1.0, NONE), "%": (0.01, NONE), "rad": (1.0, NONE), "°": (math.pi / 180, NONE), "deg": (math.pi / 180, NONE),
    "mm": (1e-3, LENGTH), "cm": (1e-2, LENGTH), "m": (1.0, LENGTH), "in": (INCH, LENGTH), "ft": (FOOT, LENGTH),
    "g": (1e-3, MASS), "kg": (1.0, MASS), "t": (1e3, MASS), "lb": (POUND, MASS),
    "s": (1.0, TIME), "min": (60.0, TIME), "h": (3600.0, TIME), "K": (1.0, TEMPERATURE),
    "N": (1.0, FORCE), "kN": (1e3, FORCE), "MN": (1e6, FORCE), "lbf": (LBF, FORCE), "kip": (1e3 * LBF, FORCE),
    "Pa": (1.0, PRESSURE), "kPa": (1e3, PRESSURE), "MPa": (1e6, PRESSURE), "GPa": (1e9, PRESSURE),
    "bar": (1e5, PRESSURE), "psi": (LBF / INCH**2, PRESSURE), "ksi": (1e3 * LBF / INCH**2, PRESSURE),
    "psf": (LBF / FOOT**2, PRESSURE),
    "mL": (1e-6, VOLUME), "L": (1e-3, VOLUME), "gal": (GALLON, VOLUME),
    "gpm": (GALLON / 60, (3, 0, -1, 0)),
    "W": (1.0, (2, 1, -3, 0)), "kW": (1e3, (2, 1, -3, 0)), "hp": (550 * FOOT * LBF, (2, 1, -3, 0)),
}
# Zero of the scale in kelvin; only for a temperature that stands alone.
OFFSETS = {"°C": (1.0, 273.15), "degC": (1.0, 273.15), "°F": (5 / 9, 273.15 - 160 / 9), "degF": (5 / 9, 273.15 - 160 / 9)}
RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
BLANKS = "\u202f\u00a0\u2009\u2062 \t\r\n"
DIGITS = re.compile(r"-?(\d{1,3}(\u202f\d{3})+|\d+)([.,]\d+)?\Z")


class Unreadable(Exception):
    """What stands on the page is not of the form agreed."""


@dataclass(frozen=True)
class Value:
    """A value in SI units with its dimension."""

    si: float
    dimension: tuple = NONE


@dataclass(frozen=True)
class Printed:
    """A printed quantity: its value, and half a unit of its last digit, both in SI units."""

    si: float
    dimension: tuple
    half: float
    text: str
    exact: bool


def number(text):
    """The number that a text is, and one unit of its last digit."""
    text = text.strip(" \t\r\n").replace("−", "-")
    if not DIGITS.match(text):
        raise Unreadable(f"no number: {text!r}")
    plain = text.replace("\u202f", "").replace(",", ".")
    decimals = len(plain.partition(".")[2])
    return float(plain), 10.0**-decimals


def factor_of(symbol):
    """Factor and dimension of one symbol with its exponent."""
    known = SYMBOLS.get(symbol)
    if known:
        return known
    split = re.fullmatch(r"(.+?)(-?\d+)", symbol)
    if not split or split[1] not in SYMBOLS:
        raise Unreadable(f"unit not known: {symbol!r}")
    factor, dimension = SYMBOLS[split[1]]
    power = int(split[2])
    return factor**power, tuple(part * power for part in dimension)


def unit(text):
    """Factor, dimension and zero of a unit."""
    plain = text.translate(RAISED).translate({ord(blank): None for blank in BLANKS})
    plain = plain.replace("(US)", "").replace("_us", "").replace("⋅", "·").replace(".", "·")
    if plain == "":
        return 1.0, NONE, 0.0
    if plain in OFFSETS:
        factor, zero = OFFSETS[plain]
        return factor, TEMPERATURE, zero
    factor, dimension = 1.0, NONE
    for position, part in enumerate(plain.split("/")):
        sign = 1 if position == 0 else -1
        for symbol in part.split("·"):
            of_symbol, its = factor_of(symbol)
            factor *= of_symbol**sign
            dimension = tuple(one + sign * other for one, other in zip(dimension, its))
    return factor, dimension, 0.0


def quantity(digits, power, unit_text):
    """A printed quantity from its digits, the power of ten beside them and its unit."""
    value, last = number(digits)
    scale = 10.0**power
    factor, dimension, zero = unit(unit_text)
    # A whole number without a unit counts something.
    exact = unit_text.strip(BLANKS) == "" and power == 0 and last == 1.0
    text = f"{digits}{f' x 10^{power}' if power else ''} {unit_text}".strip()
    return Printed(value * scale * factor + zero, dimension, last / 2 * scale * factor, text, exact)


def in_text(text):
    """A quantity that stands in running text, such as `238.0 kN`."""
    found = re.match(r"\s*([-−]?[\d\u202f]+(?:[.,]\d+)?)[\s\u202f\u00a0]*(.*?)\s*\Z", text, re.S)
    if not found:
        raise Unreadable(f"no quantity: {text!r}")
    return quantity(found[1], 0, found[2])


def dimension_text(dimension):
    """A dimension in base units, for messages."""
    parts = [f"{base}^{power}" if power != 1 else base for base, power in zip(("m", "kg", "s", "K"), dimension) if power]
    return " ".join(parts) or "1"
