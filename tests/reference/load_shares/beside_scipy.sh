#!/usr/bin/env bash
# The cases of the engine's bench, solved by the engine and by scipy (HiGHS, NNLS) on this machine: times side by side, and
# by how much the answers differ.
. "$(dirname "$0")/../../tools/common.sh"
need cargo
cd "$root"
python_with $(cat tests/reference/load_shares/requirements.txt)
mkdir "$work/cases"
echo "== the engine"
LOAD_CASES="$work/cases" cargo bench --locked -p ramwright-engine --bench load -- "^load/(any|one|envelope with)" 2>"$work/log" |
  grep -A1 '^load/\(any\|one\|envelope\)' | grep -v '^--\|^ *$'
echo "== scipy, time in its solvers alone"
for kind in elastic equilibrium envelope; do
  "$venv/bin/python" tests/reference/load_shares/side_by_side.py "$work/cases/$kind.json" --repeat 3 --sides 32
done
