"""Solves instances by model.py and sets the times beside those of the planner, which a bench has written.

Run: python side_by_side.py PLANNER_JSONL [all | NAME ...] [--time-limit SECONDS]
"""
import argparse
import json
import os
import statistics

import model

HERE = os.path.dirname(os.path.abspath(__file__))


def load(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as f:
        return {x["name"]: x for x in json.load(f)}


def verdict(points, plan, solved):
    """How the two answers stand to each other."""
    if solved["status"] == "infeasible":
        return "same" if plan["outcome"] == "infeasible" else "solver: never"
    if solved["cycles"] is None:
        return "no answer of the solver"
    if plan["cycles"] is None:
        return "PLANNER WORSE"
    ours = (plan["cycles"], plan["pieces_handled"] // points)
    theirs = (solved["cycles"], solved["pieces"])
    return "same" if ours == theirs else "planner better" if ours < theirs else "PLANNER WORSE"


def greedy_word(greedy, solved):
    if greedy["status"] == "stuck":
        return "stuck"
    ours = (greedy["cycles"], greedy["pieces"])
    best = (solved["cycles"], solved["pieces"])
    return "best" if ours == best else f"{greedy['cycles']} cycles, {greedy['pieces']} pieces"


def main():
    a = argparse.ArgumentParser()
    a.add_argument("planner")
    a.add_argument("names", nargs="*")
    a.add_argument("--time-limit", type=float, default=20.0)
    args = a.parse_args()
    with open(args.planner, encoding="utf-8") as f:
        lines = [json.loads(line) for line in f]
    plans = {x["name"]: x for x in lines if "name" in x}
    totals = lines[-1]
    instances, greedy = load("instances.json"), load("greedy.json")
    names = sorted(instances)
    if not args.names:
        names = names[::3]
    elif args.names != ["all"]:
        names = args.names
    ratios, worse = [], 0
    print(f"{'name':6} {'cycles':>6} {'planner ms':>11} {'solver ms':>11} {'ratio':>8}  answers; greedy")
    for name in names:
        plan, instance = plans[name], instances[name]
        solved, _ = model.solve(instance, args.time_limit)
        # A plan found in no time at all still took a clock's tick.
        ours, theirs = max(plan["ms"], 1e-3), solved["seconds_total"] * 1e3
        word = verdict(instance["points"], plan, solved)
        worse += word == "PLANNER WORSE"
        ratios.append(theirs / ours)
        print(f"{name:6} {plan['cycles'] or '-':>6} {ours:11.3f} {theirs:11.0f} {theirs / ours:8.0f}  {word}; "
              f"{greedy_word(greedy[name], solved)}", flush=True)
    print(f"median ratio {statistics.median(ratios):.0f} over {len(ratios)} instances; "
          f"planner worse in {worse}; planner on all {totals['instances']}: median {totals['median_ms']:.2f} ms, "
          f"95 in 100 under {totals['ms_95']:.1f} ms, greatest {totals['greatest_ms']:.0f} ms, "
          f"peak {totals['peak_mib'] or 0:.0f} MiB")
    raise SystemExit(1 if worse else 0)


if __name__ == "__main__":
    main()
