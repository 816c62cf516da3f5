"""Presentation MathML of the sheet, read into trees that can be worked out."""

import math

from .functions import call, root
from .units import NONE, Unreadable, Value, in_text, number, quantity

MATHML = "{http://www.w3.org/1998/Math/MathML}"
TRANSPARENT = {"mrow", "mstyle", "mpadded", "math"}
MINUS, TIMES, DIVIDED = "−-", "·×⋅*\u2062", "/∕÷"
APPLY = "\u2061"


def name_of(element):
    return element.tag.removeprefix(MATHML) if isinstance(element.tag, str) else ""


def text_of(element):
    return "".join(element.itertext())


def children(element, count):
    found = list(element)
    if len(found) != count:
        raise Unreadable(f"{name_of(element)} with {len(found)} parts")
    return found


def is_quantity(element):
    return name_of(element) == "mrow" and "q" in (element.get("class") or "").split()


def flat_text(element):
    """The text of a unit; a raised part stays behind its base."""
    return "".join(text_of(part).strip() for part in element) if name_of(element) == "msup" else text_of(element)


def read_quantity(element):
    """A number, perhaps with a sign and a power of ten, and its unit."""
    digits, power, unit, sign, times = None, 0, "", "", False
    for part in element:
        name, text = name_of(part), text_of(part).strip()
        if name == "mo" and text in MINUS and digits is None:
            sign = "-"
        elif name == "mo" and text in "×·" and digits is not None and not unit:
            times = True
        elif name == "mn" and digits is None:
            digits = text
        elif name == "msup" and times and text_of(part[0]).strip() == "10":
            exponent = children(part, 2)[1]
            power, times = int(text_of(exponent).strip().replace("−", "-")), False
        elif name in ("mtext", "mi", "msup", "mo") and digits is not None and not times:
            unit += flat_text(part)
        elif name != "mspace":
            raise Unreadable(f"{name} {text!r} in a quantity")
    if digits is None and len(element) == 0:
        return in_text(element.text or "")
    if digits is None or times:
        raise Unreadable(f"no quantity: {text_of(element)!r}")
    return quantity(sign + digits, power, unit)


def tokens(element, found):
    """The tokens of an element in reading order."""
    for part in element:
        name = name_of(part)
        text = text_of(part).strip()
        if is_quantity(part):
            found.append(("leaf", read_quantity(part)))
        elif name in TRANSPARENT:
            tokens(part, found)
        elif name == "mn":
            found.append(("number", number(text)[0]))
        elif name == "mo":
            found.append(("mark", text))
        elif name == "mi":
            found.append(("pi",) if text == "π" else ("name", text))
        elif name == "msub":
            base, below = (text_of(one).strip() for one in children(part, 2))
            found.append(("name", "log10" if (base, below) == ("log", "10") else f"{base}_{below}"))
        elif name == "mfrac":
            over, under = children(part, 2)
            found.append(("tree", ("div", whole([over]), whole([under]))))
        elif name == "msqrt":
            found.append(("tree", ("sqrt", whole(list(part)))))
        elif name == "msup":
            base, power = children(part, 2)
            found.append(("tree", ("pow", whole([base]), whole([power]))))
        elif name != "mspace" and not (name == "mtext" and not text):
            raise Unreadable(f"{name} {text!r} in an expression")
    return found


def whole(elements):
    """The tree of elements that are one expression."""
    reader = Reader(tokens(elements, []))
    tree = reader.total()
    reader.end()
    return tree


def sides(formula):
    """The trees between the equals signs of a formula; an empty side is left out."""
    parts, current = [], []
    for token in tokens(formula, []):
        if token == ("mark", "="):
            parts.append(current)
            current = []
        else:
            current.append(token)
    parts.append(current)
    trees = []
    for part in filter(None, parts):
        reader = Reader(part)
        trees.append(reader.total())
        reader.end()
    return trees


