#!/usr/bin/env bash
# The portal used as a person uses it: the demo lifts typed in, faults, keyboard, contrast, widths, a page of somebody else.
# usage: portal.sh [FOLDER [CHECK...]]   keeps pictures and print in FOLDER
. "$(dirname "$0")/common.sh"
tools chromium pdftotext=poppler-utils
python_with websocket-client==1.9.0
start_server
out=${1:-$work/portal}
mkdir -p "$out"
"$venv/bin/python" "$root/tests/tools/portal_check.py" chromium "$address" "$root/openapi/examples" "$out" "${@:2}"
if [ "$#" -lt 2 ]; then
  text=$(pdftotext -layout "$out/print.pdf" -)
  for word in CAUTION hazel-07 'What each point carries' 'Never work under a load' 'valve at each point'; do
    grep -q "$word" <<< "$text" || { echo "the print does not say: $word" >&2; exit 1; }
  done
  echo "the print says what the page says"
fi
