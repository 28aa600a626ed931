"""A press on loopback that answers as a test wants it to, also wrongly, late or never. IPP is encoded here (RFC 8010), so that anything
can be said.

    with OddPress(job=[("processing-stopped", ["printer-stopped"])]) as press: … press.address, press.jobs

`job`: what Get-Job-Attributes tells, one after another, the last one for ever: a state's name and its reasons, and maybe a message.
`odd`: for an operation's name what happens the first times that it is asked for:
    "answer" as usual, "drop" the line before the request is taken, "drop-after" it was taken, "nonsense" bytes for an answer, "empty" an
    answer without attributes, "silent" until the other side gives up, "slow" by a few seconds, or a status such as 0x0503.
"""
import base64
import hashlib
import http.server
import re
import socketserver
import struct
import threading
import time

OPERATIONS = {0x0002: "Print-Job", 0x0004: "Validate-Job", 0x0008: "Cancel-Job", 0x0009: "Get-Job-Attributes", 0x000A: "Get-Jobs", 0x000B: "Get-Printer-Attributes"}
STATES = {"pending": 3, "pending-held": 4, "processing": 5, "processing-stopped": 6, "canceled": 7, "aborted": 8, "completed": 9}
INTEGER, BOOLEAN, ENUM, RESOLUTION, RANGE = 0x21, 0x22, 0x23, 0x32, 0x33
TEXT, NAME, KEYWORD, URI, CHARSET, LANGUAGE, MIME = 0x41, 0x42, 0x44, 0x45, 0x47, 0x48, 0x49
OPERATION_GROUP, JOB_GROUP, END, PRINTER_GROUP, UNSUPPORTED_GROUP = 1, 2, 3, 4, 5


def _value(tag, value):
    if tag in (INTEGER, ENUM):
        return struct.pack(">i", value)
    if tag == BOOLEAN:
        return bytes([value])
    if tag == RANGE:
        return struct.pack(">ii", *value)
    if tag == RESOLUTION:
        return struct.pack(">iib", *value, 3)
    return value.encode() if isinstance(value, str) else value


def _one(tag, name, value):
    return bytes([tag]) + struct.pack(">H", len(name)) + name.encode() + struct.pack(">H", len(value)) + value


def attribute(tag, name, *values):
    return b"".join(_one(tag, name if i == 0 else "", _value(tag, v)) for i, v in enumerate(values))


def collection(name, members):
    """`members`: (tag, name, value), or (name, members) for one inside."""
    out = _one(0x34, name, b"")
    for member in members:
        out += _one(0x4A, "", member[-2].encode() if len(member) == 3 else member[0].encode())
        out += _one(member[0], "", _value(member[0], member[2])) if len(member) == 3 else collection("", member[1])
    return out + _one(0x37, "", b"")


SIZES = collection("media-size-supported", [(RANGE, "x-dimension", (9525, 33020)), (RANGE, "y-dimension", (12700, 49530))])

OFFER = {
    "document-format-supported": attribute(MIME, "document-format-supported", "application/pdf"),
    "media-size-supported": SIZES,
    "media-source-supported": attribute(KEYWORD, "media-source-supported", "main", "by-pass-tray"),
    "media-type-supported": attribute(KEYWORD, "media-type-supported", "stationery", "transparency"),
    "print-scaling-supported": attribute(KEYWORD, "print-scaling-supported", "auto", "none"),
    "printer-resolution-supported": attribute(RESOLUTION, "printer-resolution-supported", (600, 600), (1200, 1200)),
    "printer-is-accepting-jobs": attribute(BOOLEAN, "printer-is-accepting-jobs", 1),
}


