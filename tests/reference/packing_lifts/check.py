"""Checks model.py: brute force on tiny instances, and a replay of every plan in plans.json.

Shares no rule with model.py: the rules are written out again here, so that one slip cannot hide in both.
Run: python check.py [--tiny COUNT] [--replay]
"""
import argparse
import itertools
import json
import os
import random
import sys

HERE = os.path.dirname(os.path.abspath(__file__))


class Rules:
    def __init__(self, inst):
        self.i = inst
        self.k = [p for p in inst["pieces"] if p["stock"] // inst["points"] >= 1]
        self.q = [p["stock"] // inst["points"] for p in self.k]
        self.loss = 60 if inst["lock_collar"] else 0

    def h(self, x):
        return sum(c * p["thickness"] for c, p in zip(x, self.k))

    def low(self, x):
        return sum(c * (p["thickness"] - p["settlement_greatest"]) for c, p in zip(x, self.k))

    def high(self, x):
        return sum(c * (p["thickness"] - p["settlement_least"]) for c, p in zip(x, self.k))

    def legal(self, x, use):
        h = self.h(x)
        for c, q, p in zip(x, self.q, self.k):
            if c > q:
                return False
            if c:
                if p["use"] not in (use, "either"):
                    return False
                # 2h <= 3w is h <= floor(1.5 w) for whole h.
                if use == "base" and 2 * h > 3 * p["width"]:
                    return False
                if use == "holding" and h > 3 * p["width"]:
                    return False
        if use == "holding" and not self.i["lock_collar"]:
            # In the order of arrival any piece may come to lie on any other.
            there = [p for c, p in zip(x, self.k) if c]
            narrowest = min([p["width"] for p in there], default=0)
            return all(p["width"] - narrowest <= 2 * p["thickness"] for p in there)
        return True

    def stock(self, x, y):
        return all(a + b <= q for a, b, q in zip(x, y, self.q))

    def rest(self, p, j):
        return 0 if j == 0 else self.low(p) - self.i["packing_clearance"]

    def first(self, p):
        if not any(p):
            return True
        return (not self.i["lock_collar"] and self.legal(p, "holding")
                and self.h(p) + self.i["packing_gap"] <= self.i["packing_clearance"]
                and self.high(p) - self.i["packing_clearance"] <= self.i["travel"] + self.i["allowance"])

    def enters(self, b, p, j):
        """Base b of cycle j goes in under the rest on p."""
        i = self.i
        return (self.stock(b, p) and i["closed_height"] + i["plates"] + self.h(b) + i["ram_gap"]
                <= i["clearance"] + self.rest(p, j - 1))

    def reach(self, b):
        return self.i["closed_height"] + self.i["plates"] + self.low(b) + self.i["usable_stroke"]

    def changes(self, b, old, new, j):
        """At the top of the raise of cycle j the holding stack old becomes new."""
        i = self.i
        q0 = i["packing_clearance"]
        room = q0 + self.reach(b) - i["clearance"]
        if not any(new) or not self.stock(b, new):
            return False
        if self.h(new) + i["packing_gap"] + self.loss > room:
            return False
        if j > 1 and self.h(old) + i["packing_gap"] + self.loss > room:
            return False
        if self.low(new) - q0 < self.rest(old, j - 1):
            return False
        if i["lock_collar"]:
            return self.low(new) - q0 <= i["travel"] + i["allowance"]
        for a, c, p in zip(old, new, self.k):
            if c < a or (c > a and p["thickness"] + i["packing_gap"] > i["follow_up_gap"]):
                return False
        return self.high(new) - q0 <= i["travel"] + i["allowance"]

    def ends_on_packing(self, p):
        q0, t = self.i["packing_clearance"], self.i["travel"]
        return self.low(p) - q0 >= t and self.high(p) - q0 <= t + self.i["allowance"]

    def ends_on_collars(self, b, old, j):
        i = self.i
        return (i["lock_collar"] and self.reach(b) >= i["clearance"] + i["travel"] + 50 + 10
                and (j == 1 or self.high(old) - i["packing_clearance"] <= i["travel"] + i["allowance"]))

    def cost(self, x, y):
        d = [abs(a - b) for a, b in zip(x, y)]
        return (sum(n * p["members"] for n, p in zip(d, self.k)), sum(n * p["mass"] for n, p in zip(d, self.k)))


def brute(inst):
    """Every state after every cycle, each with its least cost. None if no plan within cycles_at_most."""
    r = Rules(inst)
    every = list(itertools.product(*[range(q + 1) for q in r.q]))
    bases = [x for x in every if r.legal(x, "base")]
    holds = [x for x in every if r.legal(x, "holding")]
    empty = tuple(0 for _ in r.q)

    def plus(cost, x, y):
        d = r.cost(x, y)
        return (cost[0] + d[0], cost[1] + d[1], max(cost[2], r.h(y)))

    states = {(empty, p): plus((0, 0, 0), empty, p) for p in holds if r.first(p)}
    for j in range(1, inst["cycles_at_most"] + 1):
        up = {}
        for (b0, p), cost in states.items():
            for b in bases:
                if r.enters(b, p, j):
                    c = plus(cost, b0, b)
                    if (b, p) not in up or c < up[b, p]:
                        up[b, p] = c
        down, ends = {}, []
        for (b, p), cost in up.items():
            if r.ends_on_collars(b, p, j):
                ends.append(cost)
            for new in holds:
                if r.changes(b, p, new, j):
                    c = plus(cost, p, new)
                    if r.ends_on_packing(new):
                        ends.append(c)
                    if (b, new) not in down or c < down[b, new]:
                        down[b, new] = c
        if ends:
            return (j,) + min(ends)
        states = down
    return None


def replay(inst, answer, plan):
    """The faults of a plan, as text."""
    r = Rules(inst)
    bad = []
    if plan["kinds"] != [p["id"] for p in r.k]:
        return ["kinds differ"]
    base, hold = plan["base"], plan["holding"]
    n = len(base)
    collars = plan["ends_on"] == "collars"
    if n != answer["cycles"] or len(hold) != (n if collars else n + 1):
        bad.append("number of cycles")
        return bad
    if not r.first(hold[0]):
        bad.append("first stack")
    for x in base:
        if not r.legal(x, "base"):
            bad.append("base stack not legal")
    for x in hold:
        if not r.legal(x, "holding"):
            bad.append("holding stack not legal")
    for j in range(1, n + 1):
        if not r.enters(base[j - 1], hold[j - 1], j):
            bad.append(f"cycle {j}: base does not enter or stock")
        if collars and j == n:
            if not r.ends_on_collars(base[j - 1], hold[j - 1], j):
                bad.append("end on collars")
        elif not r.changes(base[j - 1], hold[j - 1], hold[j], j):
            bad.append(f"cycle {j}: change of the holding stack")
    if not collars and not r.ends_on_packing(hold[-1]):
        bad.append("end on packing")
    empty = [0] * len(r.k)
    total = [0, 0]
    for seq in (base, hold):
        for x, y in zip([empty] + seq, seq):
            c = r.cost(x, y)
            total[0] += c[0]
            total[1] += c[1]
    if total != [answer["pieces"], answer["mass"]]:
        bad.append("pieces or mass")
    if max(r.h(x) for x in base + hold) != answer["height"]:
        bad.append("height")
    return bad


def tiny(seed):
    """A small random instance; both ends of every rule are meant to bind in some of them."""
    g = random.Random(f"tiny-{seed}")
    collars = g.random() < 0.5
    points = g.choice([1, 2, 3])
    thick = [20, 50, 60, 80, 100, 150, 200, 240] if not collars else [50, 100, 150, 200, 300, 500, 700]
    pieces = []
    kinds = g.choice([2, 2, 3])
    for i in range(kinds):
        h = g.choice(thick)
        s0 = g.choice([0, 0, 1, 2])
        pieces.append({"id": f"k{i}", "thickness": h, "width": g.choice([150, 250, 400, 800, 2000, 3000, 3000, 3000]),
                       "mass": g.randrange(10, 300), "members": g.choice([1, 1, 2, 3]), "settlement_least": s0,
                       "settlement_greatest": s0 + g.choice([0, 1, 3]),
                       "use": g.choice(["either"] * 5 + ["base", "holding"]),
                       "stock": points * g.randrange(2, 11 - 2 * kinds if kinds == 3 else 9) + g.randrange(points)})
    s = g.choice([200, 300, 500, 800] if collars else [100, 150, 200, 300])
    p = g.choice([0, 30])
    return {"name": f"tiny-{seed}", "class": "trivial", "points": points, "clearance": s,
            "packing_clearance": g.choice([s, s, s // 2, 100, 200] if collars else [s, s, 60, 100, 150]), "travel": g.choice([100, 200, 300, 400, 600, 900] if collars else [60, 100, 150, 200, 300, 400]),
            "allowance": g.choice([10, 30, 60, 100, 200]), "closed_height": max(10, s - p - g.choice([20, 60, 150, 300])),
            "plates": p, "ram_gap": g.choice([20, 40]), "usable_stroke": g.choice([200, 300, 350, 500, 800] if collars else [110, 150, 200, 250, 350]),
            "packing_gap": g.choice([20, 30]), "follow_up_gap": 250, "lock_collar": collars, "pieces": pieces,
            "cycles_at_most": 6}


def main():
    a = argparse.ArgumentParser()
    a.add_argument("--tiny", type=int, default=400)
    a.add_argument("--replay", action="store_true", help="only replay plans.json")
    args = a.parse_args()
    wrong = 0
    if not args.replay:
        import model
        seen = {}
        for seed in range(args.tiny):
            inst = tiny(seed)
            want = brute(inst)
            got, plan = model.solve(inst, 30.0)
            have = None if got["status"] == "infeasible" else (got["cycles"], got["pieces"], got["mass"], got["height"])
            ok = have == want and got["status"] in ("optimal", "infeasible")
            if plan:
                faults = replay(inst, got, plan)
                ok = ok and not faults
            key = ("collars" if inst["lock_collar"] else "add only",
                   "infeasible" if want is None else f"{want[0]} cycles" + (" on collars" if plan and plan["ends_on"] == "collars" else ""))
            seen[key] = seen.get(key, 0) + 1
            if not ok:
                wrong += 1
                print("WRONG", inst["name"], "brute force", want, "model", got)
        for key in sorted(seen):
            print(seen[key], *key)
        print(f"tiny: {args.tiny} checked, {wrong} wrong")
    def load(name):
        with open(os.path.join(HERE, name), encoding="utf-8") as f:
            return {x["name"]: x for x in json.load(f)}
    if os.path.exists(os.path.join(HERE, "plans.json")):
        instances, answers, plans = load("instances.json"), load("answers.json"), load("plans.json")
        bad = 0
        for name, plan in sorted(plans.items()):
            faults = replay(instances[name], answers[name], plan)
            if faults:
                bad += 1
                print("WRONG", name, faults)
        print(f"plans: {len(plans)} replayed, {bad} wrong")
        wrong += bad
        for name, answer in answers.items():
            if answer["cycles"] is not None and name not in plans:
                wrong += 1
                print("WRONG", name, "no plan")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
