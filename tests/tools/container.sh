#!/usr/bin/env bash
# Builds the container around the static binary with PDF and runs it read-only, without capabilities and without a user.
. "$(dirname "$0")/common.sh"
tools buildah podman runc
export CONTAINERS_CONF="$work/containers.conf" CONTAINERS_STORAGE_CONF="$work/storage.conf"
cat > "$CONTAINERS_CONF" <<CONF
[containers]
default_ulimits = ["nofile=1024:$(ulimit -Hn)", "nproc=1024:1024"]
[engine]
runtime = "runc"
CONF
cat > "$CONTAINERS_STORAGE_CONF" <<CONF
[storage]
driver = "vfs"
runroot = "$work/run"
graphroot = "$work/graph"
CONF
build_static
mkdir -p "$work/context/dist"
cp "$static" "$work/context/dist/"
cp -r "$root/docker" "$work/context/"
buildah bud --quiet --format docker --isolation chroot --target prebuilt -t ramwright:test -f "$work/context/docker/Dockerfile" "$work/context" >/dev/null
bytes=$(podman image inspect --format '{{.Size}}' ramwright:test)
echo "image: $bytes bytes"
[ "$bytes" -le $((80 * 1024 * 1024)) ] || { echo "the image is larger than 80 MiB" >&2; exit 1; }
# The most that the process in the container has held, as the kernel counts it.
peak_memory() {
  sed -n 's/^VmHWM:[[:space:]]*//p' "/proc/$(podman inspect --format '{{.State.Pid}}' "$id")/status"
}
id=$(podman run -d --read-only --cap-drop ALL --security-opt no-new-privileges --memory 256m \
  -p 127.0.0.1::8080 ramwright:test 2>/dev/null)
trap 'podman rm -f "$id" >/dev/null 2>&1 || true; clean_up' EXIT
port=$(podman port "$id" 8080/tcp | sed 's/.*://')
for _ in $(seq 50); do
  curl -fsS "http://127.0.0.1:$port/health/ready" >/dev/null 2>&1 && break
  sleep 0.1
done
podman exec "$id" /ramwright healthcheck
status=$(curl -sS -o "$work/answer.json" -w '%{http_code}' -H 'Content-Type: application/json' \
  --data @"$root/openapi/examples/transformer.json" "http://127.0.0.1:$port/v1/lift-plans")
[ "$status" = 200 ] || { echo "the lift plan answered $status" >&2; exit 1; }
for view in calculation site_sheet; do
  curl -sS -o "$work/$view.pdf" -H 'Content-Type: application/json' --data @"$root/openapi/examples/transformer.json" \
    "http://127.0.0.1:$port/v1/lift-plans?view=$view&format=pdf"
  [ "$(head -c 5 "$work/$view.pdf")" = "%PDF-" ] || { echo "the $view came as no PDF" >&2; exit 1; }
done
echo "memory at its most: $(peak_memory)"
user=$(podman inspect --format '{{.Config.User}}' "$id")
[ "$user" = "65532:65532" ] || { echo "the container runs as $user" >&2; exit 1; }
podman stop -t 30 "$id" >/dev/null 2>&1
code=$(podman inspect --format '{{.State.ExitCode}}' "$id")
[ "$code" = 0 ] || { echo "the container stopped with $code" >&2; exit 1; }
echo "container: ready, calculates, stops in good order"
