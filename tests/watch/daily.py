"""The watch folder as the shop uses it, day by day: each function a test. daily.py BUILD-FOLDER [NAME…]"""
import contextlib
import datetime
import importlib.util
import io
import json
import os
import pathlib
import shutil
import signal
import socket
import stat
import subprocess
import sys
import tempfile
import time
import zipfile

from PIL import Image

import shop
from shop import pdf, wait_for

FOX, OWL, BLANK = pdf("The quick brown fox"), pdf("An owl sits on the sill"), pdf("")
LARGE = pdf("Too large", size=(2000, 3000), more=" 72 72 1800 2800 re 0 0 1 rg f")


def check(what, why=""):
    if not what:
        raise AssertionError(why or "not so")


def names(s, place):
    return [p.name for p in s.files(place)]


def put(s, **files):
    for name, data in files.items():
        (s / "in" / name.replace("_pdf", ".pdf")).write_bytes(data)


def barcode_on(sheet):
    """As zbar reads it, with the line end that a scanner types behind it."""
    picture = sheet.parent.parent / "sheet"
    subprocess.run(["pdftoppm", "-r", "200", "-png", "-singlefile", sheet, picture], check=True)
    return subprocess.run(["zbarimg", "-q", "--raw", f"{picture}.png"], capture_output=True, text=True).stdout


def words_of(sheet):
    return subprocess.run(["pdftotext", "-layout", sheet, "-"], capture_output=True, text=True).stdout


def ready_held_and_the_same_again(s):
    put(s, fox_pdf=FOX, blank_pdf=BLANK)
    run = s.once()
    check(run.returncode == 2, run.stderr)
    check(names(s, "ready") == ["fox.job.pdf", "fox.pdf"] and names(s, "originals") == ["fox.pdf"], names(s, "ready"))
    check(names(s, "held") == ["blank.pdf", "blank.pdf.json", "blank.pdf.txt"], names(s, "held"))
    note = json.loads((s / "held" / "blank.pdf.json").read_text())
    check(any(f["check"] == "ink.blank" for f in note["findings"]) and "layright release" in note["release"], note)
    check("ink.blank" in (s / "held" / "blank.pdf.txt").read_text())
    put(s, other_pdf=FOX)
    check(s.once().returncode == 2)
    check("same bytes came as job" in s.jobs()[-1]["reason"], s.jobs()[-1])
    put(s, fox_pdf=OWL)  # the same name with other bytes is another job
    check(s.once().returncode == 0)
    check("fox-2.pdf" in names(s, "ready") and "fox-2.pdf" in names(s, "originals"), names(s, "ready"))
    check(s.once().returncode == 0, "nothing to do is nothing held")
    check(not s.faults([FOX, BLANK, FOX, OWL]), s.faults([FOX, BLANK, FOX, OWL]))


def a_plate_in_a_file_of_its_own(s):
    s.configure(PLATED)
    put(s, plate_pdf=FOX)
    (s / "in" / "plate-white.pdf").write_bytes(OWL)  # of the name that the plate's file would have
    (s / "in" / "owl-plate.pdf").write_bytes(pdf("An owl", more=" 0 0 1 rg 100 100 200 200 re f"))
    run = s.once()
    check(run.returncode == 0, run.stderr)
    ready = set(names(s, "ready"))
    check(sum(n.endswith("-white.pdf") for n in ready) == 3 and len(ready) == 9, (ready, run.stderr))
    check({"owl-plate.pdf", "owl-plate-white.pdf", "owl-plate.job.pdf"} <= ready, ready)
    made = [j for j in s.jobs() if j["name"] == "owl-plate.pdf"][0]
    kinds = {o["kind"]: o for o in s.ledger("show", str(made["job"]))["outputs"]}
    check(set(kinds) == {"pdf", "plate", "sheet"} and kinds["plate"]["path"].endswith("owl-plate-white.pdf"), kinds)
    check(kinds["pdf"]["pages"] == 1 and kinds["plate"]["pages"] == 0, "a sheet goes through the press twice, and is one sheet")
    put(s, owl_plate_white_pdf=(s / "ready" / "owl-plate-white.pdf").read_bytes())
    check(s.once().returncode == 2, "a plate is no art")
    check("white plate by itself" in s.jobs()[-1]["reason"], s.jobs()[-1])


