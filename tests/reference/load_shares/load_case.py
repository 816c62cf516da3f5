"""A load on points: what a case says, how it is read from and written to JSON.

SI units throughout: m, N, N/m, N m.
The load of weight W with its centre at g, pushed by the moment m, stands on reactions R_j >= 0 at p_j with
`sum R_j = W` and `sum R_j p_j = W g + m`.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import ConvexHull


@dataclass(frozen=True)
class Point:
    """A support: place (m), stiffness (N/m), level error (m, positive stands high) and half its band (m)."""

    x: float
    y: float
    stiffness: float | None = None
    level: float = 0.0
    half_band: float = 0.0


@dataclass(frozen=True)
class LoadCase:
    """Points and all the loads they must hold.

    weight: least, expected and greatest, in N.
    centre, half: place of the centre of gravity and half widths of its box, in m.
    disc_m: radius of the disc of horizontal forces in proportion to the weight, in m.
    push_radius_nm: radius of the disc of moments that do not depend on the weight, in N m.
    pushes_nm: moments of forces of known direction, each of any size from none to the whole vector, in N m.
    """

    name: str
    points: tuple[Point, ...]
    weight: tuple[float, float, float]
    centre: tuple[float, float]
    half: tuple[float, float] = (0.0, 0.0)
    disc_m: float = 0.0
    push_radius_nm: float = 0.0
    pushes_nm: tuple[tuple[float, float], ...] = ()

    def places(self) -> np.ndarray:
        """Points as rows (x, y), in m."""
        return np.array([(p.x, p.y) for p in self.points])

    def stiffness(self) -> np.ndarray:
        """Stiffness of each point, in N/m."""
        return np.array([p.stiffness for p in self.points], dtype=float)

    def levels(self) -> np.ndarray:
        """Expected level error of each point, in m."""
        return np.array([p.level for p in self.points])

    def half_bands(self) -> np.ndarray:
        """Half the band of the level error of each point, in m."""
        return np.array([p.half_band for p in self.points])

    def size_m(self) -> float:
        """Length to scale by: greatest distance of a point from the expected centre, in m."""
        return float(np.max(np.linalg.norm(self.places() - np.array(self.centre), axis=1)))

    def reach_nm(self, direction: np.ndarray, weight_n: float) -> float:
        """Greatest `direction . (W g + m)` less that of the expected centre, for one weight, in N m."""
        per_weight = np.abs(direction) @ np.array(self.half) + self.disc_m * np.linalg.norm(direction)
        directed = sum(max(0.0, float(direction @ np.array(v))) for v in self.pushes_nm)
        return float(weight_n * per_weight + self.push_radius_nm * np.linalg.norm(direction) + directed)

    def margin_m(self) -> float:
        """Least distance of the resultant from an edge of the hull of the points, in m; negative if it can get outside."""
        hull = ConvexHull(self.places() - np.array(self.centre))
        least = self.weight[0]
        return float(min(-row[2] - self.reach_nm(row[:2], least) / least for row in hull.equations))


def from_json(record: dict) -> LoadCase:
    """Reads a case; fields that a kind of case does not need may be missing."""
    weight, centre = record["weight"], record["centre"]
    expected = weight["expected"]
    return LoadCase(
        name=record["name"],
        points=tuple(Point(**point) for point in record["points"]),
        weight=(weight.get("least", expected), expected, weight.get("greatest", expected)),
        centre=(centre["x"], centre["y"]),
        half=(centre.get("half_x", 0.0), centre.get("half_y", 0.0)),
        disc_m=record.get("disc_m", 0.0),
        push_radius_nm=record.get("push_radius_nm", 0.0),
        pushes_nm=tuple((v[0], v[1]) for v in record.get("pushes_nm", [])),
    )


def to_json(case: LoadCase, point_fields: tuple[str, ...], with_domain: bool) -> dict:
    """A case as JSON: the named fields of each point and, if asked, the tolerances of the load."""
    record = {
        "name": case.name,
        "points": [{field: getattr(point, field) for field in point_fields} for point in case.points],
    }
    if not with_domain:
        record["weight"] = {"expected": case.weight[1]}
        record["centre"] = {"x": case.centre[0], "y": case.centre[1]}
        return record
    record["weight"] = dict(zip(("least", "expected", "greatest"), case.weight, strict=True))
    record["centre"] = {"x": case.centre[0], "y": case.centre[1], "half_x": case.half[0], "half_y": case.half[1]}
    record["disc_m"] = case.disc_m
    record["push_radius_nm"] = case.push_radius_nm
    record["pushes_nm"] = [list(v) for v in case.pushes_nm]
    return record
