#!/usr/bin/env bash
# The planner and the constraint solver on the same instances, on this machine, in one run: times side by side, the greedy
# method beside them. Without arguments every third instance; `all`, or names such as t-01, otherwise.
. "$(dirname "$0")/../../tools/common.sh"
need cargo
cd "$root"
python_with $(cat tests/reference/packing_lifts/requirements.txt)
cargo bench --locked -p ramwright-engine --bench packing >"$work/planner.jsonl" 2>"$work/log"
"$venv/bin/python" tests/reference/packing_lifts/side_by_side.py "$work/planner.jsonl" "$@"
