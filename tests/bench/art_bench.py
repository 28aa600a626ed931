"""What the checks of the art cost beside the ink-only pass, and a proof and a report beside their rendering."""
import json
import subprocess

from bench import make_pdf, measure

GROUPS = ("picture", "line", "text", "font", "colour", "white")


def checks_of_the_art(program):
    listed = json.loads(subprocess.run([program, "checks", "--format", "json"], capture_output=True, check=True).stdout)
    return [c["check"] for c in listed if c["check"].split(".")[0] in GROUPS]


def rows(bench, folder, count):
    print(f"checks of the art, {count} pages")
    path = folder / f"{count}.pdf"
    path = path if path.exists() else make_pdf(folder, count)
    plain = [bench.program, "check", path, "--format", "json", "--jobs", 1]
    ink = measure([*plain, "--only", "ink.margin"], allowed=(0, 1, 2))
    art = measure([*plain, "--only", ",".join(["ink.margin", *checks_of_the_art(bench.program)])], allowed=(0, 1, 2))
    drawn = measure([*plain, "--only", "ink.margin,ink.total"], 1, allowed=(0, 1, 2))
    bench.row("ink and all checks of the art, of the ink-only pass", art.processor / ink.processor, 2)
    bench.row("ink and ink.total (a drawing of each page), of the ink-only pass", drawn.processor / ink.processor, 10)
    one = make_pdf(folder, 1)
    without = measure([bench.program, "check", one, "--jobs", 1], allowed=(0, 1, 2))
    drawing = measure(["mutool", "draw", "-q", "-r", "144", "-o", folder / "drawn.png", one])
    proof = measure([bench.program, "check", one, "--jobs", 1, "--proof", folder / "proof.png"], allowed=(0, 1, 2))
    bench.row("a proof of one page, beyond the check and its rendering", proof.wall - without.wall - drawing.wall, 0.5, "s")
