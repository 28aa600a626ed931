"""The measurements of tests/bench/run. Only ratios within one run are judged: no absolute speed is asserted, but for the two seconds that an
order of 500 pieces may take.

Ratios are of processor time (user and system, of the whole tree of processes), which other work on the machine hardly changes; only
what is about two cores is judged by the clock on the wall. What is compared runs in turns, and the least of its runs counts.
"""
import argparse
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import threading
import time

import formats
import gang_bench
import intake
import plate_bench
from reading import reading

HERE = pathlib.Path(__file__).parent
WIDE_SHEET = "12.5x19in"  # holds a page of 8.5 x 11 in whole, so that nobody need look where its ink lies


class Cost:
    """Wall-clock and processor seconds."""

    def __init__(self, wall, processor):
        self.wall, self.processor = wall, processor


def start(words):
    nowhere = subprocess.DEVNULL
    return subprocess.Popen([str(w) for w in words], stdout=nowhere, stderr=nowhere, stdin=nowhere)


def run(words):
    """A command that fails ends the bench; `check` ends with 1 or 2 where it has something to say."""
    begun = time.monotonic()
    process = start(words)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in ((0, 1, 2) if "check" in words else (0,)):
        sys.exit(f"{' '.join(map(str, words))}: ended with {process.returncode}")
    return Cost(time.monotonic() - begun, used.ru_utime + used.ru_stime)


def least(costs):
    return Cost(min(c.wall for c in costs), min(c.processor for c in costs))


def in_turns(times, *commands):
    """The least cost of each of the commands, which run one after another, so many times."""
    rounds = [[run(words) for words in commands] for _ in range(times)]
    return [least(costs) for costs in zip(*rounds)]


def children_of(pid):
    try:
        tasks = pathlib.Path(f"/proc/{pid}/task").iterdir()
        kids = [int(k) for t in tasks for k in (t / "children").read_text().split()]
    except OSError:
        return []
    return kids + [g for k in kids for g in children_of(k)]


def held_by(pid):
    """What these processes hold, shared pages shared out, in kB."""
    total = 0
    for one in [pid, *children_of(pid)]:
        try:
            for line in pathlib.Path(f"/proc/{one}/smaps_rollup").read_text().splitlines():
                if line.startswith("Pss:"):
                    total += int(line.split()[1])
        except OSError:
            pass
    return total


def memory(words):
    """The most that the whole tree of processes held, in kB."""
    process, most, over = start(words), [0], threading.Event()

    def watch():
        while not over.wait(0.02):
            most[0] = max(most[0], held_by(process.pid))

    watcher = threading.Thread(target=watch)
    watcher.start()
    process.wait()
    over.set()
    watcher.join()
    return most[0]


class Bench:
    def __init__(self, build, quick):
        self.build = build
        self.program, self.bare = build / "layright", build / "tests" / "bare_bbox"
        self.quick, self.rows, self.notes = quick, [], []

    def row(self, what, figure, limit, unit="", at_most=True):
        kept = figure <= limit if at_most else figure >= limit
        self.rows.append({"what": what, "figure": round(figure, 4), "limit": limit, "unit": unit, "kept": kept, "at_most": at_most})
        print(f"  {what:78} {figure:9.3f} {unit:4} {'at most' if at_most else 'at least'} {limit:7.3f}  {'' if kept else 'MISSED'}", flush=True)

    def note(self, what, figure, unit):
        self.notes.append({"what": what, "figure": round(figure, 4), "unit": unit})
        print(f"  {what:78} {figure:9.3f} {unit}", flush=True)

    def took(self, *commands, times=1):
        """What one costs; of several, which take turns, each."""
        costs = in_turns(times, *commands)
        return costs[0] if len(commands) == 1 else costs

    def memory(self, words):
        return memory(words) / 1024

    def check(self, *files, jobs=1, only=True):
        return [self.program, "check", *files, "--format", "json", "--jobs", jobs] + (["--only", "ink.margin"] if only else [])

    def lay(self, path, out, *more):
        return [self.program, "lay", path, "-o", out, "--force", "--reading", "as-is", *more]


def make_pdf(folder, count):
    path = folder / f"{count}.pdf"
    if not path.exists():
        subprocess.run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-dCount={count}", "-o", path, HERE / "pages.ps"], check=True)
    return path


def gs_bbox(path):
    return ["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=bbox", path]


def one_page(bench, folder):
    print("one page")
    path = make_pdf(folder, 1)
    ours, everything, theirs, info = in_turns(10 if bench.quick else 30, bench.check(path), bench.check(path, only=False), gs_bbox(path),
                                              ["pdfinfo", "-box", path])
    bench.row("check --only ink.margin, of Ghostscript's bbox device", ours.processor / theirs.processor, 0.2)
    for what, cost in (("check --only ink.margin", ours), ("check, everything", everything), ("pdfinfo -box", info)):
        bench.note(f"{what}, by the clock", cost.wall * 1000, "ms")