class Reader:
    """Sums of products of primaries, as they are written: two things side by side are a mistake."""

    def __init__(self, found):
        self.found, self.at = found, 0

    def mark(self, among):
        if self.at < len(self.found):
            kind, *rest = self.found[self.at]
            if kind == "mark" and rest[0] != "" and rest[0] in among:
                self.at += 1
                return rest[0]
        return None

    def end(self):
        if self.at != len(self.found):
            raise Unreadable(f"not understood: {self.found[self.at]}")

    def total(self):
        tree = self.product()
        while mark := self.mark("+" + MINUS):
            tree = ("add" if mark == "+" else "sub", tree, self.product())
        return tree

    def product(self):
        tree = self.signed()
        while mark := self.mark(TIMES + DIVIDED):
            tree = ("mul" if mark in TIMES else "div", tree, self.signed())
        return tree

    def signed(self):
        return ("neg", self.signed()) if self.mark(MINUS) else self.primary()

    def primary(self):
        if self.mark("("):
            tree = self.total()
            self.close()
            return tree
        if self.at == len(self.found) or self.found[self.at][0] == "mark":
            raise Unreadable("something is missing in an expression")
        token = self.found[self.at]
        self.at += 1
        if token[0] == "tree":
            return token[1]
        if token[0] == "name" and self.mark(APPLY):
            return self.applied(token[1])
        return token

    def applied(self, name):
        name = name.replace(" ", "_").replace("-", "_")
        if not self.mark("("):
            return ("call", name, (self.primary(),))
        arguments = [self.total()]
        while self.mark(";"):
            arguments.append(self.total())
        self.close()
        return ("call", name, tuple(arguments))

    def close(self):
        if not self.mark(")"):
            raise Unreadable("a bracket is not closed")


def leaves(tree):
    """The printed quantities of a tree, in reading order."""
    if tree[0] == "leaf":
        return [tree[1]]
    below = tree[2] if tree[0] == "call" else [part for part in tree[1:] if isinstance(part, tuple)]
    return [leaf for part in below for leaf in leaves(part)]


def value(tree, changed=None):
    """The value of a tree; `changed` gives other SI values to leaves, by their identity."""
    kind = tree[0]
    if kind == "leaf":
        leaf = tree[1]
        return Value((changed or {}).get(id(leaf), leaf.si), leaf.dimension)
    if kind == "number":
        return Value(tree[1])
    if kind == "pi":
        return Value(math.pi)
    if kind == "name":
        raise Unreadable(f"{tree[1]} has no value")
    if kind == "call":
        return call(tree[1], [value(part, changed) for part in tree[2]])
    parts = [value(part, changed) for part in tree[1:]]
    return arithmetic(kind, *parts)


def arithmetic(kind, one, other=None):
    if kind == "neg":
        return Value(-one.si, one.dimension)
    if kind == "sqrt":
        return root(one)
    if kind in ("add", "sub"):
        if one.dimension != other.dimension:
            raise Unreadable("a sum of different dimensions")
        return Value(one.si + other.si if kind == "add" else one.si - other.si, one.dimension)
    if kind == "pow":
        if other.dimension != NONE or (one.dimension != NONE and other.si != int(other.si)):
            raise Unreadable("no power of this")
        return Value(one.si**other.si, tuple(int(part * other.si) for part in one.dimension) if any(one.dimension) else NONE)
    sign = 1 if kind == "mul" else -1
    dimension = tuple(a + sign * b for a, b in zip(one.dimension, other.dimension))
    return Value(one.si * other.si if kind == "mul" else one.si / other.si, dimension)


def same_shape(formula, substituted):
    """Whether a substitution is its formula with every symbol replaced by a quantity, the same one each time."""
    return shape(formula, substituted, {})


def shape(formula, substituted, known):
    kind, other = formula[0], substituted[0]
    if kind in ("name", "pi") and other in ("leaf", "pi"):
        text = substituted[1].text if other == "leaf" else "π"
        return known.setdefault(formula[1:], text) == text
    if kind != other:
        return False
    if kind in ("number", "pi", "name"):
        return formula == substituted
    if kind == "call":
        same = formula[1] == substituted[1] and len(formula[2]) == len(substituted[2])
        return same and all(shape(a, b, known) for a, b in zip(formula[2], substituted[2]))
    return kind != "leaf" and all(shape(a, b, known) for a, b in zip(formula[1:], substituted[1:]))
