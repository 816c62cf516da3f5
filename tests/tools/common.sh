# Shared by the scripts here: paths, a Python environment, a server on a free loopback port.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
work=$(mktemp -d)
server_pid=""

clean_up() {
  if [ -n "$server_pid" ]; then
    kill "$server_pid" 2>/dev/null || true
    wait "$server_pid" 2>/dev/null || true
  fi
  rm -rf "$work"
}
trap clean_up EXIT

need() {
  command -v "$1" >/dev/null || { echo "needs $1, which is not here" >&2; exit 1; }
}

# Installs what is missing, each named COMMAND or COMMAND=PACKAGE, and fails where a command is still not there.
tools() {
  local pair missing=()
  for pair in "$@"; do
    command -v "${pair%%=*}" >/dev/null || missing+=("${pair#*=}")
  done
  if [ "${#missing[@]}" -gt 0 ]; then
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends "${missing[@]}" >/dev/null
  fi
  for pair in "$@"; do
    need "${pair%%=*}"
  done
}

# Installs pinned packages into an environment that later runs find again.
python_with() {
  need python3
  venv="$root/target/tools/python-$(echo "$*" | sha256sum | cut -c1-12)"
  if [ ! -x "$venv/ready" ]; then
    python3 -m venv "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check "$@"
    printf '#!/bin/sh\n' > "$venv/ready" && chmod +x "$venv/ready"
  fi
}

# Builds the static binary with PDF, as the container has it; it stands in $static. Whatever needs it names the same
# packages and features, so that it is built once. More words are for cargo.
static_target=x86_64-unknown-linux-gnu
static_flags=(--release --locked --quiet --target "$static_target" -p ramwright-server -p ramwright-pdf --features ramwright-server/pdf)
build_static() {
  (cd "$root" && RUSTFLAGS="-C target-feature=+crt-static" cargo build "${static_flags[@]}" "$@")
  static="${CARGO_TARGET_DIR:-$root/target}/$static_target/release/ramwright"
}

# The release binary, built if need be, is in $binary; SERVER_BINARY names another that is taken as it is.
find_binary() {
  binary=${SERVER_BINARY:-}
  [ -n "$binary" ] && return
  cargo build --release --locked --quiet --manifest-path "$root/Cargo.toml" -p ramwright-server
  binary="${CARGO_TARGET_DIR:-$root/target}/release/ramwright"
}

# Starts the binary with further flags; its address is in $address.
start_server() {
  find_binary
  RAMWRIGHT_LOG_FORMAT=text RAMWRIGHT_DRAIN_SETTLE_S=0 \
    "$binary" --address 127.0.0.1:0 "$@" > "$work/server.log" 2>&1 &
  server_pid=$!
  await_server
}

# Waits until the server says where it listens.
await_server() {
  for _ in $(seq 100); do
    address=$(sed -n 's/.*listening address=\([0-9.:]*\).*/\1/p' "$work/server.log" | head -n 1)
    [ -n "$address" ] && return
    sleep 0.1
  done
  echo "the server did not start:" >&2
  cat "$work/server.log" >&2
  exit 1
}
