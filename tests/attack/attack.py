"""Hostile senders of files, slow writers, exchanges, deaths, ledgers taken away: each function a test. attack.py BUILD-FOLDER [--all] [NAME…]

What needs rights or parts of the kernel that this machine does not give is left out, and says why.
"""
import base64
import concurrent.futures
import contextlib
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
import traceback
import zipfile
import zlib

HERE = pathlib.Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "watch"))
import shop  # noqa: E402
from shop import patience, pdf, wait_for  # noqa: E402

sys.path.insert(0, str(HERE.parent / "support"))
from odd_press import OddPress  # noqa: E402

FOX, OWL, SMALL = pdf("The quick brown fox"), pdf("An owl sits on the sill"), pdf("One small page")
ENDLESS = "%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 200 200\n%%EndComments\n{note} {{}} loop\nshowpage\n%%EOF\n"
FLOOD = ("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 200 200\n%%EndComments\n"
         "{ (xx) (w) .tempfile exch pop 1000 { dup 65000 string writestring } repeat pop } loop\nshowpage\n%%EOF\n")
NOBODY = 65534
BUILD = ALL = None


def check(what, why=""):
    if not what:
        raise AssertionError(why or "not so")


def names(s, place):
    return [p.name for p in s.files(place)]


def plain_check(s, *words, environment=None, timeout=120):
    return subprocess.run([str(s.program), "check", *map(str, words), "--format", "json", "--config", str(s / "layright.toml")], capture_output=True, text=True,
                          env=s.environment(environment), timeout=patience(timeout))


def findings(run):
    file = json.loads(run.stdout)["files"][0]
    return file["findings"] + [f for p in file["pages"] for f in p["findings"]]


