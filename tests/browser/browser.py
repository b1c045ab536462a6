"""A headless Chromium that writes down all it is asked to load."""

import base64
import json
import os
import pathlib
import shutil
import sys

SKIPPED = 77  # as SKIP_RETURN_CODE of the tests


def need_chromium():
    """Paths of browser and driver; ends the test as skipped where they are not installed."""
    browser, driver = shutil.which("chromium"), shutil.which("chromedriver")
    if not browser or not driver:
        print("skipped: no chromium and chromedriver here; tests/run.sh installs them")
        sys.exit(SKIPPED)
    return browser, driver


class Browser:
    def __init__(self):
        browser, driver = need_chromium()
        from selenium import webdriver
        from selenium.webdriver.chrome.service import Service

        options = webdriver.ChromeOptions()
        options.binary_location = browser
        for word in ("--headless=new", "--disable-gpu", "--disable-dev-shm-usage",
                     "--hide-scrollbars", "--force-device-scale-factor=1"):
            options.add_argument(word)
        if os.getuid() == 0:
            options.add_argument("--no-sandbox")
        options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
        self.driver = webdriver.Chrome(service=Service(driver), options=options)
        self.cdp("Network.enable")
        self.cdp("Accessibility.enable")

    def cdp(self, command, **words):
        return self.driver.execute_cdp_cmd(command, words)

    def js(self, script, *words):
        return self.driver.execute_script(script, *words)

    def window(self, width, height, phone=False):
        self.cdp("Emulation.setDeviceMetricsOverride", width=width, height=height,
                 deviceScaleFactor=2 if phone else 1, mobile=phone)

    def open(self, path):
        self.driver.get_log("performance")  # what was before
        self.driver.get_log("browser")
        self.driver.get(pathlib.Path(path).resolve().as_uri())

    def requests(self):
        """What was asked for since `open`, the page itself included."""
        messages = (json.loads(entry["message"])["message"]
                    for entry in self.driver.get_log("performance"))
        return [m["params"]["request"]["url"] for m in messages
                if m["method"] == "Network.requestWillBeSent"]

    def complaints(self):
        return [entry["message"] for entry in self.driver.get_log("browser")
                if entry["level"] in ("SEVERE", "WARNING")]

    def accessible(self):
        """(role, name, level of a heading) of all that is read aloud, in its order."""
        nodes = self.cdp("Accessibility.getFullAXTree")["nodes"]
        by_id = {node["nodeId"]: node for node in nodes}
        out = []

        def walk(node):
            if not node.get("ignored"):
                level = [p["value"]["value"] for p in node.get("properties", [])
                         if p["name"] == "level"]
                out.append((node["role"]["value"], node.get("name", {}).get("value", ""),
                            level[0] if level else None))
            for child in node.get("childIds", []):
                if child in by_id:
                    walk(by_id[child])

        walk(nodes[0])
        return out

    def pdf(self, path):
        """Prints by the style sheet of the page: its own paper size, nothing added."""
        data = self.cdp("Page.printToPDF", preferCSSPageSize=True, printBackground=True,
                        displayHeaderFooter=False)["data"]
        pathlib.Path(path).write_bytes(base64.b64decode(data))
        return path

    def picture(self, path):
        data = self.cdp("Page.captureScreenshot", captureBeyondViewport=True)["data"]
        pathlib.Path(path).write_bytes(base64.b64decode(data))

    def quit(self):
        self.driver.quit()
