"""Firefox without a window, by its own remote protocol (Marionette): no driver program needed."""

import json
import os
import pathlib
import shutil
import socket
import subprocess
import tempfile
import time

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"  # W3C WebDriver, web element identifier


def free_port():
    with socket.socket() as any_socket:
        any_socket.bind(("127.0.0.1", 0))
        return any_socket.getsockname()[1]


class Firefox:
    name = "firefox"

    def __init__(self, downloads):
        program = shutil.which("firefox-esr")
        port = free_port()
        self.profile = pathlib.Path(tempfile.mkdtemp(prefix="thole-firefox-"))
        settings = {
            "marionette.port": port,
            "browser.download.folderList": 2,
            "browser.download.dir": str(downloads),
            "browser.download.useDownloadDir": True,
            "browser.download.alwaysOpenPanel": False,
            "browser.shell.checkDefaultBrowser": False,
            "datareporting.policy.dataSubmissionEnabled": False,
            "toolkit.telemetry.reportingpolicy.firstRun": False,
            "app.update.enabled": False,
            "network.proxy.type": 1,  # a proxy that is not there: no network at all
            "network.proxy.http": "127.0.0.1",
            "network.proxy.http_port": 9,
            "network.proxy.ssl": "127.0.0.1",
            "network.proxy.ssl_port": 9,
        }
        (self.profile / "user.js").write_text("".join(
            f"user_pref({json.dumps(name)}, {json.dumps(value)});\n"
            for name, value in settings.items()))
        self.process = subprocess.Popen(
            [program, "--headless", "--marionette", "--no-remote", "--profile", self.profile],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "HOME": str(self.profile)})
        self.socket = self.connect(port)
        self.read()  # the greeting
        self.number = 0
        self.send("WebDriver:NewSession", {"capabilities": {"alwaysMatch": {
            "unhandledPromptBehavior": "accept"}}})

    def connect(self, port):
        until = time.monotonic() + 60
        while True:
            try:
                return socket.create_connection(("127.0.0.1", port), timeout=120)
            except OSError:
                if time.monotonic() > until or self.process.poll() is not None:
                    raise
                time.sleep(0.2)

    def read(self):
        length = b""
        while not length.endswith(b":"):
            length += self.socket.recv(1)
        data = b""
        while len(data) < int(length[:-1]):
            data += self.socket.recv(int(length[:-1]) - len(data))
        return json.loads(data)

    def send(self, command, words=None):
        self.number += 1
        message = json.dumps([0, self.number, command, words or {}]).encode()
        self.socket.sendall(str(len(message)).encode() + b":" + message)
        _, _, error, result = self.read()
        if error:
            raise RuntimeError(f"{command}: {error['message']}")
        return result

    def js(self, script, *words):
        return self.send("WebDriver:ExecuteScript", {
            "script": script, "args": list(words), "newSandbox": False, "sandbox": None})["value"]

    def open(self, address):
        self.send("WebDriver:Navigate", {"url": address})

    def reload(self):
        self.send("WebDriver:Refresh")

    def window(self, width, height):
        """Of what is seen of the page."""
        self.send("WebDriver:SetWindowRect", {"width": width, "height": height})
        wide, high = self.js("return [outerWidth - innerWidth, outerHeight - innerHeight]")
        self.send("WebDriver:SetWindowRect", {"width": width + wide, "height": height + high})

    def actions(self, actions):
        self.send("WebDriver:PerformActions", {"actions": actions})
        self.send("WebDriver:ReleaseActions")

    def give_file(self, selector, path):
        found = self.send("WebDriver:FindElement", {"using": "css selector", "value": selector})
        self.send("WebDriver:ElementSendKeys", {"id": found["value"][ELEMENT], "text": str(path)})

    def complaints(self):
        return self.js("return window.__complaints || []")

    def picture(self, path):
        import base64
        data = self.send("WebDriver:TakeScreenshot", {"full": False})["value"]
        pathlib.Path(path).write_bytes(base64.b64decode(data))

    def quit(self):
        try:
            self.send("Marionette:Quit", {"flags": ["eForceQuit"]})
        except (OSError, RuntimeError, ValueError):
            self.process.kill()
        self.process.wait(30)
        self.socket.close()
        shutil.rmtree(self.profile, ignore_errors=True)