def heavy(pages, number):
    """Pages of a lot of work in few bytes: one content stream, shown over and over, that fills thousands of paths."""
    content = zlib.compress(b"0 0 500 700 re f 10 10 m 500 600 300 50 20 700 c S\n" * 12000 + b"%" + str(number).encode(), 9)
    kids = b"3 0 R " * pages
    return assembled([b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[" + kids + b"]/Count " + str(pages).encode() + b">>",
                      b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R>>", b"<</Length " + str(len(content)).encode() + b"/Filter/FlateDecode>>stream\n" + content + b"\nendstream"])


def noisy(side):
    """A page with a picture of noise, three bytes for each pixel of the square, which nothing makes smaller."""
    about = b"<</Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceRGB/Length %d>>stream\n" % (side, side, side * side * 3)
    content = b"BT /F 24 Tf 72 500 Td (A large one) Tj ET q 300 0 0 300 72 100 cm /I Do Q"
    return assembled([b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
                      b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>/XObject<</I 6 0 R>>>>>>",
                      b"<</Length %d>>stream\n" % len(content) + content + b"\nendstream", b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>",
                      about + os.urandom(side * side * 3) + b"\nendstream"])


def assembled(objects):
    out, places = b"%PDF-1.4\n", []
    for i, body in enumerate(objects, 1):
        places.append(len(out))
        out += str(i).encode() + b" 0 obj" + body + b"\nendobj\n"
    start = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode() + b"".join(f"{p:010} 00000 n \n".encode() for p in places)
    return out + f"trailer<</Size {len(objects) + 1}/Root 1 0 R>>\nstartxref\n{start}\n%%EOF\n".encode()


def as_nobody(s):
    """The shop belongs to a user without rights, who can also find the program."""
    for path in [s.folder, *s.folder.rglob("*")]:
        os.chown(path, NOBODY, NOBODY)
    for parent in [s.folder, *s.folder.parents]:
        with contextlib.suppress(PermissionError):
            if parent.stat().st_mode & 0o001 == 0 and str(parent).startswith(tempfile.gettempdir()):
                parent.chmod(parent.stat().st_mode | 0o011)
    tried = subprocess.run(["setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups", str(s.program), "--version"], capture_output=True)
    return tried.returncode == 0


def begin_as_nobody(s):
    with open(s / "told", "w") as out:
        watcher = subprocess.Popen(["setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups", *s.words("watch")], stderr=out, stdout=subprocess.DEVNULL, env=s.environment())
    s.watchers.append(watcher)
    wait_for(lambda: "watching" in s.told() or watcher.poll() is not None)
    return watcher


def slow_writers_of_another_user(s):
    if os.geteuid() != 0:
        return "only root can be two users"
    s.configure(settle="200ms")
    if not as_nobody(s):
        return "another user cannot run the program where it lies"
    watcher = begin_as_nobody(s)
    check("CAP_LEASE" in s.told(), "that it cannot see writers is told at the start: " + s.told())
    whole = pdf("Written slowly") + pdf("and then written over")  # its first half ends as a PDF ends
    half = len(pdf("Written slowly"))
    with open(s / "in" / "slow.pdf", "wb", buffering=0) as f:
        f.write(whole[:half])
        (s / "in" / "quick.pdf").write_bytes(FOX)
        wait_for(lambda: "quick.pdf" in names(s, "ready"))  # it has had all the rest that it needs
        os.utime(s / "in" / "quick.pdf") if (s / "in" / "quick.pdf").exists() else None
        deadline = time.monotonic() + 1.0
        wait_for(lambda: time.monotonic() > deadline)
        check("slow.pdf" in names(s, "in"), "a file that somebody still writes to was taken")
        f.write(whole[half:])
    wait_for(lambda: any(j["name"] == "slow.pdf" and j["state"] in ("ready", "held") for j in s.jobs()))
    job = next(j for j in s.jobs() if j["name"] == "slow.pdf")
    check(job["sha256"] == hashlib.sha256(whole).hexdigest(), "half of it was taken")
    s.end(watcher)


def written_to_after_it_was_taken(s):
    """A writer that nobody can see; its file goes back to waiting, and what is laid is the whole."""
    s.configure(settle="300ms")
    whole = pdf("Now it is whole")
    (s / "in" / "fox.pdf").write_bytes(FOX)
    check(s.once().returncode == 0)
    s.sqlite("UPDATE entry SET state='taken', run=0, digest='" + "0" * 64 + "'")  # as if it had been taken with other bytes
    for p in s.files("ready"):
        p.unlink()
    s.sqlite("DELETE FROM output")
    with open(s / "originals" / "fox.pdf", "r+b") as f:
        f.truncate(0)
        f.write(whole)
    run = s.once()
    check("bytes changed" in run.stderr, run.stderr)
    job = s.jobs()[0]
    check(job["state"] == "ready" and job["sha256"] == hashlib.sha256(whole).hexdigest(), job)


def exchanged_while_it_is_moved(s):
    shim = str(BUILD / "tests" / "exchange.so")
    secret = s / "secret"
    secret.write_bytes(OWL)
    for kind in ("link", "file"):
        (s / "in" / "fox.pdf").write_bytes(FOX + kind.encode())
        with_ = s / "with"
        if kind == "link":
            os.symlink(secret, with_)
        else:
            with_.write_bytes(pdf("The corrected fox"))
        run = s.once({"LD_PRELOAD": shim, "EXCHANGE_NAME": "fox.pdf", "EXCHANGE_WITH": str(with_)})
        check("something else was put under its name" in run.stderr, run.stderr)
        check(not any(p.is_symlink() for p in s.files("originals") + s.files("held")), "a link was filed")
        if kind == "link":
            check((s / "in" / "fox.pdf").is_symlink() and not s.jobs(), s.jobs())
            (s / "in" / "fox.pdf").unlink()
    s.once()
    check([j["sha256"] for j in s.jobs()] == [hashlib.sha256(pdf("The corrected fox")).hexdigest()], s.jobs())


def held_files_that_were_replaced(s):
    for name in ("link", "file", "folder"):
        (s / "in" / f"{name}.pdf").write_bytes(pdf("", note=name))
    s.once()
    job = {j["name"]: j["job"] for j in s.jobs()}
    check(all(j["state"] == "held" for j in s.jobs()), s.jobs())
    (s / "secret.pdf").write_bytes(OWL)
    for name in ("link", "file", "folder"):
        (s / "held" / f"{name}.pdf").unlink()
    os.symlink(s / "secret.pdf", s / "held" / "link.pdf")
    (s / "held" / "file.pdf").write_bytes(FOX)
    (s / "held" / "folder.pdf").mkdir()
    for name in ("link", "file", "folder"):
        s.run("release", job[f"{name}.pdf"], "--accept", "ink.blank")
    states = {j["name"]: j["state"] for j in s.jobs()}
    check(states["link.pdf"] == "missing" and states["folder.pdf"] == "missing" and states["file.pdf"] == "discarded", states)
    check(not names(s, "ready") and not any(p.is_symlink() for p in s.files("originals")), names(s, "ready"))
    s.once()
    fresh = s.jobs()[-1]
    check(fresh["name"] == "file.pdf" and fresh["state"] == "ready" and fresh["sha256"] == hashlib.sha256(FOX).hexdigest(), fresh)


def files_that_shrink(s):
    watcher = s.begin()
    big = FOX[:-6] + b"%" + b"x" * 3_000_000 + b"\n%%EOF\n"
    for i in range(6):
        path = s / "in" / f"shrinks{i}.pdf"
        path.write_bytes(big)
        with contextlib.suppress(FileNotFoundError):
            wait_for(lambda: not path.exists() or i % 2 == 0)
            (path if path.exists() else s / "originals" / path.name).open("r+b").truncate(1000)
    (s / "in" / "small.pdf").write_bytes(SMALL)
    wait_for(lambda: "small.pdf" in names(s, "ready"))
    check(watcher.poll() is None, "the watcher died of a file that became shorter: " + s.told())
    s.end(watcher)


def heavy_files_do_not_keep_small_ones(s):
    for i in range(10):
        (s / "in" / f"heavy{i}.pdf").write_bytes(heavy(5000, i))
    watcher = s.begin()
    wait_for(lambda: len(names(s, "originals")) >= 8)
    (s / "in" / "small.pdf").write_bytes(SMALL)
    took = wait_for(lambda: "small.pdf" in names(s, "ready"))
    states = [j["state"] for j in s.jobs() if j["name"].startswith("heavy")]
    print(f"  a small page behind ten heavy files took {took:.1f} s; {states.count('taken')} of those are still at work")
    check(states.count("taken") >= 8, "the small one waited for the heavy ones")
    s.end(watcher, signal.SIGKILL)


def a_file_has_an_end(s):
    (s / "layright.toml").write_text("[limits]\nseconds-a-file = 1\n" + (s / "layright.toml").read_text())
    (s / "heavy.pdf").write_bytes(heavy(5000, 0))
    run = plain_check(s, s / "heavy.pdf")
    told = [f["message"] for f in findings(run) if f["check"] == "file.limit"]
    check(run.returncode == 2 and told and "1 s (seconds-a-file)" in told[0] and "were not looked at" in told[0], told)
    with zipfile.ZipFile(s / "many.zip", "w") as z:
        for i in range(8):
            z.writestr(f"{i}.eps", ENDLESS.format(note=f"% {i}\n"))
    begun = time.monotonic()
    run = plain_check(s, s / "many.zip")
    told = [f["message"] for f in findings(run) if f["check"] == "file.limit"]
    check(any("seconds-a-file" in t for t in told), told)
    print(f"  a ZIP of eight endless drawings ended after {time.monotonic() - begun:.1f} s")


def what_a_package_may_become(s):
    """most-unpacked-mb is what the configuration says."""
    (s / "layright.toml").write_text("[limits]\nmost-unpacked-mb = 1\n" + (s / "layright.toml").read_text())
    packages = {"little": {f"{i}.pdf": pdf("", more="% " + os.urandom(200_000).hex()) for i in range(2)}, "much": {f"{i}.pdf": pdf("", more="% " + os.urandom(200_000).hex()) for i in range(4)}}
    told = {}
    for name, files in packages.items():
        with zipfile.ZipFile(s / f"{name}.zip", "w", zipfile.ZIP_DEFLATED) as z:
            for member, data in files.items():
                z.writestr(member, data)
        told[name] = [f["message"] for f in findings(plain_check(s, s / f"{name}.zip")) if f["check"] == "file.limit"]
    check(not told["little"], told)
    check(any("1 MB" in t and "most-unpacked-mb" in t and "unpacks" in t for t in told["much"]), told)


def what_drawings_in_a_package_become(s):
    """A few hundred bytes of a drawing may become half a megabyte of noise: what all of them become is counted, not only what is in the package."""
    (s / "layright.toml").write_text("[limits]\nmost-unpacked-mb = 1\n" + (s / "layright.toml").read_text())
    noise = "/s 700 string def 200 200 scale 700 700 8 [700 0 0 -700 0 700] { 0 1 699 { s exch rand 255 and put } for s } image"
    told = {}
    for name, count in (("little", 1), ("much", 4)):
        with zipfile.ZipFile(s / f"{name}.zip", "w") as z:
            for i in range(count):
                z.writestr(f"{i}.eps", ENDLESS.format(note=f"{i} srand").replace("{} loop", noise))
        told[name] = [f["message"] for f in findings(plain_check(s, s / f"{name}.zip")) if f["check"] == "file.limit"]
    check(not told["little"], told)
    check(any("becomes more than 1 MB of pages (most-unpacked-mb)" in t for t in told["much"]), told)


def files_that_shrink_under_a_command(s):
    """Whatever reads a customer's file may meet one that becomes shorter just then: the command ends in words of its own, never by a signal."""
    big = FOX[:-6] + b"%" + b"x" * 2_000_000 + b"\n%%EOF\n"
    commands = [("check",), ("lay", "-o", s / "out.pdf"), ("tile", "-o", s / "tiles.pdf"), ("gang", "-o", s / "gang.pdf"), ("setup", "--as", "sheet", "-o", s / "sheet.pdf"), ("check", "--proof", s / "proof.png"), ("send",)]
    known = s.run("--help").stdout
    for i, (command, *words) in enumerate([c for c in commands if f" {c[0]} " in known] * (4 if ALL else 1)):
        path = s / f"shrinks{i}.pdf"
        path.write_bytes(big)
        running = subprocess.Popen(s.words(command, path, *words, "--target", "film"), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env=s.environment(), text=True)
        for size in (1_900_000, 4096, 100):
            with contextlib.suppress(subprocess.TimeoutExpired):
                running.wait(0.01 * (1 + i % 4))
            os.truncate(path, size)
        _, said = running.communicate(timeout=patience(60))
        check(running.returncode >= 0, f"{command} ended by signal {-running.returncode}: {said}")


def originals_that_were_exchanged(s):
    """Between the job and a person's word on it: nothing that was put in the place of an original is taken along under the job's name."""
    for word in ("again", "discard"):
        for kind in ("link", "file", "hard link", "folder"):
            shop.Shop(s.program, s.folder)
            (s / "in" / "art.pdf").write_bytes(FOX if word == "again" else pdf("", note=kind))
            s.once()
            job = s.jobs()[0]
            lies = s / ("originals" if word == "again" else "held") / "art.pdf"
            check(lies.exists(), job)
            lies.unlink()
            secret = s / "secret.pdf"
            secret.write_bytes(OWL)
            {"link": lambda: os.symlink(secret, lies), "file": lambda: lies.write_bytes(OWL), "hard link": lambda: os.link(secret, lies), "folder": lies.mkdir}[kind]()
            s.run(word, job["job"], *(["--why", "not wanted"] if word == "discard" else []))
            first = s.jobs()[0]
            check(first["state"] in ("missing", "discarded") and first["sha256"] == job["sha256"], f"{word}, {kind}: {first}")
            check(not any(p.is_symlink() for p in s.files("in") + [p for p in s.files("originals") if p != lies]), f"{word}, {kind}: a link was moved")
            check(not any(p.name.startswith("art") and p.suffix == ".pdf" and b"owl" in p.read_bytes() for p in s.files("ready")), f"{word}, {kind}: another file was laid")
            check(secret.read_bytes() == OWL, f"{word}, {kind}: the other file was touched")


def drawings_full_of_tricks(s):
    """Entities that grow, that lead elsewhere, drawings in drawings and addresses of every kind: nothing is fetched, nothing grows, and what is lost is told."""
    (s / "secret.txt").write_text("the secret words")
    head = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200" height="200">'
    laughs = "".join(f'<!ENTITY l{i} "{f"&l{i - 1};" * 10}">' for i in range(1, 12))
    inner = base64.b64encode((head + '<image xlink:href="logo.png" width="9" height="9"/><rect width="9" height="9"/></svg>').encode()).decode()
    picture = base64.b64encode(zlib.compress(b"no picture")).decode()
    tricks = {"laughs": f'<!DOCTYPE svg [<!ENTITY l0 "ha">{laughs}]>' + head + "<text y='20'>&l11;</text></svg>",
              "quadratic": f'<!DOCTYPE svg [<!ENTITY a "{"a" * 60000}">]>' + head + "<text y='20'>" + "&a;" * 3000 + "</text></svg>",
              "outside": f'<!DOCTYPE svg [<!ENTITY s SYSTEM "file://{s / "secret.txt"}">]>' + head + "<text y='20'>&s;</text></svg>",
              "outside list": f'<!DOCTYPE svg SYSTEM "file://{s / "secret.txt"}">' + head + "<rect width='9' height='9'/></svg>",
              "parameter": f'<!DOCTYPE svg [<!ENTITY % p SYSTEM "file://{s / "secret.txt"}"> %p;]>' + head + "<rect width='9' height='9'/></svg>",
              "include": head + f'<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="file://{s / "secret.txt"}" parse="text"/><rect width="9" height="9"/></svg>',
              "drawing in a drawing": head + f'<image xlink:href="data:image/svg+xml;base64,{inner}" width="99" height="99"/><rect width="9" height="9"/></svg>',
              "no picture": head + f'<image xlink:href="data:image/png;base64,{picture}" width="99" height="99"/><rect width="9" height="9"/></svg>',
              "data without a kind": head + f'<image xlink:href="data:;base64,{picture}" width="99" height="99"/><rect width="9" height="9"/></svg>',
              "another drawing": head + '<use xlink:href="other.svg#a"/><rect width="9" height="9"/></svg>',
              "base": head.replace("<svg ", '<svg xml:base="file:///etc/" ') + '<image xlink:href="passwd" width="9" height="9"/><rect width="9" height="9"/></svg>',
              "deep": head + "<g>" * 50000 + "<rect width='9' height='9'/>" + "</g>" * 50000 + "</svg>",
              "itself": head + '<g id="a"><use xlink:href="#a"/></g><rect width="9" height="9"/></svg>',
              "uses that grow": head + "<defs><g id='a0'><rect width='9' height='9'/></g>" + "".join(f"<g id='a{i}'>" + f"<use xlink:href='#a{i - 1}'/>" * 10 + "</g>" for i in range(1, 10)) + "</defs><use xlink:href='#a9'/></svg>"}
    if not ALL:
        del tricks["uses that grow"]  # takes as long as a drawing may
    for name, text in tricks.items():
        (s / f"{name}.svg").write_text(text)
    begun = time.monotonic()
    run = plain_check(s, *[s / f"{name}.svg" for name in tricks], timeout=300)
    check("the secret" not in run.stdout + run.stderr)
    files = {pathlib.Path(f["path"]).stem: f for f in json.loads(run.stdout)["files"]}
    for name in tricks.keys() - {"outside list", "itself"}:  # of which nothing is drawn, and nothing lost
        told = [f["check"] for f in files[name]["findings"] + [each for p in files[name]["pages"] for each in p["findings"]] if f["level"] == "hold"]
        check(told, f"{name}: nothing is told")
    print(f"  {len(tricks)} drawings took {time.monotonic() - begun:.1f} s")


def drawings_that_flood(s):
    (s / "flood.eps").write_text(FLOOD)
    scratch = s / "tmp"
    scratch.mkdir(mode=0o777)
    scratch.chmod(0o777)
    run = plain_check(s, s / "flood.eps", environment={"TMPDIR": str(scratch)})
    told = [f["message"] for f in findings(run) if f["check"] == "file.limit"]
    check(run.returncode == 2 and any("scratch files" in t for t in told), run.stdout)
    check(not list(scratch.iterdir()), "scratch files were left")


def scratch_is_cleared_after_a_death(s):
    (s / "loop.eps").write_text(ENDLESS.format(note=""))
    scratch = s / "tmp"
    scratch.mkdir()
    scratch.chmod(0o777)
    environment = s.environment({"TMPDIR": str(scratch)})
    running = subprocess.Popen([str(s.program), "check", str(s / "loop.eps")], env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    wait_for(lambda: list(scratch.glob("layright-scratch-*")))
    folder = next(scratch.glob("layright-scratch-*"))
    subprocess.run([str(s.program), "sheets"], env=environment, stdout=subprocess.DEVNULL, check=True)
    check(folder.exists(), "what is in use stays")
    running.kill()
    running.wait()

    def drawing():
        found = []
        for p in pathlib.Path("/proc").glob("[0-9]*/environ"):
            with contextlib.suppress(OSError):
                if str(folder).encode() in p.read_bytes():
                    found.append(p)
        return found
    wait_for(lambda: not drawing())  # the drawing program ends with it
    wait_for(lambda: subprocess.run([str(s.program), "sheets"], env=environment, stdout=subprocess.DEVNULL, check=True) and not folder.exists())


def status_of(process):
    with contextlib.suppress(OSError):
        lines = pathlib.Path(f"/proc/{process}/status").read_text().splitlines()
        return {key: value.split() for key, _, value in (line.partition(":") for line in lines)}
    return {}


def children_keep_no_rights(s):
    """Whatever reads a customer's file, or runs for it, is nobody where the watcher is root, has no rights of its own and cannot get any, and lives
    behind a filter of calls."""
    (s / "in" / "loop.eps").write_text(ENDLESS.format(note=""))
    watcher = s.begin()

    def drawing():
        return [p.parent.name for p in pathlib.Path("/proc").glob("[0-9]*/status") if (status := status_of(p.parent.name)).get("Name") == ["gs"] and status_of(status["PPid"][0]).get("PPid") == [str(watcher.pid)]]
    wait_for(drawing)
    status = status_of(drawing()[0])
    wait_for(lambda: status_of(drawing()[0]).get("Seccomp") == ["2"])
    status = status_of(drawing()[0])
    check(status["NoNewPrivs"] == ["1"] and int(status["CapEff"][0], 16) == int(status["CapPrm"][0], 16) == 0, status)
    if os.geteuid() == 0:
        check(set(status["Uid"]) == set(status["Gid"]) == {str(NOBODY)} and status.get("Groups", []) in ([], [str(NOBODY)]), status)
    s.end(watcher, signal.SIGKILL)
    wait_for(lambda: not drawing())


def no_library_speaks(s):
    """Findings are in our words: no numbers of a library's errors, no greeting with a year in it, no boxes of a format by their four letters, and
    nothing that a file has a program say."""
    texts = {"domain.svg": '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><g></svg>', "huge.svg": '<svg xmlns="http://www.w3.org/2000/svg" width="9e30" height="9e30"><rect width="9" height="9"/></svg>',
             "crash.ps": "%!PS\n" + "(" * 300 + "\nshowpage\n%%EOF\n"}
    programs = ["nosuchoperator", "1 .quit", "pop", "1 0 div", "(/etc/passwd) (r) file", "(Error: /ransom in call-this-number) = 1 0 div", "100000000 array", "currentfile /DCTDecode filter 9 string readstring"]
    for i, text in enumerate(programs):
        texts[f"{i}.eps"] = ENDLESS.format(note="").replace("{} loop", text)
    files = {name: text.encode() for name, text in texts.items()}
    for kind in ("heic", "avif"):
        made = subprocess.run(["heif-enc", *(["-A"] if kind == "avif" else []), "-o", str(s / f"sound.{kind}"), str(HERE.parent.parent / "testfiles" / "proof" / "checker.png")], capture_output=True)
        if made.returncode:
            continue
        sound = (s / f"sound.{kind}").read_bytes()
        for box in (b"meta", b"iloc", b"pitm", b"ipco", b"iinf", b"ispe"):
            files[f"{box.decode()}.{kind}"] = sound.replace(box, b"abcd")
        files[f"cut.{kind}"] = sound[:len(sound) // 2]
    check(len(files) > 20 or shutil.which("heif-enc") is None)
    for name, data in files.items():
        (s / name).write_bytes(data)
    run = subprocess.run([str(s.program), "check", *(str(s / name) for name in files), "--format", "json", "--config", str(s / "layright.toml")], capture_output=True, text=True, env=s.environment(), timeout=patience(120))
    told = [(f["path"], m["message"]) for f in json.loads(run.stdout)["files"] for m in f["findings"] + [each for p in f["pages"] for each in p["findings"]]]
    check(len(told) >= 20, told)
    for path, message in told:
        for word in ("domain", "Copyright", "Artifex", "rsvg-convert", "GPL", "code ", "%stdin", "stack:", "box", "Invalid input", "ransom", "/undefined", "/typecheck", "error /"):
            check(word not in message, f"{path}: {message}")


def names_that_mislead(s):
    odd = ["=cmd()|x.pdf", "+1.pdf", "-1.pdf", "@x.pdf", "invoice\u202efdp.pdf", "a\u2066b.pdf"]
    for i, name in enumerate(odd):
        (s / "in" / name).write_bytes(pdf("", note=str(i)))
    run = s.once()
    out = s.run("ledger", "--format", "csv").stdout
    text = s.run("ledger").stdout
    for shown in (run.stderr, out, text):
        check("\u202e" not in shown and "\u2066" not in shown, "text that turns its surroundings is shown raw")
    import csv
    rows = list(csv.reader(out.splitlines()))
    check(len(rows) == len(odd) + 1, rows)
    for row in rows[1:]:
        check(not any(cell[:1] in ("=", "+", "-", "@") for cell in row), row)


def names_in_every_output(s):
    """Whatever command meets a name, in whatever format: no character that turns text, ends a line or steers a terminal comes out raw, and all is UTF-8."""
    odd = ["bid\u202efdp.pdf".encode(), b"new\nline.pdf", b"esc\x1b[31m.pdf", b"invalid\xff\xc0.pdf", "mark\u200e\u2067.pdf".encode(), b"c1\xc2\x9b.pdf"]
    art = os.fsencode(str(s / "art"))
    os.mkdir(art)
    for i, name in enumerate(odd):
        for folder in (art, os.fsencode(str(s / "in"))):
            with open(os.path.join(folder, name), "wb") as f:
                f.write(pdf("Fox" if i % 2 else "", note=str(i)))
        with open(os.path.join(art, name[:-4] + b".xyz"), "wb") as f:
            f.write(b"nothing that is known")
    paths = [os.path.join(art, n) for n in odd]
    config = [b"--config", os.fsencode(str(s / "layright.toml"))]
    outs = []

    def tell(*words):
        run = subprocess.run([os.fsencode(str(s.program)), *[w.encode() if isinstance(w, str) else w for w in words]], capture_output=True, env=s.environment(), timeout=patience(120))
        outs.append((words, run.stdout, run.stderr))
        return run
    for form in ("text", "json"):
        tell("check", art, *paths, art + b"/missing\x1b\n.pdf", "--format", form, *config)
        tell("lay", *paths, "-o", art + b"/laid\x1b[1m\n", "--format", form, "--target", "film", *config)
    tell("check", *paths, "--format", "html", *config)
    tell("lay", paths[1], "-o", art + b"/no\x1b\nfolder/x.pdf", "--target", "film", *config)
    for word in ("--target", "--sheet", "--only", "--accept", "--pages", "--password"):
        tell("check", paths[1], word, b"x\x1b\n" + "\u202e".encode(), *config)
    for command in (["setup", "--as", "sheet", "-o"], ["trial", "-o"], ["init"], ["send"], ["sheets"], ["presses"], ["ledger"], ["release"], ["discard"], ["spoiled"]):
        tell(*command, paths[0] + b"/x\x1b\n", *([] if command[0] in ("init", "presses") else config))
    tell("check", paths[0], "--config", paths[2])
    tell("watch", "--once", "--log", "json", *config)
    for words in (["ledger"], ["ledger", "--format", "json"], ["ledger", "--format", "csv"], ["ledger", "check"], ["ledger", "show", "1"], ["ledger", "show", "1", "--format", "json"], ["again", "2"], ["discard", "1", "--by", "x\x1b\n\u202e"], ["release", "3"], ["spoiled", "2", "--why", "x\x1b\n\u202e"], ["watch", "--once"], ["ledger", "--sheets"], ["ledger", "--sheets", "--format", "csv"], ["ledger", "show", "2"], ["ledger", "show", "1", "--format", "json"]):
        tell(*words, *config)
    for note in (s / "held").iterdir():
        if note.suffix in (".txt", ".json"):
            outs.append((["held note"], note.read_bytes(), b""))
    check(sum(len(o) + len(e) for _, o, e in outs) > 20000 and len(outs) > 40)
    for words, out, err in outs:
        for text in (out.decode("utf-8"), err.decode("utf-8")):
            bad = [c for c in text if (c < " " and c != "\n") or "\x7f" <= c <= "\x9f" or c in "\u061c\u200e\u200f\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"]
            check(not bad, f"{words}: {bad!a} in {text[:600]!a}")
            check(not any(line.startswith(("line.pdf", ".pdf", "folder/x")) for line in text.split("\n")), f"{words}: a name ends a line: {text[:600]!a}")


def without_a_sandbox(s):
    shim = {"LD_PRELOAD": str(BUILD / "tests" / "no_sandbox.so")}
    (s / "fox.pdf").write_bytes(FOX)
    (s / "in" / "fox.pdf").write_bytes(FOX)
    run = subprocess.run([str(s.program), "check", str(s / "fox.pdf"), str(s / "fox.pdf")], capture_output=True, text=True, env=s.environment(shim))
    check(run.stderr.count("seccomp") == 1 and run.stderr.count("Landlock") == 1, run.stderr)
    check("seccomp" not in subprocess.run([str(s.program), "check", str(s / "fox.pdf")], capture_output=True, text=True, env=s.environment()).stderr, "told where nothing is missing")
    run = s.once(shim)
    check(run.returncode == 64 and "as far as the kernel goes" in run.stderr and names(s, "in") == ["fox.pdf"], run.stderr)
    (s / "layright.toml").write_text('[press.bench]\nipp = "ipp://localhost:1/ipp/print"\n' + (s / "layright.toml").read_text().replace('[target.film]\n', '[target.film]\npress = "bench"\n', 1))
    run = s.run("send", s / "fox.pdf", "--target", "film", environment=shim)
    check(run.returncode == 64 and "as far as the kernel goes" in run.stderr, run.stderr)
    (s / "layright.toml").write_text('sandbox = "as far as the kernel goes"\n' + (s / "layright.toml").read_text())
    run = s.once(shim)
    check(run.returncode == 0 and "seccomp" in run.stderr and "fox.pdf" in names(s, "ready"), run.stderr)


def root_becomes_the_named_user(s):
    if os.geteuid() != 0:
        return "only root can become another"
    watcher = s.begin()
    check("runs as root" in s.told(), s.told())
    s.end(watcher)
    if not as_nobody(s):
        return "another user cannot run the program where it lies"
    (s / "layright.toml").write_text('user = "nobody"\n' + (s / "layright.toml").read_text())
    watcher = s.begin()
    status = pathlib.Path(f"/proc/{watcher.pid}/status").read_text()
    uids = next(line for line in status.splitlines() if line.startswith("Uid:")).split()[1:]
    check(set(uids) == {str(NOBODY)}, uids)
    check("runs as root" not in s.told(), s.told())
    (s / "in" / "fox.pdf").write_bytes(FOX)
    os.chown(s / "in" / "fox.pdf", NOBODY, NOBODY)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    check((s / "ready" / "fox.pdf").stat().st_uid == NOBODY)
    s.end(watcher)
    (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('"nobody"', '"nobody-of-that-name"'))
    run = s.once()
    check(run.returncode == 64 and "nobody-of-that-name" in run.stderr, run.stderr)


def ledgers_under_the_watcher(s):
    def away(path):
        path.unlink()

    def replaced(path):
        shutil.copy(path, s / "copy")
        os.rename(s / "copy", path)

    def overwritten(path):
        size = path.stat().st_size
        with open(path, "r+b") as f:
            f.write(b"x" * size)

    def emptied(path):
        os.truncate(path, 0)
    for what in (away, replaced, overwritten, emptied):
        shop.Shop(s.program, s.folder)
        watcher = s.begin()
        (s / "in" / "fox.pdf").write_bytes(FOX)
        wait_for(lambda: "fox.pdf" in names(s, "ready"))
        what(s / "intake.db")
        (s / "in" / "owl.pdf").write_bytes(OWL)
        check(watcher.wait(patience(30)) != 0, "it ended well")
        check("the ledger was" in s.told() or "the ledger has" in s.told(), s.told())
        check("owl.pdf" not in names(s, "ready"), f"{what.__name__}: something was laid afterwards")
        check((s / "in" / "owl.pdf").exists() or (s / "originals" / "owl.pdf").exists(), "the arrival is lost")


def two_ledgers_over_one_folder(s):
    watcher = s.begin()
    other = (s / "layright.toml").read_text().replace('ledger = "intake.db"', 'ledger = "other.db"')
    (s / "other.toml").write_text(other)
    run = subprocess.run([str(s.program), "watch", "--once", "--config", str(s / "other.toml")], capture_output=True, text=True, env=s.environment(), timeout=patience(60))
    check(run.returncode == 75 and "another watcher" in run.stderr and str(watcher.pid) in run.stderr, run.stderr)
    (s / "in" / "fox.pdf").write_bytes(FOX)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    s.end(watcher)
    run = subprocess.run([str(s.program), "watch", "--once", "--config", str(s / "other.toml")], capture_output=True, text=True, env=s.environment(), timeout=patience(60))
    check(run.returncode == 0, run.stderr)


def another_disk(s):
    return next((p for p in ("/var/tmp", "/tmp", "/dev/shm") if os.access(p, os.W_OK) and os.stat(p).st_dev != s.folder.stat().st_dev), None)


def large_moves_that_a_death_broke_off(s):
    """Of a large file whose move was broken off: before its copy was there, and after. What has to be read of it is read beside all else: here
    nothing of it can be read before a small file that came at the same time is ready."""
    other = another_disk(s)
    body = b"7z\xbc\xaf\x27\x1c\n" + bytes(70_000_000)
    digest = hashlib.sha256(body).hexdigest()
    tried = []
    for arrived in (False, True) if other else (True,):
        shop.Shop(s.program, s.folder)
        with tempfile.TemporaryDirectory(dir=None if arrived else other) as far:
            incoming = s / "in" if arrived else pathlib.Path(far)
            (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('in = "in"', f'in = "{incoming}"'))
            (incoming / "large.pdf").write_bytes(FOX)
            check(s.once().returncode == 0)
            goes_to, lies = s / "originals" / "moved.pdf", incoming / "large.pdf"
            (s / "originals" / "large.pdf").unlink()
            lies.write_bytes(body)
            about = lies.stat()
            if arrived:
                os.rename(lies, goes_to)
            s.sqlite("DELETE FROM output")
            s.sqlite(f"UPDATE entry SET state='moving', next='taken', run=0, digest='{digest}', device={about.st_dev}, inode={about.st_ino}, bytes={about.st_size}, modified_ns={about.st_mtime_ns}, "
                     f"place=CAST('{lies}' AS BLOB), goes_to=CAST('{goes_to}' AS BLOB)")
            for p in s.files("ready"):
                p.unlink()
            (incoming / "small.pdf").write_bytes(SMALL)
            watcher = s.begin(environment={"LD_PRELOAD": str(BUILD / "tests" / "held_reads.so"), "HELD_BYTES": "70000000", "HELD_UNTIL": str(s / "ready" / "small.pdf")})
            took = wait_for(lambda: "small.pdf" in names(s, "ready"))
            wait_for(lambda: any(j["name"] == "large.pdf" and j["state"] == "held" for j in s.jobs()))
            check(hashlib.sha256((s / "held" / "large.pdf").read_bytes()).hexdigest() == digest and not list(incoming.iterdir()), names(s, "held"))
            check([j["name"] for j in s.jobs()].count("large.pdf") == 1, s.jobs())
            s.end(watcher)
            tried.append(f"{'its copy was there' if arrived else 'it was to be copied'}: small file ready after {took:.1f} s")
    print("  " + "; ".join(tried))


def large_files_are_read_beside_all_else(s):
    """Originals whose bytes changed, ones that were exchanged, outputs that got their names, and what a death left in the watched folder: none of it
    can be read before a small file that came at the same time is ready."""
    first, second = (b"7z\xbc\xaf\x27\x1c\n" + bytes([n]) * 70_000_000 for n in (1, 2))
    digest = hashlib.sha256(first).hexdigest()

    def rewritten(large):
        s.sqlite("UPDATE entry SET state='taken'")
        large.write_bytes(second)
        return lambda jobs: any(j["name"] == "large.bin" and j["state"] == "held" and j["sha256"] == hashlib.sha256(second).hexdigest() for j in jobs)

    def touched(large):
        s.sqlite("UPDATE entry SET state='taken', modified_ns = modified_ns - 1")
        return lambda jobs: any(j["name"] == "large.bin" and j["state"] == "held" and j["sha256"] == digest for j in jobs)

    def exchanged(large):
        s.sqlite("UPDATE entry SET state='taken'")
        (s / "other").write_bytes(second)
        os.rename(s / "other", large)
        return lambda jobs: sorted((j["name"], j["state"]) for j in jobs if j["name"] == "large.bin") == [("large.bin", "discarded"), ("large.bin", "held")]

    def released(large):
        (s / "other").write_bytes(second)
        os.rename(s / "other", large)
        s.sqlite("""UPDATE entry SET decision='{"do":"release"}'""")
        return lambda jobs: sorted((j["name"], j["state"]) for j in jobs if j["name"] == "large.bin") == [("large.bin", "discarded"), ("large.bin", "held")]

    def left(large):
        (s / "in" / (".layright-" + "0" * 24)).write_bytes(first)
        (s / "in" / (".layright-" + "1" * 24)).write_bytes(second)
        return lambda jobs: not any(n.startswith(".layright-") for n in names(s, "in")) and any(j["name"].startswith("given-back") and j["state"] == "held" for j in jobs)

    def placed(large):
        output = s / "ready" / "large.pdf"
        output.write_bytes(first)
        s.sqlite("UPDATE entry SET state='placing', run=1")
        s.sqlite(f"INSERT INTO output(entry, run, kind, path, path_key, digest, bytes, there, made, pages, copies) VALUES(1, 1, 'pdf', CAST('{output}' AS BLOB), CAST('{output}' AS BLOB), '{digest}', {len(first)}, 0, 0, 1, 1)")
        return lambda jobs: any(j["name"] == "large.bin" and j["state"] == "ready" for j in jobs)
    took = []
    for what in (rewritten, touched, exchanged, released, left, placed) if ALL else (rewritten, released, left, placed):
        shop.Shop(s.program, s.folder)
        (s / "in" / "large.bin").write_bytes(first)
        check(s.once().returncode == 2)
        over = what(s / "held" / "large.bin")
        (s / "in" / "small.pdf").write_bytes(SMALL)
        watcher = s.begin(environment={"LD_PRELOAD": str(BUILD / "tests" / "held_reads.so"), "HELD_BYTES": "70000000", "HELD_UNTIL": str(s / "ready" / "small.pdf")})
        took.append(f"{what.__name__} {wait_for(lambda: 'small.pdf' in names(s, 'ready')):.1f} s")
        wait_for(lambda: over(s.jobs()))
        check(watcher.poll() is None, s.told())
        s.end(watcher)
        judged = s.run("ledger", "check")
        check(judged.returncode == 0, f"{what.__name__}: {judged.stdout}{judged.stderr}")
    print("  a small file beside a large one: " + ", ".join(took))


def large_outputs_are_read_beside_all_else(s):
    """A laid file gets its name by its digest: while a large one cannot be read, a small file that came after it is laid and ready."""
    (s / "in" / "large.pdf").write_bytes(noisy(4900))  # 72 MB
    watcher = s.begin(environment={"LD_PRELOAD": str(BUILD / "tests" / "held_reads.so"), "HELD_BYTES": "70000000", "HELD_IN": str(s / "ready"), "HELD_UNTIL": str(s / "go"), "HELD_TOLD": str(s / "held-now")})
    wait_for((s / "held-now").exists, 120)
    (s / "in" / "small.pdf").write_bytes(SMALL)
    wait_for(lambda: "small.pdf" in names(s, "ready"))
    check("large.pdf" not in names(s, "ready"), "it was not held")
    (s / "go").touch()
    wait_for(lambda: "large.pdf" in names(s, "ready"))
    check(watcher.poll() is None, s.told())
    s.end(watcher)
    check(s.run("ledger", "check").returncode == 0)


def odd_files_in_the_watched_folder(s):
    """Whoever may put files there may also put some with the names that the program itself gives: that does not keep it from beginning."""
    if not as_nobody(s):
        return "another user cannot run the program where it lies"
    (s / "in" / ".layright-unreadable").write_bytes(OWL)
    (s / "in" / ".layright-unreadable").chmod(0)
    os.mkfifo(s / "in" / ".layright-pipe")
    (s / "in" / ".layright-folder").mkdir()
    os.symlink("/etc/passwd", s / "in" / ".layright-link")
    (s / "in" / "fox.pdf").write_bytes(FOX)
    os.chown(s / "in" / "fox.pdf", NOBODY, NOBODY)
    watcher = begin_as_nobody(s)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    check(watcher.poll() is None and ".layright-unreadable: cannot be read" in s.told(), s.told())
    s.end(watcher)


def large_copies_between_disks(s):
    other = another_disk(s)
    if not other:
        return "there is one disk only"
    size = 4_000_000_000 if ALL else 150_000_000
    with tempfile.TemporaryDirectory(dir=other) as far:
        text = (s / "layright.toml").read_text().replace('in = "in"', f'in = "{far}"')
        (s / "layright.toml").write_text(text)
        large = pathlib.Path(far) / "large.bin"
        with open(large, "wb") as f:
            f.write(b"7z\xbc\xaf\x27\x1c\n")
            f.truncate(size)
        watcher = s.begin()
        told = hashlib.sha256(b"7z\xbc\xaf\x27\x1c\n")
        for _ in range((size - 7) // 1_000_000):
            told.update(bytes(1_000_000))
        told.update(bytes((size - 7) % 1_000_000))
        for i in range(3):
            (pathlib.Path(far) / f"small{i}.pdf").write_bytes(pdf(f"small {i}"))
        wait_for(lambda: len([n for n in names(s, "ready") if n.startswith("small") and not n.endswith(".job.pdf")]) == 3, 120)
        wait_for(lambda: "large.bin" in names(s, "held"), 300)
        check(next(j for j in s.jobs() if j["name"] == "large.bin")["sha256"] == told.hexdigest())
        check(not large.exists() and not list(pathlib.Path(far).iterdir()))
        s.end(watcher)
        check(s.run("ledger", "check").returncode == 0)


def pictures_that_a_drawing_asks_for(s):
    picture = base64.b64encode(b"\x89PNG\r\n\x1a\n").decode()
    head = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200" height="200" viewBox="0 0 200 200">'
    rest = '<rect width="50" height="50"/></svg>'
    asked = {"plain": '<image xlink:href="logo.png" width="9" height="9"/>', "decimal": '<image xlink:href="&#108;ogo.png" width="9" height="9"/>', "hexadecimal": '<image xlink:href="&#x6C;ogo.png" width="9" height="9"/>',
             "base": '<g xml:base="http://a.invalid/"><image xlink:href="logo.png" width="9" height="9"/></g>', "prefix": '<s:image xmlns:s="http://www.w3.org/2000/svg" href="logo.png" width="9" height="9"/>',
             "style": '<rect style="fill:\\75 rl(logo.png#a)" width="9" height="9"/>', "comment": '<style>@im/**/port "logo.png"; @import "logo.png";</style>'}
    files = {kind: head + text + rest for kind, text in asked.items()}
    files["entity"] = '<!DOCTYPE svg [<!ENTITY l "logo.png">]>' + head + '<image xlink:href="&l;" width="9" height="9"/>' + rest
    files["broken"] = head + f'<image xlink:href="&#100;ata:image/png;base64,{picture}" width="9" height="9"/>' + rest
    files["sound"] = head + rest
    for kind, text in files.items():
        (s / f"{kind}.svg").write_text(text)
    run = plain_check(s, s / "sound.svg", *(str(s / f"{kind}.svg") for kind in files if kind != "sound"))
    told = {pathlib.Path(f["path"]).stem: f["findings"] + [each for p in f["pages"] for each in p["findings"]] for f in json.loads(run.stdout)["files"]}
    for kind in [*asked, "entity"]:
        check(any(f["check"] == "file.converted" and "logo.png" in f["message"] for f in told[kind]), f"{kind}: {told[kind]}")
    check(any(f["check"] == "file.damaged" for f in told["broken"]))
    check(not any(f["check"] in ("file.converted", "file.damaged") for f in told["sound"]), told["sound"])


def a_small_disk(s):
    """Scratch and outputs on a disk that is full: told, nothing lost, and it goes on when there is room again."""
    small = s / "small"
    small.mkdir()
    if os.geteuid() != 0 or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=300k,mode=777", "tmpfs", str(small)], capture_output=True).returncode:
        return "no small disk can be mounted here"
    try:
        (small / "fill").write_bytes(b"x" * 280_000)
        (s / "in" / "fox.pdf").write_bytes(FOX)
        (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('ready = "ready"', 'ready = "small/ready"'))
        (small / "ready").mkdir()
        watcher = s.begin(environment={"TMPDIR": str(small)})
        wait_for(lambda: "the disk is full" in s.told() or "No space" in s.told() or "no room" in s.told())
        check(watcher.poll() is None)
        (small / "fill").unlink()
        wait_for(lambda: (small / "ready" / "fox.pdf").exists())
        s.end(watcher)
        check(s.run("ledger", "check").returncode == 0)
    finally:
        subprocess.run(["umount", str(small)], check=False)


def a_ledger_that_goes_while_the_press_has_a_job(s):
    """The watcher ends, nothing else is sent, and with the ledger put back the press is asked for that job instead of being sent it again."""
    for what in ("deleted", "replaced"):
        shop.Shop(s.program, s.folder)
        with OddPress(job=[("processing", ["job-printing"])]) as press:
            s.configure("send = true")
            text = (s / "layright.toml").read_text().replace('[target.film]\nsheet = "film"', '[target.film]\nsheet = "film"\npress = "bench"')
            (s / "layright.toml").write_text(text + f'\n[press.bench]\nipp = "{press.address}"\nmedia-source = "by-pass-tray"\nmedia-type = "transparency"\n')
            (s / "in" / "fox.pdf").write_bytes(FOX)
            watcher = s.begin()
            wait_for(lambda: "Get-Job-Attributes" in press.asked and s.jobs()[0]["send"] == "sending")
            check(s.sqlite(f"VACUUM INTO '{s / 'kept.db'}'") == "")
            if what == "deleted":
                (s / "intake.db").unlink()
            else:
                shutil.copy(s / "kept.db", s / "copy.db")
                os.rename(s / "copy.db", s / "intake.db")
            (s / "in" / "owl.pdf").write_bytes(OWL)
            check(watcher.wait(patience(30)) not in (0, 2) and "the ledger was" in s.told(), s.told())
            check(len(press.jobs) == 1, press.jobs)
            for left in s.folder.glob("intake.db*"):
                left.unlink()
            os.rename(s / "kept.db", s / "intake.db")
            press.job = [("completed", ["job-completed-successfully"])]
            run = s.once()
            check(sorted((j["name"], j["send"]) for j in s.jobs()) == [("fox.pdf", "sent"), ("owl.pdf", "sent")], f"{s.jobs()} {run.stderr}")
            check(len(press.jobs) == len(set(press.jobs)) == 2, f"{what}: {press.jobs}")


def each_folder_on_a_full_disk(s):
    """The watched folder, the originals, what is held, what is ready, the ledger and the scratch files, each on a disk of its own that is full: told, the
    watcher lives, nothing is lost, and when there is room again everything goes on."""
    if os.geteuid() != 0:
        return "no small disk can be mounted here"
    took = []
    for place in ("in", "originals", "held", "ready", "ledger", "tmp") if ALL else ("in", "held", "ledger"):  # the others are tried again after a minute
        shop.Shop(s.program, s.folder, 'poll = "500ms"')
        small = s / place
        small.mkdir(exist_ok=True)
        if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=600k,mode=777", "tmpfs", small], capture_output=True).returncode:
            return "no small disk can be mounted here"
        try:
            (s / "layright.toml").write_text((s / "layright.toml").read_text().replace("intake.db", "ledger/intake.db"))
            (s / "ledger").mkdir(exist_ok=True)
            arrived = [pdf(f"Order {i}", note="x" * 20_000) for i in range(6)] + [pdf("", note=f"blank {i}" + "x" * 20_000) for i in range(2)]
            watcher = s.begin(environment={"TMPDIR": str(s / "tmp") if place == "tmp" else "/tmp"})
            if place != "in":
                fill_up(small)
            for i, data in enumerate(arrived):
                (s / "in" / f"{i}.pdf").write_bytes(data)
            if place == "in":
                fill_up(small)
            needs_room = place not in ("in", "tmp")  # nothing is written to the one, and to the other only for drawings
            full = wait_for(lambda: any(told in s.told() for told in ("the disk is full", "No space left")) if needs_room else names(s, "in") in ([], [".fill"]))
            check(watcher.poll() is None, f"{place}: it ended: {s.told()}")
            kept = [p.read_bytes() for folder in ("in", "originals", "held") for p in s.files(folder) if p.suffix == ".pdf"]
            check(all(data in kept for data in arrived), f"{place}: an arrival is lost")
            subprocess.run(["mount", "-o", "remount,size=50m", small], check=True)
            (small / ".fill").unlink()
            again = wait_for(lambda: sorted(j["state"] for j in s.jobs()) == ["held"] * 2 + ["ready"] * 6)
            s.end(watcher)
            check(not s.faults(arrived), f"{place}: {s.faults(arrived)}")
            took.append(f"{place} {full:.1f} s, {again:.1f} s")
        finally:
            for each in s.watchers:
                each.kill()
                each.wait()
            subprocess.run(["umount", "-l", small], check=False)
    print("  told after, all at rest after: " + "; ".join(took))


def fill_up(small):
    with open(small / ".fill", "wb", buffering=0) as fill:
        with contextlib.suppress(OSError):
            while True:
                fill.write(bytes(4096))


TESTS = [slow_writers_of_another_user, written_to_after_it_was_taken, exchanged_while_it_is_moved, held_files_that_were_replaced, files_that_shrink, heavy_files_do_not_keep_small_ones,
         a_file_has_an_end, what_a_package_may_become, what_drawings_in_a_package_become, files_that_shrink_under_a_command, originals_that_were_exchanged, drawings_full_of_tricks, drawings_that_flood, scratch_is_cleared_after_a_death, children_keep_no_rights, no_library_speaks, names_that_mislead, names_in_every_output, without_a_sandbox, root_becomes_the_named_user,
         ledgers_under_the_watcher, a_ledger_that_goes_while_the_press_has_a_job, two_ledgers_over_one_folder, large_copies_between_disks, large_moves_that_a_death_broke_off,
         large_files_are_read_beside_all_else, large_outputs_are_read_beside_all_else, odd_files_in_the_watched_folder, pictures_that_a_drawing_asks_for, a_small_disk, each_folder_on_a_full_disk]


def tried(test, folder):
    begun = time.monotonic()
    s = shop.Shop(BUILD / "layright", folder / test.__name__)
    name = test.__name__.replace("_", " ")
    try:
        left_out = test(s)
        return ("left out" if left_out else "passed"), f"{'left out' if left_out else 'passed'}  {name} {left_out or ''} ({time.monotonic() - begun:.1f} s)"
    except Exception:
        return "FAILED", f"FAILED  {name}\n{traceback.format_exc()}"
    finally:
        s.close()


def main():
    global BUILD, ALL
    words = [w for w in sys.argv[2:] if w != "--all"]
    BUILD, ALL = pathlib.Path(sys.argv[1]).resolve(), "--all" in sys.argv[2:]
    ends = []
    # They wait more than they work.
    with tempfile.TemporaryDirectory(prefix="layright-attack-") as folder, concurrent.futures.ThreadPoolExecutor(2) as pool:
        for end, told in pool.map(lambda test: tried(test, pathlib.Path(folder)), [t for t in TESTS if not words or t.__name__ in words]):
            ends.append(end)
            print(told, flush=True)
    passed, failed, skipped = (ends.count(end) for end in ("passed", "FAILED", "left out"))
    print(f"{passed} passed, {failed} failed, {skipped} skipped")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
