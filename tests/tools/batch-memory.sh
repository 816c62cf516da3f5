#!/usr/bin/env bash
# A batch of 10 000 lines: every line answered, in order, and the memory of the service no greater at its end than a tenth
# of the way in. The client reads slowly for a while, so that what is not taken has to wait somewhere.
. "$(dirname "$0")/common.sh"
need python3
start_server
python3 "$root/tests/tools/batch_memory.py" "$address" "$server_pid" "$root/openapi/examples/load_shares.json" "${1:-10000}"