PLATED = '[[intake.desk.rule]]\nmatch = "*plate*"\ntarget = "plated"\n'


def the_same_again_is_laid_or_skipped_where_asked(s):
    for word, state in (("again", "ready"), ("skip", "skipped")):
        s.configure(f'duplicates = "{word}"')
        put(s, fox_pdf=FOX)
        s.once()
        put(s, **{"copy_pdf": FOX})
        check(s.once().returncode == 0)
        check(s.jobs()[-1]["state"] == state, s.jobs()[-1])


def a_person_decides(s):
    put(s, large_pdf=LARGE, blank_pdf=BLANK, fox_pdf=FOX)
    s.configure('duplicates = "hold"\ntries = 1')
    (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('scale = "shrink"', ""))
    check(s.once().returncode == 2)
    by_name = {j["name"]: j["job"] for j in s.jobs()}
    check(s.run("release", by_name["large.pdf"]).returncode == 64, "the scale must be said")
    run = s.run("release", by_name["large.pdf"], "--scale", "shrink", "--by", "Quillow")
    check(run.returncode == 0, run.stderr + run.stdout)
    check(names(s, "held") == ["blank.pdf", "blank.pdf.json", "blank.pdf.txt"], names(s, "held"))
    story = s.ledger("show", by_name["large.pdf"])
    check(any(e["who"] == "Quillow" and e["what"] == "released" for e in story["events"]), story)
    check(s.run("release", by_name["large.pdf"], "--scale", "fit").returncode == 64, "it is not held any more")
    check(s.run("discard", by_name["blank.pdf"]).returncode == 64, "a reason must be said")
    check(s.run("discard", by_name["blank.pdf"], "--why", "sent in error").returncode == 0)
    check(names(s, "held") == [] and s.ledger("show", by_name["blank.pdf"])["state"] == "discarded")
    scanned = barcode_on(s / "ready" / "fox.job.pdf")
    check(scanned == f"{by_name['fox.pdf']}\n", scanned)
    check(s.run("again", scanned).returncode == 0)
    check("fox-2.pdf" in names(s, "ready"), names(s, "ready"))
    check("fox-2.pdf" in words_of(s / "ready" / "fox-2.job.pdf"), "the job sheet names the file that lies beside it")
    check("ink.size" in words_of(s / "ready" / "large.job.pdf") or "scale" in words_of(s / "ready" / "large.job.pdf"), "it says what was released")
    check(s.run("spoiled", scanned.replace("\n", " "), "--why", "fed crooked", "--sheets", "2").returncode == 0)
    rows = s.ledger("--sheets")["sheets"]
    check(rows[0]["used"] == 3 and rows[0]["spoiled"] == 2 and "crooked" in rows[0]["why"], rows)
    check(s.run("release", 999).returncode == 66)
    check(s.run("ledger", "--format", "csv", "--state", "ready").stdout.count("\n") == 3)
    check(not s.faults([LARGE, BLANK, FOX]), s.faults([LARGE, BLANK, FOX]))


def what_was_decided_counts_again(s):
    """The same file is not asked about twice: again lays it as it was released; --anew has it held again."""
    put(s, large_pdf=LARGE)
    (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('scale = "shrink"', ""))
    check(s.once().returncode == 2)
    check(s.run("release", 1, "--scale", "shrink", "--by", "Quillow").returncode == 0)
    run = s.run("again", 1, "--by", "Ash")
    check(run.returncode == 0 and "large-2.pdf" in names(s, "ready"), (run.stdout, run.stderr))
    told = [e for e in s.ledger("show", "1")["events"] if e["what"] == "again"]
    check(len(told) == 1 and told[0]["who"] == "Ash" and "as released by Quillow" in told[0]["why"] and "shrink" in told[0]["why"], told)
    check("Quillow" in words_of(s / "ready" / "large-2.job.pdf"), "its job sheet says who released it")
    run = s.run("again", 1, "--anew")
    check(run.returncode == 2 and s.ledger("show", "1")["state"] == "held", (run.stdout, run.stderr))
    check(s.run("release", 1, "--scale", "30%").returncode == 0 and "large-3.pdf" in names(s, "ready"))
    check(s.run("again", 1).returncode == 0 and "large-4.pdf" in names(s, "ready"))
    check("30%" in [e for e in s.ledger("show", "1")["events"] if e["what"] == "again"][-1]["why"])
    check(not s.faults([LARGE]), s.faults([LARGE]))


