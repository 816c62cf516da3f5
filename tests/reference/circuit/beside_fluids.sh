#!/usr/bin/env bash
# The reference cases of the circuit, computed again with fluids and scipy and held against the file, and then the engine
# against the file. Fails where a tool is missing.
. "$(dirname "$0")/../../tools/common.sh"
need cargo
cd "$root"
python_with $(cat tests/reference/circuit/requirements.txt)
"$venv/bin/python" tests/reference/circuit/make_cases.py --compare
cargo test --locked --quiet -p ramwright-engine --test circuit_reference
