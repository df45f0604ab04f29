#!/usr/bin/env python3
"""Opens the report in a real browser, and asks that it makes no request and fits.

    report.py PROGRAM [FOLDER]

At the widths of a phone and a laptop and as print, on light and on dark ground, of an invented journal.
The browser (Chromium, by its own protocol over a pipe) tells every request that the page makes, every
complaint about it, and whether it is wider than the window. First a page that does ask for something
must be noticed. Pictures go to FOLDER, for a person to look at.
"""
import base64
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile


class Browser:
    """Chromium without a window; messages are JSON, each ended by a zero byte."""

    def __init__(self, binary, folder):
        to_read, self.to = os.pipe()
        self.back, to_write = os.pipe()
        flags = ["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
                 "--no-first-run", "--remote-debugging-pipe", f"--user-data-dir={folder}"]

        def hand_over():
            # The protocol's ends are the descriptors 3 and 4.
            moved = [os.dup2(to_read, 100), os.dup2(to_write, 101)]
            os.dup2(moved[0], 3)
            os.dup2(moved[1], 4)

        self.process = subprocess.Popen(
            [binary, *flags], preexec_fn=hand_over, close_fds=False,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )
        os.close(to_read)
        os.close(to_write)
        self.count, self.buffer, self.seen = 0, b"", []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = None
        attached = self.ask("Target.attachToTarget", targetId=target, flatten=True)
        self.session = attached["sessionId"]
        for domain in ("Page", "Network", "Log", "Runtime"):
            self.ask(f"{domain}.enable")

    def message(self):
        while b"\0" not in self.buffer:
            chunk = os.read(self.back, 1 << 16)
            assert chunk, "the browser went away"
            self.buffer += chunk
        text, self.buffer = self.buffer.split(b"\0", 1)
        return json.loads(text)

    def ask(self, method, **parameters):
        self.count += 1
        order = {"id": self.count, "method": method, "params": parameters}
        if getattr(self, "session", None):
            order["sessionId"] = self.session
        os.write(self.to, json.dumps(order).encode() + b"\0")
        while True:
            answer = self.message()
            if answer.get("id") == self.count:
                assert "error" not in answer, answer
                return answer["result"]
            self.seen.append(answer)

    def open(self, url, width, height, dark, media=""):
        """Opens a page; gives the requests and complaints that it makes, and how wide it is."""
        self.ask("Emulation.setDeviceMetricsOverride", width=width, height=height,
                 deviceScaleFactor=1, mobile=width < 600)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.ask("Emulation.setEmulatedMedia", media=media, features=[scheme])
        self.seen = []
        self.ask("Page.navigate", url=url)
        while not any(e.get("method") == "Page.loadEventFired" for e in self.seen):
            self.seen.append(self.message())
        wide = self.evaluate("document.documentElement.scrollWidth")
        told = [(e.get("method"), e.get("params", {})) for e in self.seen]
        asked = [p["request"]["url"] for m, p in told if m == "Network.requestWillBeSent"]
        said = [p["entry"]["text"] for m, p in told if m == "Log.entryAdded"]
        return [other for other in asked if other != url], said, wide

    def evaluate(self, text):
        return self.ask("Runtime.evaluate", expression=text)["result"].get("value")

    def picture(self, path):
        height = min(6000, int(self.evaluate("document.documentElement.scrollHeight")))
        width = int(self.evaluate("innerWidth"))
        clip = {"x": 0, "y": 0, "width": width, "height": height, "scale": 1}
        shot = self.ask("Page.captureScreenshot", clip=clip, captureBeyondViewport=True)
        path.write_bytes(base64.b64decode(shot["data"]))


VIEWS = [
    ("phone", 390, 844, ""),
    ("laptop", 1280, 800, ""),
    ("print", 794, 1123, "print"),  # A4 at 96 dots an inch
]


def main():
    program = os.path.abspath(sys.argv[1])
    pictures = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else None
    binary = shutil.which("chromium") or shutil.which("chromium-browser")
    if not binary:
        print("chromium is missing")
        return 1
    with tempfile.TemporaryDirectory() as folder:
        home = pathlib.Path(folder)
        run = lambda *arguments: subprocess.run(
            [program, *arguments], env={"RACKSIDE_HOME": str(home), "TZ": "UTC", "PATH": "/usr/bin"},
            check=True, capture_output=True,
        )
        run("demo", "--write-only", "--home", str(home), "--seed", "1")
        run("export", "report", "-o", str(home / "report.html"))
        browser = Browser(binary, home / "browser")
        try:
            return look(browser, home, pictures)
        finally:
            browser.process.kill()
            browser.process.wait()


def look(browser, home, pictures):
    asking = home / "asking.html"
    asking.write_text('<img src="http://127.0.0.1:9/x.png"><div style="width:5000px">wide</div>')
    asked, _, wide = browser.open(asking.as_uri(), 390, 844, False)
    assert asked and wide > 390, "a request, or a page that is too wide, was not noticed"
    wrong = 0
    for name, width, height, media in VIEWS:
        for dark in (False, True):
            url = (home / "report.html").as_uri()
            asked, said, wide = browser.open(url, width, height, dark, media)
            ground = browser.evaluate("getComputedStyle(document.body).backgroundColor")
            drawn = browser.evaluate("document.querySelectorAll('svg').length")
            view = f"{name}, {'dark' if dark else 'light'}"
            print(f"{view}: {len(asked)} requests, {len(said)} complaints, {wide} of {width} wide, "
                  f"{drawn} charts, ground {ground}")
            is_dark = sum(map(int, ground.strip("rgba()").split(",")[:3])) < 200
            bad = asked or said or wide > width or drawn < 5 or is_dark != (dark and not media)
            wrong += bool(bad)
            if pictures:
                pictures.mkdir(parents=True, exist_ok=True)
                browser.picture(pictures / f"{name}-{'dark' if dark else 'light'}.png")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
