#!/usr/bin/env bash
# Both committed API descriptions against a public validator.
. "$(dirname "$0")/common.sh"
python_with openapi-spec-validator==0.9.0
"$venv/bin/openapi-spec-validator" "$root/openapi/openapi.json"
"$venv/bin/openapi-spec-validator" "$root/openapi/openapi-3.0.json"
