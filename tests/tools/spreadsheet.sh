#!/usr/bin/env bash
# The service in a real spreadsheet: LibreOffice, headless, in an English and a German set-up, against the running server.
# Live cells, the ready workbooks, and both macros over a table with a row that fails; what is in the cells is compared with JSON.
# SERVER_BINARY names a server that is built already; the release binary is built and used by default.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
need soffice
# The Python that LibreOffice's own bindings were built for, not another that comes first in the path.
python=/usr/bin/python3
"$python" -c 'import uno' || { echo "needs python3-uno, which is not here" >&2; exit 1; }

if [ -n "${SERVER_BINARY:-}" ]; then
  RAMWRIGHT_LOG_FORMAT=text RAMWRIGHT_DRAIN_SETTLE_S=0 "$SERVER_BINARY" --address 127.0.0.1:0 > "$work/server.log" 2>&1 &
  server_pid=$!
  await_server
else
  start_server
fi

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
