"""Exact answers by constraint programming: the number of cycles first, then pieces, mass and height.

Run: python model.py [--only-class CLASS] [--only NAME] [--time-limit SECONDS]
"""
import argparse
import json
import os
import time

from ortools.sat.python import cp_model

# Spare stroke that frees a collar, and the collar's own settlement.
COLLAR_SPARE = 50
COLLAR_SETTLEMENT = 10

HERE = os.path.dirname(os.path.abspath(__file__))


def kinds_of(inst):
    """The kinds every point can have at least one of, with the stock per point."""
    kinds = []
    for p in inst["pieces"]:
        q = p["stock"] // inst["points"]
        if q > 0:
            kinds.append(dict(p, q=q))
    return kinds


def stands_out(a, b):
    """Whether a piece of kind a on one of kind b stands out beyond it by more than its own thickness."""
    return 2 * a["thickness"] < a["width"] - b["width"]


class Model:
    """All plans with exactly n cycles."""

    def __init__(self, inst, n):
        self.inst, self.n = inst, n
        self.m = m = cp_model.CpModel()
        self.kinds = kinds = kinds_of(inst)
        collars = inst["lock_collar"]
        loss = COLLAR_SPARE + COLLAR_SETTLEMENT if collars else 0
        s0, q0 = inst["clearance"], inst["packing_clearance"]
        g_h, g_r = inst["packing_gap"], inst["ram_gap"]
        ram = inst["closed_height"] + inst["plates"]
        top = inst["travel"] + inst["allowance"]

        def stack(name, use, factor, cap_h):
            """A stack: one count per kind, under the height limit of every kind in it."""
            counts, caps = [], []
            for i, k in enumerate(kinds):
                # factor is in halves: 3 for a base stack (1.5 widths), 6 for a holding stack.
                limit = min(factor * k["width"] // 2, cap_h)
                ok = k["use"] in (use, "either")
                most = max(0, min(k["q"], limit // k["thickness"])) if ok else 0
                counts.append(m.NewIntVar(0, most, f"{name}_{i}"))
                caps.append(most)
            height = sum(k["thickness"] * c for k, c in zip(kinds, counts))
            whole = sum(k["thickness"] * most for k, most in zip(kinds, caps))
            for k, c, most in zip(kinds, counts, caps):
                limit = factor * k["width"] // 2
                if most > 0 and limit < whole:
                    there = m.NewBoolVar("")
                    m.Add(c == 0).OnlyEnforceIf(there.Not())
                    m.Add(c >= 1).OnlyEnforceIf(there)
                    m.Add(height <= limit).OnlyEnforceIf(there)
            return counts

        def h(x):
            return sum(k["thickness"] * c for k, c in zip(kinds, x))

        def low(x):
            return sum((k["thickness"] - k["settlement_greatest"]) * c for k, c in zip(kinds, x))

        def high(x):
            return sum((k["thickness"] - k["settlement_least"]) * c for k, c in zip(kinds, x))

        # Loose caps, only to keep the domains small. A base stack enters under a rest, which is at most
        # `top`; a holding stack settles to at most `top`, and no piece loses more than its greatest settlement.
        base_cap = s0 + top - ram - g_r
        big = 10 ** 9
        self.base = [None] + [stack(f"b{j}", "base", 3, max(base_cap, 0)) for j in range(1, n + 1)]
        self.hold = [stack(f"p{j}", "holding", 6, big) for j in range(0, n + 1)]
        base, hold = self.base, self.hold
        if collars or g_h > q0:
            for c in hold[0]:
                m.Add(c == 0)
        else:
            m.Add(h(hold[0]) + g_h <= q0)

        # True when the last cycle ends on the collars, its holding stack untouched.
        self.ends = ends = m.NewBoolVar("ends_on_collars")
        if not collars:
            m.Add(ends == 0)

        if not collars:
            # Pieces lie in the order in which they arrive, so no two kinds may be there of which one could stand out
            # beyond the other. The last stack holds all that ever arrived.
            for i, a in enumerate(kinds):
                for k, b in enumerate(kinds):
                    if stands_out(a, b):
                        one, other = m.NewBoolVar(""), m.NewBoolVar("")
                        m.Add(hold[n][i] == 0).OnlyEnforceIf(one.Not())
                        m.Add(hold[n][k] == 0).OnlyEnforceIf(other.Not())
                        m.AddBoolOr([one.Not(), other.Not()])

        for j in range(1, n + 1):
            b, p, old = base[j], hold[j], hold[j - 1]
            rest_before = 0 if j == 1 else low(old) - q0
            m.Add(ram + h(b) + g_r <= s0 + rest_before)
            reach = ram + low(b) + inst["usable_stroke"]
            rise = reach - s0
            for k, x, y, z in zip(kinds, b, old, p):
                m.Add(x + y <= k["q"])
                m.Add(x + z <= k["q"])
            last = j == n

            def on_packing(constraint):
                # What holds only when this cycle sets the load down on its packing.
                if last and collars:
                    constraint.OnlyEnforceIf(ends.Not())

            on_packing(m.Add(h(p) + g_h + loss <= q0 + rise))
            if j > 1:
                on_packing(m.Add(h(old) + g_h + loss <= q0 + rise))
            on_packing(m.Add(low(p) - q0 >= rest_before))
            on_packing(m.Add(sum(p) >= 1))
            if collars:
                on_packing(m.Add(low(p) - q0 <= top))
            else:
                m.Add(high(p) - q0 <= top)
                for k, x, y in zip(kinds, p, old):
                    m.Add(x >= y)
                    if k["thickness"] + g_h > inst["follow_up_gap"]:
                        m.Add(x == y)
                # A cycle that adds nothing can be left out, so no plan of least cycles has one.
                m.Add(sum(p) >= sum(old) + 1)
            if last:
                on_packing(m.Add(low(p) - q0 >= inst["travel"]))
                on_packing(m.Add(high(p) - q0 <= top))
                if collars:
                    m.Add(reach >= s0 + inst["travel"] + COLLAR_SPARE + COLLAR_SETTLEMENT).OnlyEnforceIf(ends)
                    for x, y in zip(p, old):
                        m.Add(x == y).OnlyEnforceIf(ends)
                    if j > 1:
                        m.Add(high(old) - q0 <= top).OnlyEnforceIf(ends)

        self._h = h
        self.height = None

    def add_costs(self):
        """The three later objectives; kept out of the search for the number of cycles, which needs none."""
        m, kinds = self.m, self.kinds
        pieces, mass = [], []

        def moved(before, after):
            for i, k in enumerate(kinds):
                if before is None:
                    d = after[i]
                else:
                    d = m.NewIntVar(0, k["q"], "")
                    m.Add(d >= after[i] - before[i])
                    m.Add(d >= before[i] - after[i])
                pieces.append(k["members"] * d)
                mass.append(k["mass"] * d)

        for j in range(1, self.n + 1):
            moved(self.base[j - 1], self.base[j])
        moved(None, self.hold[0])
        for j in range(1, self.n + 1):
            moved(self.hold[j - 1], self.hold[j])
        top = sum(k["thickness"] * k["q"] for k in kinds)
        self.height = m.NewIntVar(0, top, "height")
        for x in self.base[1:] + self.hold:
            m.Add(self.height >= self._h(x))
        self.pieces, self.mass = sum(pieces), sum(mass)

    def variables(self):
        out = [self.ends]
        for x in self.base[1:] + self.hold:
            out += x
        return out


def measures(kinds, base, hold):
    """Pieces, mass and height of a plan, counted from the plan itself."""
    pieces = mass = 0
    empty = [0] * len(kinds)
    for seq in (base, hold):
        before = empty
        for x in seq:
            for k, a, b in zip(kinds, before, x):
                pieces += k["members"] * abs(a - b)
                mass += k["mass"] * abs(a - b)
            before = x
    height = max([sum(k["thickness"] * c for k, c in zip(kinds, x)) for x in base + hold] or [0])
    return pieces, mass, height


def solver(limit):
    s = cp_model.CpSolver()
    s.parameters.num_workers = 2
    s.parameters.max_time_in_seconds = limit
    s.parameters.random_seed = 1
    return s


def solve(inst, limit=60.0, most_unknown=3):
    """Returns the answer and, where there is one, the plan."""
    start = time.time()
    out = {"name": inst["name"], "status": "unknown", "cycles": None, "cycles_proven": False,
           "pieces": None, "pieces_proven": False, "mass": None, "mass_proven": False,
           "height": None, "height_proven": False, "lower_bound_cycles": 1, "seconds_total": 0.0}
    kinds = kinds_of(inst)
    unknown = 0
    found = None
    n_tried = 0
    for n in range(1, inst["cycles_at_most"] + 1):
        n_tried = n
        model = Model(inst, n)
        s = solver(limit)
        status = s.Solve(model.m)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            found = [s.Value(v) for v in model.variables()]
            break
        if status == cp_model.INFEASIBLE:
            if unknown == 0:
                out["lower_bound_cycles"] = n + 1
            continue
        if status == cp_model.MODEL_INVALID:
            raise RuntimeError(f"{inst['name']}: the model is not valid: {model.m.Validate()}")
        unknown += 1
        if unknown >= most_unknown:
            break
    plan = None
    if found is None:
        if unknown == 0 and n_tried == inst["cycles_at_most"]:
            out["status"] = "infeasible"
    else:
        out["cycles"], out["cycles_proven"] = n, unknown == 0
        model = Model(inst, n)
        model.add_costs()
        variables = model.variables()
        proven = unknown == 0
        for name, what in (("pieces", model.pieces), ("mass", model.mass), ("height", model.height)):
            # Without the least figure before it, the least of the next one says nothing; the time is better spent.
            if not proven and name != "pieces":
                break
            model.m.ClearHints()
            for v, x in zip(variables, found):
                model.m.AddHint(v, x)
            model.m.Minimize(what)
            s = solver(limit)
            status = s.Solve(model.m)
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                found = [s.Value(v) for v in variables]
            # A figure counts as proven only if every figure before it is.
            proven = proven and status == cp_model.OPTIMAL
            out[name + "_proven"] = proven
            base, hold = split(found, len(kinds), n)
            value = dict(zip(("pieces", "mass", "height"), measures(kinds, base, hold)))[name]
            if status == cp_model.OPTIMAL and value != round(s.ObjectiveValue()):
                raise RuntimeError(f"{inst['name']}: {name} counted {value}, solver says {s.ObjectiveValue()}")
            model.m.Add(what <= value)
        out["pieces"], out["mass"], out["height"] = measures(kinds, base, hold)
        out["status"] = "optimal" if proven else "feasible"
        on_collars = bool(found[0])
        if on_collars:
            hold = hold[:-1]
        plan = {"name": inst["name"], "kinds": [k["id"] for k in kinds], "base": base, "holding": hold,
                "ends_on": "collars" if on_collars else "packing"}
    out["seconds_total"] = round(time.time() - start, 2)
    return out, plan


def split(values, kinds, n):
    rows = [values[1 + i * kinds:1 + (i + 1) * kinds] for i in range(2 * n + 1)]
    return rows[:n], rows[n:]


def read(path):
    if not os.path.exists(path):
        return {}
    with open(path, encoding="utf-8") as f:
        return {x["name"]: x for x in json.load(f)}


def write(path, rows):
    # Written beside and moved over, so that a run that is stopped leaves a whole file.
    with open(path + ".part", "w", encoding="utf-8") as f:
        f.write("[\n" + ",\n".join(json.dumps(rows[k]) for k in sorted(rows)) + "\n]\n")
    os.replace(path + ".part", path)


def main():
    a = argparse.ArgumentParser()
    a.add_argument("--only-class")
    a.add_argument("--only")
    a.add_argument("--time-limit", type=float, default=60.0, help="seconds for each solve")
    a.add_argument("--first", type=int, help="only the first so many instances")
    args = a.parse_args()
    with open(os.path.join(HERE, "instances.json"), encoding="utf-8") as f:
        instances = json.load(f)[:args.first]
    answers_path, plans_path = os.path.join(HERE, "answers.json"), os.path.join(HERE, "plans.json")
    answers, plans = read(answers_path), read(plans_path)
    for inst in instances:
        if inst["name"] in answers or (args.only_class and inst["class"] != args.only_class) \
                or (args.only and inst["name"] != args.only):
            continue
        answer, plan = solve(inst, args.time_limit)
        if plan:
            plans[plan["name"]] = plan
            write(plans_path, plans)
        answers[answer["name"]] = answer
        write(answers_path, answers)
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
