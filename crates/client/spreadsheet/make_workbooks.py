"""Writes ramwright.xlsx and ramwright.ods beside this file: the same sheets in both, byte for byte the same each time.

Formulas are written once: `<B2>` and `<Settings!B1>` are cells, `|` parts arguments, `@` stands before functions whose name in the
file differs from that on the screen.
"""

import csv
import re
import sys
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

HERE = Path(__file__).resolve().parent
YARD = HERE.parents[1] / "api" / "catalogues" / "demo_yard" / "rams.csv"
STAMP = (2020, 1, 1, 0, 0, 0)
MASSES = ["t", "kg", "kN", "ton_us", "ton_uk", "lb"]
LENGTHS = ["mm", "m", "in", "ft"]
WARNING = (
    "Results do not replace local codes, the maker's data for the rams in use, or a competent engineer. "
    "Never work under a load held by oil alone. The loads here and the catalogue demo_yard are invented."
)
HEADS = [
    "note", "load", "unit", "points", "travel", "unit", "clearance", "unit", "address", "ram", "rams", "utilisation",
    "verdict", "answer",
]
ENQUIRIES = [
    ("Invented: gear case", 48, "t", 4, 60, "mm", 290, "mm"),
    ("Invented: vessel", 96, "t", 4, 60, "mm", 290, "mm"),
    ("Invented: no unit that is clear", 96, "ton", 4, 60, "mm", 290, "mm"),
]
ADDRESS = (
    '=<Settings!$B$1>&"/v1/quick/ram-set?errors=cell&decimal="&<Settings!$B$2>&"&catalogue="&@ENCODEURL(<Settings!$B$3>)'
    '&"&load="&@ENCODEURL(<B{0}>&" "&<C{0}>)&"&points="&<D{0}>&"&travel="&@ENCODEURL(<E{0}>&" "&<F{0}>)'
    '&"&clearance="&@ENCODEURL(<G{0}>&" "&<H{0}>)&"&rams_per_point="&<Settings!$B$4>&"&packing_lifts="&<Settings!$B$5>'
)
DECIMAL = '=IF(ISNUMBER(FIND(","|1.5&""))|"comma"|"point")'
NUMBER = '=IFERROR(@NUMBERVALUE(<{1}>|IF(<Settings!$B$2>="comma"|","|"."))|<{1}>)'


def ask(value):
    return '=@WEBSERVICE(<I{0}>&"&value=' + value + '")'


def enquiries():
    rows = [HEADS]
    for at, enquiry in enumerate(ENQUIRIES, start=2):
        number = NUMBER.replace("<{1}>", ask("utilisation")[1:].format(at))
        live = [ADDRESS.format(at), ask("ram").format(at), ask("rams").format(at), number]
        live += [ask("verdict").format(at), ask("answer").format(at)]
        rows.append([*enquiry, *live])
    return rows


def results():
    rows = [["note", "verdict", "what to use, or what is wrong"]]
    for at in range(2, 2 + len(ENQUIRIES)):
        rows.append([f"=<Enquiries!A{at}>", f"=<Enquiries!M{at}>", f"=<Enquiries!N{at}>"])
    last = 1 + len(ENQUIRIES)
    for verdict in ("pass", "caution", "not_checked", "fail"):
        rows.append([f"how many {verdict}", f'=COUNTIF(<Enquiries!$M$2>:<Enquiries!$M${last}>|"{verdict}")', ""])
    return rows


def settings():
    return [
        ["address of the service", "http://127.0.0.1:8080"],
        ["decimal mark of this program", DECIMAL],
        ["catalogue", "demo_yard"],
        ["rams per point, at most", 2],
        ["packing lifts (allowed takes longer)", "not_allowed"],
        ["about", WARNING],
    ]


def catalogue(rams):
    with rams.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.reader(file) if row and not row[0].startswith("#")]
    return [[cell_of(text) for text in row] for row in rows[:4]]


def cell_of(text):
    return float(text) if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", text) else text


def sheets(rams):
    return [
        ("Enquiries", enquiries(), [(2, MASSES), (5, LENGTHS), (7, LENGTHS)], 12),
        ("Results", results(), [], 1),
        ("Settings", settings(), [], None),
        ("Catalogue", catalogue(rams), [], None),
    ]


