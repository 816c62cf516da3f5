"""How the files of cases are written: one line for each point and each list of numbers."""

import json
import math
from pathlib import Path

import numpy as np


def rounded(values: np.ndarray, weight_n: float, digits: int) -> list[float]:
    """Forces (N) without the digits beyond so many of the weight, which differ from machine to machine."""
    decimals = digits - math.ceil(math.log10(weight_n))
    return [round(float(value), decimals) + 0.0 for value in values]


def header(kind: str, library: str, version: str, tolerance: float, note: str) -> dict:
    """Head of a file. The tolerance is a part of the greatest weight (dimensionless)."""
    return {
        "made_by": "make_cases.py",
        "kind": kind,
        "library": library,
        "version": version,
        "tolerance": tolerance,
        "note": f"Invented loads, generated; no real object. {note}",
    }


def text(value, indent: int = 0) -> str:
    """JSON in which anything that holds no further list of lists or of records is on one line."""
    pad = "  " * (indent + 1)
    inner = list(value.values()) if isinstance(value, dict) else list(value) if isinstance(value, list) else []
    if not any(isinstance(v, (dict, list)) and v for v in inner):
        return json.dumps(value)
    if isinstance(value, list) and all(isinstance(v, list) for v in value):
        return json.dumps(value)
    if isinstance(value, dict):
        body = [f"{pad}{json.dumps(key)}: {text(v, indent + 1)}" for key, v in value.items()]
        opening, closing = "{", "}"
    else:
        body = [f"{pad}{text(v, indent + 1)}" for v in value]
        opening, closing = "[", "]"
    return opening + "\n" + ",\n".join(body) + "\n" + "  " * indent + closing


def write(path: Path, head: dict, cases: list[dict]) -> None:
    """Writes a file of cases."""
    path.write_text(text({"header": head, "cases": cases}) + "\n", encoding="utf-8")
