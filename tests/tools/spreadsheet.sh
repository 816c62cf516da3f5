#!/usr/bin/env bash
# The service in a real spreadsheet: LibreOffice, headless, in an English and a German set-up, against the running server.
# Live cells, the ready workbooks, and both macros over a table with a row that fails; what is in the cells is compared with JSON.
. "$(dirname "$0")/common.sh"
tools soffice=libreoffice-calc
# The Python that LibreOffice's own bindings were built for, not another that comes first in the path.
python=/usr/bin/python3
if ! "$python" -c 'import uno' 2>/dev/null; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends python3-uno libreoffice-script-provider-python >/dev/null
fi
"$python" -c 'import uno'
start_server

# The workbooks in the project are those that their script writes.
mkdir "$work/again"
"$python" "$root/crates/client/spreadsheet/make_workbooks.py" "$work/again"
for book in ramwright.xlsx ramwright.ods; do
  cmp "$work/again/$book" "$root/crates/client/spreadsheet/$book"
done

for locale in en-US de-DE; do
  "$python" "$root/tests/tools/spreadsheet.py" "http://$address" "$work/$locale" "$locale"
done
echo "spreadsheets: live cells, workbooks, Basic and Python macros agree with the service"