def column(index):
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(65 + rest) + name
    return name


def formula_xlsx(text):
    text = re.sub(r"@(\w+)", r"_xlfn.\1", text[1:])
    text = re.sub(r"<(\w+)!([^>]+)>:<\1!([^>]+)>", r"\1!\2:\3", text)
    return re.sub(r"<([^>]+)>", r"\1", text).replace("|", ",")


def formula_ods(text):
    text = text.replace("@NUMBERVALUE", "NUMBERVALUE").replace("@", "COM.MICROSOFT.")
    text = re.sub(r"<(\w+)!([^>]+)>:<\1!([^>]+)>", r"[$\1.\2:.\3]", text)
    text = re.sub(r"<(\w+)!([^>]+)>", r"[$\1.\2]", text)
    return "of:" + re.sub(r"<([^>]+)>", r"[.\1]", text).replace("|", ";")


def sheet_xlsx(rows, lists, verdict):
    out = ['<?xml version="1.0" encoding="UTF-8" standalone="yes"?>']
    out.append('<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>')
    for number, row in enumerate(rows, start=1):
        out.append(f'<row r="{number}">')
        for at, cell in enumerate(row):
            place = f"{column(at)}{number}"
            if isinstance(cell, str) and cell.startswith("="):
                out.append(f'<c r="{place}"><f>{escape(formula_xlsx(cell))}</f></c>')
            elif isinstance(cell, str):
                out.append(f'<c r="{place}" t="inlineStr"><is><t>{escape(cell)}</t></is></c>')
            else:
                out.append(f'<c r="{place}"><v>{cell}</v></c>')
        out.append("</row>")
    out.append("</sheetData>")
    if verdict is not None:
        area = f"{column(verdict)}2:{column(verdict)}{1 + len(ENQUIRIES)}"
        out.append(f'<conditionalFormatting sqref="{area}">')
        for at, word in enumerate(("pass", "caution", "not_checked", "fail")):
            out.append(f'<cfRule type="cellIs" dxfId="{at}" priority="{at + 1}" operator="equal"><formula>"{word}"</formula></cfRule>')
        out.append("</conditionalFormatting>")
    if lists:
        out.append(f'<dataValidations count="{len(lists)}">')
        for at, words in lists:
            out.append(
                f'<dataValidation type="list" allowBlank="1" showErrorMessage="0" sqref="{column(at)}2:{column(at)}200">'
                f'<formula1>"{",".join(words)}"</formula1></dataValidation>'
            )
        out.append("</dataValidations>")
    out.append("</worksheet>")
    return "".join(out)


