"""Days of tests/desk/run in which files come in by browser, and decisions are looked at before they are done."""
import concurrent.futures
import contextlib
import copy
import importlib.util
import json
import pathlib
import re
import select
import shutil
import signal
import socket
import subprocess
import time
import urllib.parse

from prometheus_client.openmetrics import parser as openmetrics

from desk_program import GUIDE, PROJECT, Desk, arrive, held_job, shops, take_in


class Door:
    """The customers' door of a desk that was begun with --door."""

    def __init__(self, desk):
        line = desk.process.stdout.readline()
        found = re.fullmatch(r"customers' door: http://127\.0\.0\.1:(\d+)/\n", line)
        assert found, line
        self.port, self.asked = int(found.group(1)), copy.copy(desk)
        self.asked.port = self.port
        self.host = f"127.0.0.1:{self.port}"

    def request(self, method, path, body=None, headers=None):
        return self.asked.request(method, path, body, headers)

    def send(self, data, name="fox.pdf", who="Anna", order="A 17", **headers):
        words = urllib.parse.urlencode({"name": name, "who": who, "order": order})
        status, _, answer = self.request("POST", f"/api/files?{words}", data, {"Origin": f"http://{self.host}", "Content-Type": "application/octet-stream", **headers})
        return status, json.loads(answer or b"{}")


def customers_hand_in(shop, desk):
    """Through the door into the watched folder, and nothing comes out of it."""
    with contextlib.closing(Desk(shop, "--door", "127.0.0.1:0")) as inside:
        door = Door(inside)
        assert b"Send us your art" in door.request("GET", "/")[2]
        for path in ("/api/today", "/api/settings", "/api/jobs/1", "/job/1", "/film", "/settings", "/login", "/metrics", "/healthz", "/api/me", "/pages/today.js", "/pages/common.js",
                     "/api/files", "/in/", "/pages/..%2fdoor.html"):
            assert door.request("GET", path)[0] == 404, path
        for part in ("door.js", "style.css", "mark.svg"):
            assert door.request("GET", f"/pages/{part}")[0] == 200, part
        good = shops.pdf("Customer", more=GUIDE)
        assert door.send(good)[0] == 200
        assert sorted(p.name for p in (shop / "in").iterdir()) == ["A 17-Anna-fox.pdf"]
        take_in(shop)
        job = held_job(inside, "A 17-Anna-fox.pdf")["job"]
        note = inside.json(f"/api/jobs/{job}")["handed_in"]
        assert (note["who"], note["order"], note["door"]) == ("Anna", "A 17", "customer"), note
        # Names that would lead elsewhere, or run, or hide, or be taken for an unfinished file.
        for name, who, order in (("../../../x.pdf", "../..", "1"), ("a\\b\\..\\x.pdf", ".hidden", "..."), ("\x00\n<b>.pdf", "<i>", "2"), ("x" * 5000 + ".pdf", "y" * 5000, "z" * 500),
                                 ("--help.pdf", "-", "--"), ("CON:.pdf", "é\udcff".encode("utf-8", "surrogatepass").decode("latin-1"), "3")):
            door.send(good + name.encode("utf-8", "replace"), name, who, order)
        inside_folder = [p.name for p in (shop / "in").iterdir()]
        assert all(len(n.encode()) < 200 and not n.startswith((".", "-")) and not set(n) & set('<>:"/\\|?*\n\0') for n in inside_folder), inside_folder
        assert sorted(p.name for p in shop.folder.iterdir() if p.name.startswith("x")) == []
        # The same name again takes another; nothing is written over.
        assert [door.send(good + str(i).encode(), "same.pdf")[0] for i in range(3)] == [200] * 3
        assert {"A 17-Anna-same.pdf", "A 17-Anna-same-2.pdf", "A 17-Anna-same-3.pdf"} <= {p.name for p in (shop / "in").iterdir()}
        for data, words, status in ((b"", {}, 422), (good, {"who": ""}, 422), (good, {"order": " "}, 422), (good, {"name": ""}, 422), (good, {"Origin": "http://evil.example"}, 403),
                                    (good, {"Host": "evil.example"}, 421), (good, {"Content-Type": "text/plain"}, 400), (good, {"Content-Type": "multipart/form-data; boundary=x"}, 400),
                                    (good, {"Sec-Fetch-Site": "cross-site"}, 403), (good, {"Origin": f"http://{inside.host}"}, 403)):
            got = door.send(data, **words)
            assert got[0] == status, (words, got)
        before = sorted(p.name for p in (shop / "in").iterdir())
        # A body that breaks off, or never ends, leaves nothing.
        head = f"POST /api/files?name=half.pdf&who=a&order=b HTTP/1.1\r\nHost: {door.host}\r\nOrigin: http://{door.host}\r\nContent-Type: application/octet-stream\r\n"
        with socket.create_connection(("127.0.0.1", door.port)) as s:
            s.sendall(f"{head}Content-Length: 1000000\r\n\r\n".encode() + good)
        with socket.create_connection(("127.0.0.1", door.port)) as s:
            s.settimeout(shops.patience(120))
            with contextlib.suppress(ConnectionError, BrokenPipeError):
                s.sendall(f"{head}Transfer-Encoding: chunked\r\n\r\n".encode())
                for _ in range(140):
                    s.sendall(b"100000\r\n" + b" " * 0x100000 + b"\r\n")
            with contextlib.suppress(ConnectionError):
                assert b" 200 " not in s.recv(1000).split(b"\r\n")[0]
        shops.wait_for(lambda: sorted(p.name for p in (shop / "in").iterdir()) == before)
        # One address may not send without end; the desk itself works on. Fewer at a time than the door takes, so that none is told to come again.
        with concurrent.futures.ThreadPoolExecutor(4) as pool:
            statuses = list(pool.map(lambda i: door.send(good + b"%d" % i, f"many-{i}.pdf")[0], range(40)))
        assert set(statuses) == {200, 429}, statuses
        assert inside.get("/healthz") == b"ok\n"
        assert inside.end() == 0


