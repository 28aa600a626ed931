"""A browser that is asked and told by a pipe (Chrome DevTools Protocol): pages that keep a connection open never come to rest for --dump-dom."""
import base64
import json
import os
import select
import signal
import subprocess
import time


class Browser:
    def __init__(self, folder, seconds=180):
        to_browser, self.out = os.pipe()
        self.into, from_browser = os.pipe()
        self.seconds, self.number, self.left = seconds, 0, b""

        def ends():
            os.dup2(to_browser, 3)
            os.dup2(from_browser, 4)

        os.set_inheritable(to_browser, True)
        os.set_inheritable(from_browser, True)
        self.process = subprocess.Popen(["chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={folder}", "--remote-debugging-pipe"],
                                        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, close_fds=False, preexec_fn=ends, start_new_session=True)
        os.close(to_browser)
        os.close(from_browser)
        self.session = None
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self.ask("Page.enable")
        self.ask("Page.setBypassCSP", enabled=True)  # for the judge's script, not for the page's own: those are looked at without it too

    def close(self):
        os.killpg(self.process.pid, signal.SIGKILL)  # with its children, which still write into its folder
        self.process.wait()
        os.close(self.out)
        os.close(self.into)

    def read(self):
        end = time.monotonic() + self.seconds
        while b"\0" not in self.left:
            if not select.select([self.into], [], [], max(0, end - time.monotonic()))[0]:
                raise AssertionError("the browser does not answer")
            piece = os.read(self.into, 1 << 20)
            if not piece:
                raise AssertionError("the browser has ended")
            self.left += piece
        message, _, self.left = self.left.partition(b"\0")
        return json.loads(message)

    def ask(self, method, **words):
        self.number += 1
        message = {"id": self.number, "method": method, "params": words}
        if self.session:
            message["sessionId"] = self.session
        os.write(self.out, json.dumps(message).encode() + b"\0")
        while True:
            answer = self.read()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise AssertionError(f"{method}: {answer['error']}")
                return answer["result"]

    def run(self, script):
        """What a script of the page gives, awaited."""
        answer = self.ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True, userGesture=True)
        if "exceptionDetails" in answer:
            raise AssertionError(str(answer["exceptionDetails"].get("exception", {}).get("description", answer["exceptionDetails"])))
        return answer["result"].get("value")

    def holds(self, script):
        try:
            return self.run(f"Boolean({script})")
        except AssertionError as trouble:
            if "navigated" in str(trouble):  # the next look is at the page that comes
                return False
            raise

    def until(self, script):
        end = time.monotonic() + self.seconds
        while not self.holds(script):
            if time.monotonic() > end:
                raise AssertionError(f"waited in vain for {script}")
            time.sleep(0.1)

    def look(self, width, dark=False, high=1000):
        self.ask("Emulation.setDeviceMetricsOverride", width=width, height=high, deviceScaleFactor=1, mobile=False)
        self.ask("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])

    def open(self, address, ready):
        """`ready`: a script that is true once the page shows what it has to."""
        self.ask("Page.navigate", url=address)
        self.until(f"document.readyState === 'complete' && location.href === {json.dumps(address)} && Boolean({ready})")

    def click(self, find):
        """By the mouse, in the middle of what a script finds; something that lies over it would get the click."""
        place = self.run(f"""(() => {{ const each = {find}; if (!each) return null; each.scrollIntoView({{block: 'center'}});
          const box = each.getBoundingClientRect(), x = box.x + box.width / 2, y = box.y + box.height / 2, seen = document.elementFromPoint(x, y);
          return {{x, y, free: each.contains(seen) && !each.disabled}}; }})()""")
        assert place and place["free"], f"cannot be clicked: {find}: {place}"
        for kind in ("mouseMoved", "mousePressed", "mouseReleased"):
            self.ask("Input.dispatchMouseEvent", type=kind, x=place["x"], y=place["y"], button="none" if kind == "mouseMoved" else "left", clickCount=1)

    def press(self, key):
        self.ask("Input.dispatchKeyEvent", type="keyDown", key=key, text=key if len(key) == 1 else "\r" if key == "Enter" else "", code=key,
                 windowsVirtualKeyCode=13 if key == "Enter" else ord(key.upper()[0]))
        self.ask("Input.dispatchKeyEvent", type="keyUp", key=key, code=key)

    def picture(self, path, whole=True):
        path.write_bytes(base64.b64decode(self.ask("Page.captureScreenshot", format="png", captureBeyondViewport=whole)["data"]))