GUIDED = pdf("GUIDED", size=(612, 1224), more=" 1 0 1 RG 1 w 18 18 576 1188 re S")
RUBBISH = b"%PDF-1.4\nrubbish"


def held_notes_offer_only_what_works(s):
    put(s, guide_pdf=GUIDED, broken_pdf=RUBBISH, large_pdf=LARGE)
    Image.new("RGB", (1200, 600), (20, 20, 120)).save(s / "in" / "web.png")
    s.configure('tries = 1')
    (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('scale = "shrink"', ""))
    check(s.once().returncode == 2)
    job = {j["name"]: j["job"] for j in s.jobs()}
    note = {name: (s / "held" / f"{name}.txt").read_text() for name in job}
    check("--scale shrink --accept ink.guide" in note["guide.pdf"], note["guide.pdf"])
    check("--width 4in" in note["web.png"], note["web.png"])
    check("release" not in note["broken.pdf"] and "Ask for the file again" in note["broken.pdf"], note["broken.pdf"])
    check(json.loads((s / "held" / "broken.pdf.json").read_text())["release"] is None)
    run = s.run("release", job["guide.pdf"], "--scale", "shrink")
    check(run.returncode == 64 and "--accept ink.guide" in run.stderr, run.stderr)
    run = s.run("release", job["web.png"])
    check(run.returncode == 64 and "--width 4in" in run.stderr, run.stderr)
    reason = s.ledger("show", job["broken.pdf"])["reason"]
    for words in ([], ["--accept", "file.damaged"]):
        run = s.run("release", job["broken.pdf"], *words)
        check(run.returncode == 64 and reason in run.stderr and s.ledger("show", job["broken.pdf"])["reason"] == reason, run.stderr)
    for name in ("guide.pdf", "web.png", "large.pdf"):  # as the notes say it
        line = next(line for line in note[name].splitlines() if line.startswith("Once you have looked"))
        words = line.split("layright ")[1].split(" --config")[0].split()
        run = s.run(*words)
        check(run.returncode == 0 and s.ledger("show", job[name])["state"] == "ready", (words, run.stdout, run.stderr))
    run = s.run("release", job["large.pdf"])
    check(run.returncode == 64 and "layright again" in run.stderr and "not held, but" not in run.stderr, run.stderr)


def days_are_the_shops(s):
    put(s, fox_pdf=FOX)
    check(s.once().returncode == 0)
    arrived = datetime.datetime.fromisoformat(s.jobs()[0]["arrived"].replace("Z", "+00:00"))
    for zone in (-12, 0, 14):
        day = (arrived + datetime.timedelta(hours=zone)).date()
        zoned = {**s.environment(), "TZ": f"SHOP{-zone:+d}"}
        for word in (str(day), day.strftime("%m/%d/%Y"), day.strftime("%b %d %Y"), day.strftime("%A")):
            run = s.run("ledger", "--day", word, environment=zoned)
            check(run.returncode == 0 and "fox.pdf" in run.stdout and str(day) in run.stdout, (zone, word, run.stdout, run.stderr))
        run = s.run("ledger", "--day", str(day - datetime.timedelta(days=1)), environment=zoned)
        check("fox.pdf" not in run.stdout, (zone, run.stdout))
        check(str(day) in s.run("ledger", "--sheets", environment=zoned).stdout)
    run = s.run("ledger", "--day", "last tuesdayish")
    check(run.returncode == 64 and "is no day" in run.stderr, run.stderr)


def a_running_watcher_does_what_is_decided(s):
    put(s, blank_pdf=BLANK)
    watcher = s.begin()
    wait_for(lambda: "blank.pdf" in names(s, "held"))
    wait_for(lambda: s.jobs()[0]["state"] == "held")
    run = s.run("discard", 1, "--why", "empty")
    check(run.returncode == 0 and str(watcher.pid) in run.stdout, run.stdout + run.stderr)
    wait_for(lambda: s.jobs()[0]["state"] == "discarded")
    check(s.end(watcher)[0] == 0)


