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
