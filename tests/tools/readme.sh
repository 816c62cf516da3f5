#!/usr/bin/env bash
# Every curl of the README against a running server: 200, or 400 for the one that is meant to fail.
. "$(dirname "$0")/common.sh"
start_server
cd "$root"
count=0
while IFS= read -r line; do
  wanted=200
  case "$line" in *'"80 ton"'*) wanted=400 ;; esac
  # Where a reader keeps the answer, this script looks at it.
  line=$(sed -E "s/ -o [a-z_]+\.[a-z]+\$//" <<< "$line")
  command=${line//127.0.0.1:8080/$address}
  status=$(bash -c "$command -o '$work/body' -w '%{http_code}'")
  [ "$status" = "$wanted" ] || { echo "$status instead of $wanted: $line" >&2; cat "$work/body" >&2; exit 1; }
  [ -s "$work/body" ] || { echo "an empty answer: $line" >&2; exit 1; }
  count=$((count + 1))
done < <(grep '^curl ' README.md)
[ "$count" -ge 27 ] || { echo "only $count commands found in the README" >&2; exit 1; }
echo "$count commands of the README answer as it says"
# The demonstration, as the README shows it: whole lines of it.
"$binary" demo > "$work/demo.txt"
lines=0
while IFS= read -r line; do
  case "$line" in '```'* | '  ...' | '') continue ;; esac
  lines=$((lines + 1))
  grep -qxF -- "$line" "$work/demo.txt" || { echo "the demonstration does not print: $line" >&2; exit 1; }
done < <(sed -n '/^<!-- demo:begin -->$/,/^<!-- demo:end -->$/p' README.md | sed '1d;$d')
[ "$lines" -ge 60 ] || { echo "only $lines lines of the demonstration found in the README" >&2; exit 1; }
echo "$lines lines of the demonstration are as the README shows them"
