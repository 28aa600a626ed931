"""Many files of every kind at once: each ends in exactly one place, once, whatever it is.

    mixed.py BUILD-FOLDER [--files N] [--seed N] [--from FOLDER]…      PDFs below the folders, each copy with bytes of its own
"""
import argparse
import os
import pathlib
import random
import sys
import tempfile
import time

import shop


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--files", type=int, default=150)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--from", dest="folders", type=pathlib.Path, action="append", default=[])
    o = options.parse_args()
    chance = random.Random(o.seed)
    kinds = [p for folder in o.folders for p in sorted(folder.rglob("*.pdf")) if p.stat().st_size > 0]
    chance.shuffle(kinds)
    if not kinds:
        print("no files to take\n0 passed, 1 failed")
        return 1
    with tempfile.TemporaryDirectory(dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None, prefix="layright-mixed-") as folder:
        s = shop.Shop(o.build.resolve() / "layright", pathlib.Path(folder) / "s", "subfolders = true")
        arrived = []
        for number in range(o.files):
            path = s / "in" / str(number % 7) / (chance.choice(["", "order ", "f\u00fcchse-", "-"]) + kinds[number % len(kinds)].name)
            path = path.with_stem(path.stem + f" {number}")  # kinds of one name come from several folders
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(kinds[number % len(kinds)].read_bytes() + f"\n% copy {number}\n%%EOF\n".encode())
            arrived.append(shop.sha256(path))
        begun = time.monotonic()
        run = s.once(timeout=3600)
        took = time.monotonic() - begun
        faults = s.faults(arrived)
        if run.returncode not in (0, 2):
            faults.append(f"ended with {run.returncode}: {run.stderr[-2000:]}")
        states = {}
        for job in s.jobs():
            states[job["state"]] = states.get(job["state"], 0) + 1
    print(f"{o.files} files of {len(kinds)} kinds in {took:.0f} s: {states}")
    for fault in faults[:20]:
        print("  " + fault)
    print(f"{int(not faults)} passed, {int(bool(faults))} failed")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
