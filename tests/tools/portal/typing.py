"""A lift typed into an empty form, field by field, from its committed request."""

import json
import re

PERCENT = {"load_case/weight_tolerance", "load_case/horizontal_share", "settings/capacity_limit", "settings/stroke_limit"}
QUANTITY = re.compile(r"^([+-]?[\d.]+) *([^\d\s].*)$")


def type_lift(person, request):
    """Begins with the empty form and types all that a request says."""
    person.click("$('begin-')")
    person.wait("/needed/.test(root.querySelector('.state').textContent)")
    points = request["load_case"]["points"]
    flat = dict(leaves({key: value for key, value in request.items()}))
    # The task decides which fields there are, and so is chosen first, as a person would.
    for path in sorted(flat, key=lambda path: path != "load_case/task"):
        if path == "settings/packing":
            tick(person, flat[path])
        else:
            field(person, "f", path, flat[path])
    for place, point in enumerate(points):
        row(person, place, point)


def leaves(tree, path=""):
    """Path and value of all that has a field of its own; points are typed apart."""
    for name, value in tree.items():
        at = f"{path}/{name}" if path else name
        if at == "load_case/points":
            continue
        if isinstance(value, dict):
            yield from leaves(value, at)
        else:
            yield at, value


def open_section(person, name):
    folded = f"$('{name}').closest('details')"
    if not person.look(f"{folded}.open"):
        person.click(f"{folded}.querySelector('summary')")
        person.wait(f"{folded}.open")


def field(person, scope, path, value):
    name = f"{scope}-{path.replace('/', '-')}"
    assert person.look(f"$('{name}') !== null"), f"there is no field for {path}"
    open_section(person, name)
    person.click(f"root.querySelector('label[for=\"{name}\"]')")
    assert person.focused() == name, f"its label does not lead to {name}"
    fill(person, name, path, value)


def fill(person, name, path, value):
    """Types into the field that has the focus."""
    if person.look(f"$('{name}').localName") == "select":
        person.choose(name, json.dumps(value) if isinstance(value, bool) else value)
        return
    quantity = QUANTITY.match(value) if isinstance(value, str) and person.look(f"$('{name}').inputMode") == "decimal" else None
    if path in PERCENT:
        value = f"{value * 100:.6g}"
    person.erase(name)
    person.type(quantity[1] if quantity else str(value))
    if quantity and person.look(f"$('{name}-unit') !== null") and person.look(f"$('{name}-unit').value") != quantity[2]:
        person.key("Tab")
        person.choose(f"{name}-unit", quantity[2])


def tick(person, ids):
    open_section(person, "f-settings-packing")
    for one in ids:
        person.click(f"$('f-settings-packing').querySelector('input[value=\"{one}\"]')")


def row(person, place, point):
    """Adds a point by the mouse and goes along its row by Tab."""
    open_section(person, "points-add")
    person.click("$('points-add')")
    person.wait(f"$('p{place}-id') !== null")
    cells = dict(leaves(point))
    within = person.look(f"[...$('p{place}-id').closest('tr').querySelectorAll('input, select')].map(one => one.id)")
    if any(f"p{place}-{path.replace('/', '-')}" not in within and "estimated" not in path for path in cells):
        person.click("$('points-extra')")
        person.wait("$('points-extra').checked")
    person.click(f"$('p{place}-id')")
    for name in person.look(f"[...$('p{place}-id').closest('tr').querySelectorAll('input, select')].map(one => one.id)"):
        path = next((path for path in cells if f"p{place}-{path.replace('/', '-')}" == name), None)
        if path is not None:
            person.tab_to(name, 30)
            column_unit(person, place, path, cells[path])
            fill(person, name, path, cells.pop(path))
    for path, value in list(cells.items()):
        field(person, f"p{place}", path, value)


def column_unit(person, place, path, value):
    """The unit of a column stands in its head: chosen once, before the first number."""
    head = f"column-{path.replace('/', '-')}-unit"
    quantity = QUANTITY.match(value) if isinstance(value, str) else None
    if place > 0 or not quantity or not person.look(f"$('{head}') !== null") or person.look(f"$('{head}').value") == quantity[2]:
        return
    name = person.focused()
    person.look(f"$('{head}').focus() ?? 0")
    person.choose(head, quantity[2])
    person.look(f"$('{name}').focus() ?? 0")