def write_xlsx(path, pages):
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    package = "http://schemas.openxmlformats.org/package/2006"
    head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    numbers = range(1, len(pages) + 1)
    parts = {
        "[Content_Types].xml": f'{head}<Types xmlns="{package}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{kind}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{kind}.styles+xml"/>'
        + "".join(f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{kind}.worksheet+xml"/>' for n in numbers)
        + "</Types>",
        "_rels/.rels": f'{head}<Relationships xmlns="{package}/relationships">'
        f'<Relationship Id="rId1" Type="{office}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'{head}<workbook xmlns="{main}" xmlns:r="{office}"><sheets>'
        + "".join(f'<sheet name="{page[0]}" sheetId="{n}" r:id="rId{n}"/>' for n, page in zip(numbers, pages, strict=True))
        + '</sheets><calcPr fullCalcOnLoad="1"/></workbook>',
        "xl/_rels/workbook.xml.rels": f'{head}<Relationships xmlns="{package}/relationships">'
        + "".join(f'<Relationship Id="rId{n}" Type="{office}/worksheet" Target="worksheets/sheet{n}.xml"/>' for n in numbers)
        + f'<Relationship Id="rId{len(pages) + 1}" Type="{office}/styles" Target="styles.xml"/></Relationships>',
        "xl/styles.xml": f'{head}<styleSheet xmlns="{main}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>'
        '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>'
        '<borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="1"><xf xfId="0"/></cellXfs>'
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles><dxfs count="4">'
        + "".join(
            f'<dxf><fill><patternFill><bgColor rgb="FF{colour}"/></patternFill></fill></dxf>' for colour in COLOURS.values()
        )
        + "</dxfs></styleSheet>",
    }
    for number, (_, rows, lists, verdict) in zip(numbers, pages, strict=True):
        parts[f"xl/worksheets/sheet{number}.xml"] = sheet_xlsx(rows, lists, verdict)
    write_zip(path, parts)


COLOURS = {"pass": "C6EFCE", "caution": "FFEB9C", "not_checked": "FFD966", "fail": "FFC7CE"}


def cell_ods(cell, name, number, at, lists, verdict):
    style = ' table:style-name="verdict"' if verdict == at and number > 1 else ""
    listed = any(at == own for own, _ in lists) and number > 1
    rule = f' table:content-validation-name="list-{name}-{at}"' if listed else ""
    if isinstance(cell, str) and cell.startswith("="):
        quoted = escape(formula_ods(cell), {'"': "&quot;"})
        return f'<table:table-cell{style}{rule} table:formula="{quoted}"/>'
    if isinstance(cell, str):
        return f'<table:table-cell{style}{rule} office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'
    return f'<table:table-cell{style}{rule} office:value-type="float" office:value="{cell}"/>'


def write_ods(path, pages):
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{urn}"'
        for name, urn in (("office", "office:1.0"), ("table", "table:1.0"), ("text", "text:1.0"), ("style", "style:1.0"),
                          ("of", "of:1.2"), ("fo", "xsl-fo-compatible:1.0"))
    )
    head = '<?xml version="1.0" encoding="UTF-8"?>'
    colours = "".join(
        f'<style:style style:name="v-{word}" style:family="table-cell"><style:table-cell-properties fo:background-color="#{colour}"/></style:style>'
        for word, colour in COLOURS.items()
    )
    maps = "".join(
        f'<style:map style:condition="cell-content()=&quot;{word}&quot;" style:apply-style-name="v-{word}"/>' for word in COLOURS
    )
    out = [f'{head}<office:document-content {spaces} office:version="1.3"><office:automatic-styles>']
    out.append(f'<style:style style:name="verdict" style:family="table-cell" style:parent-style-name="Default">{maps}</style:style>')
    out.append("</office:automatic-styles><office:body><office:spreadsheet><table:content-validations>")
    for name, _, lists, _ in pages:
        for at, words in lists:
            listed = ";".join(f"&quot;{word}&quot;" for word in words)
            out.append(
                f'<table:content-validation table:name="list-{name}-{at}" table:condition="of:cell-content-is-in-list({listed})"'
                f' table:base-cell-address="{name}.{column(at)}2"><table:error-message table:display="false"/></table:content-validation>'
            )
    out.append("</table:content-validations>")
    for name, rows, lists, verdict in pages:
        out.append(f'<table:table table:name="{name}">')
        for number, row in enumerate(rows, start=1):
            cells = (cell_ods(cell, name, number, at, lists, verdict) for at, cell in enumerate(row))
            out.append(f"<table:table-row>{''.join(cells)}</table:table-row>")
        out.append("</table:table>")
    out.append("</office:spreadsheet></office:body></office:document-content>")
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"
    parts = {
        "mimetype": kind,
        "content.xml": "".join(out),
        "styles.xml": f'{head}<office:document-styles {spaces} office:version="1.3"><office:styles>'
        f'<style:style style:name="Default" style:family="table-cell"/>{colours}</office:styles></office:document-styles>',
        "META-INF/manifest.xml": f'{head}<manifest:manifest xmlns:manifest="{manifest}" manifest:version="1.3">'
        f'<manifest:file-entry manifest:full-path="/" manifest:version="1.3" manifest:media-type="{kind}"/>'
        '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>'
        '<manifest:file-entry manifest:full-path="styles.xml" manifest:media-type="text/xml"/></manifest:manifest>',
    }
    write_zip(path, parts)


def write_zip(path, parts):
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in parts.items():
            entry = zipfile.ZipInfo(name, STAMP)
            # Stored, so that the bytes do not depend on a library that compresses.
            entry.compress_type = zipfile.ZIP_STORED
            archive.writestr(entry, text.encode("utf-8"))


def main():
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE
    pages = sheets(YARD)
    write_xlsx(folder / "ramwright.xlsx", pages)
    write_ods(folder / "ramwright.ods", pages)


if __name__ == "__main__":
    main()
