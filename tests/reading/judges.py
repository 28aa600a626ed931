#!/usr/bin/python3
"""What readers from outside say of the pages of make_pages.py, against what layright says.

    judges.py BUILD-FOLDER PAGES-FOLDER --sample N --seed S

PAGES-FOLDER holds the pages, pages.tsv and letters.txt, the answers of tests/reading/measure. Tesseract's own command line reads a sample
of the decided pages, drawn by poppler and laid upright, as they are and reversed: where it is clear itself it must agree. poppler's
pdftotext finds the words of the live pages, put together in one file: every letter of theirs must be counted on the same page, and each
page read by its text as the table says.
"""
import argparse
import concurrent.futures
import csv
import io
import json
import os
import pathlib
import random
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

from PIL import Image, ImageOps

DPI = 200
# Tesseract is clear when the words of one reading are this much surer, on a scale of 100 a character, and sure at all, and when it has found
# this share of the page's letters: of a page of words it once made nothing but "=", and was surer of it than of anything reversed. Our own choice.
AHEAD, SURE, FOUND = 12, 55, 0.5
LEAST_CLEAR = 0.6    # share of the pages on which it must be clear, else it judges nothing; 9 of the first 12 were
# The command line reads level lines of words only, and mirrored digits as letters.
NOT_FOR_IT = {"on an arc", "on a wave", "warped", "on a circle", "on a badge", "blackletter", "initials and number", "numbers", "name and number", "dots", "stripes"}


def output_of(words, **more):
    return subprocess.run([str(w) for w in words], check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, **more).stdout


def letters_in(texts):
    return sum(c.isalnum() for text in texts for c in text)


def sureness(image, language):
    """The mean sureness of Tesseract's words, each as heavy as it is long, none when it finds none; and how many letters they have."""
    png = io.BytesIO()
    image.save(png, "PNG")
    table = output_of(["tesseract", "-", "-", "-l", language, "--psm", "6", "tsv"], input=png.getvalue(), env={**os.environ, "OMP_THREAD_LIMIT": "1"})
    words = [(float(row["conf"]), row["text"].strip()) for row in csv.DictReader(io.StringIO(table.decode()), delimiter="\t", quoting=csv.QUOTE_NONE)
             if float(row["conf"]) >= 0 and row["text"].strip()]
    length = sum(len(text) for _, text in words)
    return sum(sure * len(text) for sure, text in words) / length if length else 0.0, letters_in(text for _, text in words)


def upright(page, turn, rotate):
    """The page as poppler draws it, its lines level; still reversed where the page is."""
    with tempfile.TemporaryDirectory() as folder:
        output_of(["pdftoppm", "-r", DPI, "-gray", "-png", "-singlefile", page, f"{folder}/page"])
        image = Image.open(f"{folder}/page.png").convert("L")
    return image.rotate((turn + rotate) % 360, expand=True)  # make_pages turned it clockwise, and so does Rotate


def tesseract_says(page, case):
    image = upright(page, int(case["turn"]), int(case["rotate"]))
    (right, found), (wrong, found_reversed) = (sureness(picture, case["language"]) for picture in (image, ImageOps.mirror(image)))
    most = found if right > wrong else found_reversed
    clear = abs(right - wrong) >= AHEAD and max(right, wrong) >= SURE and most >= FOUND * letters_in(case["text"])
    return right, wrong, ("right" if right > wrong else "wrong") if clear else "not clear"


def judge_letters(folder, cases, answers, count, seed):
    decided = [c for c in cases if answers.get(c["file"]) in ("right", "wrong") and c["kind"] not in NOT_FOR_IT and not c["kind"].startswith("not for its reader")]
    chosen = random.Random(seed).sample(decided, min(count, len(decided)))
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        says = list(pool.map(lambda c: tesseract_says(folder / c["file"], c), chosen))
    clear = agree = 0
    for case, (right, wrong, said) in zip(chosen, says):
        clear += said != "not clear"
        agree += said == answers[case["file"]]
        if said != answers[case["file"]]:
            print(f"  {case['file']} ({case['kind']}, {case['font']}): we say {answers[case['file']]}, Tesseract {said} ({right:.0f} right, {wrong:.0f} wrong)")
    kept = chosen and agree == clear and clear >= LEAST_CLEAR * len(chosen)
    print(f"{'kept   ' if kept else 'broken '} Tesseract's command line is clear on {clear} of {len(chosen)} pages and agrees on {agree}")
    return kept


def words_of_poppler(path):
    """The words on each page."""
    told = output_of(["pdftotext", "-bbox", path, "-"]).decode()
    told = re.sub(r"<!DOCTYPE[^>]*>", "", re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", told))
    return [[word.text or "" for word in page.iter("{http://www.w3.org/1999/xhtml}word")]
            for page in xml.etree.ElementTree.fromstring(told).iter("{http://www.w3.org/1999/xhtml}page")]


def judge_live(build, folder, cases):
    live = [c for c in cases if c["kind"] == "live"]
    together = folder / "live-together.pdf"
    output_of(["qpdf", "--empty", "--pages", *(folder / c["file"] for c in live), "--", together])
    pages = json.loads(subprocess.run([build / "layright", "check", together, "--sheet", "30x30in", "--format", "json"], stdout=subprocess.PIPE).stdout)["files"][0]["pages"]
    counted = [[int(n) for n in line.split("\t")[2:]] for line in output_of([build / "tests" / "reading_measure", "--glyphs", together]).decode().splitlines()]
    faults = []
    for case, page, found, words in zip(live, pages, counted, words_of_poppler(together), strict=True):
        letters = letters_in(words)
        if letters == 0 or letters != sum(found):
            faults.append(f"{case['file']} as page {page['number']}: poppler finds {letters} letters in {words}, we count {found}")
        if (page["reading"], page["reading_from"]) != (case["reading"], "text"):
            faults.append(f"{case['file']} as page {page['number']} reads {case['reading']}; the program says {page['reading']} by {page['reading_from']}")
    kept = live and not faults
    print(f"{'kept   ' if kept else 'broken '} pdftotext finds the words of {len(live)} live pages, each letter counted on its page and each page read by its text")
    print("".join(f"  {fault}\n" for fault in faults), end="")
    return kept


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("build", type=pathlib.Path)
    words.add_argument("pages", type=pathlib.Path)
    words.add_argument("--sample", type=int, required=True)
    words.add_argument("--seed", type=int, required=True)
    asked = words.parse_args()
    columns = ["file", "kind", "reading", "turn", "rotate", "language", "font", "text"]
    with open(asked.pages / "pages.tsv", encoding="utf-8") as table:
        cases = [dict(zip(columns, line.rstrip("\n").split("\t"))) for line in table]
    answers = {}
    for line in (asked.pages / "letters.txt").read_text(encoding="utf-8").splitlines():
        cells = line.split("\t")
        if len(cells) > 4 and cells[0].endswith(".pdf"):
            answers[cells[0]] = cells[3]
    kept = [judge_letters(asked.pages, cases, answers, asked.sample, asked.seed), judge_live(asked.build, asked.pages, cases)]
    print(f"{sum(map(bool, kept))} passed, {len(kept) - sum(map(bool, kept))} failed")
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
