"""How long it takes to tell which way a page reads by its letters, and how often that succeeds, by kind of page (tests/reading)."""
import pathlib
import re
import resource
import subprocess

READING = pathlib.Path(__file__).parents[1] / "reading"
ROW = re.compile(r"^(\S.*?) +(\d+) +([\d.]+)% +(\d+) +([\d.]+) +([\d.]+)$")
SEED = 11


def tesseract(page):
    """Processor seconds of Tesseract's own command line for one reading of the page, and poppler's for its picture."""
    picture = page.with_suffix("")
    begun = children_time()
    subprocess.run(["pdftoppm", "-r", "200", "-gray", "-png", "-singlefile", page, picture], check=True)
    subprocess.run(["tesseract", f"{picture}.png", "-", "--psm", "6"], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                   env={"OMP_THREAD_LIMIT": "1", "PATH": "/usr/bin:/bin"})
    return children_time() - begun


def children_time():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def least_of_checks(program, pages, *more):
    """Processor seconds of `check` for all the pages, the least of three rounds."""
    rounds = []
    for _ in range(3):
        begun = children_time()
        for page in pages:
            subprocess.run([program, "check", page, "--reading", "wrong", "--sheet", "40x40in", "--only", "reading.unknown", *more], stdout=subprocess.DEVNULL)
        rounds.append(children_time() - begun)
    return min(rounds)


def live_text(bench, folder, layright):
    """Where live text covers the art nobody looks at letters, and it costs what a person's word costs; elsewhere it is told what looking costs."""
    for kind, judged in (("honest: live text alone", True), ("honest: footer and outlines", False), ("honest: sheet as a picture", False)):
        pages = folder / kind.replace(":", "").replace(" ", "-")
        subprocess.run(["/usr/bin/python3", READING / "deceptive.py", layright.parent, pages, "--count", "8", "--seed", str(SEED), "--kind", kind],
                       stdout=subprocess.DEVNULL)
        made = sorted(pages.glob("*.pdf"))
        looked, told = least_of_checks(layright, made), least_of_checks(layright, made, "--incoming", "right")
        if judged:
            bench.row("pages that live text covers, told by it, of the same told by a person", looked / told, 1.25)
        else:
            bench.note(f"looking at letters, a page ({kind.removeprefix('honest: ')})", 1000 * (looked - told) / len(made), "ms")


def reading(bench, folder, program):
    """`program` is tests/reading_measure. Seconds are of processor time; a page's picture is part of it."""
    print("which way pages read, by their letters")
    pages = folder / "reading"
    made = 36 * (2 if bench.quick else 12)
    subprocess.run(["/usr/bin/python3", READING / "make_pages.py", "--part", "test", "--count", str(made), "--seed", str(SEED), "--into", pages],
                   check=True, stdout=subprocess.DEVNULL)
    told = subprocess.run([program, pages], stdout=subprocess.PIPE, text=True).stdout
    rows = {}
    for line in told[told.index("\nkind "):].splitlines():
        if found := ROW.match(line):
            kind, count, decided, wrong, median, worst = found.groups()
            rows[kind] = int(count), float(decided), int(wrong), float(median), float(worst)
            bench.note(f"{kind}: {decided} % decided; in the middle {float(median) * 1000:.0f} ms, at worst", float(worst) * 1000, "ms")
    all_pages, legible = rows["(all)"], rows["(all with letters)"]
    bench.row(f"wrong answers on {all_pages[0]} pages", all_pages[2], 0)
    bench.row(f"decided, of {legible[0]} legible pages", legible[1], 95, "%", at_most=False)
    sample = sorted(pages.glob("*.pdf"))[:: 36 if bench.quick else 18]
    theirs = sorted(tesseract(page) for page in sample)[len(sample) // 2]
    bench.row("a page in the middle, all ways to lie, of one reading by Tesseract's command line", all_pages[3] / theirs, 1)
    live_text(bench, folder, program.parents[1] / "layright")
