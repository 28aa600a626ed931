"""A desk of a shop as a program, and how one asks it."""
import contextlib
import http.client
import json
import pathlib
import re
import signal
import socket
import ssl
import subprocess
import sys

import jsonschema

PROJECT = pathlib.Path(__file__).parents[2]
sys.path.insert(0, str(PROJECT / "tests/watch"))
import shop as shops  # noqa: E402

SCHEMA = json.loads((PROJECT / "src/desk/desk.schema.json").read_text())
GUIDE = " 1 0 0 RG 2 w 20 20 572 752 re S"  # a frame near the page's edge: ink.guide


class Desk:
    def __init__(self, shop, *words, listen="127.0.0.1:0", certificate=None):
        self.shop, self.certificate, self.cookie = shop, certificate, None
        self.process = subprocess.Popen(shop.words("desk", "--listen", listen, *words), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=shop.environment())
        first = self.process.stdout.readline()
        found = re.fullmatch(r"layright desk: https?://(?:127\.0\.0\.1|0\.0\.0\.0):(\d+)/\n", first)
        if not found:
            self.process.kill()
            raise AssertionError(f"the desk began with {first!r}: {self.process.stderr.read()}")
        self.port = int(found.group(1))
        self.host = f"127.0.0.1:{self.port}"
        self.address = f"{'https' if certificate else 'http'}://{self.host}"

    def request(self, method, path, body=None, headers=None, timeout=60):
        if self.certificate:
            connection = http.client.HTTPSConnection("127.0.0.1", self.port, timeout=shops.patience(timeout), context=ssl.create_default_context(cafile=self.certificate))
        else:
            connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=shops.patience(timeout))
        try:
            connection.request(method, path, body, {**({"Cookie": self.cookie} if self.cookie else {}), **(headers or {})})
            answer = connection.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()
        finally:
            connection.close()

    def get(self, path, status=200):
        got, _, body = self.request("GET", path)
        assert got == status, (path, got, body[:300])
        return body

    def json(self, path):
        """Of the form that its schema says."""
        answer = json.loads(self.get(path))
        kinds = {"today": "today", "film": "film", "settings": "settings", "presses": "presses", "me": "me"}
        steps = path.split("?")[0].split("/")
        kind = kinds.get(steps[2]) or ("list" if len(steps) == 3 else "look" if steps[-1] == "look" else "job")
        jsonschema.Draft202012Validator({"$ref": f"#/$defs/{kind}", "$defs": SCHEMA["$defs"]}).validate(answer)
        return answer

    def changes(self):
        """What a change must bring along, as the desk's own pages do."""
        return {"Origin": self.address, "Content-Type": "application/json", "X-Layright-Token": json.loads(self.get("/api/me"))["token"]}

    def tell(self, path, body, status=200, **headers):
        sent = {**self.changes(), **headers}
        got, _, answer = self.request("POST", path, json.dumps(body), sent)
        assert got == status, (path, body, got, answer)
        return json.loads(answer)

    def decide(self, job, what, status=200, **body):
        return self.tell(f"/api/jobs/{job}/{what}", {"history": self.json(f"/api/jobs/{job}")["history"], **body}, status)

    def until(self, job, state):
        shops.wait_for(lambda: self.json(f"/api/jobs/{job}")["state"] == state and not self.json(f"/api/jobs/{job}")["decided"])
        return self.json(f"/api/jobs/{job}")

    def raw(self, sent, seconds=30):
        """What comes back to bytes sent as they are."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=shops.patience(seconds)) as s:
            with contextlib.suppress(ConnectionError):
                s.sendall(sent)
            got = b""
            with contextlib.suppress(ConnectionError, TimeoutError):
                while piece := s.recv(65536):
                    got += piece
            return got

    def end(self):
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(shops.patience(30))

    def close(self):
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()


def arrive(shop, name, data):
    path = shop / "in" / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)


def take_in(shop):
    """Once; a desk that does what was decided has the ledger for a moment."""
    shops.wait_for(lambda: shop.once().returncode != 75)


def held_job(desk, name):
    return next(j for j in desk.json("/api/today")["lists"]["held"]["jobs"] if j["name"] == name)