def a_second_watcher_is_refused(s):
    watcher = s.begin()
    put(s, fox_pdf=FOX)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    run = s.once()
    check(run.returncode == 75 and str(watcher.pid) in run.stderr, run.stderr)
    watcher.kill()
    watcher.wait()
    check(s.once().returncode == 0, "after a death the next start is never refused")


def children_die_with_the_watcher(s):
    put(s, **{f"f{i}_pdf": pdf(f"page {i}") for i in range(20)})
    watcher = s.begin()
    wait_for(lambda: len(names(s, "ready")) >= 2)
    children = pathlib.Path(f"/proc/{watcher.pid}/task/{watcher.pid}/children").read_text().split()
    watcher.kill()
    watcher.wait()
    wait_for(lambda: not any(pathlib.Path(f"/proc/{c}").exists() for c in children))
    check(s.once().returncode == 0)
    arrived = [pdf(f"page {i}") for i in range(20)]
    check(not s.faults(arrived), s.faults(arrived))


def a_zip_is_one_job(s):
    def packed(*files):
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as z:
            for name, data in files:
                z.writestr(name, data)
        return out.getvalue()

    good, bad = packed(("b.pdf", OWL), ("a.pdf", FOX), ("read me.txt", "by Friday")), packed(("a.pdf", FOX), ("sub/blank.pdf", BLANK), ("torn.png", b"\x89PNG\r\n\x1a\n"))
    (s / "in" / "order.zip").write_bytes(good)
    (s / "in" / "bad.zip").write_bytes(bad)
    check(s.once().returncode == 2)
    check(names(s, "ready") == ["order.job.pdf", "order.pdf"] and names(s, "originals") == ["order.zip"], names(s, "ready"))
    check(names(s, "held") == ["bad.zip", "bad.zip.json", "bad.zip.txt"] and (s / "held" / "bad.zip").read_bytes() == bad, names(s, "held"))
    told = subprocess.run(["pdfinfo", s / "ready" / "order.pdf"], capture_output=True, text=True, check=True).stdout
    check("Pages:           2" in told, told)
    note = (s / "held" / "bad.zip.txt").read_text()
    check("torn.png: the file cannot be taken: it is cut short" in note and "page 2 (sub/blank.pdf): " in note, note)
    held = json.loads((s / "held" / "bad.zip.json").read_text())["findings"]
    check(any(f.get("member") == "sub/blank.pdf" and f["check"] == "ink.blank" for f in held), held)
    check(not list((s / "held").rglob("torn.png")) and not list((s / "ready").rglob("a.pdf")), "nothing is made under a name out of it")
    job = next(j["job"] for j in s.jobs() if j["name"] == "bad.zip")
    run = s.run("release", job, "--accept", "file.damaged,ink.blank", "--incoming", "right")
    check(run.returncode == 0 and "bad.pdf" in names(s, "ready"), run.stdout + run.stderr)
    check(not s.faults([good, bad]), s.faults([good, bad]))


def odd_names(s):
    odd = [b"fox\xff\xfe.pdf", b"-o.pdf", b"two\nlines.pdf", b" blank .pdf", b"no-ending", b"n" * 251 + b".pdf", "fu\u0308chse.pdf".encode(), "f\u00fcchse.pdf".encode(),
           b"Case.pdf", b"case.pdf", b"'quote\".pdf", b"$(x).pdf", b"%s%n.pdf", "\U0001f98a.pdf".encode(), b"a.txt", b"a"]
    arrived = []
    for i, name in enumerate(odd):
        data = pdf(f"file {i}")
        arrived.append(data)
        pathlib.Path(os.fsdecode(os.fsencode(str(s / "in")) + b"/" + name)).write_bytes(data)
    run = s.once()
    check(run.returncode == 0, run.stderr)
    check(not s.faults(arrived), s.faults(arrived))
    ready = [n.casefold() for n in names(s, "ready")]
    check(len(ready) == len(set(ready)) == 2 * len(odd), "names that differ in capitals only")


