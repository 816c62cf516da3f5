"""Opens pages in a headless browser under the policy they are sent with, and says what is wrong with them.

usage: browser.py CHROMIUM OUT URL...

A page may ask for nothing beyond itself, break no rule of its policy, and be no wider than the screen at any of the widths
below; what is wider than its own frame must scroll in that frame. Of each page a picture at every width and a PDF for paper
go to the folder OUT. Speaks the browser's own protocol over websocket-client.
"""

import base64
import json
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

import websocket

WIDTHS = {"phone": 360, "screen": 1280}
# Elements that stick out of the page and are not in a frame that scrolls.
STICKS_OUT = """
(() => {
  const wide = document.documentElement.clientWidth;
  const scrolls = element => element && (['auto', 'scroll', 'hidden'].includes(getComputedStyle(element).overflowX) || scrolls(element.parentElement));
  const out = [...document.querySelectorAll('main *')].filter(one => one.getBoundingClientRect().right > wide + 1 && !one.closest('svg, math') && !scrolls(one.parentElement));
  return JSON.stringify({page: document.documentElement.scrollWidth, wide, out: out.slice(0, 5).map(one => one.tagName + '.' + one.className)});
})()
"""


class Browser:
    """A browser with one page."""

    def __init__(self, program):
        self.profile = tempfile.TemporaryDirectory()
        quiet = ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run", "--disable-extensions"]
        command = [program, "--headless", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0", "--remote-allow-origins=*"]
        command += [*quiet, f"--user-data-dir={self.profile.name}", "about:blank"]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        port_file = Path(self.profile.name) / "DevToolsActivePort"
        for _ in range(300):
            if port_file.exists() and port_file.read_text().strip():
                break
            time.sleep(0.1)
        port = port_file.read_text().split()[0]
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/json/list") as listed:
            page = next(one for one in json.load(listed) if one["type"] == "page")
        self.socket = websocket.create_connection(page["webSocketDebuggerUrl"], timeout=60)
        self.number, self.events = 0, []
        for domain in ("Page", "Network", "Log", "Runtime"):
            self.call(f"{domain}.enable")

    def call(self, method, **parameters):
        self.number += 1
        self.socket.send(json.dumps({"id": self.number, "method": method, "params": parameters}))
        while True:
            told = json.loads(self.socket.recv())
            if told.get("id") == self.number:
                if "error" in told:
                    raise RuntimeError(f"{method}: {told['error']}")
                return told["result"]
            self.events.append(told)

    def wait_for(self, method):
        while not any(event.get("method") == method for event in self.events):
            self.events.append(json.loads(self.socket.recv()))

    def close(self):
        self.socket.close()
        self.process.terminate()
        self.process.wait()
        # The browser's helpers may still write for a moment.
        time.sleep(0.5)
        self.profile.cleanup()


def faults_of(browser, url, name, out):
    """Opens a page at every width."""
    faults = []
    for kind, width in WIDTHS.items():
        browser.events = []
        browser.call("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=kind == "phone")
        browser.call("Page.navigate", url=url)
        browser.wait_for("Page.loadEventFired")
        found = json.loads(browser.call("Runtime.evaluate", expression=STICKS_OUT)["result"]["value"])
        if found["page"] > found["wide"] or found["out"]:
            faults.append(f"{name} at {width} px: {found}")
        faults += [f"{name}: asked for {asked}" for asked in requests(browser.events) if asked != url]
        faults += [f"{name}: {text}" for text in complaints(browser.events)]
        picture = browser.call("Page.captureScreenshot", format="png", captureBeyondViewport=False)["data"]
        (out / f"{name}-{kind}.png").write_bytes(base64.b64decode(picture))
    printed = browser.call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)["data"]
    (out / f"{name}.pdf").write_bytes(base64.b64decode(printed))
    return faults


def requests(events):
    asked = (event["params"]["request"]["url"] for event in events if event.get("method") == "Network.requestWillBeSent")
    # An icon is what the browser itself looks for.
    return [url for url in asked if not url.endswith("/favicon.ico")]


def complaints(events):
    told = (event["params"]["entry"] for event in events if event.get("method") == "Log.entryAdded")
    return [entry["text"] for entry in told if entry["level"] in ("error", "warning") and "favicon" not in entry.get("url", "")]


def main():
    program, out, *urls = sys.argv[1:]
    out = Path(out)
    browser = Browser(program)
    faults = []
    try:
        for address in urls:
            name, url = address.split("=", 1)
            faults += faults_of(browser, url, name, out)
    finally:
        browser.close()
    for fault in faults:
        print(fault)
    print(f"{len(urls)} pages in a browser, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
