"""A shop to try the intake in: a folder with a configuration, art made here, the program run in it, and what must be true afterwards."""
import collections
import hashlib
import json
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
import traceback

HERE = pathlib.Path(__file__).parent

CONFIGURATION = """
[sheet.film]
size = "8.5x17in"
margin = "0.25in"
[target.film]
sheet = "film"
reading = "wrong"
unknown-reads = "right"
scale = "shrink"
[target.dark]
sheet = "film"
reading = "wrong"
unknown-reads = "right"
[press.white]
prints-white = true
[target.plated]
sheet = "film"
press = "white"
reading = "wrong"
unknown-reads = "right"
plate = "all"
plate-as = "file"
register-marks = true
[intake.desk]
target = "film"
in = "in"
ready = "ready"
held = "held"
originals = "originals"
ledger = "intake.db"
settle = "{settle}"
{more}
"""

AT_REST = {"ready", "held", "discarded", "skipped", "waiting"}
# Of a shop whose target gangs: art of 6 x 6.4 in, of which a sheet holds two.
GANG = """
[target.gang]
sheet = "film"
reading = "wrong"
unknown-reads = "right"
gang = true
fill = "50%"
{more}
[[intake.desk.rule]]
match = "*gang*"
target = "gang"
"""


def pdf(text, size=(612, 792), note="", more=""):
    """A page with a line of live text, and more of a content stream; neither: a page that leaves no ink."""
    content = (f"BT /F 24 Tf 72 500 Td ({text}) Tj ET" * bool(text) + more).encode()
    objects = [b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
               f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {size[0]} {size[1]}]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>>>>>".encode(),
               b"<</Length " + str(len(content)).encode() + b">>stream\n" + content + b"\nendstream",
               b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>"]
    out, places = b"%PDF-1.4\n%" + note.encode() + b"\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += str(number).encode() + b" 0 obj" + body + b"endobj\n"
    start = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode() + b"".join(f"{p:010} 00000 n \n".encode() for p in places)
    return out + f"trailer<</Size {len(objects) + 1}/Root 1 0 R>>\nstartxref\n{start}\n%%EOF\n".encode()