class OddPress:
    def __init__(self, job=(("completed", ["job-completed-successfully"]),), odd=None, offer=None, troubles=("none",), unsupported=(), sheets=None, login=None, login_by="Basic", nameless=False):
        self.job, self.odd, self.troubles, self.unsupported = list(job), {k: list(v) for k, v in (odd or {}).items()}, troubles, unsupported
        self.sheets, self.login, self.login_by = sheets, login, login_by  # job-media-sheets-completed; ("user", "password") that everybody must give
        self.nameless = nameless  # jobs are taken without a number
        self.offer = {**OFFER, **(offer or {})}
        self.jobs, self.asked, self.stopping = [], [], threading.Event()  # names of the jobs that it has, operations in order
        press = self

        class Handler(http.server.BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_POST(self):
                press._serve(self)

            def handle_expect_100(self):
                return True  # said once it is known that the request is wanted

            def log_message(self, *_):
                pass

        class Server(socketserver.ThreadingMixIn, http.server.HTTPServer):
            daemon_threads = True

            def handle_error(self, *_):
                pass

        self._server = Server(("127.0.0.1", 0), Handler)
        self.address = f"ipp://localhost:{self._server.server_address[1]}/ipp/print"

    def __enter__(self):
        threading.Thread(target=self._server.serve_forever, args=(0.05,), daemon=True).start()
        return self

    def __exit__(self, *_):
        self.stopping.set()
        self._server.shutdown()
        self._server.server_close()

    # --- one request -------------------------------------------------------------------------------------------------------------------

    def _body(self, handler):
        """The bytes in pieces, as they come."""
        if handler.headers.get("Transfer-Encoding", "").lower() != "chunked":
            left = int(handler.headers.get("Content-Length", 0))
            while left > 0 and (piece := handler.rfile.read(min(left, 65536))):
                left -= len(piece)
                yield piece
            return
        while size := int(handler.rfile.readline().split(b";")[0] or b"0", 16):
            yield handler.rfile.read(size)
            handler.rfile.readline()
        handler.rfile.readline()

    def _serve(self, handler):
        if handler.headers.get("Expect"):
            handler.send_response_only(100)
            handler.end_headers()
        pieces = self._body(handler)
        head = b""
        for piece in pieces:
            head += piece
            if len(head) >= 8:
                break
        operation = OPERATIONS.get(struct.unpack(">H", head[2:4])[0], "?")
        self.asked.append(operation)
        what = self.odd.get(operation, []).pop(0) if self.odd.get(operation) else "answer"
        if what == "drop":
            handler.close_connection = True
            handler.connection.close()
            return
        request = head + b"".join(pieces)
        if self.login and not self._believes(handler.headers.get("Authorization", "")):
            handler.send_response_only(401)
            handler.send_header("WWW-Authenticate", 'Basic realm="press"' if self.login_by == "Basic" else 'Digest realm="press", qop="auth", algorithm=MD5, nonce="5ccc069c403ebaf9f0171e9517f40e41"')
            handler.send_header("Content-Length", "0")
            handler.end_headers()
            return
        request_id = request[4:8]
        status, groups = 0, b""
        if isinstance(what, int):
            status = what
        elif what != "empty":
            groups = self._answer(operation, request)
        if what == "drop-after":
            handler.close_connection = True
            handler.connection.close()
            return
        if what == "silent":
            self.stopping.wait(120)
            return
        if what == "slow":
            time.sleep(3)
        answer = b"\x02\x00" + struct.pack(">H", status) + request_id + bytes([OPERATION_GROUP]) + attribute(CHARSET, "attributes-charset", "utf-8")
        answer += attribute(LANGUAGE, "attributes-natural-language", "en") + groups + bytes([END])
        if what == "nonsense":
            answer = b"\x02\x00\x00\x00" + request_id + b"\x01\x44\xff\xff" + b"not IPP at all " * 40
        handler.send_response_only(200)
        handler.send_header("Content-Type", "application/ipp")
        handler.send_header("Content-Length", str(len(answer)))
        handler.end_headers()
        handler.wfile.write(answer)

    def _believes(self, said):
        if self.login_by == "Basic":
            return said == "Basic " + base64.b64encode(":".join(self.login).encode()).decode()
        told = {name: value.strip('"') for name, value in re.findall(r'(\w+)=("[^"]*"|[^,\s]+)', said)}  # RFC 7616, 3.4
        digest = lambda *parts: hashlib.md5(":".join(parts).encode()).hexdigest()
        asked = digest(digest(self.login[0], "press", self.login[1]), told.get("nonce", ""), told.get("nc", ""), told.get("cnonce", ""), "auth",
                       digest("POST", told.get("uri", "")))
        return said.startswith("Digest ") and told.get("username") == self.login[0] and told.get("response") == asked

    def _answer(self, operation, request):
        if operation == "Get-Printer-Attributes":
            return bytes([PRINTER_GROUP]) + b"".join(self.offer.values()) + attribute(KEYWORD, "printer-state-reasons", *self.troubles)
        if operation == "Print-Job":
            at = request.index(b"job-name") + len(b"job-name")
            self.jobs.append(request[at + 2:at + 2 + struct.unpack(">H", request[at:at + 2])[0]].decode())
            refused = bytes([UNSUPPORTED_GROUP]) + b"".join(attribute(0x10, name, b"") for name in self.unsupported) if self.unsupported else b""
            number = b"" if self.nameless else attribute(INTEGER, "job-id", len(self.jobs))
            return refused + bytes([JOB_GROUP]) + number + attribute(ENUM, "job-state", STATES["pending"])
        if operation == "Get-Jobs":
            return b"".join(bytes([JOB_GROUP]) + attribute(INTEGER, "job-id", i) + attribute(NAME, "job-name", n) for i, n in enumerate(self.jobs, 1))
        if operation == "Get-Job-Attributes":
            state, reasons, *message = self.job.pop(0) if len(self.job) > 1 else self.job[0]
            told = attribute(ENUM, "job-state", STATES[state]) + attribute(KEYWORD, "job-state-reasons", *reasons)
            if self.sheets is not None:
                told += attribute(INTEGER, "job-media-sheets-completed", self.sheets)
            return bytes([JOB_GROUP]) + told + b"".join(attribute(TEXT, "job-state-message", m) for m in message)
        return b""