def what_is_no_file_is_told_and_left(s):
    (s / "outside.pdf").write_bytes(FOX)
    os.symlink(s / "outside.pdf", s / "in" / "link.pdf")
    os.symlink("nowhere", s / "in" / "dangling.pdf")
    os.symlink("/etc", s / "in" / "etc")
    os.mkfifo(s / "in" / "pipe.pdf")
    listening = socket.socket(socket.AF_UNIX)
    listening.bind(str(s / "in" / "socket.pdf"))
    with contextlib.suppress(PermissionError):
        os.mknod(s / "in" / "device.pdf", 0o600 | stat.S_IFCHR, os.makedev(1, 5))
    (s / "in" / "folder.pdf").mkdir()
    put(s, empty_pdf=b"", owl_pdf=OWL, **{".hidden_pdf": FOX, "coming_pdf.part": FOX})
    run = s.once()
    check(run.returncode == 2, run.stderr)
    for word in ("link.pdf", "dangling.pdf", "pipe.pdf", "socket.pdf", "folder.pdf", "empty.pdf"):
        check(word in run.stderr, f"{word} is not told: {run.stderr}")
    check(names(s, "originals") == ["owl.pdf"] and (s / "outside.pdf").read_bytes() == FOX)
    listening.close()


def nothing_is_read_half(s):
    s.configure(settle="2s")  # longer than this writer ever rests
    watcher = s.begin()
    for start in range(0, len(OWL), 97):  # closes and opens again for every piece
        with open(s / "in" / "owl.pdf", "ab") as f:
            f.write(OWL[start:start + 97])
        time.sleep(0.02)
    with open(s / "in" / "held-open.pdf", "wb") as f:
        f.write(BLANK)
        f.flush()
        with open(s / "in" / "late.part", "wb") as late:
            late.write(FOX)
        os.rename(s / "in" / "late.part", s / "in" / "fox.pdf")
        wait_for(lambda: "fox.pdf" in names(s, "ready"))  # it has had all the rest that it needs
        check("held-open.pdf" not in names(s, "held") + names(s, "originals"), "somebody still writes to it")
    wait_for(lambda: len(s.jobs()) == 3 and all(j["state"] in shop.AT_REST for j in s.jobs()))
    check(s.end(watcher)[0] == 0)
    check(not s.faults([OWL, FOX, BLANK]), s.faults([OWL, FOX, BLANK]))


def signals(s):
    watcher = s.begin()
    put(s, fox_pdf=FOX)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    (s / "layright.toml").write_text("nonsense = ")
    watcher.send_signal(signal.SIGHUP)
    put(s, owl_pdf=OWL)
    wait_for(lambda: "owl.pdf" in names(s, "ready"))
    s.configure('[[intake.desk.rule]]\nmatch = "*-dark*"\ntarget = "dark"\ncopies = 3\nwhite = "80%"')
    watcher.send_signal(signal.SIGHUP)
    wait_for(lambda: "read the configuration again" in s.told())
    put(s, **{"kite-dark_pdf": pdf("A kite")})
    wait_for(lambda: "kite-dark.pdf" in names(s, "ready"))
    kite = [j for j in s.jobs() if j["name"] == "kite-dark.pdf"][0]
    check(kite["target"] == "dark" and kite["copies"] == 3, kite)
    status, told = s.end(watcher)
    check(status == 0, told)
    check("going on with the configuration as it was" in told and "read the configuration again" in told, told)
    watcher = s.begin()
    check(s.end(watcher, signal.SIGINT)[0] == 0)


def subfolders_as_an_option(s):
    s.configure("subfolders = true")
    deep = s / "in" / "/".join(f"d{i}" for i in range(30))
    deep.mkdir(parents=True)
    (deep / "fox.pdf").write_bytes(FOX)
    put(s, fox_pdf=OWL)
    os.symlink(s / "originals", s / "in" / "way-out")
    check(s.once().returncode == 2)  # the link is told
    check(not s.faults([FOX, OWL]) or s.faults([FOX, OWL]) == ["left in: way-out"], s.faults([FOX, OWL]))
    watcher = s.begin()
    later = s / "in" / "later" / "still"
    later.mkdir(parents=True)
    (later / "kite.pdf").write_bytes(pdf("A kite"))
    wait_for(lambda: "kite.pdf" in names(s, "ready"))
    s.end(watcher)


