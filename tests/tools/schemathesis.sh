#!/usr/bin/env bash
# The running server against its own description: random requests for the given number of seconds.
# usage: schemathesis.sh [SECONDS]
. "$(dirname "$0")/common.sh"
seconds=${1:-60}
python_with schemathesis==4.32.5
start_server
cat > "$work/schemathesis.toml" <<'TOML'
# Rules between fields (positions and a centre of gravity, ids that must exist) are nothing that a schema can say: 422.
[checks.positive_data_acceptance]
expected-statuses = ["2xx", "404", "422"]
# A generated body may also be too large.
[checks.negative_data_rejection]
expected-statuses = ["400", "404", "405", "406", "408", "413", "415", "422"]
TOML
seed=${SCHEMATHESIS_SEED:-20260101}
end=$((SECONDS + seconds))
round=0
cd "$work"
while [ $SECONDS -lt $end ]; do
  for document in openapi.json openapi-3.0.json; do
    round=$((round + 1))
    echo "schemathesis: $document, seed $((seed + round))"
    timeout $((end - SECONDS + 240)) "$venv/bin/schemathesis" --config-file "$work/schemathesis.toml" run \
      "http://$address/$document" --max-examples 20 --seed $((seed + round)) --no-color > "$work/round.log" 2>&1 \
      || { cut -c1-2000 "$work/round.log" | tail -n 120; exit 1; }
    sed -n '/^Test cases:/,/^$/p' "$work/round.log"
  done
done
