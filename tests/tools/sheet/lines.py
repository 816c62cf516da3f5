"""The lines and checks of a sheet against what their printed numbers give."""

import math

from .mathml import is_quantity, leaves, name_of, read_quantity, same_shape, sides, text_of, value
from .units import Unreadable, dimension_text, in_text

RELATIVE = 1e-9
# How near to its root an equation must change its sign, and how small it may be beside its greatest term.
NEAR = 1e-5
# Rounding of printed terms that moves an equation by more than this tells nothing any more.
COARSE = 1e-3


def classes(element):
    return (element.get("class") or "").split()


def within(element, name, wanted):
    """The elements of a name and class below another."""
    return [one for one in element.iter() if name_of(one) == name and wanted in classes(one)]


def only(line, wanted):
    found = within(line, "math", wanted)
    if len(found) != 1:
        raise Unreadable(f"{len(found)} times <math class={wanted!r}>")
    return found[0]


def moved(tree, base):
    """By how much the value can be off because its printed terms are rounded: the sum of what each does alone."""
    total = 0.0
    for leaf in {id(leaf): leaf for leaf in leaves(tree)}.values():
        if not leaf.exact:
            total += max(abs(value(tree, {id(leaf): leaf.si + side * leaf.half}).si - base) for side in (-1, 1))
    return total


def check_line(line, allow_rounding):
    """What is wrong with a line, and whether the rounding of its terms was needed to make it right."""
    if "root" in classes(line):
        return check_root(line), False
    formula, substituted = sides(only(line, "formula")), sides(only(line, "substitution"))
    if len(formula) != 2 or len(substituted) != 1:
        raise Unreadable("a formula is `symbol = expression`, its substitution `= expression`")
    wrong = []
    if not same_shape(formula[1], substituted[0]):
        wrong.append("the substitution is not the formula with its symbols replaced")
    found = value(substituted[0])
    results = [read_quantity(one) for one in only(line, "result").iter() if is_quantity(one)]
    if not results:
        raise Unreadable("no result")
    rounded = False
    for result in results:
        if result.dimension != found.dimension:
            has, wants = dimension_text(found.dimension), dimension_text(result.dimension)
            wrong.append(f"the substitution has the dimension {has}, the result {result.text} has {wants}")
            continue
        off = abs(found.si - result.si)
        if off <= result.half * (1 + RELATIVE) + RELATIVE * abs(found.si):
            continue
        explained = off <= result.half + moved(substituted[0], found.si)
        if explained and allow_rounding:
            rounded = True
            continue
        why = "rounding of the printed terms explains it" if explained else "rounding of the printed terms is less"
        wrong.append(f"gives {found.si:.9g} in SI units, printed is {result.text} ({result.si:.9g}): {why}")
    return wrong, rounded


def summands(tree):
    if tree[0] in ("add", "sub"):
        return summands(tree[1]) + summands(tree[2])
    return [tree]


def check_root(line):
    """An equation with its root put in: it changes its sign there, or is small beside its greatest term."""
    parts = sides(only(line, "substitution"))
    if not parts:
        raise Unreadable("no equation")
    tree, printed = parts[0], [value(part) for part in parts[1:]]
    found = value(tree)
    greatest = max(abs(value(part).si) for part in summands(tree))
    slack = moved(tree, found.si)
    if COARSE * greatest < slack:
        return ["its terms have too few digits to tell whether it holds"]
    small = NEAR * greatest + slack
    wrong = []
    if any(part.dimension != found.dimension for part in printed):
        wrong.append("what is left over has another dimension than the equation")
    elif any(small + RELATIVE < abs(part.si) for part in printed):
        wrong.append("what is printed as left over is not about zero")
    roots = [read_quantity(one) for one in only(line, "result").iter() if is_quantity(one)]
    if not roots:
        raise Unreadable("no root")
    if not (changes_sign(tree, roots) or abs(found.si) <= small):
        wrong.append(f"the root does not solve it: {found.si:.3g} is left over beside {greatest:.3g}")
    return wrong


def changes_sign(tree, roots):
    """Whether the sign differs on both sides of the root, where the root is one of the terms."""
    digits = {root.text.split(" ")[0] for root in roots}
    same = [leaf for leaf in leaves(tree) if any(is_same(leaf, root) for root in roots) or leaf.text in digits]
    if not same:
        return False
    ends = [value(tree, {id(leaf): leaf.si * (1 + side * NEAR) for leaf in same}).si for side in (-1, 1)]
    return ends[0] * ends[1] <= 0


def is_same(leaf, root):
    return leaf.dimension == root.dimension and math.isclose(leaf.si, root.si, rel_tol=RELATIVE)


HEADS = ("demand", "limit", "utilisation")


def rows(table):
    """Demand, limit and utilisation of each row, whether heads stand above or beside the cells."""
    found, heads, beside = [], [], {}
    for row in (one for one in table.iter() if local(one) == "tr"):
        cells = [one for one in row if local(one) in ("td", "th")]
        names = [text_of(one).strip().lower() for one in cells]
        if all(head in names for head in HEADS):
            heads = names
        elif heads:
            if len(cells) != len(heads):
                raise Unreadable("a row of a table with other cells than its head")
            found.append({head: cells[heads.index(head)] for head in HEADS})
        elif len(cells) == 2 and names[0] in HEADS:
            beside[names[0]] = cells[1]
    if beside:
        found.append(beside)
    return found


def local(element):
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def cell(element):
    """The quantities of a cell: the working unit, and the display unit where it differs."""
    found = [read_quantity(one) for one in element.iter() if is_quantity(one)]
    return found or [in_text(text_of(element))]


def doubt(printed):
    return 0.0 if printed.exact else printed.half


def check_row(row):
    """The utilisation is demand over limit rounded up."""
    if set(row) != set(HEADS):
        raise Unreadable(f"a row without {' and '.join(sorted(set(HEADS) - set(row)))}")
    demand, limit, (used, *_) = cell(row["demand"]), cell(row["limit"]), cell(row["utilisation"])
    wrong = []
    for over, under in zip(demand, limit):
        if over.dimension != under.dimension:
            wrong.append(f"{over.text} is held against {under.text}")
            continue
        if under.si - doubt(under) <= 0:
            raise Unreadable(f"no utilisation of {under.text}")
        least = (over.si - doubt(over)) / (under.si + doubt(under))
        greatest = (over.si + doubt(over)) / (under.si - doubt(under))
        if used.si < least * (1 - RELATIVE):
            wrong.append(f"utilisation {used.text} is below {over.text} over {under.text}")
        elif greatest * (1 + RELATIVE) + 2 * used.half * (1 + RELATIVE) <= used.si:
            wrong.append(f"utilisation {used.text} is above {over.text} over {under.text}, rounded up")
    return wrong
