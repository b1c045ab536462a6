"""The offline page in a test's hands; PAGE THOLE EXAMPLES are the first words of its command."""

import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "browser"))

from browser import Browser  # noqa: E402

PAGE, THOLE, EXAMPLES = (pathlib.Path(word).resolve() for word in sys.argv[1:4])
del sys.argv[1:4]
ADDRESS = PAGE.as_uri()
PHONE, DESK = (360, 740), (1280, 900)


class Chromium(Browser):
    name = "chromium"

    def __init__(self, downloads):
        super().__init__()
        self.cdp("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(downloads))

    def open(self, address):
        self.driver.get_log("performance")
        self.driver.get_log("browser")
        self.driver.get(address)

    def reload(self):
        self.driver.refresh()

    def actions(self, actions):
        self.driver.execute("actions", {"actions": actions})

    def give_file(self, selector, path):
        self.driver.find_element("css selector", selector).send_keys(str(path))


def thole(*words):
    """What the command line prints."""
    done = subprocess.run([THOLE, *words], capture_output=True, text=True, check=False)
    return done.stdout


def example(name):
    return (EXAMPLES / f"{name}.yaml").read_text()


class Using:
    """For a TestCase with a `start` that gives a browser."""

    size = DESK

    @classmethod
    def setUpClass(cls):
        cls.downloads = pathlib.Path(tempfile.mkdtemp(prefix="thole-page-"))
        cls.browser = cls.start(cls.downloads)

    @classmethod
    def tearDownClass(cls):
        cls.browser.quit()
        shutil.rmtree(cls.downloads, ignore_errors=True)

    def js(self, script, *words):
        return self.browser.js(script, *words)

    def until(self, condition, seconds=900):
        end = time.monotonic() + seconds
        # Yes or no: an element of a frame that changes could not be handed over.
        while not self.js(f"return Boolean({condition})"):
            if time.monotonic() > end:
                self.fail(f"still not: {condition[:200]}")
            time.sleep(0.05)

    def begin(self, name=None, keep=False):
        """Opens the page with nothing kept, and an example on it."""
        self.browser.window(*self.size)
        if not keep:
            self.browser.open(ADDRESS)
            # What it restores meanwhile must not be kept again when it is left.
            self.js("localStorage.clear(); addEventListener('pagehide', () => localStorage.clear())")
        self.browser.open("about:blank")
        self.browser.open(f"{ADDRESS}#{name}" if name else ADDRESS)
        self.until("document.documentElement.dataset.ready")
        if name:
            self.verdict()

    def verdict(self):
        self.until("document.getElementById('bar').dataset.state === 'fresh'")
        return self.js("return document.getElementById('verdict-word').textContent")

    def needs_names_of_the_script(self):
        """What the page's script keeps by `const` is not to be seen from outside in Firefox."""
        if self.browser.name != "chromium":
            self.skipTest("needs names of the page's script")

    def text(self):
        return self.js("return document.getElementById('text').value")

    def paste(self, text):
        self.js("showPaste(''); document.getElementById('paste-text').value = arguments[0]", text)
        self.click("#paste-read")
        self.until("!document.getElementById('paste-box').open && "
                   "!document.getElementById('work').hidden")

    def field(self, path):
        return self.js("""return document.querySelector(
            `#groups [data-path="${arguments[0]}"]`).value""", path)

    def keys(self, *keys):
        self.browser.actions([{"type": "key", "id": "keys", "actions": [
            {"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]}])

    def type_in(self, path, value, then="\ue007"):
        """As a hand does: tap the field, mark all, type, Enter (or another key)."""
        self.js("""const i = document.querySelector(`#groups [data-path="${arguments[0]}"]`);
            openTo(i); i.focus(); i.select();""", path)
        self.keys(*value, then)

    def click(self, selector):
        self.js("document.querySelector(arguments[0]).click()", selector)

    def handle(self, name="mount.board.length"):
        """Place of a ring on the screen, and its value."""
        self.js("document.getElementById('views').scrollIntoView({block: 'center', "
                "behavior: 'instant'})")
        return self.js("""
            const ring = [...document.querySelectorAll('.ring')].find((r) =>
                r.dataset.handle === arguments[0]);
            const at = ring.getBoundingClientRect();
            return {id: ring.dataset.handle, x: at.x + at.width / 2, y: at.y + at.height / 2,
                    value: ring.getAttribute('aria-valuetext')};""", name)

    def value_of(self, handle):
        return self.js("""return [...document.querySelectorAll('.ring')].find((r) =>
            r.dataset.handle === arguments[0]).getAttribute('aria-valuetext')""", handle["id"])

    def drag(self, handle, far, kind="touch", let_go=True):
        x, y = round(handle["x"]), round(handle["y"])
        moves = [{"type": "pointerMove", "duration": 20, "x": x + far * k // 5, "y": y}
                 for k in range(1, 6)]
        actions = [{"type": "pointerMove", "duration": 0, "x": x, "y": y},
                   {"type": "pointerDown", "button": 0}, *moves]
        if let_go:
            actions.append({"type": "pointerUp", "button": 0})
        self.browser.actions([{"type": "pointer", "id": kind, "parameters": {"pointerType": kind},
                               "actions": actions}])
