#!/usr/bin/env bash
# Two copies of the service behind stock nginx on loopback, with the nginx.conf that is shipped: one copy is asked to stop
# under load, another is killed, and no request is lost. Then a copy by itself: stopped under load, it answers all it was sent;
# thousands of open connections, slow senders and bodies too large make it neither crash nor fail. Needs nginx and python3.
. "$(dirname "$0")/common.sh"
tools nginx=nginx-light
need python3
find_binary
ulimit -n 8192
SERVER_BINARY="$binary" python3 "$root/tests/tools/team.py" "$root" "$work"
