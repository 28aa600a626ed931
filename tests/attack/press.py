"""A hostile press, or CUPS server, at the other end of every command that asks one.

Usage: press.py BUILD [--all]. --all adds presses that never come to an end, which each take the 30 seconds that all talk may take.
"""
import concurrent.futures
import os
import pathlib
import socket
import struct
import subprocess
import sys
import tempfile
import threading
import time

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "watch"))
from shop import patience  # noqa: E402

BUILD = pathlib.Path(sys.argv[1]).resolve()
PDF = (b"%PDF-1.4\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj\n2 0 obj <</Type/Pages/Kids[3 0 R]/Count 1>> endobj\n"
       b"3 0 obj <</Type/Page/Parent 2 0 R/MediaBox[0 0 612 1224]/Contents 4 0 R>> endobj\n4 0 obj <</Length 25>> stream\n100 100 200 200 re f     \nendstream endobj\n"
       b"trailer <</Root 1 0 R>>\n%%EOF\n")
TRY_AGAIN, NO_PERMISSION = 75, 77


def attribute(tag, name, value):
    return bytes([tag]) + struct.pack(">H", len(name)) + name.encode() + struct.pack(">H", len(value)) + value


def ipp(groups):
    return b"\x02\x00\x00\x00\x00\x00\x00\x01\x01" + attribute(0x47, "attributes-charset", b"utf-8") + attribute(0x48, "attributes-natural-language", b"en") + groups


def http(body, length=None):
    return b"HTTP/1.1 200 OK\r\nContent-Type: application/ipp\r\nContent-Length: %d\r\n\r\n" % (len(body) if length is None else length) + body


def for_ever(piece, seconds=0):
    while True:
        yield piece
        time.sleep(seconds)


def nested(levels):
    return [http(ipp(b"\x04" + attribute(0x34, "media-col-database", b"") + (attribute(0x4A, "", b"media-size") + attribute(0x34, "", b"")) * levels))]


def status(line, headers=""):
    return [f"HTTP/1.1 {line}\r\n{headers}Content-Length: 0\r\n\r\n".encode()]


def many_values():
    yield http(ipp(b"\x04" + attribute(0x44, "media-supported", b"iso")), 10**12)
    yield from for_ever(b"".join(attribute(0x44, "", b"m" * 1000) for _ in range(500)))


HOSTILE_TEXT = b"\x1b]0;owned\x07\x1b[31m<script>\n"
# What each says to every request, in pieces, and the status that it may end with.
QUICK = {
    "20 collections in each other": (lambda: nested(20), TRY_AGAIN), "7000 collections in each other": (lambda: nested(7000), TRY_AGAIN),
    "200000 collections in each other": (lambda: nested(200000), TRY_AGAIN), "a body of a terabyte": (many_values, TRY_AGAIN),
    "random bytes": (lambda: [http(os.urandom(100000))], TRY_AGAIN), "nothing, and the line cut": (lambda: [], TRY_AGAIN),
    "half an answer": (lambda: [http(ipp(b"\x04" + attribute(0x44, "media-supported", b"iso"))[:60], 500)], TRY_AGAIN),
    "lengths past the end": (lambda: [http(ipp(b"\x04\x44\xff\xffmedia"))], TRY_AGAIN), "a negative length": (lambda: [http(b"", -1)], TRY_AGAIN),
    "itself as another place": (lambda: status("302 Found", "Location: /\r\n"), TRY_AGAIN), "a wish for TLS that it cannot": (lambda: status("426 Upgrade Required", "Upgrade: TLS/1.2\r\nConnection: upgrade\r\n"), TRY_AGAIN),
    "a login, for ever": (lambda: status("401 Unauthorized", 'WWW-Authenticate: Basic realm="x"\r\n'), NO_PERMISSION),
    "a way to log in that nobody knows": (lambda: status("401 Unauthorized", 'WWW-Authenticate: Odd realm="x"\r\n'), NO_PERMISSION),
    "a fault of its own": (lambda: status("500 Internal Server Error"), TRY_AGAIN),
    "words for a terminal": (lambda: [http(ipp(b"\x04" + attribute(0x41, "printer-state-message", HOSTILE_TEXT) + attribute(0x42, "printer-make-and-model", HOSTILE_TEXT) +
                                               attribute(0x44, "media-source-supported", HOSTILE_TEXT) + attribute(0x42, "printer-name", HOSTILE_TEXT) + attribute(0x44, "x-default", HOSTILE_TEXT) + b"\x03"))], None)}
