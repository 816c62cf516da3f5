"""The greedy method on every instance: each cycle the highest base stack that enters, then the highest holding stack
within reach. Add only: the first stack is the highest that may stand before the first raise.

Among stacks of one height the one of fewest pieces is taken, then least mass, then the first in the order of kinds.
Run: python greedy.py
"""
import json
import os

import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))


def run(inst):
    n = inst["points"]
    kinds = [p for p in inst["pieces"] if p["stock"] // n > 0]
    q = np.array([p["stock"] // n for p in kinds], dtype=np.int64)

    def col(f):
        return np.array([p[f] for p in kinds], dtype=np.int64)

    thick, least, greatest = col("thickness"), col("settlement_least"), col("settlement_greatest")
    members, mass, width = col("members"), col("mass"), col("width")
    collars = inst["lock_collar"]
    loss = 60 if collars else 0
    s0, q0, g_h = inst["clearance"], inst["packing_clearance"], inst["packing_gap"]
    ram = inst["closed_height"] + inst["plates"]
    end = inst["travel"] + inst["allowance"]

    def stacks(use, limit):
        """Every stack of this use within its height limit, one row each."""
        rows = np.zeros((1, 0), dtype=np.int64)
        for i, p in enumerate(kinds):
            most = q[i] if p["use"] in (use, "either") else 0
            rows = np.column_stack([np.repeat(rows, most + 1, axis=0), np.tile(np.arange(most + 1), len(rows))])
            h = rows @ thick[:i + 1]
            rows = rows[h <= np.where(rows > 0, limit[:i + 1], 10 ** 9).min(axis=1)]
        return rows

    base_all, hold_all = stacks("base", 3 * width // 2), stacks("holding", 3 * width)
    if not collars:
        # Pieces lie in the order of arrival: none may stand out beyond another by more than its own thickness.
        narrowest = np.where(hold_all > 0, width, 10 ** 9).min(axis=1)
        stands_out = (hold_all > 0) & (width - narrowest[:, None] > 2 * thick)
        hold_all = hold_all[~stands_out.any(axis=1)]

    def highest(rows):
        if len(rows) == 0:
            return None
        keys = [-rows[:, i] for i in reversed(range(len(kinds)))] + [rows @ mass, rows @ members, -(rows @ thick)]
        return rows[np.lexsort(keys)[0]]

    follows = thick + g_h <= inst["follow_up_gap"]
    empty = np.zeros(len(kinds), dtype=np.int64)
    old, rest, base = empty, 0, empty
    if not collars:
        ok = hold_all @ thick + g_h <= q0
        found = highest(hold_all[ok])
        old = empty if found is None else found
    pieces, weight, tallest = int(old @ members), int(old @ mass), int(old @ thick)
    out = {"name": inst["name"], "status": "stuck", "cycles": None, "pieces": None, "mass": None, "height": None,
           "stuck_in_cycle": None, "rise_reached": 0}

    def done(j, how):
        out.update(status="done", cycles=j, pieces=pieces, mass=weight, height=tallest, ends_on=how)
        return out

    for j in range(1, inst["cycles_at_most"] + 1):
        out["stuck_in_cycle"] = j
        ok = (base_all <= q - old).all(axis=1) & (ram + base_all @ thick + inst["ram_gap"] <= s0 + rest)
        b = highest(base_all[ok])
        if b is None:
            return out
        pieces += int(abs(b - base) @ members)
        weight += int(abs(b - base) @ mass)
        tallest = max(tallest, int(b @ thick))
        base = b
        reach = ram + int(b @ (thick - greatest)) + inst["usable_stroke"]
        if collars and reach >= s0 + inst["travel"] + 60 and (j == 1 or int(old @ (thick - least)) - q0 <= end):
            del out["stuck_in_cycle"], out["rise_reached"]
            return done(j, "collars")
        room = q0 + reach - s0 - g_h - loss
        low, high = hold_all @ (thick - greatest), hold_all @ (thick - least)
        top = np.where(low - q0 >= inst["travel"], high, low if collars else high)
        ok = (hold_all <= q - b).all(axis=1) & (hold_all @ thick <= room) & (low - q0 > rest if j > 1 else low >= q0) \
            & (top - q0 <= end)
        if not collars:
            ok &= (hold_all >= old).all(axis=1) & ((hold_all == old) | follows).all(axis=1)
        if j > 1 and int(old @ thick) > room:
            return out
        p = highest(hold_all[ok])
        if p is None:
            return out
        pieces += int(abs(p - old) @ members)
        weight += int(abs(p - old) @ mass)
        tallest = max(tallest, int(p @ thick))
        old, rest = p, int(p @ (thick - greatest)) - q0
        out["rise_reached"] = rest
        if rest >= inst["travel"] and int(p @ (thick - least)) - q0 <= end:
            del out["stuck_in_cycle"], out["rise_reached"]
            return done(j, "packing")
    return out


def main():
    with open(os.path.join(HERE, "instances.json"), encoding="utf-8") as f:
        instances = json.load(f)
    rows = sorted((run(i) for i in instances), key=lambda r: r["name"])
    with open(os.path.join(HERE, "greedy.json"), "w", encoding="utf-8") as f:
        f.write("[\n" + ",\n".join(json.dumps(r) for r in rows) + "\n]\n")
    print(sum(r["status"] == "done" for r in rows), "done,", sum(r["status"] == "stuck" for r in rows), "stuck")


if __name__ == "__main__":
    main()