def one_address_leaves_room(shop, desk):
    """Somebody who holds as many connections as he gets, at the desk or at the door, does not keep others out."""
    with contextlib.closing(Desk(shop, "--door", "127.0.0.1:0")) as inside, contextlib.ExitStack() as stack:
        for place in (inside, Door(inside).asked):
            held = []
            for _ in range(200):
                held.append(stack.enter_context(socket.create_connection(("127.0.0.1", place.port), source_address=("127.0.0.2", 0))))
                held[-1].sendall(b"GET / HTTP/1.1\r\nHost: ")
            shops.wait_for(lambda: len(select.select(held, [], [], 0)[0]) > 100)  # told to come again
            shops.wait_for(lambda: place.request("GET", "/")[0] == 200)
            statuses = [place.request("GET", "/")[0] for _ in range(20)]
            assert statuses == [200] * 20, statuses


def a_file_is_handed_in_at_the_desk(shop, desk):
    def give(name, data, status=200, intake="desk", **headers):
        got, _, answer = desk.request("POST", f"/api/arrivals?intake={intake}&name={name}", data, {**desk.changes(), "Content-Type": "application/octet-stream", **headers})
        assert got == status, (name, got, answer)
        return json.loads(answer)
    assert give("..%2f..%2fguide.pdf", shops.pdf("Guide", more=GUIDE))["name"] == "guide.pdf"
    give("guide.pdf", b"x", 422, intake="other")
    give("guide.pdf", b"", 422)
    give("guide.pdf", b"x", 403, Origin="http://evil.example")
    give("guide.pdf", b"x", 403, **{"X-Layright-Token": "0"})
    assert [p.name for p in (shop / "in").iterdir()] == ["guide.pdf"]
    take_in(shop)
    job = held_job(desk, "guide.pdf")["job"]
    note = desk.json(f"/api/jobs/{job}")["handed_in"]
    assert (note["who"], note["order"], note["door"]) == ("desk", "", "desk"), note


