"""Kills the intake before its n-th call that changes a file or the ledger, for every n, with and without the loss of all that was not
synced, and lets every call fail with every error; then starts it again and compares. Without one sync or without the intention written first the
same comparison must fail.

    faults.py BUILD-FOLDER [--all] [--seed N] [--show]      --show: the calls of one file, in order
"""
import argparse
import concurrent.futures
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import threading

import shop

# What arrives: one that is ready; or that, the same bytes again, and a page that is held.
ONE = {"fox.pdf": shop.pdf("The quick brown fox")}
THREE = {**ONE, "fox-again.pdf": ONE["fox.pdf"], "blank.pdf": shop.pdf("")}
GANGED = {f"gang-{n}.pdf": shop.gang_art(f"The quick brown fox {n}") for n in (1, 2, 3)}  # two share a sheet, the third waits
PLATED = {"fox-plate.pdf": ONE["fox.pdf"]}  # laid as two files: both get their names, or neither
WAYS = ["kill", "power", "ENOSPC", "EIO", "EACCES", "ENOSPC+"]
# A program without this sync, or without this intention, must be found out. The text is part of a path; SQL is run in the ledger first.
CARELESS = {
    "sync of the arrived file": ({"FAULT_DROP": "in/fox.pdf"}, None),
    "sync of the originals' folder": ({"FAULT_DROP": "/originals$"}, None),
    "sync of the watched folder": ({"FAULT_DROP": "/in$"}, None),
    "sync of the outputs' folder": ({"FAULT_DROP": "/ready$"}, None),
    "sync of the outputs": ({"FAULT_DROP": "/ready/"}, None),
    "sync of the held folder": ({"FAULT_DROP": "/held$"}, None),
    "sync of the ledger": ({"FAULT_DROP": "intake.db-wal"}, None),
    "sync of the order": ({"FAULT_DROP": "/originals/"}, None),
    "intention to move": ({}, "CREATE TRIGGER careless BEFORE UPDATE ON entry WHEN new.state='moving' BEGIN SELECT RAISE(IGNORE); END"),
    "intention to place": ({}, "CREATE TRIGGER careless BEFORE UPDATE ON entry WHEN new.state='placing' BEGIN SELECT RAISE(IGNORE); END"),
}


class Faults:
    def __init__(self, build, folder):
        self.program, self.injector = build / "layright", build / "tests" / "fault_injector.so"
        self.folder, self.number, self.lock = folder, 0, threading.Lock()

    def shop(self, files, sql=None):
        with self.lock:
            self.number += 1
            number = self.number
        s = shop.Shop(self.program, self.folder / str(number))
        if files is GANGED:
            s.configure(shop.GANG.format(more=""))
        if files is PLATED:
            s.configure('[[intake.desk.rule]]\nmatch = "*plate*"\ntarget = "plated"\n')
        if sql:
            s.once()
            s.sqlite(sql)
        for name, data in files.items():
            (s / "in" / name).write_bytes(data)
        return s

    def environment(self, s, **more):
        return {"LD_PRELOAD": str(self.injector), "FAULT_BELOW": str(s.folder), **more}

    def calls(self, files, sql=None):
        """The calls of a run that nothing happens to, one a line."""
        s = self.shop(files, sql)
        log = self.folder / "calls"
        log.unlink(missing_ok=True)
        run = s.once(self.environment(s, FAULT_LOG=str(log)))
        faults = s.faults(files.values())
        if faults:
            sys.exit(f"without any fault: {faults}\n{run.stderr}")
        lines = log.read_text().splitlines()
        shutil.rmtree(s.folder)
        return lines

    def survives(self, files, n, way, drop=None, sql=None):
        """What is wrong after the fault and another start."""
        s = self.shop(files, sql)
        first = s.once(self.environment(s, FAULT_AT=str(n), FAULT_DO=way, **(drop or {})))
        second = s.once()
        if files is GANGED:  # what waits is laid, and nothing that was laid before
            waited = sum(j["state"] == "waiting" for j in s.jobs())
            now = s.run("gang", "now")
            if now.returncode or (waited > 0) == ("No job waits" in now.stdout):
                second = now
        try:
            faults = s.faults(files.values())
        except AssertionError as told:
            faults = [str(told)]
        if second.returncode not in (0, 2):
            faults.append(f"the next start ended with {second.returncode}")
        if faults:
            faults += [f"first: {first.returncode} {first.stderr.strip()}", f"then: {second.stderr.strip()}"]
        shutil.rmtree(s.folder, ignore_errors=True)
        shutil.rmtree(str(s.folder) + "-kept", ignore_errors=True)
        return faults


def every_fault(faults, pool, files, share, chance):
    calls = len(faults.calls(files))
    points = [(n, way) for n in range(1, calls + 1) for way in WAYS]
    some = points if share >= len(points) else chance.sample(points, share)
    bad = 0
    for (n, way), found in zip(some, pool.map(lambda p: faults.survives(files, *p), some)):
        if found:
            bad += 1
            print(f"  {way} at call {n}: " + "\n    ".join(found))
    kills = sum(way in ("kill", "power") for _, way in some)
    print(f"{len(files)} arrivals: {calls} calls; {kills} kills and {len(some) - kills} write errors tried, {bad} not survived")
    return bad == 0


