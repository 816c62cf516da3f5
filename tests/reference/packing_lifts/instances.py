"""Writes instances.json. Every instance is invented; the same file comes out every time.

Lengths are whole tenths of a millimetre, masses whole tenths of a kilogram. The seeds in CHOSEN were picked from a
longer run of candidates so that each class has what its name says; nothing else is set by hand.
"""
import json
import os
import random

HERE = os.path.dirname(os.path.abspath(__file__))

CHOSEN = {
    "trivial": [1, 2, 3, 4, 6, 7, 9, 10, 14, 16, 19, 21, 23, 25, 30, 31],
    "moderate": [0, 1, 2, 3, 4, 6, 7, 8, 9, 10, 13, 17, 20, 21, 25, 28, 29, 33],
    "tight": [1, 3, 5, 6, 9, 14, 15, 16, 20, 21, 22, 25, 27, 32, 33],
    "long": [1, 2, 5, 6, 8, 9, 10, 14, 17, 20, 22, 24, 26, 27],
    "many_kinds": [1, 2, 6, 7, 10, 11, 12, 14, 16, 17, 18, 19, 20, 22, 26, 29],
    "far": [0, 1, 2, 3, 5, 7, 8, 10],
    "eight_kinds": list(range(12)),
    "collars": [1, 2, 3, 4, 5, 8, 9, 11, 12, 13, 16, 18, 19, 20, 21, 23, 27, 33, 34, 35],
    "never": [("ram", 0), ("ram", 1), ("stroke", 0), ("stroke", 2), ("stock", 0), ("stock", 2), ("stock", 4),
              ("window", 0), ("window", 1), ("follow", 0), ("follow", 2), ("shared", 0), ("shared", 4),
              ("shared", 10), ("shared", 18), ("shared", 24), ("shared", 29)],
}