def many_pages(bench, folder, count):
    print(f"{count} pages of text and vectors")
    path, out = make_pdf(folder, count), folder / "out.pdf"
    times = 3 if bench.quick else 7
    ours, bare = in_turns(times, bench.check(path), [bench.bare, path])
    everything, trace, bbox = in_turns(1, bench.check(path, only=False), ["mutool", "draw", "-q", "-F", "trace", "-o", os.devnull, path],
                                       gs_bbox(path))
    bench.row("check --only ink.margin, of mutool draw -F trace", ours.processor / trace.processor, 0.15)
    bench.row("check --only ink.margin, of Ghostscript's bbox device", ours.processor / bbox.processor, 1 / 50)
    bench.row("check --only ink.margin, of a bare MuPDF bbox-device pass", ours.processor / bare.processor, 1.6)
    bench.note("check --only ink.margin, a page", ours.processor * 1000 / count, "ms")
    bench.note("check, everything, of a bare MuPDF bbox-device pass", everything.processor / bare.processor, "")
    fast, rewrite = in_turns(times, bench.lay(path, out, "--by", "page", "--no-verify", "--only", "page.size", "--sheet", WIDE_SHEET), ["qpdf", path, out])
    # What check would hold, lay looks for; here nobody asks for a check that reads the marks.
    bench.row("lay --by page --no-verify --only page.size, of qpdf IN OUT", fast.processor / rewrite.processor, 1.5)
    lay, ours, rewrite = in_turns(min(times, 5), bench.lay(path, out, "--jobs", 2), bench.check(path), ["qpdf", path, out])
    bench.row("lay, processor time, of 2.4 check passes and 1.5 qpdf", lay.processor / (2.4 * ours.processor + 1.5 * rewrite.processor), 1)
    bench.row("lay, by the clock on two cores, of 1.5 check passes and 1.5 qpdf", lay.wall / (1.5 * ours.wall + 1.5 * rewrite.wall), 1)


def parts(bench, folder):
    print("art larger than the sheet")
    path = folder / "banner.pdf"
    subprocess.run(["/usr/bin/python3", HERE.parent / "tile" / "banner.py", path], check=True)
    program, costs = bench.build / "tests" / "tile_map", []
    for _ in range(3 if bench.quick else 9):
        costs.append(float(subprocess.run([program, path], check=True, capture_output=True, text=True).stdout.split()[0]))
    bbox = bench.took(gs_bbox(path), ["true"], times=3)[0]
    bench.row("tile: the map and all cuts of a dense banner of 80 in, of Ghostscript's bbox device", min(costs) / bbox.processor, 0.5)


def growth_with_pages(bench, folder):
    print("growth with pages")
    counts = [10, 100, 1000] + ([] if bench.quick else [10000])
    costs, held = {}, {}
    for count in counts:
        path = make_pdf(folder, count)
        costs[count] = least([run(bench.check(path)) for _ in range(5 if count < 1000 else 3 if count == 1000 else 1)])
        held[count] = memory(bench.check(path))
        bench.note(f"{count} pages: check --only ink.margin, processor time", costs[count].processor * 1000, "ms")
        bench.note(f"{count} pages: memory", held[count] / 1024, "MB")
    few, middle, most = counts[-3:]
    slope = (costs[most].processor - costs[middle].processor) / (most - middle)
    before = (costs[middle].processor - costs[few].processor) / (middle - few)
    bench.row(f"a further page from {middle} to {most}, of one from {few} to {middle}", slope / before, 1.3)
    bench.row(f"memory for {most} pages", held[most] / 1024, 200, "MB")
    bench.row(f"memory a page from {middle} to {most}", (held[most] - held[middle]) / (most - middle), 4, "kB")


def growth_with_files(bench, folder):
    print("growth with files")
    page, folders = make_pdf(folder, 2), {}
    counts = [10, 100] + ([] if bench.quick else [1000])
    for count in counts:
        folders[count] = folder / f"files{count}"
        folders[count].mkdir()
        for i in range(count):
            shutil.copy(page, folders[count] / f"{i}.pdf")
    few, most = counts[-2:]
    costs = {count: in_turns(3, bench.check(folders[count]), bench.check(folders[count], jobs=2)) for count in counts}
    for count in counts:
        bench.note(f"{count} files: check --only ink.margin, processor time", costs[count][0].processor * 1000, "ms")
    one, two = costs[most]
    bench.row(f"a further file up to {most}, of one up to {few}",
              (one.processor - costs[few][0].processor) / (most - few) / (costs[few][0].processor / few), 1.3)
    bench.row(f"{most} files, by the clock: times as fast on two cores as on one", one.wall / two.wall, 1.8, at_most=False)


def main():
    import art_bench  # it measures with what is defined above
    words = argparse.ArgumentParser()
    words.add_argument("build", type=pathlib.Path)
    words.add_argument("--quick", action="store_true", help="a tenth of everything: to try it, not to judge by")
    words.add_argument("--json", type=pathlib.Path)
    asked = words.parse_args()
    bench, begun = Bench(asked.build, asked.quick), time.monotonic()
    print(f"load before: {os.getloadavg()[0]:.2f} on {os.cpu_count()} cores; what goes by the clock means little on a busy machine")
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        one_page(bench, folder)
        many_pages(bench, folder, 100 if bench.quick else 1000)
        growth_with_pages(bench, folder)
        growth_with_files(bench, folder)
        parts(bench, folder)
        gang_bench.rows(bench, folder, memory)
        reading(bench, folder, asked.build / "tests" / "reading_measure")
        art_bench.rows(bench, folder, 100 if bench.quick else 1000)
        plate_bench.rows(bench, folder, asked.build / "tests" / "erosion")
        intake.measure(bench, folder)
        formats.measure(bench, folder)
    target = asked.json or asked.build / "bench.json"
    target.write_text(json.dumps({"cores": os.cpu_count(), "judged": bench.rows, "told": bench.notes}, indent=1) + "\n")
    missed = [r["what"] for r in bench.rows if not r["kept"]]
    print(f"took {time.monotonic() - begun:.0f} s; {len(bench.rows) - len(missed)} of {len(bench.rows)} limits kept; figures in {target}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
