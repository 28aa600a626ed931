"""Several jobs on one sheet, as a shop has them in its watch folder, day by day: each function a test. ganging.py BUILD-FOLDER [NAME…]"""
import io
import json
import pathlib
import signal
import sys
import tomllib

import pikepdf

import shop
from daily import check, names, put, words_of
from shop import gang_art, pdf, wait_for

ONE, TWO, THREE, FOUR = (gang_art(f"The quick brown fox {n}") for n in (1, 2, 3, 4))
SMALL = pdf("A small one")


def by_name(s):
    return {j["name"]: j for j in s.jobs()}


def batches(s):
    return [j for j in s.jobs() if j["batch"] == j["job"]]


def labels(s, batch):
    return sorted(int(piece["label"]) for piece in tomllib.loads(pathlib.Path(batch["original"]).read_text())["piece"])


def ganging(s, more=""):
    s.configure(shop.GANG.format(more=more))


def whole(s, *arrived):
    faults = s.faults(arrived)
    check(not faults, faults)


def until_a_sheet_is_filled(s):
    ganging(s)
    put(s, gang_1_pdf=ONE, fox_pdf=SMALL)
    run = s.once()
    check(run.returncode == 0, run.stderr)
    check(names(s, "ready") == ["fox.job.pdf", "fox.pdf"] and "gang_1.pdf" in names(s, "originals"), names(s, "ready"))
    first = by_name(s)["gang_1.pdf"]
    check(first["state"] == "waiting" and first["reason"] == "waits for a sheet" and first["batch"] is None, first)
    told = s.run("ledger").stdout
    check("desk, gang: 1 job waits, 3" in told and "layright gang now" in told, told)
    waiting = s.ledger()["waiting"]
    check(len(waiting) == 1 and waiting[0]["jobs"] == 1 and 25 < waiting[0]["fill_pct"] < 40 and waiting[0]["wanted_pct"] == 50, waiting)
    check(s.run("ledger", "check").returncode == 0)
    put(s, gang_2_pdf=TWO, gang_blank_pdf=pdf(""))
    run = s.once()
    check(run.returncode == 2, run.stderr)
    jobs = by_name(s)
    check(jobs["gang_blank.pdf"]["state"] == "held", "what is held never waits")
    batch, = batches(s)
    check(batch["state"] == "ready" and labels(s, batch) == [first["job"], jobs["gang_2.pdf"]["job"]], batch)
    check(all(jobs[n]["state"] == "ready" and jobs[n]["batch"] == batch["job"] for n in ("gang_1.pdf", "gang_2.pdf")), jobs)
    shown = s.run("ledger", "show", batch["job"]).stdout
    check("gang_1.pdf (job" in shown and "gang_2.pdf (job" in shown, shown)
    outputs = s.ledger("show", str(batch["job"]))["outputs"]
    check([o["pages"] for o in outputs if o["kind"] == "pdf"] == [1], "one sheet")
    stem = batch["name"][:-5]
    check({stem + ".pdf", stem + ".job.pdf"} <= set(names(s, "ready")), names(s, "ready"))
    words = words_of(s / "ready" / (stem + ".job.pdf"))
    check("Sheet 1" in words and "cut" in words.lower(), words)
    check("1 used" in " ".join(s.run("ledger", "--sheets").stdout.split()), s.run("ledger", "--sheets").stdout)
    check(s.once().returncode == 0 and len(batches(s)) == 1)
    whole(s, ONE, TWO, SMALL, pdf(""))


def until_its_time_is_over(s):
    ganging(s, 'gang-for = "1ms"')
    put(s, gang_1_pdf=ONE)
    run = s.once()
    check(run.returncode == 0 and len(batches(s)) in (0, 1), run.stderr)
    check(s.once().returncode == 0 and len(batches(s)) == 1)
    s.configure(shop.GANG.format(more="").replace("50%", "100%"))
    put(s, gang_2_pdf=TWO, gang_3_pdf=THREE, gang_4_pdf=FOUR)
    check(s.once().returncode == 0)
    check(sum(j["state"] == "waiting" for j in s.jobs()) == 3, "three fill no sheet wholly")
    ganging(s, 'gang-for = "1ms"')
    watcher = s.begin()
    wait_for(lambda: all(j["state"] == "ready" for j in s.jobs()))
    s.end(watcher)
    whole(s, ONE, TWO, THREE, FOUR)


