"""The portal in a headless browser, used as a person uses it.

usage: portal_check.py CHROMIUM SERVICE EXAMPLES OUT [CHECK...]

SERVICE is host:port, EXAMPLES the folder of the committed requests, OUT takes the pictures. Types the demo lifts into an
empty form with keys and mouse and holds what is shown against the JSON answers; makes faults, works by keyboard, looks at
contrast and width, and embeds the element in a page with a policy and under a path of its own.
"""

import base64
import json
import re
import sys
import time
import urllib.request
from pathlib import Path

from portal.host import Host
from portal.looks import BACKGROUND, check_contrast, check_width, luminance
from portal.person import Person
from portal.typing import type_lift
from sheet.browser import Browser

LIFTS = ("transformer", "bedplate", "link_press")
OTHERS = ("hub_pull", "plate_bending")
WIDE, NARROW = 1280, 360


class Check:
    def __init__(self, browser, service, examples, out):
        self.browser, self.person, self.service = browser, Person(browser), service
        self.base, self.out = f"http://{service}", out
        self.requests = {name: json.loads((examples / f"{name}.json").read_text()) for name in LIFTS + OTHERS}
        self.answers = {name: self.post(request) for name, request in self.requests.items()}

    def post(self, request):
        call = urllib.request.Request(f"{self.base}/v1/lift-plans", json.dumps(request).encode(), {"content-type": "application/json"})
        with urllib.request.urlopen(call, timeout=60) as answer:
            return json.load(answer)

    def quiet(self, origin):
        """No complaint, no error, nothing from elsewhere since the page was opened. A refused request is no complaint."""
        for event in self.browser.events:
            params = event.get("params", {})
            if event["method"] == "Network.requestWillBeSent":
                asked = params["request"]["url"]
                assert asked.startswith(origin) or asked.startswith("about:"), f"asked for {asked}"
            elif event["method"] == "Log.entryAdded" and params["entry"]["level"] in ("error", "warning"):
                entry = params["entry"]
                refused = entry["source"] == "network" and ("/v1/lift-plans" in entry.get("url", "") or "favicon" in entry.get("url", ""))
                assert refused, f"the browser complains: {entry}"
            elif event["method"] == "Runtime.exceptionThrown":
                raise AssertionError(f"an exception: {json.dumps(params)[:600]}")
            elif event["method"] == "Runtime.consoleAPICalled" and params["type"] in ("error", "warning", "assert"):
                raise AssertionError(f"the console: {json.dumps(params)[:600]}")

    def picture(self, name, width):
        height = self.person.look("Math.min(document.documentElement.scrollHeight, 9000)")
        clip = {"x": 0, "y": 0, "width": width, "height": height, "scale": 1}
        taken = self.browser.call("Page.captureScreenshot", format="png", captureBeyondViewport=True, clip=clip)["data"]
        (self.out / f"{name}.png").write_bytes(base64.b64decode(taken))

    def shown_is(self, answer, name):
        """What the page shows is what the service answers: digests, verdict, rams and every utilisation."""
        page = self.person
        digests = page.look("[element.result.request_digest, element.result.result_digest]")
        assert digests == [answer["request_digest"], answer["result_digest"]], f"{name}: another request or result than the committed one"
        verdict, result = answer["verdict"], answer["result"]
        text = page.look("root.querySelector('.verdict').innerText")
        assert verdict["status"].replace("_", " ").upper() in text, f"{name}: {text!r}"
        assert verdict["governing"]["check"].replace("_", " ") in text, f"{name}: {text!r}"
        shown = page.look("root.querySelector('#result-rams .chosen').textContent")
        for used in result["ram_set"]:
            assert f"{used['count']} × {used['ram']}" in shown and used["point"] in shown, f"{name}: {shown!r}"
        page.look("[...root.querySelectorAll('#result-checks details')].forEach(one => { one.open = true; }) ?? 0")
        checks = checks_of(answer)
        assert len(checks) == sum(verdict["counts"].values()), f"{name}: the verdict counts other checks"
        page.wait(f"root.querySelectorAll('#result-checks details:last-of-type tbody tr').length === {len(checks)}")
        rows = page.look("[...root.querySelectorAll('#result-checks details:last-of-type tbody tr')].map(row => [...row.children].map(cell => cell.textContent.trim()))")
        rounded = [[row[0].split(" ")[0], row[1].split(" ", 1)[1], row[2]] for row in rows]
        wanted = [[one["id"].replace("_", " ").split(" ")[0], one["status"].replace("_", " "), up(one.get("utilisation"))] for one in checks]
        assert sorted(rounded) == sorted(wanted), f"{name}: the table of checks is not that of the answer"
        least = page.look("[...root.querySelectorAll('#result-carried tbody tr')].map(row => [...row.children].map(cell => cell.textContent))")
        shares = result["verification"]["load_shares"]["points"]
        assert [row[0] for row in least] == [one["point"] for one in shares], f"{name}: the points that carry"
        for row, one in zip(least, shares):
            assert all(abs(float(cell) - one["share"][part]) <= max(0.5, 6e-4 * abs(one["share"][part])) for cell, part in zip(row[1:], ("least", "expected", "greatest"))), f"{name}: {row}"
        return len(rows)

    def begins_worked_out(self):
        begun = time.monotonic()
        self.person.open(self.base + "/")
        self.person.wait("element?.shadowRoot && element.result !== null")
        took = time.monotonic() - begun
        assert took < 60, f"the first result came after {took:.0f} s"
        self.shown_is(self.answers["transformer"], "the beginning")
        self.person.wait("root.querySelectorAll('.drawing svg').length >= 2")
        return f"worked out {took:.1f} s after it was opened"

    def types_the_lifts(self):
        told = []
        for name in LIFTS:
            self.person.open(self.base + "/")
            self.person.wait("element?.shadowRoot && element.result !== null")
            type_lift(self.person, self.requests[name])
            self.person.wait(f"element.result?.request_digest === {json.dumps(self.answers[name]['request_digest'])}")
            told.append(f"{name}: {self.shown_is(self.answers[name], name)} checks")
            assert self.person.look("root.getElementById('rest').value") == "", "a field was needed that the form does not have"
            self.quiet(self.base)
        return "typed in as committed, " + ", ".join(told)

    def keeps_what_has_no_field(self):
        self.person.open(self.base + "/")
        self.person.wait("element?.shadowRoot && element.result !== null")
        for name, request in self.requests.items():
            self.person.look(f"(element.request = {json.dumps(request)}) && 0")
            self.person.wait(f"element.result?.request_digest === {json.dumps(self.answers[name]['request_digest'])}")
        rest = {"load_case": {"points": [{"id": "1", "x": 7, "nonsense": [1]}], "wind": {}}, "later": None}
        self.person.look(f"(element.request = {json.dumps(rest)}) && 0")
        self.person.settle()
        assert self.person.look("element.request") == rest, "something was dropped"
        return f"{len(self.requests)} requests and one of nonsense came back whole"

    def shows_faults_at_their_fields(self):
        page = self.person
        page.open(self.base + "/")
        page.wait("element?.shadowRoot && element.result !== null")
        replace(page, "f-load_case-weight", "212 ton")
        replace(page, "p1-clearance", "abc")
        page.wait("root.querySelectorAll('.faults a').length === 2")
        assert page.look("element.result") is None and page.look("root.querySelector('.status')") is None, "an old verdict is left standing"
        for name, word in (("f-load_case-weight", "ton_us"), ("p1-clearance", "abc")):
            assert page.look(f"$('{name}').getAttribute('aria-invalid')") == "true", f"{name} is not marked"
            told = page.look(f"$('{name}').getAttribute('aria-describedby').split(' ').map(id => $(id).textContent).join(' ')")
            assert word in told, f"{name}: {told!r}"
        assert "2 faults" in page.look("root.querySelector('[aria-live]').textContent"), "nothing is read aloud"
        page.click("root.querySelectorAll('.faults a')[1]")
        assert page.focused() == "p1-clearance", "the summary does not lead to the field"
        self.picture("faults", WIDE)
        replace(page, "p1-clearance", "335")
        replace(page, "f-load_case-weight", "196 t")
        page.wait("element.result !== null")
        assert page.look("root.querySelectorAll('[aria-invalid]').length") == 0
        assert page.look("element.result.result_digest") == self.answers["transformer"]["result_digest"]
        replace(page, "f-load_case-centre_of_gravity-x", "9")
        page.wait("root.querySelector('.problem') !== null")
        told = page.look("root.querySelector('.problem').textContent")
        assert "cannot stand" in told and "tips" in told, told
        assert page.look("root.querySelector('.problem a').pathname") == "/problems/no_equilibrium"
        replace(page, "f-load_case-centre_of_gravity-x", "2.35")
        replace(page, "f-load_case-weight", "2960")
        page.wait("element.result !== null")
        assert page.look("root.querySelector('.verdict').classList.contains('fail')"), "nothing fits, and that is no failure"
        assert page.look("root.querySelector('#result-refused table') !== null"), "it is not said why nothing fits"
        self.picture("nothing_fits", WIDE)
        page.click("$('f-load_case-weight')")
        open_rest(page, "{")
        page.wait("$('rest').getAttribute('aria-invalid') === 'true'")
        self.quiet(self.base)
        return "at their fields, in a summary with links, read aloud; no equilibrium and nothing that fits are told apart"

    def shows_what_is_not_checked(self):
        page = self.person
        page.open(self.base + "/")
        page.wait("element?.shadowRoot && element.result !== null")
        request = {key: value for key, value in json.loads(json.dumps(self.requests["transformer"])).items() if key not in ("line_of_force", "circuit")}
        # A limit that one open manifold may exceed: a check of the plan itself, of no part of it.
        request["load_case"]["points"][0]["limit"] = "1100 kN"
        page.look(f"(element.request = {json.dumps(request)}) && 0")
        page.wait("element.result !== null")
        open_checks = [one for one in checks_of(page.look("element.result")) if one["status"] == "not_checked"]
        assert page.look("element.result.result.open_checks.length") > 0, "the plan has no open check of its own, so that this shows nothing"
        told = page.look("root.querySelector('#result-not-checked').innerText")
        assert open_checks and f"{len(open_checks)} checks were not made" in told, told[:200]
        for one in open_checks:
            lacks = [re.sub(r"points/[^/ ]+/", "points/…/", path) for text in one["missing"] for path in text.split(" or ")]
            plain = re.sub(r"points/[^/ ]+/", "points/…/", told)
            assert one["id"].replace("_", " ") in plain and all(path in plain for path in lacks), one["id"]
        page.click("root.querySelector('#result-not-checked a')")
        lacks = page.look("root.querySelector('#result-not-checked a').dataset.path")
        assert page.focused() == f"f-{lacks.replace('/', '-')}", f"{lacks} leads to {page.focused()}"
        sizes = page.look("['not-checked', 'checks', 'rams'].map(id => getComputedStyle(root.querySelector(`#result-${id} h2`)).fontSize)")
        assert len(set(sizes)) == 1, "what is not checked is smaller than what is"
        self.picture("not_checked", WIDE)
        return f"{len(open_checks)} open checks, each with what it needs"

    def works_by_keyboard(self):
        page = self.person
        page.open(self.base + "/")
        page.wait("element?.shadowRoot && element.result !== null")
        page.click("$('p2-id')")
        page.tab_to("p3-remove")
        page.key("Enter")
        page.wait("$('p3-remove') === null")
        assert page.focused() == "p2-remove", f"the focus is lost on {page.focused()}"
        assert "removed" in page.look("root.querySelector('[aria-live]').textContent")
        page.settle()
        assert len(page.look("element.request").get("load_case")["points"]) == 3
        page.tab_to("points-copy")
        page.key("Enter")
        page.wait("$('p3-id') !== null")
        assert page.focused() == "p3-id"
        page.tab_to("p3-x")
        page.type("0")
        page.tab_to("p3-y")
        page.type("2.3")
        page.wait(f"element.result?.request_digest === {json.dumps(self.answers['transformer']['request_digest'])}")
        return "a point removed and another put in its place without the mouse"

    def compares(self):
        page = self.person
        page.open(self.base + "/")
        page.wait("element?.shadowRoot && element.result !== null")
        page.click("$('compare').querySelector('summary')")
        page.click("$('compare-keep')")
        replace(page, "f-load_case-weight", "205")
        page.wait("element.result !== null && root.querySelectorAll('#compare table').length >= 3")
        other = json.loads(json.dumps(self.requests["transformer"]))
        other["load_case"]["weight"] = "205 t"
        other = self.post(other)
        inputs = page.look("[...root.querySelectorAll('#compare table')[1].querySelectorAll('tbody tr')].map(row => [...row.children].map(cell => cell.textContent))")
        assert inputs == [["load_case/weight", "196 t", "205 t"]], inputs
        before, now = (
            {(one["id"], one["subject"], one["scenario"], one.get("phase")): one for one in checks_of(answer)}
            for answer in (self.answers["transformer"], other)
        )
        moved = [key for key in before.keys() | now.keys() if key not in before or key not in now or before[key]["status"] != now[key]["status"] or abs(before[key].get("utilisation", 0) - now[key].get("utilisation", 0)) >= 5e-4]
        rows = page.look("[...root.querySelectorAll('#compare table')].slice(2).reduce((sum, one) => sum + one.querySelectorAll('tbody tr').length, 0)")
        assert moved and rows == len(moved), f"{rows} checks are shown as moved, {len(moved)} have"
        page.click("$('compare-paste')")
        page.type(json.dumps(self.requests["link_press"]))
        page.click("$('compare-take')")
        page.wait("/press/.test(root.querySelectorAll('#compare table')[1]?.textContent)")
        self.picture("compare", WIDE)
        self.quiet(self.base)
        return f"one input changed, {len(moved)} checks moved"

    def looks_well(self):
        told = []
        for dark in (False, True):
            theme = "dark" if dark else "light"
            for width, kind in ((WIDE, "wide"), (NARROW, "narrow")):
                self.person.open(self.base + "/", width, dark)
                self.person.wait("element?.shadowRoot && element.result !== null && root.querySelectorAll('.drawing svg').length >= 2")
                check_width(self.person, f"{theme} {kind}")
                self.picture(f"{kind}-{theme}", width)
                self.person.look("[...root.querySelectorAll('details')].forEach(one => { one.open = true; }) ?? 0")
                self.person.wait("![...root.querySelectorAll('.drawing')].some(one => /Being drawn/.test(one.textContent))")
                check_width(self.person, f"{theme} {kind}, all open")
                if width == WIDE:
                    count, least = check_contrast(self.person, theme)
                    told.append(f"{theme}: {count} texts, least contrast {least:.1f}")
                self.quiet(self.base)
        # What the host says wins over what the reader's system prefers.
        for dark, said in ((True, "light"), (False, "dark")):
            self.person.screen(WIDE, dark)
            self.person.look(f"element.setAttribute('theme', '{said}') ?? 0")
            count, least = check_contrast(self.person, f"{said} by attribute")
            back = luminance(self.person.look(BACKGROUND))
            assert (back > 0.5) == (said == "light"), f"the attribute {said} gives a background of luminance {back:.2f}"
        told.append("the attribute wins")
        self.person.open(self.base + "/", WIDE)
        self.person.wait("element?.shadowRoot && element.result !== null && root.querySelectorAll('.drawing svg').length >= 2")
        printed = self.browser.call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)["data"]
        (self.out / "print.pdf").write_bytes(base64.b64decode(printed))
        return "; ".join(told)

    def lives_in_a_host_page(self):
        host, page = Host(self.service), self.person
        try:
            page.open(host.address + "/", NARROW)
            page.wait("element?.shadowRoot && element.result !== null")
            assert page.look("element.result.request_digest") == self.answers["hub_pull"]["request_digest"]
            page.wait("root.querySelectorAll('.drawing svg').length >= 1")
            check_width(page, "in a host page")
            assert all(path.startswith(("/v1/", "/portal.js", "/examples/")) for _, path in host.asked), host.asked
            link = page.look("root.querySelector('.links a').href")
            assert link.startswith(f"{host.address}/inner/lift/v1/lift-plans/"), link
            page.screen(WIDE)
            replace(page, "f-load_case-travel", "x")
            page.wait("window.seen.at(-1)?.name === 'problem'")
            replace(page, "f-load_case-travel", "20")
            page.wait("window.seen.at(-1)?.name === 'result'")
            seen = page.look("window.seen")
            assert {one["name"] for one in seen} == {"change", "result", "problem"} and all(one["composed"] and one["bubbles"] for one in seen), seen
            assert {one["name"]: one["detail"] for one in seen} == {"change": ["request"], "result": ["answer"], "problem": ["problem"]}, seen
            self.quiet(host.address)
            self.lives_through_trouble(host)
        finally:
            host.close()
        return "under a path and a policy of its own; events arrive; a service that is gone or busy is told and asked again"

    def lives_through_trouble(self, host):
        page = self.person
        host.trouble = "gone"
        replace(page, "f-load_case-travel", "21")
        page.wait("/cannot be reached/.test(root.querySelector('.problem')?.textContent)")
        host.trouble = None
        page.click("root.querySelector('.problem button')")
        page.wait("element.result !== null && root.querySelector('.problem') === null")
        host.trouble = "gateway"
        replace(page, "f-load_case-travel", "22")
        page.wait("/502/.test(root.querySelector('.problem')?.textContent)")
        host.trouble = "busy"
        replace(page, "f-load_case-travel", "23")
        page.wait("/2 seconds/.test(root.querySelector('.problem')?.textContent)")
        assert page.look("element.result") is None
        host.trouble = None
        page.wait("element.result !== null && root.querySelector('.problem') === null", 20)

    def asks_one_thing_at_a_time(self):
        """While somebody types on, older calls are given up and not answered later."""
        host, page = Host(self.service), self.person
        try:
            page.open(host.address + "/", WIDE)
            page.wait("element?.shadowRoot && element.result !== null")
            before = len(host.asked)
            replace(page, "f-load_case-travel", "")
            for digit in "1234":
                page.type(digit)
                time.sleep(0.1)
            page.wait("element.result !== null || root.querySelector('.faults a') !== null")
            posts = [path for method, path in host.asked[before:] if method == "POST"]
            assert len(posts) <= 4, posts
            assert page.look("element.request.load_case.travel").startswith("1234"), "the last digit is not in it"
        finally:
            host.close()
        return f"{len(posts)} calls for four digits"


