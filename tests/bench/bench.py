"""The measurements of tests/bench/run. Only ratios within one run are judged: no absolute speed is ever asserted."""
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

HERE = pathlib.Path(__file__).parent


class Cost:
    """Wall-clock and processor seconds, and the most memory that the whole tree of processes held, in MB."""

    def __init__(self, wall, processor, memory):
        self.wall, self.processor, self.memory = wall, processor, memory


def children_of(pid):
    try:
        tasks = pathlib.Path(f"/proc/{pid}/task").iterdir()
        kids = [int(k) for t in tasks for k in (t / "children").read_text().split()]
    except OSError:
        return []
    return kids + [g for k in kids for g in children_of(k)]


def memory_of(pid):
    """What these processes hold, shared pages shared out, in MB."""
    total = 0
    for one in [pid, *children_of(pid)]:
        try:
            for line in pathlib.Path(f"/proc/{one}/smaps_rollup").read_text().splitlines():
                if line.startswith("Pss:"):
                    total += int(line.split()[1])
        except OSError:
            pass
    return total / 1024


def once(words, allowed, watch_memory):
    begun = time.monotonic()
    process = subprocess.Popen([str(w) for w in words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
    most, over = [0.0], threading.Event()

    def watch():
        while not over.wait(0.05):
            most[0] = max(most[0], memory_of(process.pid))

    watcher = threading.Thread(target=watch) if watch_memory else None
    if watcher:
        watcher.start()
    _, status, used = os.wait4(process.pid, 0)
    wall = time.monotonic() - begun
    process.returncode = os.waitstatus_to_exitcode(status)
    over.set()
    if watcher:
        watcher.join()
    if process.returncode not in allowed:
        sys.exit(f"{' '.join(map(str, words))}: ended with {process.returncode}")
    return Cost(wall, used.ru_utime + used.ru_stime, most[0])


def measure(words, times=3, allowed=(0,), watch_memory=False, before=None):
    """The least of several runs: what is above it is the machine's doing."""
    costs = []
    for _ in range(times):
        if before:
            before()
        costs.append(once(words, allowed, watch_memory))
    return Cost(min(c.wall for c in costs), min(c.processor for c in costs), max(c.memory for c in costs))


class Bench:
    def __init__(self, build, quick):
        self.program, self.bare = build / "layright", build / "tests" / "bare_bbox"
        self.quick, self.rows, self.notes = quick, [], []

    def row(self, what, figure, limit, unit="", at_most=True):
        kept = figure <= limit if at_most else figure >= limit
        self.rows.append({"what": what, "figure": round(figure, 4), "limit": limit, "unit": unit, "kept": kept, "at_most": at_most})
        print(f"  {what:78} {figure:9.3f} {unit:4} {'at most' if at_most else 'at least'} {limit:7.3f}  {'' if kept else 'MISSED'}", flush=True)

    def note(self, what, figure, unit):
        self.notes.append({"what": what, "figure": round(figure, 4), "unit": unit})
        print(f"  {what:78} {figure:9.3f} {unit}", flush=True)

    def check(self, *files, only=True, times=3, jobs=1, **more):
        words = [self.program, "check", *files, "--format", "json", "--jobs", jobs]
        return measure(words + (["--only", "ink.margin"] if only else []), times, allowed=(0, 1, 2), **more)


def make_pdf(folder, count):
    path = folder / f"{count}.pdf"
    subprocess.run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-dCount={count}", "-o", path, HERE / "pages.ps"], check=True)
    return path


def gs_bbox(path):
    return ["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=bbox", path]


def one_page(bench, folder):
    print("one page")
    path = make_pdf(folder, 1)
    times = 10 if bench.quick else 30
    ours, theirs = bench.check(path, times=times), measure(gs_bbox(path), times)
    bench.row("check --only ink.margin, of Ghostscript's bbox device", ours.wall / theirs.wall, 0.2)
    bench.note("check --only ink.margin", ours.wall * 1000, "ms")
    bench.note("check, everything", bench.check(path, only=False, times=times).wall * 1000, "ms")
    bench.note("pdfinfo -box", measure(["pdfinfo", "-box", path], times).wall * 1000, "ms")


def many_pages(bench, folder, count):
    print(f"{count} pages of text and vectors")
    path, out = make_pdf(folder, count), folder / "out.pdf"
    ours, everything = bench.check(path), bench.check(path, only=False)
    bare = measure([bench.bare, path])
    trace = measure(["mutool", "draw", "-q", "-F", "trace", "-o", os.devnull, path], 1)
    bbox = measure(gs_bbox(path), 1)
    bench.row("check --only ink.margin, of mutool draw -F trace", ours.wall / trace.wall, 0.15)
    bench.row("check --only ink.margin, of Ghostscript's bbox device", ours.wall / bbox.wall, 1 / 50)
    bench.row("check --only ink.margin, of a bare MuPDF bbox-device pass", ours.wall / bare.wall, 1.6)
    bench.note("check, everything, of a bare MuPDF bbox-device pass", everything.wall / bare.wall, "")
    rewrite = measure(["qpdf", path, out])
    fast = [bench.program, "lay", path, "-o", out, "--force", "--by", "page", "--no-verify", "--jobs", 1]
    whole = [bench.program, "lay", path, "-o", out, "--force", "--jobs", 1]
    bench.row("lay --by page --no-verify, of qpdf IN OUT", measure(fast).wall / rewrite.wall, 1.5)
    lay = measure(whole)
    bench.row("lay, processor time, of 2.4 check passes and 1.5 qpdf", lay.processor / (2.4 * ours.processor + 1.5 * rewrite.processor), 1)
    bench.row("lay, wall time, of 1.5 check passes and 1.5 qpdf", lay.wall / (1.5 * ours.wall + 1.5 * rewrite.wall), 1)


def memory_and_growth(bench, folder):
    print("growth with pages")
    counts = [10, 100, 1000] + ([] if bench.quick else [10000])
    costs = {}
    for count in counts:
        path = folder / f"{count}.pdf"
        path = path if path.exists() else make_pdf(folder, count)
        costs[count] = bench.check(path, times=3 if count < 10000 else 1, watch_memory=True)
        bench.note(f"{count} pages: check --only ink.margin", costs[count].wall * 1000, "ms")
    most, middle = counts[-1], counts[-2]
    slope = (costs[most].wall - costs[middle].wall) / (most - middle)
    before = (costs[middle].wall - costs[counts[-3]].wall) / (middle - counts[-3])
    bench.row(f"a further page from {middle} to {most}, of one from {counts[-3]} to {middle}", slope / before, 1.3)
    bench.row(f"memory for {most} pages", costs[most].memory, 200, "MB")
    bench.row(f"memory a page from {middle} to {most}", (costs[most].memory - costs[middle].memory) * 1024 / (most - middle), 4, "kB")


def many_files(bench, folder):
    print("growth with files")
    page, folders = make_pdf(folder, 2), {}
    counts = [10, 100] + ([] if bench.quick else [1000])
    for count in counts:
        folders[count] = folder / f"files{count}"
        folders[count].mkdir()
        for i in range(count):
            shutil.copy(page, folders[count] / f"{i}.pdf")
    one = {count: bench.check(folders[count], times=2) for count in counts}
    for count in counts:
        bench.note(f"{count} files, one core", one[count].wall * 1000, "ms")
    most, middle = counts[-1], counts[-2]
    bench.row(f"a further file up to {most}, of one up to {middle}",
              ((one[most].wall - one[middle].wall) / (most - middle)) / (one[middle].wall / middle), 1.3)
    two = bench.check(folders[most], times=2, jobs=2)
    bench.row(f"{most} files on two cores, times as fast as on one", one[most].wall / two.wall, 1.8, at_most=False)


def main():
    words = argparse.ArgumentParser()
    words.add_argument("build", type=pathlib.Path)
    words.add_argument("--quick", action="store_true", help="a tenth of everything: to try it, not to judge by")
    words.add_argument("--json", type=pathlib.Path)
    asked = words.parse_args()
    bench = Bench(asked.build, asked.quick)
    print(f"load before: {os.getloadavg()[0]:.2f} on {os.cpu_count()} cores; ratios mean little on a busy machine")
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        one_page(bench, folder)
        many_pages(bench, folder, 100 if bench.quick else 1000)
        memory_and_growth(bench, folder)
        many_files(bench, folder)
        import formats  # it takes what it needs from here
        formats.formats(bench, folder)
    target = asked.json or asked.build / "bench.json"
    target.write_text(json.dumps({"cores": os.cpu_count(), "judged": bench.rows, "told": bench.notes}, indent=1) + "\n")
    missed = [r["what"] for r in bench.rows if not r["kept"]]
    print(f"{len(bench.rows) - len(missed)} of {len(bench.rows)} limits kept; figures in {target}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
