"""Ramwright for LibreOffice Calc: answers the table of enquiries on the first sheet.

The table begins in A1. Its head names the parameters of {{address}}/v1/quick/ram-set, as in
note | load_t | points | travel_mm | clearance_mm, and each row under it is one enquiry.
The answers are written beside it, from the column "status" on.
ramwright_batch sends the whole table at once, ramwright_rows one row after another.
No JSON is read: the answer is CSV.
Results do not replace local codes, the maker's data or a competent engineer. Never work under a load held by oil alone.
"""

import csv
import io
import re
import urllib.error
import urllib.request

ADDRESS = "{{address}}"
ENQUIRY = "ram-set"  # or load-share, verification, packing-lifts
# A sheet with your own rams from A1, with the heads of the workbook's sheet "Catalogue"; they go along with each request.
CATALOGUE_SHEET = ""
BOUNDARY = "ramwright-3f1c9a7e52d84b06"
TIMEOUT_S = 600
RED, NO_COLOUR = 0xFFC7CE, -1
NUMBER = re.compile(r"[-+]?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?\Z")
# com.sun.star.sheet.FormulaResult.VALUE, and names of com.sun.star.table.CellContentType.
RESULT_IS_VALUE = 1


def ramwright_batch(*_):
    """Sends the table of the open document at once."""
    return batch(XSCRIPTCONTEXT.getDocument())  # noqa: F821 (given by LibreOffice)


def ramwright_rows(*_):
    """Sends the table of the open document row by row, and shows how far it is."""
    return rows(XSCRIPTCONTEXT.getDocument())  # noqa: F821 (given by LibreOffice)


def batch(document):
    sheet = document.Sheets.getByIndex(0)
    table = read_table(sheet)
    if len(table) < 2:
        return "There is no table in A1."
    answer = post(table, own_rams(document))
    if isinstance(answer, str):
        return answer
    if len(answer) != len(table):
        return f"The answer has {len(answer)} lines for {len(table)}; nothing was written."
    failed = sum(write_line(sheet, row, len(table[0]), answer[0], line) for row, line in enumerate(answer))
    return f"{len(table) - 1} rows, {failed} with a problem"


def rows(document):
    sheet = document.Sheets.getByIndex(0)
    table = read_table(sheet)
    if len(table) < 2:
        return "There is no table in A1."
    width, failed, rams = len(table[0]), 0, own_rams(document)
    progress = document.CurrentController.Frame.createStatusIndicator()
    progress.start("Ramwright", len(table) - 1)
    for row in range(1, len(table)):
        progress.setText(f"Ramwright: row {row} of {len(table) - 1}, {failed} with a problem")
        progress.setValue(row)
        answer = post([table[0], table[row]], rams)
        if isinstance(answer, str) or len(answer) != 2:
            mark_row(sheet, row, width, answer if isinstance(answer, str) else "#ERROR: the answer broke off")
            failed += 1
        else:
            write_line(sheet, 0, width, answer[0], answer[0])
            failed += write_line(sheet, row, width, answer[0], answer[1])
    progress.end()
    return f"{len(table) - 1} rows, {failed} with a problem"


def read_table(sheet):
    """The head and the rows as texts, up to the column of an earlier answer."""
    cursor = sheet.createCursorByRange(sheet.getCellByPosition(0, 0))
    cursor.collapseToCurrentRegion()
    area = cursor.RangeAddress
    heads = [sheet.getCellByPosition(column, 0).String.strip() for column in range(area.EndColumn + 1)]
    width = heads.index("status") if "status" in heads else len(heads)
    if width == 0 or not heads[0]:
        return []
    return [[text_of(sheet.getCellByPosition(column, row)) for column in range(width)] for row in range(area.EndRow + 1)]


def text_of(cell):
    """Numbers with a decimal point, whatever the country's settings are."""
    kind = cell.Type.value
    if kind == "VALUE" or (kind == "FORMULA" and cell.FormulaResultType2 == RESULT_IS_VALUE):
        return repr(int(cell.Value)) if cell.Value.is_integer() else repr(cell.Value)
    return cell.String


def own_rams(document):
    """The own rams as a table; nothing if there are none, and a text if their sheet is not there."""
    if not CATALOGUE_SHEET:
        return None
    if not document.Sheets.hasByName(CATALOGUE_SHEET):
        return f"#ERROR: there is no sheet {CATALOGUE_SHEET}"
    return read_table(document.Sheets.getByName(CATALOGUE_SHEET))


def as_csv(table):
    text = io.StringIO()
    csv.writer(text).writerows(table)
    return text.getvalue()


def form(**parts):
    """A form whose parts are tables, and its type."""
    text = "".join(
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{as_csv(table)}\r\n'
        for name, table in parts.items()
    )
    return f"{text}--{BOUNDARY}--\r\n", f"multipart/form-data; boundary={BOUNDARY}"


def post(table, rams):
    """The lines of the answer, or a text that says why there are none."""
    if isinstance(rams, str):
        return rams
    body, kind = (as_csv(table), "text/csv; charset=utf-8") if rams is None else form(table=table, rams=rams)
    request = urllib.request.Request(
        f"{ADDRESS}/v1/quick/{ENQUIRY}?errors=cell",
        body.encode("utf-8"),
        {"Content-Type": kind, "Cache-Control": "no-cache"},
    )
    try:
        with urllib.request.urlopen(request, timeout=TIMEOUT_S) as reply:
            text = reply.read().decode("utf-8")
    except urllib.error.HTTPError as error:
        return f"#ERROR: the service answered {error.code}"
    except OSError as error:
        return f"#ERROR: no answer from {ADDRESS}: {error}"
    return text if text.startswith("#ERROR") else list(csv.reader(io.StringIO(text, newline="")))


def write_line(sheet, row, width, head, line):
    """Writes the answer's own columns; 1 if the row has a problem."""
    first = head.index("status")
    for at, text in enumerate(line[first:]):
        cell = sheet.getCellByPosition(width + at, row)
        if NUMBER.match(text):
            cell.Value = float(text)
        else:
            cell.String = text
    failed = row > 0 and line[first] == "problem"
    sheet.getCellByPosition(width, row).CellBackColor = RED if failed else NO_COLOUR
    return int(failed)


def mark_row(sheet, row, width, message):
    for at in range(2, 16):
        sheet.getCellByPosition(width + at, row).String = ""
    sheet.getCellByPosition(width, row).String = "problem"
    sheet.getCellByPosition(width, row).CellBackColor = RED
    sheet.getCellByPosition(width + 1, row).String = message


g_exportedScripts = (ramwright_batch, ramwright_rows)
