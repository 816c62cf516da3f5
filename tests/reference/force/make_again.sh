#!/usr/bin/env bash
# The reference cases solved again and compared with those that are kept; `make_again.sh --write` replaces them.
. "$(dirname "$0")/../../tools/common.sh"
cd "$root"
python_with $(cat tests/reference/force/requirements.txt)
case "${1:-}" in
  "") "$venv/bin/python" tests/reference/force/make_cases.py --check ;;
  --write) "$venv/bin/python" tests/reference/force/make_cases.py ;;
  *) echo "usage: make_again.sh [--write]" >&2; exit 2 ;;
esac
