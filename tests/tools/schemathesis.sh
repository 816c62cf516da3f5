#!/usr/bin/env bash
# The running server against its own description: random requests for the given number of seconds.
# usage: schemathesis.sh [SECONDS]
. "$(dirname "$0")/common.sh"
seconds=${1:-60}
python_with schemathesis==4.32.5
start_server
cat > "$work/schemathesis.toml" <<'TOML'
# Rules between fields (positions and a centre of gravity, ids that must exist) are nothing that a schema can say: 422. So are
# views that a lift does not have, and PDF where it was not built in: 406.
[checks.positive_data_acceptance]
expected-statuses = ["2xx", "404", "406", "422"]
# A generated body may also be too large.
[checks.negative_data_rejection]
expected-statuses = ["400", "404", "405", "406", "408", "413", "415", "422"]
# With errors=cell a problem has status 200: that is what the parameter is for. Whether a load is a mass or a force hangs on
# another parameter, and whether a text is a table is nothing that a schema can say: 400.
[[operations]]
include-path-regex = "^/v1/quick/"
checks.positive_data_acceptance.expected-statuses = ["2xx", "400", "404", "406", "422"]
checks.negative_data_rejection.expected-statuses = ["200", "400", "404", "405", "406", "408", "413", "415", "422"]
# Random letters may unpack to something that is no JSON: 400.
[[operations]]
include-path-regex = "permalink"
checks.positive_data_acceptance.expected-statuses = ["2xx", "400", "404", "406", "422"]
# A bad line is answered by a line; the batch itself has status 200. Its lines are the requests of all calculations, whose
# fields are tried at their own addresses.
[[operations]]
include-name = "POST /v1/batches"
phases.coverage.enabled = false
checks.negative_data_rejection.expected-statuses = ["200", "400", "405", "406", "415"]
TOML
export SCHEMATHESIS_HOOKS=schemathesis_lines PYTHONPATH="$root/tests/tools"
seed=${SCHEMATHESIS_SEED:-20260101}
end=$((SECONDS + seconds))
cd "$work"

# One round on one document; its length is that of the description, not of a clock. Every field at its edges is tried by the
# complete document alone: the other one describes the same fields.
check_document() {
  local phases=examples,fuzzing,stateful
  [ "$1" = openapi.json ] && phases=examples,coverage,fuzzing,stateful
  "$venv/bin/schemathesis" --config-file "$work/schemathesis.toml" run "http://$address/$1" --max-examples 10 --request-timeout 30 \
    --phases "$phases" --seed "$2" --no-color > "$work/$1.log" 2>&1
}

# What is left of a log when its round failed, and what was counted when it did not.
report() {
  echo "schemathesis: $1, seed $2"
  if [ "$3" != 0 ]; then
    cut -c1-2000 "$work/$1.log" | tail -n 120
    exit 1
  fi
  sed -n '/^Test cases:/,/^$/p' "$work/$1.log"
}

# Both documents at once, since each round keeps one core busy; another round as long as time is left.
while :; do
  seed=$((seed + 1))
  check_document openapi.json "$seed" & full=$!
  check_document openapi-3.0.json "$((seed + 1000))" & reduced=$!
  full_code=0 reduced_code=0
  wait "$full" || full_code=$?
  wait "$reduced" || reduced_code=$?
  report openapi.json "$seed" "$full_code"
  report openapi-3.0.json "$((seed + 1000))" "$reduced_code"
  [ $SECONDS -lt $end ] || break
done
