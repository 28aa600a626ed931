#!/usr/bin/python3
"""Lets all of the shop's art arrive in a watched folder, takes it in once, and prints the ledger and what lies beside a held file.

    take_in.py PROGRAM FOLDER          FOLDER/art holds what make_art.py made; the intake is FOLDER/intake
"""
import pathlib
import shutil
import subprocess
import sys

HERE = pathlib.Path(__file__).parent


def layright(program, *words):
    return subprocess.run([program, *map(str, words), "--config", HERE / "layright.toml"], capture_output=True, text=True)


def main():
    program, demo = sys.argv[1], pathlib.Path(sys.argv[2])
    intake = demo / "intake"
    shutil.rmtree(intake, ignore_errors=True)
    (intake / "in").mkdir(parents=True)
    art = sorted((demo / "art").glob("*.pdf"))
    for path in art:
        shutil.copy(path, intake / "in")
    shutil.copy(art[0], intake / "in" / "the-same-again.pdf")
    run = layright(program, "watch", "--once")
    if run.returncode not in (0, 2):
        sys.exit(f"layright watch ended with {run.returncode}: {run.stderr}")
    print(f"\nThe watch folder: {len(art) + 1} files arrived; layright watch --once, then layright ledger:\n")
    print(layright(program, "ledger").stdout)
    check = layright(program, "ledger", "check")
    print(check.stdout)
    note = next(iter(sorted((intake / "held").glob("*.txt"))))
    print(f"Beside a held file, {note.name}:\n\n{note.read_text()}")
    return check.returncode or ("held" not in layright(program, "ledger").stdout)


if __name__ == "__main__":
    sys.exit(main())