def a_person_does_not_wait(s):
    ganging(s)
    check("No job waits" in s.run("gang", "now").stdout)
    put(s, gang_1_pdf=ONE)
    s.once()
    run = s.run("gang", "now", "--by", "Quillow")
    check(run.returncode == 0 and by_name(s)["gang_1.pdf"]["state"] == "ready", run.stderr)
    told = s.ledger("show", str(by_name(s)["gang_1.pdf"]["job"]))["events"]
    check(any(e["who"] == "Quillow" and e["what"] == "gang now" for e in told), told)
    watcher = s.begin()
    put(s, gang_2_pdf=TWO)
    wait_for(lambda: by_name(s).get("gang_2.pdf", {}).get("state") == "waiting")
    run = s.run("gang", "now")
    check(run.returncode == 0 and "1 job: noted" in run.stdout, run.stdout)
    wait_for(lambda: by_name(s)["gang_2.pdf"]["state"] == "ready")
    put(s, gang_3_pdf=THREE)
    wait_for(lambda: by_name(s).get("gang_3.pdf", {}).get("state") == "waiting")
    third = by_name(s)["gang_3.pdf"]["job"]
    run = s.run("again", third)
    check(run.returncode == 64 and "waits for a sheet" in run.stderr, run.stderr)
    check(s.run("release", third).returncode == 0)
    wait_for(lambda: by_name(s)["gang_3.pdf"]["state"] == "ready")
    put(s, gang_4_pdf=FOUR)
    wait_for(lambda: by_name(s).get("gang_4.pdf", {}).get("state") == "waiting")
    fourth = by_name(s)["gang_4.pdf"]["job"]
    check(s.run("discard", fourth, "--why", "called off").returncode == 0)
    wait_for(lambda: by_name(s)["gang_4.pdf"]["state"] == "discarded")
    s.end(watcher)
    check("called off" in by_name(s)["gang_4.pdf"]["reason"])
    whole(s, ONE, TWO, THREE, FOUR)


def what_was_said_is_kept(s):
    """A held piece that is released waits with what was said; the sheets show it so."""
    ganging(s)
    put(s, gang_large_pdf=pdf("Too large", size=(800, 1400), more=" 0 0 1 rg 50 50 700 40 re f 50 50 40 1300 re f"))
    check(s.once().returncode == 2)
    large = by_name(s)["gang_large.pdf"]["job"]
    run = s.run("release", large, "--width", "3in", "--by", "Quillow")
    check(run.returncode == 0, run.stderr)
    waits = by_name(s)["gang_large.pdf"]
    check(waits["state"] == "waiting", waits)
    check(s.run("gang", "now").returncode == 0)
    batch, = batches(s)
    order = tomllib.loads(pathlib.Path(batch["original"]).read_text())
    check(order["piece"][0]["width"] == "216pt", order)
    sheets = next(p for p in s.files("ready") if not p.name.endswith(".job.pdf"))
    box = json.loads(s.run("check", sheets, "--target", "gang", "--format", "json").stdout)["files"][0]["pages"][0]["ink_pt"]
    check(215 < box[2] - box[0] < 240 or 215 < box[3] - box[1] < 360, box)
    check("Quillow" in words_of(sheets.with_name(sheets.stem + ".job.pdf")), "who released it")
    again = s.run("gang", batch["original"], "-o", s / "by-hand.pdf")
    check(again.returncode == 0, again.stderr)


def once_more(s):
    """A batch, one of its sheets, a piece."""
    s.configure(shop.GANG.format(more="").replace('target = "gang"\n', 'target = "gang"\ncopies = 3\n'))
    put(s, gang_1_pdf=ONE)
    check(s.once().returncode == 0 and by_name(s)["gang_1.pdf"]["state"] == "waiting", "its second sheet is half empty")
    check(s.run("gang", "now").returncode == 0)
    batch, = batches(s)
    outputs = lambda: [o for o in s.ledger("show", str(batch["job"]))["outputs"] if o["kind"] == "pdf"]
    check([o["pages"] for o in outputs()] == [2], "three of which two share a sheet")
    check(s.run("again", batch["job"]).returncode == 0 and [o["pages"] for o in outputs()] == [2, 2], outputs())
    check(s.run("spoiled", batch["job"], "--sheet", 3, "--why", "jam").returncode == 64, "there are two")
    run = s.run("spoiled", batch["job"], "--sheet", 2, "--why", "jam")
    check(run.returncode == 0 and [o["pages"] for o in outputs()] == [2, 2, 1], run.stderr)
    check("jam" in s.run("ledger", "--sheets").stdout and " 1 spoiled" in s.run("ledger", "--sheets").stdout, s.run("ledger", "--sheets").stdout)
    piece = by_name(s)["gang_1.pdf"]["job"]
    run = s.run("spoiled", piece, "--why", "torn")
    check(run.returncode == 64 and f"layright spoiled {batch['job']} --piece {piece}" in run.stderr, run.stderr)
    run = s.run("spoiled", batch["job"], "--piece", piece, "--why", "torn")
    check(run.returncode == 0 and by_name(s)["gang_1.pdf"]["state"] == "waiting", run.stderr)
    check(s.run("gang", "now").returncode == 0)
    last = batches(s)[-1]
    check([o["pages"] for o in s.ledger("show", str(last["job"]))["outputs"] if o["kind"] == "pdf"] == [1], "one copy of it")
    check(by_name(s)["gang_1.pdf"]["batch"] == last["job"] and s.run("ledger", "check").returncode == 0)


