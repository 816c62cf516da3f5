#!/usr/bin/env bash
# HTML calculation sheets read by a program that shares nothing with the project.
# usage: sheet-check.sh [--at-least N] FILE... | --self-test
. "$(dirname "$0")/common.sh"
python_with html5lib==1.1
"$venv/bin/python" "$root/tests/tools/sheet_check.py" "$@"
