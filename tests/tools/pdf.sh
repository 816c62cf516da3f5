#!/usr/bin/env bash
# Prints committed examples as PDF and reads them back: every number of the document stands in the text of the PDF as often
# as in the document, every page has its head and its number, and nothing lies outside the page.
. "$(dirname "$0")/common.sh"
if ! command -v pdftotext >/dev/null; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends poppler-utils >/dev/null
fi
need pdftotext
need python3
cd "$root"
cargo test --release --locked --quiet -p ramwright-pdf --features typst
cargo build --release --locked --quiet -p ramwright-pdf --features typst --example print
for example in transformer bedplate link_press; do
  for paper in a4 letter; do
    mkdir -p "$work/$paper"
    "${CARGO_TARGET_DIR:-target}/release/examples/print" "$example" "$paper" "$work/$paper"
  done
done
python3 tests/tools/pdf_text.py "$work"/*/*.pdf
