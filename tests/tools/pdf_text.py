"""Reads PDFs back and compares them with the pages in HTML that lie beside them."""

import collections
import pathlib
import re
import subprocess
import sys
import unicodedata
import xml.etree.ElementTree as xml

import html5lib

# Digits, with narrow spaces between groups and a decimal mark.
NUMBER = re.compile(r"\d(?:[\d\u202f]*\d)?(?:[.,]\d+)?")
WORD = re.compile(r"[A-Za-z]{4,}")
# What is drawn, is not printed, or stands at the foot of a page.
APART = {"svg", "title", "style", "script", "head"}
# An address breaks anywhere.
UNLIKE = {"address"}


def local(element):
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def texts(element):
    """Every text of a page that is printed."""
    name = local(element)
    if name in APART or element.get("class") in UNLIKE:
        return
    parts = list(element)
    if element.get("class") == "step-body":
        # On paper the small drawing of a step has no caption: the step's head says the same.
        parts = [part for part in parts if local(part) != "figure"]
    if name == "msup" and local(parts[0]) == "mn":
        # Read back, an exponent stands beside its number.
        yield "".join(element.itertext())
        return
    # Marks below and beside a symbol are letters of its name.
    if name in ("msub", "msup"):
        parts = parts[:1]
    if element.text:
        yield element.text
    for part in parts:
        yield from texts(part)
        if part.tail:
            yield part.tail


def plain(text):
    """Narrow spaces as they are read back, and nothing that only marks a place to break."""
    return unicodedata.normalize("NFC", text.replace("\u200b", "").replace("\u202f", " "))


def count(number, text):
    return len(re.findall(rf"(?<![\d.,]){re.escape(number)}(?!\d)", text))


def check(pdf):
    page = html5lib.parse(pdf.with_suffix(".html").read_text(), namespaceHTMLElements=False)
    main = page.find(".//main")
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, check=True, text=True).stdout
    pages = text.split("\f")[:-1]
    wanted = collections.Counter()
    for one in texts(main):
        wanted.update(plain(number) for number in NUMBER.findall(one))
    text = plain(text)
    found = {number: count(number, text) for number in wanted}
    fewer = sorted(number for number in wanted if found[number] < wanted[number])
    faults = [f"{number}: {found[number]} times in place of {wanted[number]}" for number in fewer]
    # Nor may words be missing; drawings, heads and feet only add to them.
    words = collections.Counter(word for one in texts(main) for word in WORD.findall(plain(one)))
    read = collections.Counter(WORD.findall(text))
    faults += [f"{word}: {read[word]} times in place of {words[word]}" for word in words if read[word] < words[word]]
    heading = page.find(".//p[@class='kind']").text
    for number, page in enumerate(pages, 1):
        if heading not in page or f"page {number} of {len(pages)}" not in page:
            faults.append(f"page {number} has no head or no number")
    faults += outside(pdf)
    for fault in faults:
        print(f"{pdf.name}: {fault}", file=sys.stderr)
    print(f"{pdf.parent.name} {pdf.name}: {len(pages)} pages, {sum(wanted.values())} numbers, {len(faults)} faults")
    return not faults


def outside(pdf):
    """Words that reach into the margins; 9 mm are left for printers."""
    box = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, check=True, text=True).stdout
    box = re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", box)
    edge = 9 / 25.4 * 72
    for number, page in enumerate(xml.fromstring(box).iter("{http://www.w3.org/1999/xhtml}page"), 1):
        width, height = float(page.get("width")), float(page.get("height"))
        for word in page:
            x_min, x_max = float(word.get("xMin")), float(word.get("xMax"))
            y_min, y_max = float(word.get("yMin")), float(word.get("yMax"))
            if x_min < edge or width - edge < x_max or y_min < edge or height - edge < y_max:
                yield f"page {number}: {word.text!r} lies outside"


if __name__ == "__main__":
    results = [check(pathlib.Path(name)) for name in sys.argv[1:]]
    sys.exit(0 if results and all(results) else 1)
