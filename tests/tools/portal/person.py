"""What a person does at a page: looks, clicks, types. Keys and mouse go through the browser's own input."""

import json
import time

# Everything below the element's shadow root; `$` finds by id.
HELPERS = """
const element = document.querySelector('ramwright-lift');
const root = element?.shadowRoot;
const $ = id => root.getElementById(id);
"""
KEYS = {
    "Tab": (9, "Tab", None), "Enter": (13, "Enter", "\r"), "ArrowDown": (40, "ArrowDown", None), "ArrowUp": (38, "ArrowUp", None),
    "End": (35, "End", None), "Backspace": (8, "Backspace", None), " ": (32, "Space", " "),
}


class Person:
    """Somebody at a browser with one page."""

    def __init__(self, browser):
        self.browser = browser

    def open(self, url, width=1280, dark=False):
        self.screen(width, dark)
        self.browser.events = []
        self.browser.call("Page.navigate", url=url)
        self.browser.wait_for("Page.loadEventFired")

    def screen(self, width, dark=False):
        self.browser.call("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=width < 500)
        self.browser.call("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])

    def look(self, expression):
        """The value of an expression in the page."""
        code = f"(() => {{ {HELPERS} return JSON.stringify({expression}) ?? 'null'; }})()"
        told = self.browser.call("Runtime.evaluate", expression=code, returnByValue=True)
        if "exceptionDetails" in told:
            raise AssertionError(f"{expression}: {told['exceptionDetails']['exception'].get('description')}")
        return json.loads(told["result"]["value"])

    def wait(self, expression, seconds=60):
        """Waits until an expression holds."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if self.look(f"Boolean({expression})"):
                return
            time.sleep(0.05)
        state = self.look("root.querySelector('.state').textContent")
        raise AssertionError(f"not within {seconds} s: {expression}; the page says {state!r}")

    def settle(self, seconds=60):
        """Waits until the page has a result for what stands in it, or says why not."""
        told = "root.querySelector('.state').textContent"
        self.wait(f"element.result !== null || /^No result|cannot|too long|busy/.test({told})", seconds)

    def key(self, name, modifiers=0):
        code, word, text = KEYS[name]
        common = {"key": name, "code": word, "windowsVirtualKeyCode": code, "modifiers": modifiers}
        self.browser.call("Input.dispatchKeyEvent", type="keyDown" if text else "rawKeyDown", **common, **({"text": text} if text else {}))
        self.browser.call("Input.dispatchKeyEvent", type="keyUp", **common)

    def type(self, text):
        for one in text:
            self.browser.call("Input.dispatchKeyEvent", type="keyDown", key=one, text=one, unmodifiedText=one)
            self.browser.call("Input.dispatchKeyEvent", type="keyUp", key=one)

    def click(self, target):
        """Clicks in the middle of what an expression gives, once it stands still and nothing lies over it."""
        find = f"""(() => {{
          const one = {target};
          if (!one) return null;
          one.scrollIntoView({{block: 'center', behavior: 'instant'}});
          const box = one.getBoundingClientRect();
          const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
          const top = root.elementFromPoint(x, y);
          return [x, y, box.width, top === one || one.contains(top) || top?.contains(one)];
        }})()"""
        before = None
        for _ in range(100):
            box = self.look(find)
            if box and box == before and box[2] > 0 and box[3]:
                break
            before = box
            time.sleep(0.02)
        else:
            raise AssertionError(f"nothing to click: {target}, {box}")
        for kind in ("mousePressed", "mouseReleased"):
            self.browser.call("Input.dispatchMouseEvent", type=kind, x=box[0], y=box[1], button="left", clickCount=1)

    def focused(self):
        return self.look("root.activeElement?.id ?? null")

    def tab_to(self, name, most=40):
        """Presses Tab until the focus is there."""
        for _ in range(most):
            if self.focused() == name:
                return
            self.key("Tab")
        raise AssertionError(f"{name} is not reached by Tab; the focus is on {self.focused()}")

    def erase(self, name):
        """Empties the text that has the focus."""
        self.key("End")
        for _ in range(self.look(f"$('{name}').value.length")):
            self.key("Backspace")

    def choose(self, name, value):
        """Chooses in the select that has the focus, by arrow keys."""
        assert self.focused() == name, f"the focus is on {self.focused()}, not on {name}"
        now, wanted = self.look(f"[$('{name}').selectedIndex, [...$('{name}').options].findIndex(one => one.value === {json.dumps(value)})]")
        assert wanted >= 0, f"{name} does not offer {value}"
        for _ in range(abs(wanted - now)):
            self.key("ArrowDown" if wanted > now else "ArrowUp")
        assert self.look(f"$('{name}').value") == value, name
