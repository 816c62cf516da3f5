"""Drives LibreOffice against the running service: ADDRESS FOLDER LOCALE."""

import json
import pathlib
import shutil
import subprocess
import sys
import time
import urllib.parse
import urllib.request

import uno
from com.sun.star.beans import PropertyValue

ADDRESS, FOLDER, LOCALE = sys.argv[1], pathlib.Path(sys.argv[2]).resolve(), sys.argv[3]
ROOT = pathlib.Path(__file__).resolve().parents[2]
FULL_UPDATE = 3
# Work in a machine frame, for which a search is answered at once; `length` has no place there.
HEADS = ["note", "load_t", "duty", "points", "travel_mm", "clearance_mm", "rams_per_point", "length_m"]
ROWS = [
    ["Invented: \"press\", a", 50.5, "press", 2, 60, 400, 2, ""],
    ["Invented: fails", 50, "press", 2, 60, 400, 2, 3.6],
    ["=not a formula", 40.25, "press", 2, 60, 400, 2, ""],
]
FAILS = 2
# Invented rams in a sheet of their own, with a cell that is empty.
OWN_SHEET = "Own rams"
OWN_RAMS = [
    ["id", "action", "material", "lock_collar", "effective_area_cm2", "rated_pressure_bar", "stroke_mm", "closed_height_mm", "body_diameter_mm"],
    ["own-1", "double_acting", "steel", "no", 120.5, 700, 250, 330, ""],
    ["own-2", "double_acting", "steel", "yes", 300, 700, 250, 350, 290],
]
# The rows of the workbooks, but for their loads.
LIFT = {
    "points": "4", "travel": "60 mm", "clearance": "290 mm", "packing_lifts": "not_allowed", "rams_per_point": "1",
}


def fetch(path, **parameters):
    query = urllib.parse.urlencode(parameters)
    with urllib.request.urlopen(f"{ADDRESS}{path}?{query}", timeout=120) as reply:
        return reply.read().decode("utf-8")


def want(got, wanted, where):
    if got != wanted:
        raise SystemExit(f"{LOCALE}: {where}: {got!r}, and not {wanted!r}")


def item(path, name, value):
    return (
        f'<item oor:path="{path}"><prop oor:name="{name}" oor:op="fuse"><value>{value}</value></prop></item>'
    )


def write_profile(profile):
    """The country's set-up, and a folder whose documents may ask for answers."""
    (profile / "user").mkdir(parents=True)
    items = [
        item("/org.openoffice.Setup/L10N", "ooSetupSystemLocale", LOCALE),
        item("/org.openoffice.Office.Common/Security/Scripting", "SecureURL", f"<it>{FOLDER.as_uri()}</it>"),
    ]
    (profile / "user" / "registrymodifications.xcu").write_text(
        '<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry" '
        'xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">'
        + "".join(items)
        + "</oor:items>",
        encoding="utf-8",
    )


class Office:
    def __init__(self, profile):
        pipe = f"ramwright{time.time_ns()}"
        command = ["soffice", "--headless", "--norestore", f"-env:UserInstallation={profile.as_uri()}"]
        self.process = subprocess.Popen([*command, f"--accept=pipe,name={pipe};urp;"], stderr=subprocess.DEVNULL)
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
        for _ in range(300):
            try:
                self.context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
                break
            except Exception as error:  # It is not there yet.
                last = error
                time.sleep(0.2)
        else:
            raise SystemExit(f"LibreOffice did not answer: {last}")
        self.desktop = self.context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", self.context)

    def open(self, url):
        options = [PropertyValue("Hidden", 0, True, 0), PropertyValue("UpdateDocMode", 0, FULL_UPDATE, 0)]
        return self.desktop.loadComponentFromURL(url, "_blank", 0, tuple(options))

    def close(self):
        try:
            self.desktop.terminate()
        except Exception:  # The bridge goes with the process.
            pass
        self.process.wait(60)


def row_parameters(row):
    parameters = {}
    for head, cell in zip(HEADS[1:], row[1:], strict=True):
        if cell == "":
            continue
        name, _, unit = head.rpartition("_")
        if unit in ("t", "mm", "m") and name:
            parameters[name] = f"{cell} {unit}"
        else:
            parameters[head] = str(cell)
    return parameters


def answers(row):
    """What JSON says of a row: the recommended set and its verdict."""
    answer = json.loads(fetch("/v1/quick/ram-set", format="json", **row_parameters(row)))
    best = answer["result"]["options"][0]
    assert best["recommended"]
    return answer, best


