#!/usr/bin/env bash
# Requests a second and the time of 99 in 100, for a search and a verification, beside a bare server that only passes the same
# bytes both ways in the same run. What is measured is printed and never judged: it is this machine's. Needs wrk; fails without.
. "$(dirname "$0")/common.sh"
tools wrk curl
seconds=${1:-8}
# Both of one and the same build.
build_static
build_static --example echo
SERVER_BINARY=$static start_server
echo_binary="$(dirname "$static")/examples/echo"
for name in size verify; do
  curl -fsS -o "$work/$name.answer" -H 'Content-Type: application/json' \
    --data @"$root/openapi/examples/$name.json" "http://$address/v1/ram-sets/$name"
  cat > "$work/$name.lua" <<LUA
local file = io.open("$root/openapi/examples/$name.json")
wrk.method, wrk.body = "POST", file:read("*a")
wrk.headers["Content-Type"] = "application/json"
LUA
done
port=$(python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
"$echo_binary" "127.0.0.1:$port" "$work/size.answer" "$work/verify.answer" &
echo_pid=$!
trap 'kill "$echo_pid" 2>/dev/null || true; clean_up' EXIT
for _ in $(seq 100); do
  curl -fsS -o /dev/null --data x "http://127.0.0.1:$port/v1/ram-sets/verify" 2>/dev/null && break
  sleep 0.1
done
measure() {
  wrk -t1 -c16 -d"${seconds}s" --timeout 30s --latency -s "$work/$2.lua" "http://$3/v1/ram-sets/$2" > "$work/wrk"
  if grep -q 'Non-2xx' "$work/wrk"; then
    cat "$work/wrk" >&2
    exit 1
  fi
  awk -v who="$1" -v what="$2" '/Requests\/sec/ { rate = $2 } /99%/ { p99 = $2 } /50%/ { p50 = $2 }
    END { printf "%-8s %-10s %10s requests/s   p50 %10s   p99 %10s\n", what, who, rate, p50, p99 }' "$work/wrk"
}
echo "$(nproc) processors, 16 connections, $seconds s each, client on the same machine"
for name in size verify; do
  printf '%s: %s bytes asked, %s bytes answered\n' "$name" "$(stat -c %s "$root/openapi/examples/$name.json")" "$(stat -c %s "$work/$name.answer")"
  measure service "$name" "$address"
  measure echo "$name" "127.0.0.1:$port"
done