def one_that_goes_bad(s):
    """It is held by itself, or gone; the others wait again. What nobody can lay holds the sheet, and a person takes it apart."""
    ganging(s)
    put(s, gang_1_pdf=ONE)
    s.once()
    (s / "originals" / "gang_1.pdf").unlink()
    put(s, gang_2_pdf=TWO)
    run = s.once()
    jobs = by_name(s)
    check(jobs["gang_1.pdf"]["state"] == "missing" and jobs["gang_2.pdf"]["state"] == "waiting", (jobs, run.stderr))
    check([b["state"] for b in batches(s)] == ["discarded"], batches(s))
    check(s.run("gang", "now").returncode == 0 and by_name(s)["gang_2.pdf"]["state"] == "ready")
    before = (s / "layright.toml").read_text()
    put(s, gang_3_pdf=THREE)
    s.once()
    (s / "layright.toml").write_text(before + '[target.gang.limits]\nseconds-a-file = 0.0001\n')
    s.run("gang", "now")
    held = batches(s)[-1]
    third = by_name(s)["gang_3.pdf"]
    check(held["state"] == "discarded" and third["state"] == "held" or held["state"] == "held", (held, third))
    (s / "layright.toml").write_text(before)
    if held["state"] == "held":
        check(s.run("release", third["job"]).returncode == 64, "it is on its way")
        check(s.run("discard", held["job"], "--why", "one by one").returncode in (0, 2), "2 where its pieces are held by themselves")
        third = by_name(s)["gang_3.pdf"]
    check(third["state"] == "held" and "gang_3.pdf.txt" in names(s, "held"), third)
    check(s.run("release", third["job"]).returncode == 0 and by_name(s)["gang_3.pdf"]["state"] == "waiting", by_name(s)["gang_3.pdf"])
    check(s.run("gang", "now").returncode == 0 and by_name(s)["gang_3.pdf"]["state"] == "ready")


def meant_for(data, press):
    """The same, with an output intent."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as file:
        file.Root.OutputIntents = pikepdf.Array([pikepdf.Dictionary(Type=pikepdf.Name.OutputIntent, S=pikepdf.Name.GTS_PDFX,
                                                                    OutputConditionIdentifier=press, OutputCondition=press)])
        file.save(out)
    return out.getvalue()


def meant_for_different_presses(s):
    """They never share a sheet, and none holds the others; what does not say goes with either."""
    ganging(s)
    one, two, three = meant_for(ONE, "Dim Press"), meant_for(TWO, "Bright Press"), meant_for(THREE, "Dim Press")
    put(s, gang_1_pdf=one, gang_2_pdf=two)
    check(s.once().returncode == 0 and not batches(s) and [j["state"] for j in s.jobs()] == ["waiting"] * 2, s.jobs())
    put(s, gang_3_pdf=three)
    check(s.once().returncode == 0)
    jobs, (batch,) = by_name(s), batches(s)
    check(batch["state"] == "ready" and labels(s, batch) == sorted(jobs[n]["job"] for n in ("gang_1.pdf", "gang_3.pdf")), batch)
    check(jobs["gang_2.pdf"]["state"] == "waiting", jobs)
    put(s, gang_4_pdf=FOUR)
    check(s.once().returncode == 0)
    jobs, batch = by_name(s), batches(s)[-1]
    check(batch["state"] == "ready" and labels(s, batch) == sorted(jobs[n]["job"] for n in ("gang_2.pdf", "gang_4.pdf")), (batch, jobs))
    check(len(batches(s)) == 2 and all(j["state"] == "ready" for j in s.jobs()), s.jobs())
    whole(s, one, two, three, FOUR)


def killed_while_sheets_are_made(s):
    """At any moment: at the next start the sheets are there, each piece once."""
    ganging(s)
    arrived = [gang_art(f"The quick brown fox {n}", str(n)) for n in range(6)]
    for n, data in enumerate(arrived):
        (s / "in" / f"gang-{n}.pdf").write_bytes(data)
    for pause in (0.05, 0.1, 0.2, 0.4):
        watcher = s.begin()
        try:
            watcher.wait(pause)
        except Exception:
            watcher.send_signal(signal.SIGKILL)
            watcher.wait()
    check(s.once().returncode == 0 and s.run("gang", "now").returncode == 0)
    check(all(j["state"] == "ready" for j in s.jobs()), s.jobs())
    whole(s, *arrived)


TESTS = [until_a_sheet_is_filled, until_its_time_is_over, a_person_does_not_wait, what_was_said_is_kept, once_more, one_that_goes_bad,
         meant_for_different_presses, killed_while_sheets_are_made]


if __name__ == "__main__":
    sys.exit(shop.run_tests(TESTS))