def pairs_stay_whole(faults, share, chance):
    """A plain `lay` that writes two files, over an earlier pair or none: after any fault there is no laid file with another's plate, or without
    one; a plate that is alone is named on the next run; and --force makes the pair."""
    folder = faults.folder / "pair"
    art, more = folder / "art.pdf", folder / "more.pdf"
    laid, white = folder / "out.pdf", folder / "out-white.pdf"
    words = [faults.program, "lay", "-o", laid, "--sheet", "8.5x17in", "--reading", "as-is", "--white", "prints", "--plate", "all", "--plate-as", "file"]

    def lay(source, *options, **environment):
        return subprocess.run([*words, source, *options], capture_output=True, text=True, env={**os.environ, "SOURCE_DATE_EPOCH": "1000000000", **environment})

    def pair():
        return tuple(path.read_bytes() if path.exists() else None for path in (laid, white))

    def fresh(earlier):
        for path in folder.iterdir():
            path.unlink()
        art.write_bytes(ONE["fox.pdf"]), more.write_bytes(shop.pdf("Jackdaws love my big sphinx"))
        for path, data in zip((laid, white), earlier):
            path.write_bytes(data)

    folder.mkdir()
    wanted = {}
    for name in ("art", "more"):
        fresh(())
        if lay(folder / f"{name}.pdf").returncode:
            sys.exit("the pair is not made without any fault")
        wanted[name] = pair()
    bad = tried = 0
    for earlier in ((), wanted["more"]):
        fresh(earlier)
        log = faults.folder / "pair-calls"
        log.unlink(missing_ok=True)
        watched = {"LD_PRELOAD": str(faults.injector), "FAULT_BELOW": str(folder)}
        force = ["--force"] * bool(earlier)
        lay(art, *force, **watched, FAULT_LOG=str(log))
        points = [(n, way) for n in range(1, len(log.read_text().splitlines()) + 1) for way in WAYS]
        for n, way in points if share >= len(points) else chance.sample(points, share):
            tried += 1
            fresh(earlier)
            done = lay(art, *force, **watched, FAULT_AT=str(n), FAULT_DO=way)
            found, wrong = pair(), []
            if found[0] and found not in wanted.values():
                wrong.append("a laid file without its own plate")
            # Where all calls fail from then on, nothing can be taken back.
            if way in ("ENOSPC", "EIO", "EACCES") and done.returncode and found != (earlier or (None, None)):
                wrong.append(f"an error that changes what was there: {[bool(f) for f in found]}")
            if found[1] and found[0] is None:  # an earlier file may have come back without its bytes: the injector did not see them synced
                again = lay(art)
                if again.returncode != 73 or "without its out.pdf" not in again.stdout + again.stderr:
                    wrong.append(f"the plate alone is not named: {again.stdout}{again.stderr}")
            if lay(art, "--force").returncode or pair() != wanted["art"]:
                wrong.append("the next run does not make the pair")
            if wrong:
                bad += 1
                print(f"  {way} at call {n}, {'over an earlier pair' if earlier else 'afresh'}: " + "; ".join(wrong) + f" ({done.returncode} {done.stderr.strip()})")
    print(f"a laid file and its plate: {tried} faults tried, {bad} not survived")
    return bad == 0


def careless_is_found(faults, pool, name, chance):
    drop, sql = CARELESS[name]
    files = GANGED if "order" in name else THREE
    calls = len(faults.calls(files, sql))
    way = "power" if drop else "kill"
    points = list(range(1, calls + 1))
    chance.shuffle(points)
    for start in range(0, len(points), 8):  # until it is found out
        some = points[start:start + 8]
        for n, found in zip(some, pool.map(lambda n: faults.survives(files, n, way, drop, sql), some)):
            if found:
                print(f"without the {name}: found out at call {n}: {found[0]}")
                return True
    print(f"without the {name}: nobody notices")
    return False


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--all", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--show", action="store_true")
    o = options.parse_args()
    chance = random.Random(o.seed)
    root = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
    with tempfile.TemporaryDirectory(dir=root, prefix="layright-faults-") as folder:
        faults = Faults(o.build.resolve(), pathlib.Path(folder))
        if o.show:
            print("\n".join(faults.calls(ONE)))
            return 0
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            good = [every_fault(faults, pool, ONE, 10**6 if o.all else 24, chance), every_fault(faults, pool, THREE, 10**6 if o.all else 24, chance),
                    every_fault(faults, pool, PLATED, 10**6 if o.all else 12, chance),
                    every_fault(faults, pool, GANGED, 10**6 if o.all else 6, chance), pairs_stay_whole(faults, 10**6 if o.all else 6, chance)]
            names = list(CARELESS) if o.all else chance.sample(list(CARELESS), 2)
            good += [careless_is_found(faults, pool, name, chance) for name in names]
    print(f"{sum(good)} passed, {len(good) - sum(good)} failed")
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
