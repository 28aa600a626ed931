"""What the checks of the art cost beside the ink-only pass, and a proof and a report beside their rendering."""
import json
import os
import subprocess

from bench import in_turns, make_pdf

DRAWN = ("ink.total", "white.under")  # these look at a drawing of the page
GROUPS = ("picture", "line", "text", "font", "colour", "white")


def checks_of_the_art(program):
    listed = json.loads(subprocess.run([program, "checks", "--format", "json"], capture_output=True, check=True).stdout)
    return [c["check"] for c in listed if c["check"].split(".")[0] in GROUPS and c["check"] not in DRAWN]


def rows(bench, folder, count):
    print(f"checks of the art, {count} pages")
    path = make_pdf(folder, count)
    all_of_the_art = [bench.program, "check", path, "--format", "json", "--jobs", 1,
                      "--only", ",".join(["ink.margin", *checks_of_the_art(bench.program)])]
    ink, art = in_turns(3, bench.check(path), all_of_the_art)
    (drawn,) = in_turns(1, [bench.program, "check", path, "--format", "json", "--jobs", 1, "--only", ",".join(["ink.margin", *DRAWN])])
    bench.row("ink and all checks of the art, of the ink-only pass", art.processor / ink.processor, 2)
    bench.row("ink, ink.total and white.under (a drawing of each page), of the ink-only pass", drawn.processor / ink.processor, 10)
    one = make_pdf(folder, 1)
    without, drawing, proof = in_turns(3, [bench.program, "check", one, "--jobs", 1], ["mutool", "draw", "-q", "-r", "144", "-F", "png", "-o", os.devnull, one],
                                       [bench.program, "check", one, "--jobs", 1, "--proof", folder / "proof.png"])
    bench.row("a proof of one page, processor time beyond the check and its rendering", proof.processor - without.processor - drawing.processor, 0.5, "s")