SLOW = {"silence": (lambda: for_ever(b"", 0.05), TRY_AGAIN), "headers without end": (lambda: (yield_all(b"HTTP/1.1 200 OK\r\n", for_ever(b"X-A: " + b"a" * 1000 + b"\r\n"))), TRY_AGAIN),
        "an answer that drips": (lambda: yield_all(http(ipp(b"\x04"), 10**9), for_ever(attribute(0x44, "media-supported", b"x"), 0.3)), TRY_AGAIN),
        "go on, for ever": (lambda: for_ever(b"HTTP/1.1 100 Continue\r\n\r\n", 0.01), TRY_AGAIN)}


def yield_all(first, rest):
    yield first
    yield from rest


class Press:
    def __init__(self, answer):
        self.answer = answer
        self.server = socket.create_server(("127.0.0.1", 0))
        self.port = self.server.getsockname()[1]

    def __enter__(self):
        threading.Thread(target=self.serve, daemon=True).start()
        return self

    def __exit__(self, *_):
        self.server.close()

    def serve(self):
        while True:
            try:
                client, _ = self.server.accept()
            except OSError:
                return
            threading.Thread(target=self.talk, args=(client,), daemon=True).start()

    def talk(self, client):
        with client:
            try:
                client.settimeout(3)
                said = b""
                while b"\r\n\r\n" not in said:
                    piece = client.recv(65536)
                    if not piece:
                        return
                    said += piece
                if b"100-continue" in said:
                    client.sendall(b"HTTP/1.1 100 Continue\r\n\r\n")
                    time.sleep(0.02)
                    client.setblocking(False)
                    try:
                        client.recv(1 << 20)
                    except OSError:
                        pass
                client.settimeout(60)
                for piece in self.answer():
                    client.sendall(piece)
                client.shutdown(socket.SHUT_WR)
                client.settimeout(1)
                while client.recv(65536):
                    pass
            except OSError:
                pass


def commands(port):
    asks = {"send": ("send", "art.pdf", "--target", "press", "--as-is"), "setup of a queue": ("setup", "--target", "queue", "--as", "ipp"),
            "list": ("setup", "--list", "--target", "press"), "approve": ("setup", "--approve", "--target", "queue"), "presses": ("presses", "--sheet", "8.5x17in")}
    environment = {**os.environ, "CUPS_SERVER": f"127.0.0.1:{port}"}
    return [(name, words, environment) for name, words in asks.items()]


def ask(folder, what, answer, expected, seconds):
    faults = []
    with Press(answer) as press:
        its = folder / what.replace(" ", "-")
        its.mkdir()
        (its / "art.pdf").write_bytes(PDF)
        tables = "".join(f'[press.{name}]\nipp = "ipp://127.0.0.1:{press.port}/{place}"\n[target.{name}]\nsheet = "film"\npress = "{name}"\n' for name, place in (("press", "ipp/print"), ("queue", "printers/film")))
        (its / "layright.toml").write_text('[sheet.film]\nsize = "8.5x17in"\n' + tables)
        for name, words, environment in commands(press.port):
            begun = time.monotonic()
            try:
                run = subprocess.run([BUILD / "layright", *words], cwd=its, env=environment, capture_output=True, timeout=patience(seconds))
            except subprocess.TimeoutExpired:
                faults.append(f"{name}: no end in {seconds} s")
                continue
            fine = {expected} if name != "setup of a queue" else {0, 2}  # that one goes on without the press
            if run.returncode < 0 or run.returncode > 100 or (expected is not None and run.returncode not in fine):
                faults.append(f"{name}: ended with {run.returncode} after {time.monotonic() - begun:.1f} s: {run.stderr.decode(errors='replace').strip()[-200:]}")
            if b"\x1b" in run.stdout + run.stderr or not run.stdout + run.stderr:
                faults.append(f"{name}: told {run.stdout + run.stderr!r}")
    return what, faults


def main():
    cases = [(what, *case, 20) for what, case in QUICK.items()]
    if "--all" in sys.argv:
        cases += [(what, *case, 45) for what, case in SLOW.items()]
    passed = failed = 0
    with tempfile.TemporaryDirectory() as folder, concurrent.futures.ThreadPoolExecutor(4) as pool:
        for what, faults in pool.map(lambda case: ask(pathlib.Path(folder), *case), cases):
            passed, failed = passed + (not faults), failed + bool(faults)
            for fault in faults:
                print(f"  {what}: {fault}")
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0)


main()
