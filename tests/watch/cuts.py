"""Desks whose server or line breaks at each statement, and desks that die or oversleep their lease at each call: nothing is lost, twice or half.

    cuts.py BUILD-FOLDER [NAME…] [--all] [--seed N]      without --all a few points of each, chosen by the seed
"""
import argparse
import concurrent.futures
import os
import pathlib
import random
import shutil
import sys
import tempfile
import threading
import time

import between
import cluster
import desks
import shop

# One that is ready, the same bytes again, a page that is held.
ARRIVING = {"fox.pdf": desks.art(1), "fox-again.pdf": desks.art(1), "blank.pdf": shop.pdf("")}
SOON = "600ms"  # a lease that is soon over


class Bench:
    """A server of its own for each thread that works."""

    def __init__(self, build, folder, seed):
        self.build, self.folder, self.seed, self.counts = build, folder, seed, {}
        self.own, self.all, self.lock = threading.local(), [], threading.Lock()

    def days(self):
        if not hasattr(self.own, "days"):
            with self.lock:
                number = len(self.all)
                server = cluster.Cluster(fsync=False)  # the machine itself does not die here
                self.all.append(server)
            self.own.days = desks.Days(self.build, server, self.folder / f"bench-{number}", random.Random(self.seed), False)
        return self.own.days

    def count(self, what, measure):
        """How many there are without any fault; measured once."""
        if what not in self.counts:
            self.counts[what] = measure(self.days())
        return self.counts[what]

    def close(self):
        for server in self.all:
            server.close()


def begin(days):
    s = days.shop(lease=SOON, more="job-sheet = false\n")
    for name, data in ARRIVING.items():
        (s / "in" / name).write_bytes(data)
    return s


def at_rest(s):
    """False also while the server does not answer."""
    try:
        return s.at_rest(len(ARRIVING))
    except AssertionError:
        return False


def judged(days, s, rest=lambda: None, died=False):
    """What is wrong, once all is at rest; and how many jobs another desk went on with."""
    try:
        shop.wait_for(lambda: at_rest(s), 60)
        rest()
        for path in s.files("held"):  # of a desk that died while it wrote a note: a start removes it once it is a day old
            if died and path.name.startswith(".layright-"):
                path.unlink()
        days.must_be_whole(s, ARRIVING.values())
        return [], int(days.server.sql("SELECT count(*) FROM entry WHERE token>1", s.address))
    except AssertionError as told:
        words = "\n".join(p.read_text(errors="replace")[-2500:] for p in sorted(s.folder.glob("told-*")))
        rows = days.server.sql("SELECT id, name, state, owner, token, place, lease FROM entry ORDER BY id", s.address)
        return [str(told), words, rows, str([p.name for p in s.files("in")])], 0
    finally:
        s.close()
        shutil.rmtree(s.folder, ignore_errors=True)


def over_line(days, at, way, company):
    """A desk behind a line that breaks at its `at`-th statement; in company another that has a line of its own."""
    server = days.server

    def restart():
        server.stop("immediate")
        server.start()

    line = between.Between(server.port, at, way, restart)
    s = begin(days)
    address = s.address
    s.configure_for(address.replace(f":{server.port}/", f":{line.port}/"))
    first = s.desk()
    while first.poll() == desks.TRY_AGAIN:  # at its very beginning it has no ledger yet: the service begins it again
        line.rest()
        first = s.desk()
    s.configure_for(address)
    if company:
        s.desk()
    found, again = judged(days, s, line.rest)
    line.close()
    return found, again, line.count


def at_call(days, at, way):
    """A desk that is hit at its `at`-th call, and another that lives."""
    s = begin(days)
    log = s.folder.parent / (s.folder.name + "-calls")
    first = s.desk(environment=days.injected(s, FAULT_AT=str(at), FAULT_DO=way, FAULT_SENDS="1", FAULT_LOG=str(log)))
    if at:
        s.desk()
    if way == "sleep":  # it wakes with what it had in hand
        shop.wait_for(lambda: first.poll() is not None or at_rest(s), 60)
        time.sleep(1.6)
    found, again = judged(days, s, died=way != "sleep")
    calls = len(log.read_text().splitlines()) if log.exists() else 0
    log.unlink(missing_ok=True)
    return found, again, calls


def points(count, share, chance):
    every = list(range(1, count + 1))
    return every if share is None else sorted(chance.sample(every, min(share, count)))


def tried(pool, name, cases):
    """Prints a row of the table; whether all is well."""
    begun, bad, again = time.monotonic(), 0, 0
    for case, (found, others, _) in zip(cases, pool.map(lambda case: case[1](), cases)):
        again += others
        if found:
            bad += 1
            print(f"  {name} at {case[0]}: " + "\n    ".join(found), flush=True)
    print(f"  {name}: {len(cases)} tried, {bad} not survived, {again} jobs were gone on with by another; {time.monotonic() - begun:.0f} s", flush=True)
    return bad == 0


def line_cases(bench, way, share, chance):
    count = bench.count("statements", lambda days: over_line(days, 0, way, False)[2])
    return [(f"statement {at} of {count}", lambda at=at, company=bool(at % 2): over_line(bench.days(), at, way, company))
            for at in points(count, share, chance)]


def call_cases(bench, way, share, chance):
    count = bench.count("calls", lambda days: at_call(days, 0, way)[2])
    return [(f"call {at} of {count}", lambda at=at: at_call(bench.days(), at, way)) for at in points(count, share, chance)]


NAMES = {**{f"line {way}": (line_cases, way) for way in between.WAYS}, "oversleeping": (call_cases, "sleep"), "dying": (call_cases, "kill")}


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("names", nargs="*", help="which of: " + ", ".join(NAMES))
    options.add_argument("--all", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--points", type=int, default=1, help="so many of each, without --all")
    o = options.parse_args()
    chance, good = random.Random(o.seed), []
    folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-cuts-", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None))
    bench = Bench(o.build.resolve(), folder, o.seed)
    try:
        with concurrent.futures.ThreadPoolExecutor(3 if o.all or o.points > 2 else 2) as pool:
            for name in o.names or (NAMES if o.all or o.points > 1 else sorted(random.Random(o.seed).sample(list(NAMES), 4))):
                cases, way = NAMES[name]
                good.append(tried(pool, name, cases(bench, way, None if o.all else o.points, chance)))
    finally:
        bench.close()
        shutil.rmtree(folder, ignore_errors=True)
    print(f"{sum(good)} passed, {len(good) - sum(good)} failed")
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