def the_folder_goes_and_comes_back(s):
    s.configure('poll = "100ms"')
    watcher = s.begin()
    os.rename(s / "in", s / "elsewhere")
    wait_for(lambda: "there is no such folder" in s.told())
    os.mkdir(s / "in")
    put(s, fox_pdf=FOX)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    put(s, owl_pdf=OWL)
    wait_for(lambda: "owl.pdf" in names(s, "ready"))
    os.rename(s / "originals", s / "originals-away")
    put(s, kite_pdf=pdf("A kite"))
    wait_for(lambda: "originals" in s.told().split("trying again")[0] and "trying again" in s.told())
    os.rename(s / "originals-away", s / "originals")
    wait_for(lambda: "kite.pdf" in names(s, "ready"))
    check(s.end(watcher)[0] == 0)
    check(not s.faults([FOX, OWL, pdf("A kite")]), s.faults([FOX, OWL, pdf("A kite")]))


def what_cannot_be_moved_is_told_once(s):
    s.configure('poll = "100ms"')
    injector = s.program.parent / "tests" / "fault_injector.so"
    s.begin(environment={"LD_PRELOAD": str(injector), "FAULT_BELOW": str(s / "in" / "stuck.pdf"), "FAULT_AT": "2", "FAULT_DO": "EACCES+"})
    put(s, stuck_pdf=OWL)
    wait_for(lambda: "it is left where it is" in s.told())
    for i in range(6):  # each takes a look or more
        (s / "in" / f"{i}.pdf").write_bytes(pdf(f"Order {i}"))
        wait_for(lambda: f"{i}.pdf" in names(s, "ready"))
    check(s.told().count("it is left where it is") == 1, s.told())
    check("stuck.pdf" in names(s, "in") and len(s.jobs()) == 6)


