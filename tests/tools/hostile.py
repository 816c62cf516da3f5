"""Writes an example with hostile texts in place of its names.

usage: hostile.py EXAMPLE.json
"""

import json
import sys

HOSTILE = (
    "</title><script>alert(1)</script>\"><img src=x onerror=alert(1)> =1+1|cmd #eval(\"1\") $x^2$ *b* \\input{a} "
    "\u202eabc \u05d0\u05d1\u05d2 \u0627\u0644\u0633 \u6f22\u5b57"
)
# No name may be longer.
LONGEST = 200
FILLED = HOSTILE + " " + "W" * (LONGEST - 1 - len(HOSTILE))
NAMES = ("title", "project", "site", "scope", "prepared", "checked", "approved", "revision", "number", "source")


def spoilt(value, field=""):
    if isinstance(value, dict):
        return {name: spoilt(item, name) for name, item in value.items()}
    if isinstance(value, list):
        return [spoilt(item, field) for item in value]
    if isinstance(value, str) and field in NAMES:
        return FILLED
    return value


request = spoilt(json.load(open(sys.argv[1])))
request.setdefault("papers", {})
for name in ("project", "site", "scope"):
    request["papers"][name] = FILLED
points = request["load_case"]["points"]
points[0]["id"] = HOSTILE[:60]
json.dump(request, sys.stdout)
