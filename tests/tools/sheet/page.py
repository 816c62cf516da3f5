"""A sheet as a page: whether it is HTML, stands alone, and says what its lines give."""

import re
from collections import Counter

import html5lib
from html5lib.constants import E as MESSAGES

from .lines import check_line, check_row, classes, local, rows
from .units import Unreadable

NAMESPACES = (
    "http://www.w3.org/1999/xhtml",
    "http://www.w3.org/1998/Math/MathML",
    "http://www.w3.org/2000/svg",
    "http://www.w3.org/1999/xlink",
)
LOADED = ("src", "srcset", "data", "poster", "background", "action", "formaction", "style")


class Report:
    """What was read and what is wrong."""

    def __init__(self):
        self.wrong, self.counts = [], Counter()

    def say(self, place, text):
        self.wrong.append(f"{place}: {text}")


def check_page(name, text, allow_rounding, report):
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), namespaceHTMLElements=True)
    tree = parser.parse(text)
    for (line, column), code, data in parser.errors:
        report.say(f"{name}:{line}:{column}", f"no valid HTML: {MESSAGES.get(code, code) % data}")
    stands_alone(name, text, tree, report)
    check_lines(name, tree, allow_rounding, report)
    check_tables(name, tree, report)


def stands_alone(name, text, tree, report):
    for number, line in enumerate(text.splitlines(), 1):
        for namespace in NAMESPACES:
            line = line.replace(f'"{namespace}"', '""').replace(f"'{namespace}'", "''")
        for mark in re.findall(r"https?:|@import|\burl\s*\((?!#)|\bsrc\s*=", line, re.I):
            report.say(f"{name}:{number}", f"a reference to elsewhere: {mark}")
    ids = Counter()
    for element in tree.iter():
        if not isinstance(element.tag, str):
            continue
        for attribute, value in element.attrib.items():
            plain = attribute.rpartition("}")[2].lower()
            if plain in LOADED:
                report.say(name, f"<{local(element)}> has the attribute {plain}")
            elif plain == "href" and (local(element) == "link" or re.match(r"\s*(//|[a-z][a-z0-9+.-]*:)", value, re.I)):
                report.say(name, f"<{local(element)}> refers to {value[:60]}")
        if element.get("id") is not None:
            ids[element.get("id")] += 1
    for one, count in ids.items():
        if count > 1 or one == "":
            report.say(name, f"the id {one!r} stands {count} times")


def check_lines(name, tree, allow_rounding, report):
    for line in within_html(tree, "div", "line"):
        place = f"{name}#{line.get('id')}"
        if line.get("id") is None:
            report.say(place, "a line without an id")
        try:
            wrong, rounded = check_line(line, allow_rounding)
        except (Unreadable, ValueError, ZeroDivisionError, OverflowError, TypeError) as error:
            report.counts["lines not read"] += 1
            report.say(place, f"cannot be worked out: {error}")
            continue
        report.counts["lines worked out"] += 1
        report.counts["of them roots"] += "root" in classes(line)
        report.counts["of them right within the rounding of their terms"] += rounded
        for text in wrong:
            report.say(place, text)


def check_tables(name, tree, report):
    for section in within_html(tree, "section", "check"):
        place = f"{name} check {section.get('data-check')} of {section.get('data-subject')}"
        report.counts["checks"] += 1
        if not section.get("data-check") or section.get("data-subject") is None:
            report.say(place, "a check that does not say of what it is")
        for table in (one for one in section.iter() if local(one) == "table" and "utilisation" in classes(one)):
            try:
                found = rows(table)
                if not found:
                    raise Unreadable("a table of utilisation without a row")
                for row in found:
                    report.counts["utilisations"] += 1
                    for text in check_row(row):
                        report.say(place, text)
            except (Unreadable, ValueError, TypeError) as error:
                report.say(place, f"cannot be read: {error}")


def within_html(tree, name, wanted):
    return [one for one in tree.iter() if local(one) == name and wanted in classes(one)]