def checks_of(answer):
    result = answer["result"]
    return [*result["verification"]["checks"], *result.get("circuit", {}).get("checks", []), *result["open_checks"]]


def up(value):
    """A utilisation as the page writes it: two digits, rounded up."""
    if value is None:
        return "-"
    hundredths = int((value - 1e-9) * 100)
    return f"{(hundredths + ((value - 1e-9) * 100 > hundredths)) / 100:.2f}"


def replace(page, name, text):
    page.click(f"$('{name}')")
    page.erase(name)
    page.type(text)


def open_rest(page, text):
    page.click("$('section-rest').querySelector('summary')")
    page.wait("$('section-rest').open")
    page.click("$('rest')")
    page.type(text)


def main():
    program, service, examples, out, *only = sys.argv[1:]
    out = Path(out)
    browser = Browser(program)
    failed = 0
    try:
        check = Check(browser, service, Path(examples), out)
        for name in ("begins_worked_out", "types_the_lifts", "keeps_what_has_no_field", "shows_faults_at_their_fields", "shows_what_is_not_checked",
                     "works_by_keyboard", "compares", "looks_well", "lives_in_a_host_page", "asks_one_thing_at_a_time"):
            if only and name not in only:
                continue
            try:
                print(f"{name.replace('_', ' ')}: {getattr(check, name)()}", flush=True)
            except AssertionError as error:
                failed += 1
                print(f"FAILED {name.replace('_', ' ')}: {error}", flush=True)
    finally:
        browser.close()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