def check_live_cells(office):
    """Formulas as a person would write them, saved in a document and opened again."""
    url = (FOLDER / "live.ods").as_uri()
    document = office.open("private:factory/scalc")
    sheet = document.Sheets.getByIndex(0)
    base = f"{ADDRESS}/v1/quick/ram-set?errors=cell&duty=press&points=2&travel=60+mm&clearance=400+mm&rams_per_point=2"
    sheet.getCellRangeByName("A1").Value = 50.5
    sheet.getCellRangeByName("A2").String = "50.5 ton"
    call = f'WEBSERVICE("{base}&value={{0}}&load="&ENCODEURL({{1}}))'
    point = 'SUBSTITUTE(A1&" t";",";".")'
    sheet.getCellRangeByName("B1").Formula = "=" + call.format("ram", point)
    sheet.getCellRangeByName("B2").Formula = "=" + call.format("ram", "A2")
    sheet.getCellRangeByName("B3").Formula = "=NUMBERVALUE(" + call.format("utilisation", point) + ';".")'
    # The mark of the country, in and out: what VALUE reads is what the program itself would write.
    mark = "comma" if LOCALE == "de-DE" else "point"
    sheet.getCellRangeByName("B4").Formula = "=VALUE(" + call.format(f"utilisation&decimal={mark}", 'A1&" t"') + ")"
    document.storeToURL(url, ())
    document.close(True)
    document = office.open(url)
    sheet = document.Sheets.getByIndex(0)
    text = lambda place: sheet.getCellRangeByName(place).String  # noqa: E731
    _, best = answers(ROWS[0])
    want(text("B1"), best["models"][0]["ram"], "a live cell")
    want(text("B2")[:12], "#ERROR load:", "a live cell at fault")
    for place in ("B3", "B4"):
        cell = sheet.getCellRangeByName(place)
        want(cell.getError(), 0, f"{place} is a number")
        if not 0 <= cell.Value - best["utilisation"] < 0.0011:
            raise SystemExit(f"{LOCALE}: {place}: {cell.Value}, and not {best['utilisation']}")
    sheet.getCellRangeByName("A1").Value = 900
    want(text("B1") == best["models"][0]["ram"], False, "a live cell after its load changed")
    document.close(True)


def check_workbook(office, name):
    target = FOLDER / name
    shutil.copy(ROOT / "crates/client/spreadsheet" / name, target)
    document = office.open(target.as_uri())
    settings = document.Sheets.getByName("Settings")
    settings.getCellRangeByName("B1").String = ADDRESS
    # One ram at a point is searched for fast.
    settings.getCellRangeByName("B4").Value = 1
    document.calculateAll()
    mark = "comma" if LOCALE == "de-DE" else "point"
    want(settings.getCellRangeByName("B2").String, mark, f"{name}: the decimal mark")
    sheet = document.Sheets.getByName("Enquiries")
    cell = lambda place: sheet.getCellRangeByName(place)  # noqa: E731
    for row, load in ((2, 48), (3, 96)):
        best = json.loads(fetch("/v1/quick/ram-set", format="json", load=f"{load} t", **LIFT))["result"]["options"][0]
        want(cell(f"J{row}").String, best["models"][0]["ram"], f"{name}: ram")
        want(cell(f"K{row}").String, str(best["rams"]), f"{name}: rams")
        want(cell(f"M{row}").String, best["verdict"]["status"], f"{name}: verdict")
        if not 0 <= cell(f"L{row}").Value - best["utilisation"] < 0.0011:
            raise SystemExit(f"{LOCALE}: {name}: utilisation {cell(f'L{row}').String}, and not {best['utilisation']}")
    want(cell("J4").String[:12], "#ERROR load:", f"{name}: a row at fault")
    cell("C4").String = "t"
    want(cell("J4").String, cell("J3").String, f"{name}: the row put right")
    words = cell("C2").Validation.getFormula1()
    want("ton_us" in words and "kN" in words, True, f"{name}: the list of units is {words}")
    counted = document.Sheets.getByName("Results").getCellRangeByName("B7").Value
    want(counted, 3.0, f"{name}: rows that are not checked")
    document.close(True)


def fill(sheet, rows):
    for number, row in enumerate(rows):
        for at, cell in enumerate(row):
            place = sheet.getCellByPosition(at, number)
            if isinstance(cell, str):
                place.String = cell
            else:
                place.Value = cell


