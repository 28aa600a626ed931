"""A line between a desk and its server that can be cut: every byte goes through it, statements are counted, and the n-th meets with what is wanted."""
import socket
import struct
import threading
import time

# What becomes of the statement that is hit.
WAYS = {
    "before": "the line breaks before it gets to the server",
    "after": "the server has done it, and the line breaks before its answer comes",
    "requests": "it never gets there, nor does anything behind it; the desk's system gives the line up, the server still waits for a while",
    "answers": "the server does it, and the desk is told nothing; then its system gives the line up",
    "killed": "the server dies before it",
    "killed after": "the server has done it and dies before its answer comes",
}
GIVEN_UP = 0.5  # seconds until a system gives up a line that is dead; the program asks for 15
LEFT = 1.5      # and until the server's system does, from then


class Between:
    """`server`: its port. `at`: the statement that is hit, from 1; 0: none. `restart`: kills the server and begins it again."""

    def __init__(self, server, at=0, way="before", restart=None):
        self.server, self.at, self.way, self.restart = server, at, way, restart
        self.count, self.lock, self.restarting = 0, threading.Lock(), threading.Lock()
        self.door = socket.create_server(("127.0.0.1", 0))
        self.port = self.door.getsockname()[1]
        self.open = set()
        threading.Thread(target=self.listen, daemon=True).start()

    def close(self):
        self.door.close()
        for each in list(self.open):
            shut(each)

    def rest(self):
        """Nothing is hit from now on."""
        with self.lock:
            self.at = 0
        with self.restarting:
            pass

    def listen(self):
        while True:
            try:
                desk, _ = self.door.accept()
            except OSError:
                return
            try:
                server = socket.create_connection(("127.0.0.1", self.server))
            except OSError:
                desk.close()
                continue
            for each in (desk, server):
                each.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            self.open |= {desk, server}
            Line(self, desk, server)

    def statement(self):
        """Whether it is the one that is hit."""
        with self.lock:
            self.count += 1
            hit = self.count == self.at
            if hit and self.way.startswith("killed"):
                self.restarting.acquire()
            return hit


class Line:
    def __init__(self, between, desk, server):
        self.between, self.desk, self.server = between, desk, server
        self.deaf = False      # nothing of what the server says gets through
        self.told = threading.Event()  # the server has said that it is ready for more
        threading.Thread(target=self.requests, daemon=True).start()
        threading.Thread(target=self.answers, daemon=True).start()

    def requests(self):
        try:
            if not self.begin():
                return self.end()
            while True:
                kind, body = message(self.desk)
                # A statement ends with Query or Sync; what is parsed and bound before it only waits (PostgreSQL documentation, 55.2).
                if kind in (b"Q", b"S") and self.between.statement():
                    return self.meets(kind + body)
                self.server.sendall(kind + body)
        except OSError:
            self.end()

    def begin(self):
        """The beginning has no kind: a question for TLS, which this line has not, or who it is."""
        while True:
            length = exactly(self.desk, 4)
            body = exactly(self.desk, struct.unpack("!I", length)[0] - 4)
            if struct.unpack("!I", body[:4])[0] in (80877103, 80877104):
                self.desk.sendall(b"N")
                continue
            self.server.sendall(length + body)
            return True

    def meets(self, statement):
        way = self.between.way
        if way in ("after", "answers", "killed after"):
            self.deaf = True
            self.told.clear()
            self.server.sendall(statement)
            self.told.wait(10)
        if way in ("killed", "killed after"):
            self.between.restart()
            self.between.restarting.release()
        if way in ("answers", "requests"):
            time.sleep(GIVEN_UP)
        shut(self.desk)
        if way == "requests":
            time.sleep(LEFT)
        shut(self.server)

    def answers(self):
        try:
            while True:
                data = self.server.recv(65536)
                if not data:
                    break
                if self.deaf and data[-6:-1] == b"Z\0\0\0\5":  # ReadyForQuery
                    self.told.set()
                if not self.deaf:
                    self.desk.sendall(data)
        except OSError:
            pass
        self.told.set()
        if not self.deaf:
            self.end()

    def end(self):
        shut(self.desk)
        shut(self.server)


def exactly(line, count):
    data = b""
    while len(data) < count:
        more = line.recv(count - len(data))
        if not more:
            raise OSError("closed")
        data += more
    return data


def message(line):
    kind, length = exactly(line, 1), exactly(line, 4)
    return kind, length + exactly(line, struct.unpack("!I", length)[0] - 4)


def shut(line):
    for way in (lambda: line.shutdown(socket.SHUT_RDWR), line.close):
        try:
            way()
        except OSError:
            pass