def too_many_events_at_once(s):
    watcher = s.begin()
    put(s, fox_pdf=FOX)
    wait_for(lambda: "fox.pdf" in names(s, "ready"))
    watcher.send_signal(signal.SIGSTOP)
    most = int(pathlib.Path("/proc/sys/fs/inotify/max_queued_events").read_text())
    for i in range(most // 2 + 100):  # two events each
        path = s / "in" / f".{i}"
        path.touch()
        path.unlink()
    put(s, owl_pdf=OWL)
    watcher.send_signal(signal.SIGCONT)
    wait_for(lambda: "owl.pdf" in names(s, "ready"))
    s.end(watcher)


def ledgers_that_are_no_good(s):
    put(s, fox_pdf=FOX)
    s.once()
    ledger = s / "intake.db"
    s.sqlite("PRAGMA wal_checkpoint(TRUNCATE)")
    good = ledger.read_bytes()

    def refused(status, word):
        before = ledger.read_bytes()
        put(s, owl_pdf=OWL)
        for words in (("watch", "--once"), ("ledger",)):
            run = s.run(*words)
            check(run.returncode == status and word in run.stderr, f"{words}: {run.returncode} {run.stderr}")
        check(ledger.read_bytes() == before and names(s, "in") == ["owl.pdf"], "nothing may be changed")

    s.sqlite("PRAGMA user_version=99; PRAGMA wal_checkpoint(TRUNCATE)")
    refused(65, "newer")
    ledger.write_bytes(b"")
    refused(65, "empty")
    ledger.write_bytes(good[:100] + b"\x55" * (len(good) - 100))
    refused(65, "damaged")
    ledger.write_bytes(b"not a ledger" * 1000)
    refused(65, "damaged")
    ledger.unlink()
    s.sqlite("CREATE TABLE other(x)")
    refused(65, "no ledger of layright")
    for rest in s.folder.glob("intake.db*"):
        rest.unlink()
    ledger.write_bytes(good)
    s.sqlite("DROP TABLE spoiled; DROP TABLE watcher; DROP INDEX entry_unfinished; DROP INDEX entry_going; PRAGMA user_version=1;"
             "DROP INDEX entry_batch; DROP INDEX entry_waiting; ALTER TABLE entry DROP COLUMN batch; ALTER TABLE entry DROP COLUMN gang;"
             "ALTER TABLE entry DROP COLUMN owner; ALTER TABLE entry DROP COLUMN token; ALTER TABLE entry DROP COLUMN lease;"
             "ALTER TABLE output DROP COLUMN toner; ALTER TABLE output DROP COLUMN currency")
    check(s.once().returncode == 0, "an older one is upgraded")
    check(s.sqlite("PRAGMA user_version") == "6" and not s.faults([FOX, OWL]), s.faults([FOX, OWL]))


def ledger_check_notices(s):
    put(s, fox_pdf=FOX, blank_pdf=BLANK)
    s.once()
    check(s.run("ledger", "check").returncode == 0)
    (s / "ready" / "stray.pdf").write_bytes(FOX)
    (s / "originals" / "fox.pdf").write_bytes(OWL)
    (s / "held" / "blank.pdf").unlink()
    run = s.run("ledger", "check")
    check(run.returncode == 2 and "stray.pdf" in run.stdout and "other bytes" in run.stdout and "gone" in run.stdout, run.stdout)


def old_originals_go(s):
    s.configure('keep-originals = "1ms"')
    put(s, fox_pdf=FOX, blank_pdf=BLANK)
    s.once()
    s.once()
    check(names(s, "originals") == [] and "blank.pdf" in names(s, "held"), "never before they are laid or discarded")
    check(s.run("ledger", "check").returncode == 0)
    check(s.run("again", s.jobs()[0]["job"] if s.jobs()[0]["name"] == "fox.pdf" else s.jobs()[1]["job"]).returncode == 66)


def told_how_it_goes(s):
    notices = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
    notices.bind(str(s / "notify"))
    notices.settimeout(shop.patience(20))
    health = s / "health.json"
    watcher = s.begin("--health", health, "--log", "json", environment={"NOTIFY_SOCKET": str(s / "notify"), "WATCHDOG_USEC": "200000"})
    heard = set()
    while not {"READY=1", "WATCHDOG=1"} <= heard:
        heard.add(notices.recv(4096).decode())
    put(s, fox_pdf=FOX)
    wait_for(lambda: health.exists() and json.loads(health.read_text())["ready"] == 1)
    status, told = s.end(watcher)
    for line in told.splitlines():
        json.loads(line)
    check(any(json.loads(line).get("event") == "ready" for line in told.splitlines()), told)
    notices.close()


def across_disks(s):
    with tempfile.TemporaryDirectory(dir="/var/tmp") as other:
        if os.stat(other).st_dev == os.stat(s.folder).st_dev:
            return "only one disk here"
        (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('originals = "originals"', f'originals = "{other}/originals"'))
        put(s, fox_pdf=FOX, blank_pdf=BLANK)
        check(s.once().returncode == 2)
        check(names(s, "in") == [] and pathlib.Path(other, "originals/fox.pdf").read_bytes() == FOX and "blank.pdf" in names(s, "held"))
        check(s.run("ledger", "check").returncode == 0)


def several_intakes(s):
    (s / "layright.toml").write_text((s / "layright.toml").read_text() + '\n[intake.other]\ntarget = "dark"\nin = "in2"\nready = "ready2"\nheld = "held2"\noriginals = "originals2"\nledger = "other.db"\nsettle = "20ms"\n')
    (s / "in2").mkdir()
    put(s, fox_pdf=FOX)
    (s / "in2" / "fox.pdf").write_bytes(FOX)
    check(s.once().returncode == 0)
    check("fox.pdf" in names(s, "ready") and "fox.pdf" in names(s, "ready2"))
    check(s.run("again", 1).returncode == 64, "there are two ledgers")
    check(s.run("again", 1, "--intake", "other").returncode == 0 and "fox-2.pdf" in names(s, "ready2"))
    check(s.run("watch", "nobody", "--once").returncode == 64)


def a_dying_worker_is_tried_twice(s):
    # A page that takes seconds, so that its child can be found and killed.
    slow = pdf("Slow page", more="0 0 m 612 792 l S\n" * 3000000)
    put(s, slow_pdf=slow)
    watcher = s.begin()
    for _ in range(2):
        children = pathlib.Path(f"/proc/{watcher.pid}/task/{watcher.pid}/children")
        wait_for(lambda: children.read_text().split())
        child = int(children.read_text().split()[0])
        os.kill(child, signal.SIGKILL)
        wait_for(lambda: str(child) not in children.read_text().split())
    wait_for(lambda: s.jobs()[0]["state"] in ("held", "ready"))
    s.end(watcher)
    check(s.jobs()[0]["state"] == "held" and "tried 2 times" in s.jobs()[0]["reason"], s.jobs()[0])


def the_clock_is_set_back(s):
    injector = s.program.parent / "tests" / "fault_injector.so"
    put(s, fox_pdf=FOX, blank_pdf=BLANK)
    os.utime(s / "in" / "fox.pdf", (1e10, 1e10))  # from the future
    run = s.once({"LD_PRELOAD": str(injector), "FAULT_CLOCK": "3600"})
    check(run.returncode == 2 and not s.faults([FOX, BLANK]), run.stderr)
    put(s, owl_pdf=OWL)
    check(s.once().returncode == 0 and [j["state"] for j in s.jobs()].count("ready") == 2)


def a_full_disk(s):
    small = s / "small"
    small.mkdir()
    if os.geteuid() or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=400k", "none", small], capture_output=True).returncode:
        return "no small disk can be made here"
    try:
        (s / "layright.toml").write_text((s / "layright.toml").read_text().replace('ready = "ready"', f'ready = "{small}/ready"'))
        arrived = [pdf(f"Order {i}", note="x" * 60000) for i in range(20)]
        for i, data in enumerate(arrived):
            (s / "in" / f"{i}.pdf").write_bytes(data)
        run = s.once()
        check(run.returncode == 74 and "the disk is full" in run.stderr, f"{run.returncode} {run.stderr}")
        subprocess.run(["mount", "-o", "remount,size=50m", small], check=True)
        check(s.once().returncode == 0)
        check(len([p for p in (small / "ready").iterdir() if not p.name.endswith(".job.pdf")]) == 20 and len(names(s, "originals")) == 20 and not names(s, "in"))
        check(s.run("ledger", "check").returncode == 0)
    finally:
        subprocess.run(["umount", small], check=True)


def sent_to_the_press(s):
    if not shutil.which("ippeveprinter") or not shutil.which("dbus-daemon"):
        return "no press to send to"
    spec = importlib.util.spec_from_file_location("press", shop.HERE.parents[1] / "examples" / "print.py")
    press = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(press)
    s.configure("send = true")
    text = (s / "layright.toml").read_text().replace('[target.film]\nsheet = "film"', '[target.film]\nsheet = "film"\npress = "bench"')
    table = '\n[press.bench]\nipp = "{}"\nmedia-source = "by-pass-tray"\nmedia-type = "transparency"\noutput-bin = "face-up"\n'

    def sent():
        return [j["send"] for j in s.jobs()]

    def spooled():
        return len(list((s / "press" / "spool").glob("*.pdf")))

    (s / "layright.toml").write_text(text + table.format("ipp://localhost:1/ipp/print"))
    put(s, fox_pdf=FOX)
    away = s.once()
    check(away.returncode == 75 and s.jobs()[0]["state"] == "ready" and sent() == ["sending"], f"a press that is away is told, the file is ready: {away.returncode} {away.stderr} {s.jobs()}")
    (s / "press").mkdir()
    with press.press_on_loopback(s / "press") as address:
        (s / "layright.toml").write_text(text + table.format(address))
        run = s.once()
        check(run.returncode == 0 and sent() == ["sent"], run.stderr)
        check(spooled() == 1, "sent once")
        check(s.once().returncode == 0 and spooled() == 1, "and never again")
        check(s.run("again", 1).returncode == 0 and sent() == ["sent"] and spooled() == 2)


TESTS = [ready_held_and_the_same_again, the_same_again_is_laid_or_skipped_where_asked, a_person_decides, what_was_decided_counts_again, a_running_watcher_does_what_is_decided,
         a_second_watcher_is_refused, children_die_with_the_watcher, a_zip_is_one_job, odd_names, what_is_no_file_is_told_and_left, nothing_is_read_half, signals,
         subfolders_as_an_option, the_folder_goes_and_comes_back, what_cannot_be_moved_is_told_once, too_many_events_at_once, ledgers_that_are_no_good, ledger_check_notices, old_originals_go,
         told_how_it_goes, across_disks, several_intakes, a_dying_worker_is_tried_twice, the_clock_is_set_back, a_full_disk, sent_to_the_press,
         a_plate_in_a_file_of_its_own, held_notes_offer_only_what_works, days_are_the_shops]


if __name__ == "__main__":
    sys.exit(shop.run_tests(TESTS))
