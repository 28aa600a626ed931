#!/usr/bin/python3
"""Reversing a page flips right and wrong and leaves unknown and mixed; turning it changes nothing.

    reverse.py BUILD-FOLDER PAGES-FOLDER --sample N --corpus-sample N --seed S

Takes pages of make_pages.py and, where LAYRIGHT_CORPUS names a folder of real PDFs, those of their pages that read by live text (0: all).
Each is reversed and turned by `lay`, which wraps the page in a form under a matrix, and the record that would tell the answer is taken out
again; and turned by Rotate (qpdf). Pages read by live text must answer exactly; of those read by letters no two answers may contradict
each other, and few may be lost to a turn that falls otherwise on the pixels.
"""
import argparse
import collections
import concurrent.futures
import csv
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

FLIPPED = {"right": "wrong", "wrong": "right", "mixed": "mixed", "unknown": "unknown"}
LEAST_SAME = 0.9  # of the answers by letters; short words and scripts that the reader does not know are among them

Answer = collections.namedtuple("Answer", "reading source")
Result = collections.namedtuple("Result", "name variants same lost faults")


def answers(program, path, pages=None):
    """The answer of each page, by its place among those asked for; nothing where the program cannot look at one of them."""
    words = [program, "check", path, "--format", "json", "--only", "reading.unknown", "--sheet", "30x30in", *(["--pages", pages] if pages else [])]
    done = subprocess.run([str(w) for w in words], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    told = json.loads(done.stdout)["files"][0]["pages"]
    if any("reading" not in page for page in told):
        return None
    return [Answer(page["reading"], page["reading_from"]) for page in told]


def laid(program, path, out, options, pages):
    """Whether `lay` wrote the page as asked, without a word of how it reads."""
    words = [program, "lay", path, "-o", out, "--sheet", "60x60in", "--scale", "shrink", "--incoming", "right", "--accept", "reading.conflict,file.permission", *options]
    done = subprocess.run([str(w) for w in words + (["--pages", pages] if pages else [])], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    if done.returncode != 0 or not out.exists():
        return False
    out.write_bytes(out.read_bytes().replace(b"/PieceInfo", b"/OtherInfo"))
    return True


def variants(program, path, folder, pages, quick):
    """(name, file, its pages as asked for, whether it is reversed) of all that could be made; `quick` leaves some out, by the file's name."""
    reversal = [("reversed", ["--reading", "wrong"], True)]
    turns = [(f"turned by {turn}", ["--reading", "right", "--turn", str(turn)], False) for turn in (90, 180, 270)]
    rotates = [90, 180, 270]
    if quick:
        at = random.Random(path.name).randrange(3)
        turns, rotates = turns[at:at + 1], rotates[at - 1:][:1]
    for number, (name, options, is_reversed) in enumerate(reversal + turns):
        out = folder / f"{number}.pdf"
        if laid(program, path, out, options, pages):
            yield name, out, None, is_reversed
    for turn in rotates:
        out = folder / f"rotate-{turn}.pdf"
        subprocess.run(["qpdf", f"--rotate=+{turn}:1-z", path, out], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        if out.exists():
            yield f"Rotate {turn} more", out, pages, False


def look(program, path, pages, before, quick):
    """What became of the answers of one file in all its variants."""
    made = same = lost = 0
    faults = []
    with tempfile.TemporaryDirectory() as temporary:
        for name, file, asked, is_reversed in variants(program, path, pathlib.Path(temporary), pages, quick):
            after = answers(program, file, asked)
            if after is None or len(after) != len(before):
                faults.append(f"{path.name} {name}: its pages cannot be looked at")
                continue
            made += 1
            for number, (was, now) in enumerate(zip(before, after), 1):
                wanted = FLIPPED[was.reading] if is_reversed else was.reading
                by_letters = was.source != "text" or now.source != "text"  # letters beside live text have their say as well
                if now.reading == wanted:
                    same += 1
                elif by_letters and {"unknown", "mixed"} & {now.reading, wanted}:
                    lost += 1
                else:
                    faults.append(f"{path.name}, page {number} of those looked at, {name}: {now.reading} by {now.source} instead of {wanted} by {was.source}")
    return Result(path.name, made, same, lost, faults)


def rule(what, jobs, least):
    results = list(jobs)
    made, same, lost = (sum(r[i] for r in results) for i in (1, 2, 3))
    faults = [fault for r in results for fault in r.faults]
    kept = made >= least and not faults and same >= LEAST_SAME * (same + lost)
    print(f"{'kept   ' if kept else 'broken '} {what}: {len(results)} files, {made} variants, {same} answers as they must be, {lost} lost, {len(faults)} against each other")
    print("".join(f"  {fault}\n" for fault in faults), end="")
    print("".join(f"  {r.name}: {r.lost} lost\n" for r in results if r.lost), end="")
    return kept


def text_pages(program, path):
    """The file, those of its pages that read by live text, and how; nothing where there are none."""
    found = [(n, a) for n, a in enumerate(answers_by_text(program, path), 1) if a and a.source == "text"]
    return (path, ",".join(str(n) for n, _ in found), [a for _, a in found]) if found else None


def answers_by_text(program, path):
    done = subprocess.run([program, "check", path, "--format", "json", "--only", "reading.unknown"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    return [Answer(p["reading"], p["reading_from"]) if "reading" in p else None for p in json.loads(done.stdout)["files"][0]["pages"]]


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("build", type=pathlib.Path)
    words.add_argument("pages", type=pathlib.Path)
    words.add_argument("--sample", type=int, required=True)
    words.add_argument("--corpus-sample", type=int, required=True)
    words.add_argument("--seed", type=int, required=True)
    asked = words.parse_args()
    program, rng = asked.build / "layright", random.Random(asked.seed)
    with open(asked.pages / "pages.tsv", encoding="utf-8") as table:
        made = [asked.pages / row[0] for row in csv.reader(table, delimiter="\t", quoting=csv.QUOTE_NONE) if row[5] == "eng"]
    kept = []
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        chosen = rng.sample(made, min(asked.sample, len(made)))
        kept.append(rule("made pages", pool.map(lambda p: look(program, p, None, answers(program, p), True), chosen), len(chosen)))
        corpus = pathlib.Path(os.environ.get("LAYRIGHT_CORPUS", "none")) / "files"
        if corpus.is_dir():
            files = sorted(corpus.iterdir())
            files = rng.sample(files, min(asked.corpus_sample or len(files), len(files)))
            with_text = [job for job in pool.map(lambda p: text_pages(program, p), files) if job]
            kept.append(rule("real pages with live text", pool.map(lambda job: look(program, *job, bool(asked.corpus_sample)), with_text), len(with_text)))
    print(f"{sum(map(bool, kept))} passed, {len(kept) - sum(map(bool, kept))} failed")
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