def outcomes_are_shown_first(shop, desk):
    """Each decision as a picture before it is done; the same decision is drawn once; the customer's text is ready."""
    large = shops.pdf("Both", size=(1400, 1400), more=" 1 0 0 RG 2 w 20 20 1360 1360 re S")
    shop.configure()
    config = shop / "layright.toml"
    config.write_text(config.read_text().replace('scale = "shrink"', 'scale = "keep"'))
    arrive(shop, "both.pdf", large)
    arrive(shop, "locked.pdf", b"%PDF-1.7\njunk")
    take_in(shop)
    job = held_job(desk, "both.pdf")["job"]
    known = desk.json(f"/api/jobs/{job}")
    assert known["ask_customer"]["what"] in ("the width", "art without its frame") and "both.pdf" in known["ask_customer"]["text"], known["ask_customer"]
    plain = desk.json(f"/api/jobs/{job}/look")
    shrunk = desk.json(f"/api/jobs/{job}/look?scale=shrink")
    wide = desk.json(f"/api/jobs/{job}/look?width=4in")
    both = desk.json(f"/api/jobs/{job}/look?scale=shrink&accept=ink.guide")
    assert plain["verdict"] == shrunk["verdict"] == "hold" and both["verdict"] != "hold", (plain, both)
    # 1362 points of ink with its line, shrunk to the 8 in between the margins, or to 4 in.
    assert abs(shrunk["scale_pct"] - 576 / 1362 * 100) < 0.2 and abs(wide["scale_pct"] - 288 / 1362 * 100) < 0.2, (shrunk["scale_pct"], wide["scale_pct"])
    views = {view: desk.json(f"/api/jobs/{job}/look?view={view}&scale=shrink") for view in ("lies", "came", "worn")}
    pictures = [desk.get(look["picture"]) for look in (plain, shrunk, wide, both, views["came"], views["worn"])]
    assert all(p.startswith(b"\x89PNG") for p in pictures) and len(set(pictures)) == 6 and views["lies"]["picture"] == shrunk["picture"]
    begun = time.monotonic()
    desk.json(f"/api/jobs/{job}/look?scale=shrink")
    assert time.monotonic() - begun < 2, "it was drawn again"
    assert desk.request("GET", f"/api/jobs/{job}/picture")[1]["Content-Type"] == "image/png"
    for words in ("incoming=up", "scale=x", "width=--help", "width=-4in", "scale=shrink&width=4in", "accept=file.damaged", "accept=--help", "view=x", "width=4;id"):
        assert desk.request("GET", f"/api/jobs/{job}/look?{words}")[0] in (404, 422), words
    assert desk.json(f"/api/jobs/{job}")["history"] == known["history"], "looking has decided something"
    desk.decide(job, "release", scale="shrink", accept=["ink.guide"])
    ready = desk.until(job, "ready")
    laid = desk.json(f"/api/jobs/{job}/look")
    assert laid["verdict"] == "ready" and ready["ask_customer"] is None, laid
    assert "again" in desk.json(f"/api/jobs/{held_job(desk, 'locked.pdf')['job']}")["ask_customer"]["text"]
    assert desk.json("/api/presses")["presses"] is not None


def the_watcher_opens_it(shop, desk):
    """watch --desk: it ends with the watcher, also where that is killed."""
    for sign in (signal.SIGTERM, signal.SIGKILL):
        watcher = subprocess.Popen(shop.words("watch", "--desk", "127.0.0.1:0"), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=shop.environment())
        try:
            found = re.fullmatch(r"layright desk: http://127\.0\.0\.1:(\d+)/\n", watcher.stdout.readline())
            inside, desk.port = desk.port, int(found.group(1))
            desk.host = f"127.0.0.1:{desk.port}"
            assert desk.json("/api/today")["watcher"] or shops.wait_for(lambda: desk.json("/api/today")["watcher"])
            watcher.send_signal(sign)
            watcher.wait(shops.patience(30))
            shops.wait_for(lambda: not listens(desk.port))
            desk.port, desk.host = inside, f"127.0.0.1:{inside}"
        finally:
            watcher.kill()
            watcher.wait()


def listens(port):
    with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=5):
        return True
    return False


def figures_are_open_metrics(shop, desk):
    """The text form of OpenMetrics 1.0, by a parser of others, and line by line: each family has its type and help before its values, and an end."""
    desk.get("/healthz")
    status, headers, text = desk.request("GET", "/metrics")
    assert headers["Content-Type"].startswith("application/openmetrics-text; version=1.0.0")
    lines = text.decode().split("\n")
    assert lines[-2:] == ["# EOF", ""], lines[-3:]
    families = {f.name: f for f in openmetrics.text_string_to_metric_families(text.decode())}
    assert families["layright_desk_requests"].type == "counter" and families["layright_desk_requests"].samples[0].value >= 2
    assert families["layright_desk_proof_bytes"].unit == "bytes" and families["layright_desk_sessions"].samples[0].value == 0
    assert {s.labels["fate"] for s in families["layright_film_sheets"].samples} == {"used", "planned", "spoiled"}
    assert all(f.documentation.endswith(".") for f in families.values())
    family, kinds = None, {}
    for line in lines[:-2]:
        if line.startswith("# TYPE "):
            family = line.split()[2]
            kinds[family] = line.split()[3]
        elif line.startswith(("# HELP ", "# UNIT ")):
            assert line.split()[2] == family, line
        else:
            name = re.fullmatch(r'([a-z_]+)(\{[a-z]+="[^"]*"\})? -?\d+', line).group(1)
            assert name == (family + "_total" if kinds[family] == "counter" else family), line
    assert {"layright_jobs", "layright_film_sheets", "layright_desk_requests", "layright_watcher_up", "layright_desk_sessions"} <= set(kinds), kinds
    pathlib.Path(shop / "intake.db").rename(shop / "elsewhere.db")
    try:
        assert desk.request("GET", "/healthz")[0] >= 400 and b"layright_ledger_up 0" in desk.request("GET", "/metrics")[2]
    finally:
        pathlib.Path(shop / "elsewhere.db").rename(shop / "intake.db")