def check_table(sheet, where):
    heads = [sheet.getCellByPosition(at, 0).String for at in range(40)]
    want(heads[: len(HEADS)], HEADS, f"{where}: the heads")
    at = {head: heads.index(head) for head in ("status", "engine_version", "message", "verdict", "ram_model", "rams", "utilisation", "request_digest")}
    for number, row in enumerate(ROWS, start=1):
        cell = lambda head, number=number: sheet.getCellByPosition(at[head], number)  # noqa: E731
        want(sheet.getCellByPosition(0, number).String, row[0], f"{where}: the note of row {number}")
        if number == FAILS:
            want(cell("status").String, "problem", f"{where}: the row that fails")
            want(cell("message").String[:14], "#ERROR length:", f"{where}: why it fails")
            want(cell("verdict").String, "", f"{where}: its verdict")
            continue
        answer, best = answers(row)
        want(cell("status").String, "done", f"{where}: row {number}: {cell('message').String}")
        want(cell("verdict").String, best["verdict"]["status"], f"{where}: verdict of row {number}")
        want(cell("ram_model").String, best["models"][0]["ram"], f"{where}: ram of row {number}")
        want(cell("rams").Value, float(best["rams"]), f"{where}: rams of row {number}")
        want(cell("request_digest").String, answer["request_digest"], f"{where}: digest of row {number}")
        want(cell("engine_version").String, answer["engine_version"], f"{where}: version of row {number}")
        if not 0 <= cell("utilisation").Value - best["utilisation"] < 0.0011:
            raise SystemExit(f"{LOCALE}: {where}: utilisation {cell('utilisation').String}, and not {best['utilisation']}")


def check_own_rams(document, answer_with, where):
    """A sheet that goes along: its rams are those that are chosen from, and the permalink brings them along."""
    document.Sheets.insertNewByName(OWN_SHEET, 1)
    fill(document.Sheets.getByName(OWN_SHEET), OWN_RAMS)
    sheet = document.Sheets.getByIndex(0)
    want(answer_with(document), "3 rows, 1 with a problem", where)
    heads = [sheet.getCellByPosition(at, 0).String for at in range(40)]
    for number, row in enumerate(ROWS, start=1):
        cell = lambda head, number=number: sheet.getCellByPosition(heads.index(head), number).String  # noqa: E731
        want(cell("status"), "problem" if number == FAILS else "done", f"{where}: row {number}: {cell('message')}")
        if number != FAILS:
            answer = json.loads(fetch(cell("permalink")))
            rams = answer["request"]["inline"]["rams"]
            want([ram["id"] for ram in rams], ["own-1", "own-2"], f"{where}: what went along")
            want(rams[0]["effective_area"], {"value": 120.5, "unit": "cm2"}, f"{where}: a number with a fraction")
            want("body_diameter" in rams[0], False, f"{where}: a cell that is empty")
            want(cell("ram_model"), answer["result"]["options"][0]["models"][0]["ram"], f"{where}: ram of row {number}")
            want(cell("ram_model")[:4], "own-", f"{where}: whose ram it is")
    document.Sheets.removeByName(OWN_SHEET)
    want(answer_with(document), f"#ERROR: there is no sheet {OWN_SHEET}", f"{where}: a sheet that is not there")


def with_own_rams(source):
    changed = source.replace('CATALOGUE_SHEET = ""', f'CATALOGUE_SHEET = "{OWN_SHEET}"', 1)
    want(changed == source, False, "the macro names a sheet")
    return changed


def check_basic(office):
    """The module as the service hands it out, in the document's own library."""
    source = fetch("/spreadsheet/ramwright_calc.bas")
    document = office.open("private:factory/scalc")
    fill(document.Sheets.getByIndex(0), [HEADS, *ROWS])
    # The program's own library, since a document made here carries no leave to run macros.
    manager = office.context.ServiceManager
    libraries = manager.createInstanceWithContext("com.sun.star.script.ApplicationScriptLibraryContainer", office.context)
    standard = libraries.getByName("Standard")
    caller = "\nSub Main\nEnd Sub\n"
    if standard.hasByName("Ramwright"):
        standard.removeByName("Ramwright")
    standard.insertByName("Ramwright", source + caller)
    factory = manager.createInstanceWithContext("com.sun.star.script.provider.MasterScriptProviderFactory", office.context)
    provider = factory.createScriptProvider("")
    for function in ("RamwrightBatchIn", "RamwrightRowsIn", "RamwrightBatchIn"):
        script = provider.getScript(f"vnd.sun.star.script:Standard.Ramwright.{function}?language=Basic&location=application")
        said, _, _ = script.invoke((document,), (), ())
        want(said, "3 rows, 1 with a problem", f"Basic {function}")
        check_table(document.Sheets.getByIndex(0), f"Basic {function}")
    # An unknown head is said in words, and nothing is written.
    document.Sheets.getByIndex(0).getCellByPosition(1, 0).String = "laod_t"
    said, _, _ = script.invoke((document,), (), ())
    want(said[:15], "#ERROR laod_t: ", "Basic with a head that means nothing")
    document.close(True)
    document = office.open("private:factory/scalc")
    fill(document.Sheets.getByIndex(0), [HEADS, *ROWS])
    standard.removeByName("Ramwright")
    standard.insertByName("Ramwright", with_own_rams(source) + caller)
    script = provider.getScript("vnd.sun.star.script:Standard.Ramwright.RamwrightBatchIn?language=Basic&location=application")
    check_own_rams(document, lambda document: script.invoke((document,), (), ())[0], "Basic with own rams")
    document.close(True)


