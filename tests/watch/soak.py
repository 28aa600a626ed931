"""Random arrivals, slow writers, deaths of the watcher and of its children, for a while; then everything must be in exactly one place, once.

    soak.py BUILD-FOLDER [--seconds N] [--seed N] [--corpus FOLDER]      the corpus's PDFs arrive as well
"""
import argparse
import os
import pathlib
import random
import signal
import subprocess
import sys
import tempfile
import threading
import time

import shop


class Customers(threading.Thread):
    """They drop files in all the ways there are, each with bytes of its own."""

    def __init__(self, s, chance, corpus, until):
        super().__init__()
        self.s, self.chance, self.corpus, self.until = s, chance, corpus, until
        self.arrived = []

    def data(self):
        number = len(self.arrived)
        kind = self.chance.random()
        if self.corpus and kind < 0.3:
            return self.chance.choice(self.corpus).read_bytes() + f"\n% copy {number}\n".encode()
        if kind < 0.5:
            return shop.pdf("", note=str(number))
        if kind < 0.6:
            return os.urandom(self.chance.randrange(1, 5000))
        if kind < 0.7 and self.arrived:
            return self.chance.choice(self.arrived)
        return shop.pdf(f"Order {number} of the day", note=str(number))

    def drop(self, data):
        name = self.chance.choice(["order", "fox", "Fox", "f\u00fcchse", "long" * 60]) + self.chance.choice(["", f"-{self.chance.randrange(5)}"]) + ".pdf"
        path = self.s / "in" / name
        if path.exists():  # another customer's file that is not taken yet: nobody overwrites that
            return False
        way = self.chance.randrange(4)
        if way == 0:
            path.write_bytes(data)
        elif way == 1:
            part = path.with_name("u.part")
            part.write_bytes(data)
            os.rename(part, path)
        elif way == 2:  # slowly, held open
            with open(path, "wb") as f:
                for start in range(0, len(data), max(1, len(data) // 5)):
                    f.write(data[start:start + max(1, len(data) // 5)])
                    f.flush()
                    time.sleep(0.02)
        else:  # from a folder beside it
            aside = self.s / "aside"
            aside.write_bytes(data)
            os.rename(aside, path)
        return True

    def run(self):
        while time.monotonic() < self.until:
            data = self.data()
            if data and self.drop(data):
                self.arrived.append(data)
            time.sleep(self.chance.random() * 0.15)


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--seconds", type=float, default=20)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--corpus", type=pathlib.Path)
    o = options.parse_args()
    print(f"seed {o.seed}, {o.seconds:g} s")
    chance = random.Random(o.seed)
    corpus = [p for p in sorted(o.corpus.rglob("*.pdf")) if p.stat().st_size < 300000] if o.corpus else []
    deaths = children = 0
    with tempfile.TemporaryDirectory(dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None, prefix="layright-soak-") as folder:
        s = shop.Shop(o.build.resolve() / "layright", pathlib.Path(folder) / "s", 'poll = "500ms"', settle="150ms")
        until = time.monotonic() + o.seconds
        customers = Customers(s, random.Random(o.seed + 1), corpus, until)
        customers.start()
        while time.monotonic() < until:
            with subprocess.Popen(s.words("watch"), stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL, env=s.environment()) as watcher:
                time.sleep(min(chance.expovariate(0.6), max(0, until - time.monotonic())))
                kids = pathlib.Path(f"/proc/{watcher.pid}/task/{watcher.pid}/children").read_text().split()
                if kids and chance.random() < 0.3:
                    os.kill(int(chance.choice(kids)), signal.SIGKILL)
                    children += 1
                    time.sleep(0.1)
                watcher.send_signal(chance.choice([signal.SIGKILL, signal.SIGKILL, signal.SIGTERM]))
                deaths += 1
        customers.join()
        last = s.once(timeout=1200)
        faults = s.faults(customers.arrived)
        states = {}
        for job in s.jobs():
            states[job["state"]] = states.get(job["state"], 0) + 1
    print(f"{len(customers.arrived)} arrivals, {deaths} deaths of the watcher, {children} of children; {states}")
    for fault in faults[:20]:
        print("  " + fault)
    if faults:
        print(last.stderr[-3000:])
    good = not faults and last.returncode in (0, 2)
    print(f"{int(good)} passed, {int(not good)} failed")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