def presses_are_asked(shop, desk):
    """A press that answers, one that takes a call and says nothing, one that nobody can ask: told at once, and then as they answer."""
    def bench(answers):
        return {p["press"]: p for p in answers["configured"]}

    with socket.socket() as silent:
        silent.bind(("127.0.0.1", 0))
        silent.listen(5)
        text = (shop / "layright.toml").read_text()
        (shop / "layright.toml").write_text(text + f'\n[press.asleep]\nipp = "ipp://127.0.0.1:{silent.getsockname()[1]}/ipp/print"\n[press.paper]\n')
        shops.wait_for(lambda: "asleep" in bench(desk.json("/api/presses")))
        begun = time.monotonic()
        assert not bench(desk.json("/api/presses"))["asleep"]["state"] and time.monotonic() - begun < shops.patience(5), "a page waits for a press"
        shops.wait_for(lambda: bench(desk.json("/api/presses"))["bench"]["state"])
        told = bench(desk.json("/api/presses"))
        assert told["bench"]["state"] == "idle" and told["bench"]["targets"] and told["paper"]["address"] == "", told
        assert [t["target"] for t in told["bench"]["targets"]] == ["film"] and told["bench"]["targets"][0]["why"], told
        assert desk.end() == 0, "its end waits for a press"
    (shop / "layright.toml").write_text(text)
    desk.__init__(shop, listen=desk.host)


def a_ready_job_is_printed(shop, desk):
    """On a press of this machine: without a watcher, and by one; once each."""
    arrive(shop, "sheet.pdf", shops.pdf("Hello sheet"))
    arrive(shop, "next.pdf", shops.pdf("Next sheet"))
    take_in(shop)
    known = desk.json("/api/jobs/1")
    assert known["state"] == "ready" and not known["may_print"], known
    desk.decide(1, "print", 422)
    if not shutil.which("ippeveprinter") or not shutil.which("dbus-daemon"):
        print("  no press to print on")
        return
    spec = importlib.util.spec_from_file_location("press", PROJECT / "examples/print.py")
    press = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(press)
    (shop / "press").mkdir()
    with press.press_on_loopback(shop / "press") as address:
        text = (shop / "layright.toml").read_text().replace('[target.film]\nsheet = "film"', '[target.film]\nsheet = "film"\npress = "bench"')
        (shop / "layright.toml").write_text(
            text + f'\n[press.bench]\nipp = "{address}"\nmedia-source = "by-pass-tray"\nmedia-type = "transparency"\noutput-bin = "face-up"\n')
        for job, watched in ((1, False), (2, True)):
            shops.wait_for(lambda: desk.json(f"/api/jobs/{job}")["may_print"])
            if not watched:
                presses_are_asked(shop, desk)
            if watched:
                shop.begin()
            desk.decide(job, "print")
            shops.wait_for(lambda: desk.json(f"/api/jobs/{job}")["send"] == "sent")
            assert not desk.json(f"/api/jobs/{job}")["may_print"] and len(list((shop / "press/spool").glob("*.pdf"))) == job
            desk.decide(job, "print", 422)
    assert [e["who"] for e in desk.json("/api/jobs/1")["events"] if e["what"] == "to be printed"] == ["desk"]
    assert sum(row["used"] for row in desk.json("/api/film")["sheets"]) == 2


DAYS = [a_ready_job_is_printed, customers_hand_in, one_address_leaves_room, a_file_is_handed_in_at_the_desk, outcomes_are_shown_first, the_watcher_opens_it, figures_are_open_metrics]