def piece(g, i, thickness, width, use, per_point, points, material):
    """One kind. Steel hardly settles; timber gives a few parts in a thousand of its thickness."""
    if material == "steel":
        least, greatest, density = 0, g.choice([0, 1, 2]), 0.00785
    else:
        least = thickness * g.choice([1, 2, 4]) // 1000
        greatest = least + max(1, thickness * g.choice([2, 4, 6]) // 1000)
        density = 0.0007
    members = 1
    if material == "timber" and thickness >= 800:
        # A crib layer: two to four timbers side by side, half of the area filled.
        members, density = g.choice([2, 3, 4]), density / 2
    # Tenths of a millimetre cubed to tenths of a kilogram; square in plan, rounded up.
    mass = max(1, -int(-(thickness / 10) * (width / 10) ** 2 * density / 1000 * 10 // 1))
    return {"id": f"{'abcdefgh'[i]}{thickness}", "thickness": thickness, "width": width, "mass": mass,
            "members": members, "settlement_least": least, "settlement_greatest": min(greatest, thickness),
            "use": use, "stock": per_point * points + g.randrange(points)}


def make(cls, seed):
    g = random.Random(f"{cls}-{seed}")
    points = g.choice([1, 2, 3, 4, 4, 6, 8])
    s0 = g.randrange(2000, 6001, 10)
    q0 = g.choice([s0, s0, g.randrange(2000, 6001, 10)])
    plates = g.choice([0, 0, 100, 200, 250])
    ram_gap, packing_gap = g.choice([20, 30, 50, 100]), g.choice([20, 20, 30, 50])
    closed = max(1500, min(4000, s0 - plates - ram_gap - g.randrange(0, 900)))
    collars = cls == "collars"
    travel, stroke, allowance = {
        "trivial": lambda: (g.randrange(500, 1800), g.randrange(900, 2500), g.choice([100, 150, 200])),
        "moderate": lambda: (g.randrange(2000, 5500), g.randrange(600, 1200), g.choice([60, 100, 150])),
        "tight": lambda: (g.randrange(1200, 4000), g.randrange(600, 1200), g.choice([40, 60, 100])),
        "long": lambda: (g.randrange(4000, 10001), g.randrange(600, 1001), g.choice([100, 150, 250])),
        "far": lambda: (g.randrange(9000, 11000), g.randrange(620, 720), g.choice([100, 150, 250])),
        "eight_kinds": lambda: (g.randrange(1000, 3500), g.randrange(700, 1800), g.choice([40, 60, 100])),
        "many_kinds": lambda: (g.randrange(1000, 3500), g.randrange(700, 1800), g.choice([40, 60, 100])),
        "collars": lambda: (g.randrange(1500, 12001), g.randrange(700, 2600) if g.random() < 0.8 else g.randrange(2600, 4001), g.choice([60, 100, 200])),
    }[cls]()
    spare_base = s0 - closed - plates - ram_gap
    # What a base stack and a holding stack must be able to reach, with a little over.
    base_need, hold_need = spare_base + travel, q0 + travel
    wide = max(2 * base_need // 3, hold_need // 3)

    def width():
        w = g.choice([2000, 2500, 3000, 4000, 5000, 6000])
        # Most kinds are wide enough for the whole job; a narrow one limits the stack it lies in.
        return max(w, -(-wide // 500) * 500 + 500) if g.random() < 0.8 else w

    thin, fill = [150, 180, 200, 200, 220], [20, 30, 40, 50, 60, 80, 100, 120]
    thick = [300, 400, 500, 600, 750, 800, 1000, 1200, 1500]
    limit = 250 - packing_gap
    kinds = []

    def add(thickness, use, per_point, material=None):
        if per_point >= 1:
            kinds.append((thickness, use, int(per_point), material or ("timber" if thickness >= 300 else "steel")))

    if cls == "trivial":
        t = min(g.choice(thin), limit)
        add(t, "either", (travel + q0 % 400) // t + 6)
        big = g.choice([500, 800, 1000])
        add(big, "either", q0 // big + (spare_base + travel) // big + 1)
        if g.random() < 0.6:
            add(g.choice(fill[2:]), "either", 4)
    elif cls in ("moderate", "tight"):
        ample = g.uniform(1.2, 1.7) if cls == "moderate" else g.uniform(0.95, 1.25)
        t = min(g.choice(thin), limit)
        first = g.choice([800, 1000, 1200, 1500])
        add(t, g.choice(["either", "either", "holding"]), ample * (travel / t + 2))
        add(first, "either", q0 // first + ample * base_need / first)
        add(g.choice(fill), "either", g.choice([2, 3, 4, 6]) * (1.5 if cls == "moderate" else 1))
        if g.random() < 0.75:
            add(g.choice([300, 400, 500, 600]), "either", g.choice([1, 2, 3]))
        if g.random() < 0.4:
            add(min(g.choice(thin + fill), limit), g.choice(["either", "base"]), g.choice([1, 2, 4]))
    elif cls in ("long", "far"):
        t = min(g.choice([200, 220, 230]), limit)
        first = g.choice([1000, 1200, 1500])
        add(t, g.choice(["either", "holding"]), 1.1 * (travel / t + 3))
        add(first, "either", q0 // first + base_need // first + 1)
        add(g.choice([200, 250, 300, 400]), "base" if g.random() < 0.5 else "either", g.choice([4, 6, 8]))
        if g.random() < 0.6:
            add(g.choice(fill[2:]), "either", g.choice([3, 5, 8]))
    elif cls in ("many_kinds", "eight_kinds"):
        n = 8 if cls == "eight_kinds" else g.choice([6, 6, 7, 8])
        t = min(g.choice(thin), limit)
        add(t, "either", travel / t * g.uniform(0.8, 1.2) + 2)
        first = g.choice([800, 1000, 1200])
        add(first, "either", q0 // first + g.uniform(1, 1.3) * base_need / first)
        pool = sorted(set(fill + thin + [300, 400, 500, 600, 800]) - {t})
        for x in g.sample(pool, n - 2):
            add(x, g.choice(["either", "either", "either", "base", "holding"]),
                g.choice([1, 2, 2, 3]) if n > 6 else g.choice([2, 3, 4]))
    elif cls == "collars":
        ample = g.uniform(0.85, 1.3)
        first = g.choice([500, 600, 800, 1000, 1200, 1500])
        add(first, "either", ample * (q0 + travel + base_need) / first)
        for x in g.sample([300, 400, 200, 250, 150], g.choice([1, 2])):
            add(x, "either", g.choice([2, 3, 4, 6]))
        for x in g.sample(fill, g.choice([1, 2])):
            add(x, "either", g.choice([2, 4, 6]))
    # No two kinds of one thickness: they would differ in nothing but the width.
    seen, pieces = set(), []
    for thickness, use, per_point, material in sorted(kinds, reverse=True):
        if cls not in ("trivial", "moderate") and g.random() < 0.3:
            # Not every plate is a round figure; odd sizes find slips of one tenth.
            thickness = min(thickness + g.randrange(-9, 10), 1500 if thickness > limit else limit)
        if thickness not in seen:
            seen.add(thickness)
            pieces.append(piece(g, len(pieces), thickness, width(), use, per_point, points, material))
    # Alike enough in plan that most may lie on each other in any order: no piece may stand out beyond the one below by
    # more than its thickness. Kinds that only go under a ram are stacked the widest below, and keep their width.
    middle = sorted(p["width"] for p in pieces)[len(pieces) // 2]
    for p in pieces:
        if p["use"] != "base" and g.random() < 0.9:
            p["width"] = max(middle, min(p["width"], middle + 2 * p["thickness"]))
    return {"name": "", "class": cls, "points": points, "clearance": s0, "packing_clearance": q0, "travel": travel,
            "allowance": allowance, "closed_height": closed, "plates": plates, "ram_gap": ram_gap,
            "usable_stroke": stroke, "packing_gap": packing_gap, "follow_up_gap": 250, "lock_collar": collars,
            "cycles_at_most": {"trivial": 12, "far": 50}.get(cls, 30), "pieces": pieces}


def never(cause, seed):
    """No plan: five with a plain reason, and one (shared) where only the shared stock stands in the way."""
    if cause == "shared":
        inst = make("tight", seed)
        inst["class"], inst["cycles_at_most"] = "never", 15
        return inst
    g = random.Random(f"never-{cause}-{seed}")
    inst = make(g.choice(["moderate", "collars"] if cause in ("ram", "stroke", "stock") else ["moderate"]), 1000 + seed)
    inst["class"] = "never"
    n, pieces = inst["points"], inst["pieces"]
    gaps = inst["ram_gap"] + inst["packing_gap"] + (60 if inst["lock_collar"] else 0)
    if cause == "ram":
        # The ram alone is higher than the clearance, by as little as one tenth.
        inst["closed_height"] = inst["clearance"] - inst["plates"] - inst["ram_gap"] + g.choice([1, 10, 200])
    elif cause == "stroke":
        # The stroke is used up by the gaps before the thinnest piece goes in.
        inst["usable_stroke"] = gaps + min(p["thickness"] for p in pieces) - g.choice([1, 5, 10])
        inst["travel"] += 600
    elif cause == "stock":
        # All holding pieces together, settled, stay under the final height.
        total = 0
        for p in pieces:
            if p["use"] != "base":
                total += (p["thickness"] - p["settlement_greatest"]) * (p["stock"] // n)
        inst["travel"] = max(inst["travel"], total - inst["packing_clearance"] + g.choice([1, 30, 400]))
        if inst["lock_collar"]:
            # The last raise may end on the collars, so the base stack must fall short as well.
            for p in pieces:
                p["stock"] = max(n, p["stock"] // 3)
    elif cause == "window":
        # Every piece is a multiple of 100 and does not settle; the window lies between two multiples.
        for p in pieces:
            p["thickness"] = max(100, p["thickness"] // 100 * 100)
            p["settlement_least"] = p["settlement_greatest"] = 0
            p["stock"] += 2 * n
        inst["allowance"] = 40
        inst["travel"] += (g.choice([1, 30, 59]) - inst["packing_clearance"] - inst["travel"]) % 100
    elif cause == "follow":
        # No piece is thin enough to follow the load up.
        for p in pieces:
            if p["thickness"] + inst["packing_gap"] <= 250:
                p["thickness"] = 251 - inst["packing_gap"] + 20 * pieces.index(p)
    inst["cycles_at_most"] = 30
    for p in pieces:
        p["id"] = p["id"][0] + str(p["thickness"])
    return inst


LETTER = {"far": "f", "eight_kinds": "e", "trivial": "t", "moderate": "m", "tight": "s", "long": "l", "many_kinds": "k", "collars": "c", "never": "n"}


def main():
    out = []
    for cls, letter in LETTER.items():
        for i, seed in enumerate(CHOSEN[cls]):
            inst = never(*seed) if cls == "never" else make(cls, seed)
            inst["name"] = f"{letter}-{i + 1:02}"
            out.append(inst)
    out.sort(key=lambda i: i["name"])
    with open(os.path.join(HERE, "instances.json"), "w", encoding="utf-8") as f:
        f.write("[\n" + ",\n".join(json.dumps(i) for i in out) + "\n]\n")
    print(len(out), "instances")


if __name__ == "__main__":
    main()
