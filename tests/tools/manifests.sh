#!/usr/bin/env bash
# The Kubernetes manifests against the schemas of Kubernetes, strictly, and what they must say beside; the compose files
# likewise. A manifest with a fault is tried too, so that a check that sees nothing is seen.
. "$(dirname "$0")/common.sh"
python_with kubernetes-validate==1.37.0 compose-spec==0.2.1
cd "$root"
for version in 1.32 1.37; do
  "$venv/bin/kubernetes-validate" --strict --quiet -k "$version" docker/kubernetes/*.yaml
done
sed 's/containerPort: 8080/containerPrt: 8080/' docker/kubernetes/ramwright.yaml > "$work/faulty.yaml"
if "$venv/bin/kubernetes-validate" --strict --quiet "$work/faulty.yaml" > "$work/said" 2>&1; then
  echo "a manifest with a misspelt field was taken for good" >&2
  exit 1
fi
"$venv/bin/python" tests/tools/manifests.py
