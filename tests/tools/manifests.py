"""What the manifests and compose files must say beside keeping to their schemas."""

from pathlib import Path

import yaml
from compose_spec import PyCompose

kinds = {}
for path in sorted(Path("docker/kubernetes").glob("*.yaml")):
    for document in yaml.safe_load_all(path.read_text(encoding="utf-8")):
        kinds[document["kind"]] = document

assert {
    "Namespace", "Deployment", "Service", "PodDisruptionBudget", "HorizontalPodAutoscaler", "NetworkPolicy",
} == set(kinds), kinds.keys()
labels = kinds["Namespace"]["metadata"]["labels"]
assert labels["pod-security.kubernetes.io/enforce"] == "restricted"

pod = kinds["Deployment"]["spec"]["template"]["spec"]
container, = pod["containers"]
# The restricted profile of the Pod Security Standards.
assert pod["securityContext"]["runAsNonRoot"] is True and pod["securityContext"]["runAsUser"] == 65532
assert pod["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
assert container["securityContext"] == {
    "allowPrivilegeEscalation": False, "readOnlyRootFilesystem": True, "capabilities": {"drop": ["ALL"]},
}
assert pod["automountServiceAccountToken"] is False
assert container["livenessProbe"]["httpGet"]["path"] == "/health/live"
assert container["readinessProbe"]["httpGet"]["path"] == "/health/ready"
# As long as the service may take to stop: its two drain settings, 3 s and 25 s.
assert pod["terminationGracePeriodSeconds"] >= 28

policy = kinds["NetworkPolicy"]["spec"]
assert policy["egress"] == [] and set(policy["policyTypes"]) == {"Ingress", "Egress"}
chosen = [
    kinds["Service"]["spec"]["selector"],
    kinds["Deployment"]["spec"]["selector"]["matchLabels"],
    kinds["PodDisruptionBudget"]["spec"]["selector"]["matchLabels"],
    policy["podSelector"]["matchLabels"],
]
template = kinds["Deployment"]["spec"]["template"]["metadata"]["labels"]
assert all(one == template for one in chosen), chosen
assert kinds["HorizontalPodAutoscaler"]["spec"]["minReplicas"] >= 2

for name in ("compose.yaml", "compose.team.yaml"):
    text = (Path("docker") / name).read_text(encoding="utf-8")
    # Compose resolves the merge keys of YAML first, as is done here.
    resolved = yaml.safe_load(text)
    PyCompose.from_yaml(yaml.safe_dump(resolved)).validate()
    for service in resolved["services"].values():
        assert service["read_only"] is True and service["cap_drop"] == ["ALL"], (name, service)
        assert service["security_opt"] == ["no-new-privileges:true"], (name, service)
team = yaml.safe_load(Path("docker/compose.team.yaml").read_text(encoding="utf-8"))
assert team["networks"]["inside"] == {"internal": True}
assert all(team["services"][one]["networks"] == ["inside"] for one in ("ramwright-1", "ramwright-2"))
try:
    PyCompose.from_yaml("services:\n  a:\n    image: x\n    readonly: true\n")
except ValueError as error:
    assert "readonly" in str(error)
else:
    raise AssertionError("a compose file with a misspelt field was taken for good")
print("manifests: schemas of Kubernetes 1.32 and 1.37, restricted, probes, no way out; compose files likewise")