def check_vba_is_read(office):
    """The module for Excel is at least Basic: read as VBA, and its one part that needs no Excel is run."""
    lines = fetch("/spreadsheet/ramwright.bas").splitlines()
    source = "\n".join(line for line in lines if not line.startswith("Attribute "))
    probe = "\nPublic Function Probe(text As String) As Boolean\nProbe = IsPlainNumber(text)\nEnd Function\n"
    manager = office.context.ServiceManager
    libraries = manager.createInstanceWithContext("com.sun.star.script.ApplicationScriptLibraryContainer", office.context)
    libraries.getByName("Standard").insertByName("Excel", "Option VBASupport 1\n" + source + probe)
    factory = manager.createInstanceWithContext("com.sun.star.script.provider.MasterScriptProviderFactory", office.context)
    script = factory.createScriptProvider("").getScript(
        "vnd.sun.star.script:Standard.Excel.Probe?language=Basic&location=application"
    )
    for text, wanted in (("12", True), ("-3.5", True), ("1e-7", True), ("0.1.0", False), ("3-4", False), ("e5", False), ("", False)):
        want(script.invoke((text,), (), ())[0], wanted, f"VBA: whether {text!r} is a number")


def check_python(office, profile):
    """The script as the service hands it out, in the user's folder and run by LibreOffice itself."""
    folder = profile / "user" / "Scripts" / "python"
    folder.mkdir(parents=True, exist_ok=True)
    # The functions for any document take it as an argument; those for the open one are the same behind it.
    source = fetch("/spreadsheet/ramwright_calc.py").replace("g_exportedScripts = (", "g_exportedScripts = (batch, rows, ")
    (folder / "ramwright_calc.py").write_text(source, encoding="utf-8")
    (folder / "ramwright_own.py").write_text(with_own_rams(source), encoding="utf-8")
    manager = office.context.ServiceManager
    factory = manager.createInstanceWithContext("com.sun.star.script.provider.MasterScriptProviderFactory", office.context)
    provider = factory.createScriptProvider("")
    document = office.open("private:factory/scalc")
    fill(document.Sheets.getByIndex(0), [HEADS, *ROWS])
    for function in ("batch", "rows", "batch"):
        script = provider.getScript(f"vnd.sun.star.script:ramwright_calc.py${function}?language=Python&location=user")
        said, _, _ = script.invoke((document,), (), ())
        want(said, "3 rows, 1 with a problem", f"Python {function}")
        check_table(document.Sheets.getByIndex(0), f"Python {function}")
    document.Sheets.getByIndex(0).getCellByPosition(1, 0).String = "laod_t"
    said, _, _ = script.invoke((document,), (), ())
    want(said[:15], "#ERROR laod_t: ", "Python with a head that means nothing")
    document.close(True)
    document = office.open("private:factory/scalc")
    fill(document.Sheets.getByIndex(0), [HEADS, *ROWS])
    script = provider.getScript("vnd.sun.star.script:ramwright_own.py$batch?language=Python&location=user")
    check_own_rams(document, lambda document: script.invoke((document,), (), ())[0], "Python with own rams")
    document.close(True)


def main():
    FOLDER.mkdir(parents=True)
    profile = FOLDER / "profile"
    write_profile(profile)
    office = Office(profile)
    try:
        for check in (check_live_cells, check_vba_is_read, check_basic, lambda own: check_python(own, profile)):
            check(office)
        for name in ("ramwright.ods", "ramwright.xlsx"):
            check_workbook(office, name)
    finally:
        office.close()
    print(f"{LOCALE}: live cells, Basic, Python and both workbooks")


main()