def sha256(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def gang_art(text, note=""):
    return pdf(text, more=" 0 0 1 rg 72 100 432 20 re f 72 100 20 460 re f", note=note)


class Shop:
    """`folder` is made afresh."""

    def __init__(self, program, folder, more="", settle="20ms"):
        self.program, self.folder = pathlib.Path(program), pathlib.Path(folder)
        shutil.rmtree(self.folder, ignore_errors=True)
        shutil.rmtree(str(self.folder) + "-kept", ignore_errors=True)
        for name in ("in", "ready", "held", "originals"):
            (self.folder / name).mkdir(parents=True)
        self.watchers = []
        self.configure(more, settle)

    def configure(self, more="", settle="20ms"):
        (self.folder / "layright.toml").write_text(CONFIGURATION.format(settle=settle, more=more))

    def __truediv__(self, name):
        return self.folder / name

    def words(self, *words):
        return [str(self.program), *map(str, words), "--config", str(self.folder / "layright.toml")]

    def environment(self, more=None):
        return {**os.environ, "SOURCE_DATE_EPOCH": "1000000000", **(more or {})}

    def run(self, *words, environment=None, timeout=120):
        return subprocess.run(self.words(*words), capture_output=True, text=True, errors="replace", env=self.environment(environment), timeout=patience(timeout))

    def once(self, environment=None, timeout=120):
        return self.run("watch", "--once", environment=environment, timeout=timeout)

    def begin(self, *words, environment=None):
        """A watcher that runs, once it has begun; what it tells is in told(). Every one is ended with the shop."""
        log = self.folder / "told"
        with open(log, "w") as out:
            watcher = subprocess.Popen(self.words("watch", *words), stderr=out, stdout=subprocess.DEVNULL, env=self.environment(environment))
        self.watchers.append(watcher)
        wait_for(lambda: "watching" in self.told() or watcher.poll() is not None)
        return watcher

    def told(self):
        return (self.folder / "told").read_text(errors="replace")

    def end(self, watcher, sign=signal.SIGTERM):
        watcher.send_signal(sign)
        return watcher.wait(patience(30)), self.told()

    def close(self):
        for watcher in self.watchers:
            watcher.kill()
            watcher.wait()

    def ledger(self, *words):
        run = self.run("ledger", *words, "--format", "json")
        if run.returncode:
            raise AssertionError(f"layright ledger {words} ended with {run.returncode}: {run.stderr}")
        return json.loads(run.stdout)

    def jobs(self):
        return self.ledger()["jobs"]

    def files(self, name):
        return sorted(p for p in (self.folder / name).rglob("*") if not p.is_dir())

    def sqlite(self, sql):
        run = subprocess.run(["sqlite3", str(self.folder / "intake.db"), sql], capture_output=True, text=True)
        return (run.stdout + run.stderr).strip()

    def faults(self, arrived):
        """What is not as it must be at rest: each of `arrived` (bytes, or their digest) in exactly one place, once; nothing half-written; the
        ledger agrees."""
        out = []
        wanted = collections.Counter(b if isinstance(b, str) else hashlib.sha256(b).hexdigest() for b in arrived)
        notes = {".txt", ".json"}
        lie = collections.Counter()
        for place in ("originals", "held"):
            for path in self.files(place):
                if place == "held" and path.suffix in notes and path.with_suffix("").exists():
                    continue
                lie[sha256(path)] += 1
        jobs = self.jobs()
        made = [j for j in jobs if j["batch"] == j["job"]]  # of pieces that waited: their originals are their orders
        lie.subtract(j["sha256"] for j in made if j["state"] != "missing")
        out += self.gang_faults(jobs, made)
        for digest in wanted.keys() | lie.keys():
            if wanted[digest] != lie[digest]:
                out.append(f"{wanted[digest]} arrived, {lie[digest]} are kept: {digest[:12]}")
        out += [f"left in: {p.name}" for p in self.files("in")]
        if len(jobs) - len(made) != len(arrived):
            out.append(f"{len(arrived)} arrived, the ledger has {len(jobs) - len(made)}")
        out += [f"job {j['job']} is {j['state']}" for j in jobs if j["state"] not in AT_REST]
        if any(path.suffix == ".pdf" and not path.read_bytes().rstrip().endswith(b"%%EOF") for path in self.files("ready")):
            out.append("a ready file is cut short")
        ready = sum(j["runs"] for j in jobs)
        whites = {p.name for p in self.files("ready") if p.name.endswith("-white.pdf")}
        pdfs = [p for p in self.files("ready") if not p.name.endswith(".job.pdf") and p.name not in whites]
        laid = {j["target"]: 0 for j in jobs} | {"plated": sum(j["runs"] for j in jobs if j["target"] == "plated")}
        if len(whites) != laid["plated"] or any(not (self / "ready" / w.replace("-white.pdf", ".pdf")).exists() for w in whites):
            out.append(f"plated {laid['plated']} times, {len(whites)} plates are ready")
        if len(pdfs) != ready:
            out.append(f"laid {ready} times, {len(pdfs)} files are ready")
        for path in self.files("held"):
            if path.suffix not in notes and not all(path.with_name(path.name + n).exists() for n in notes):
                out.append(f"held without notes: {path.name}")
        check = self.run("ledger", "check")
        if check.returncode:
            out.append("layright ledger check: " + check.stdout.strip() + check.stderr.strip())
        if (judged := self.sqlite("PRAGMA integrity_check")) != "ok":
            out.append("sqlite3: " + judged)
        return out


    def gang_faults(self, jobs, made):
        """No piece on two sheets, or on none although it is ready; the sheets and their manifest of labels agree with the ledger."""
        out, on = [], collections.defaultdict(list)
        for j in made:
            if j["state"] == "discarded" or not j["original"]:
                continue
            try:
                order = tomllib.loads(pathlib.Path(j["original"]).read_text())
            except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
                order = {}
            if not order.get("piece"):
                out.append(f"the order of batch {j['job']} is missing or cut short")
                continue
            for piece in order["piece"]:
                on[int(piece["label"])].append(j["job"])
        states = {j["job"]: j for j in jobs}
        for j in jobs:
            if j["target"] != "gang" or j["batch"] == j["job"]:
                continue
            mine = on[j["job"]]
            if j["state"] == "ready" and (len(mine) != 1 or mine != [j["batch"]] or states[j["batch"]]["state"] != "ready"):
                out.append(f"piece {j['job']} is ready and lies on the sheets of {mine}, the ledger says {j['batch']}")
            if j["state"] == "waiting" and (j["batch"] or mine):
                out.append(f"piece {j['job']} waits, and is on its way onto {j['batch']} {mine}")
        return out


def processes():
    """Each that lives: its number, its parent's, and the processor time that it has taken, in seconds."""
    for path in pathlib.Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        yield int(path.parent.name), int(fields[1]), sum(map(int, fields[11:13])) / os.sysconf("SC_CLK_TCK")


def patience(seconds):
    """As long as so many seconds are on a machine that has a core for whoever wants one."""
    return seconds * min(5, max(1, os.getloadavg()[0] / os.cpu_count()))


def wait_for(what, seconds=60):
    """The time it took; fails when it does not come. The seconds say what hangs, not what is fast enough."""
    begun = time.monotonic()
    while not what():
        if time.monotonic() - begun > patience(seconds):
            raise AssertionError("waited in vain")
        time.sleep(0.01)
    return time.monotonic() - begun


def run_tests(tests):
    """The functions that the command line names behind the build folder, else all, each with a shop of its own. One that gives a text was left
    out, for that reason. The exit status."""
    program, wanted = pathlib.Path(sys.argv[1]).resolve() / "layright", sys.argv[2:]
    passed = failed = skipped = 0
    with tempfile.TemporaryDirectory(dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None, prefix="layright-watch-") as folder:
        for test in tests:
            if wanted and test.__name__ not in wanted:
                continue
            begun, name = time.monotonic(), test.__name__.replace("_", " ")
            s = Shop(program, pathlib.Path(folder) / test.__name__)
            try:
                left_out = test(s)
                skipped += bool(left_out)
                passed += not left_out
                print(f"{'left out' if left_out else 'passed'}  {name} {left_out or ''} ({time.monotonic() - begun:.1f} s)", flush=True)
            except Exception:
                failed += 1
                print(f"FAILED  {name}\n{traceback.format_exc()}", flush=True)
            s.close()
    print(f"{passed} passed, {failed} failed, {skipped} skipped")
    return 1 if failed or not passed else 0
