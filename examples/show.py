#!/usr/bin/python3
"""Does the job on the art of the Quillowfen print room, an invented shop, and tells what came in, what was found and what was written.

    show.py PROGRAM FOLDER          FOLDER/art holds what make_art.py made
"""
import json
import pathlib
import subprocess
import sys
import textwrap

HERE = pathlib.Path(__file__).parent

# What each file is there for; the demo fails when the program does not find it. Some are trouble on one of the two sheets only.
TROUBLE = {
    "badge-no-printing": "file.permission", "blank": "ink.blank", "crest-guide": "ink.guide", "fox-letter": "page.size",
    "kite-cut": "ink.cut", "kite-turned": "page.rotate", "moth-cropped": "page.crop", "patch-small-print": "text.small", "moth-unit": "page.unit",
    "order-locked": "file.password", "patch-damaged": "file.damaged", "poster-too-large": "ink.size", "proof-layers": "layer.hidden",
    "proof-stamped": "annot.print", "set-mixed": "page.mixed", "lamp-clear": "picture.alpha", "lamp-web": "picture.density",
    "lamp-phone": "picture.density", "lamp-misnamed": "file.format", "lamp-order": "file.format", "lamp-package": "file.converted", "lamp-torn": "file.damaged"}
ONLY_ON = {"narrow": {"fox-margin": "ink.margin", "harbour-landscape": "page.feed", "lantern-fine": "reading.reverse"},
           "wide": {"names-reversed": "reading.reverse"}}
PROOFS = ("fox-letter", "kite-cut", "crest-guide", "patch-small-print")
COLUMNS = (20, 22, 44, 40)


def layright(program, *words):
    run = subprocess.run([program, *map(str, words), "--format", "json"], capture_output=True, text=True)
    if run.returncode not in (0, 1, 2, 65):
        sys.exit(f"layright {words[0]} ended with {run.returncode}: {run.stderr}")
    return json.loads(run.stdout)


def inches(points):
    return f"{round(points / 72, 2):g}"


def came_in(file):
    sizes = [f"{inches(p['seen_size_pt'][0])} x {inches(p['seen_size_pt'][1])} in" for p in file.get("pages", []) if p.get("seen_size_pt")]
    return ", ".join(dict.fromkeys(sizes)) or "cannot be opened"


def findings_of(file):
    return [f for page in file.get("pages", []) for f in page["findings"]] + file["findings"]


def found(file):
    told = dict.fromkeys(f"{f['check']} ({f['level']})" for f in findings_of(file))
    return ", ".join(told) or "nothing"


def written(laid, out):
    path = out / (pathlib.Path(laid["path"]).stem + ".pdf")
    if not path.exists():
        return "nothing: " + (laid.get("refused") or "see what was found")
    words = []
    for page in laid["pages"]:
        p = page["placement"]
        words.append(f"{p['scale']:.0%}{', turned ' + str(p['turn']) if p['turn'] else ''}{', reversed' if p['reversed'] else ''}")
    return f"{path.parent.name}/{path.name}: " + "; ".join(dict.fromkeys(words))


def row(*cells):
    columns = [textwrap.wrap(cell, width - 2) or [""] for cell, width in zip(cells, COLUMNS)]
    for i in range(max(map(len, columns))):
        print("".join((c[i] if i < len(c) else "").ljust(width) for c, width in zip(columns, COLUMNS)).rstrip())


def show(program, target, art, out):
    """One target: checks and lays all of the art. Gives the troubles that were not found."""
    out.mkdir()
    shop = ["--config", HERE / "layright.toml", "--target", target]
    checked = layright(program, "check", art, *shop)
    laid = {f["path"]: f for f in layright(program, "lay", art, "-o", f"{out}/", *shop)["files"]}
    sheet = checked["target"]["sheet"]
    print(f"\nTarget {target}: {inches(sheet['width_pt'])} x {inches(sheet['length_pt'])} in, {sheet['feed']} first, "
          f"the printed sheet reads {checked['target']['reading']}\n")
    row("FILE", "CAME IN", "FOUND", "WRITTEN")
    missed = []
    for file in checked["files"]:
        name = pathlib.Path(file["path"]).stem
        row(name, came_in(file), found(file), written(laid[file["path"]], out))
        wanted = {**TROUBLE, **ONLY_ON[target]}.get(name)
        if wanted and wanted not in {f["check"] for f in findings_of(file)}:
            missed.append(f"{name} for {target}: {wanted}")
    pictures(program, target, art, out)
    return missed


def pictures(program, target, art, out):
    """The report as a web page, and proofs of what there is to see."""
    shop = ["--config", HERE / "layright.toml", "--target", target]
    with open(out / "report.html", "wb") as page:
        subprocess.run([program, "check", art, *map(str, shop), "--format", "html"], stdout=page)
    for name in PROOFS:
        subprocess.run([program, "check", art / f"{name}.pdf", *map(str, shop), "--proof", out / f"{name}-proof.png", "--proof-goods", "dark"], stdout=subprocess.DEVNULL)
        if not (out / f"{name}-proof.png").exists():
            sys.exit(f"no proof of {name} was drawn")


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    art = folder / "art"
    print("The Quillowfen print room is an invented shop; its art was made a moment ago by examples/make_art.py.")
    missed = [m for target in ("narrow", "wide") for m in show(program, target, art, folder / target)]
    print("\nThe locked order, once its customer has told the password:\n")
    unlocked = folder / "unlocked"
    unlocked.mkdir()
    laid = layright(program, "lay", art / "order-locked.pdf", "-o", unlocked / "order-locked.pdf", "--config", HERE / "layright.toml",
                    "--target", "narrow", "--password-file", folder / "order-locked.password")["files"][0]
    row("order-locked", came_in(laid), found(laid), written(laid, unlocked))
    print(f"\nLaid sheets are in {folder}/narrow, wide and unlocked; report.html and proofs (NAME-proof.png) beside them.")
    for miss in missed:
        print(f"not found: {miss}", file=sys.stderr)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
