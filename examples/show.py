#!/usr/bin/python3
"""Does the job on the art of the Quillowfen print room, an invented shop, and tells what came in, what was found and what was written.

    show.py PROGRAM FOLDER          FOLDER/art holds what make_art.py made
"""
import json
import pathlib
import subprocess
import sys

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


def layright(program, *words):
    run = subprocess.run([program, *map(str, words), "--format", "json"], capture_output=True, text=True)
    if run.returncode not in (0, 1, 2, 65):
        sys.exit(f"layright {words[0]} ended with {run.returncode}: {run.stderr}")
    return json.loads(run.stdout)


def findings_of(file):
    return [f for page in file.get("pages", []) for f in page["findings"]] + file["findings"]


def screen(program, *words, short=None):
    """Runs it and prints what it tells, as whoever types the same sees it; short names for what lies in the demo's folder."""
    run = subprocess.run([program, *map(str, words)], capture_output=True, text=True)
    if run.returncode not in (0, 1, 2, 65):
        sys.exit(f"layright {words[0]} ended with {run.returncode}: {run.stderr}")
    art = next(pathlib.Path(w) for w in words[1:])
    print(run.stdout.replace(f"{short or art.parent}/", ""), end="")


def show(program, target, art, out):
    """One target: checks and lays all of the art. Gives the troubles that were not found."""
    out.mkdir()
    shop = ["--config", HERE / "layright.toml", "--target", target]
    checked = layright(program, "check", art, *shop)
    print(f"\nlayright lay art -o {target}/ --target {target}\n")
    screen(program, "lay", art, "-o", f"{out}/", *shop)
    missed = []
    for file in checked["files"]:
        name = pathlib.Path(file["path"]).stem
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


def dark_shirt(program, folder):
    """White is made from the art; fine lines keep a core of it, and the finest go without. Gives what is not so."""
    art, laid = folder / "dark" / "shirt-moonrise.pdf", folder / "dark" / "shirt-moonrise-laid.pdf"
    shop = ["--config", HERE / "layright.toml", "--target", "narrow-white-beneath"]
    screen(program, "lay", art, "-o", laid, *shop)
    subprocess.run([program, "check", art, *map(str, shop), "--proof", folder / "dark" / "shirt-moonrise-proof.png", "--proof-goods", "dark"],
                   stdout=subprocess.DEVNULL)
    checked = layright(program, "check", art, *shop)["files"][0]
    plate = checked["pages"][0].get("plate", {})
    found = {f["check"] for f in findings_of(checked)}
    if plate:
        print(f"The white plate covers {plate['white_pt2'] / 72 / 72:.1f} square inches of {plate['ink_pt2'] / 72 / 72:.1f} under ink.")
    return [f"{check} is not told" for check in ("white.thin", "white.rim") if check not in found] + ["no plate"] * (not plate or not laid.exists())


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
    screen(program, "lay", art / "order-locked.pdf", "-o", unlocked / "order-locked.pdf", "--config", HERE / "layright.toml", "--target", "narrow",
           "--password-file", folder / "order-locked.password")
    print("\nA dark shirt, with white beneath its colors:\n")
    missed += [f"shirt-moonrise: {m}" for m in dark_shirt(program, folder)]
    print("\nThe banner of the fair, 40 in long, on sheets of 17 in:\n")
    tiles = folder / "tiles"
    tiles.mkdir()
    screen(program, "tile", folder / "large" / "fair-banner.pdf", "-o", tiles / "fair-banner.pdf", "--config", HERE / "layright.toml", "--target", "narrow",
           "--assembly", tiles / "fair-banner-assembly.png", "--manifest", tiles / "fair-banner.json")
    print("\nThe rowers' order, nine pieces on as few sheets as can be:\n")
    ganged = folder / "ganged"
    ganged.mkdir()
    screen(program, "gang", HERE / "team-order.toml", "-o", ganged / "team.pdf", "--manifest", ganged / "team.json", "--config", HERE / "layright.toml",
           short=folder)
    print(f"\nLaid sheets are in {folder}/narrow, wide, unlocked, dark, tiles and ganged; report.html and proofs (NAME-proof.png) beside them.")
    for miss in missed:
        print(f"not found: {miss}", file=sys.stderr)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
