"""Several desks over one PostgreSQL server: each arrival is worked on once, by whoever is free; what dies, hangs or sleeps is gone on with.

    desks.py BUILD-FOLDER [NAME…] [--all] [--seed N]
"""
import argparse
import collections
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import traceback

import cluster
import shop


TRY_AGAIN = 75  # of one whose server did not answer at its beginning: its service begins it again


def art(n):
    return shop.pdf(f"The quick brown fox number {n}", note=str(n))


class Days:
    def __init__(self, build, server, folder, chance, whole):
        self.build, self.server, self.folder, self.chance, self.whole, self.number = build, server, folder, chance, whole, 0
        self.last = None
        self.injector = build / "tests" / "fault_injector.so"

    def shop(self, lease="2s", address=None, **settings):
        self.number += 1
        self.last = cluster.SharedShop(self.build / "layright", self.folder / str(self.number), address or self.server.database(), lease, **settings)
        return self.last

    def arrive(self, s, count):
        files = {f"fox-{n}.pdf": art(n) for n in range(count)}
        for name, data in files.items():
            (s / "in" / name).write_bytes(data)
        return list(files.values())

    def must_be_whole(self, s, arrived):
        """As Shop.faults, and by the server: no job laid twice, no name twice."""
        faults = s.faults(arrived)
        twice = self.server.sql("SELECT entry, count(*) FROM event WHERE what='laid' GROUP BY entry HAVING count(*)>1", s.address)
        if twice:
            faults.append("laid twice: " + twice)
        same = self.server.sql("SELECT path, count(*) FROM output WHERE there=1 GROUP BY path HAVING count(*)>1", s.address)
        if same:
            faults.append("one name twice: " + same)
        left = [p.name for f in ("ready", "held", "originals") for p in s.files(f) if p.name.startswith(".")]
        if len(left) > 40:
            faults.append(f"left: {left}")
        if faults:
            told = "\n".join(p.read_text(errors="replace")[-1500:] for p in sorted(s.folder.glob("told-*")))
            raise AssertionError("\n".join(faults) + "\n" + told)

    # ---- the days

    def one_desk(self):
        """What a person does with a ledger of a server is what is done with one of a file."""
        s = self.shop()
        (s / "in" / "fox.pdf").write_bytes(art(1))
        (s / "in" / "blank.pdf").write_bytes(shop.pdf(""))
        (s / "in" / b"caf\xc3\xa9 \xff.pdf".decode(errors="surrogateescape")).write_bytes(art(2))
        assert s.once().returncode == 2
        jobs = {j["name"]: j for j in s.jobs()}
        assert jobs["fox.pdf"]["state"] == "ready" and jobs["blank.pdf"]["state"] == "held", jobs
        number = str(jobs["blank.pdf"]["job"])
        assert "blank.pdf" in s.run("ledger", "show", number).stdout
        assert "fox" in s.run("ledger", "--name", "f?x*").stdout and "blank" not in s.run("ledger", "--name", "f?x*").stdout
        assert "caf" in s.run("ledger", "--name", "caf\u00e9").stdout
        assert "blank" in s.run("ledger", "--name", "[a-c]lank*").stdout
        day = s.run("ledger", "--day", "today").stdout
        assert "fox" in day and "none" in s.run("ledger", "--day", "2001-01-01").stdout, day
        assert " used" in s.run("ledger", "--sheets").stdout
        assert s.run("again", str(jobs["fox.pdf"]["job"])).returncode == 0
        assert s.run("spoiled", str(jobs["fox.pdf"]["job"]), "--sheets", "2", "--why", "crooked").returncode == 0
        assert "crooked" in s.run("ledger", "--sheets").stdout
        assert s.run("discard", number, "--why", "not \u201cours\u201d").returncode == 0
        assert s.run("ledger", "check").returncode == 0, s.run("ledger", "check").stdout
        (s / "in" / "again.pdf").write_bytes(art(1))
        assert s.once().returncode == 2 and "same bytes" in s.run("ledger", "--state", "held").stdout

    def ganged(self):
        """Of what waits to share sheets one desk makes a job: each piece lies on one sheet, whoever is killed meanwhile."""
        s = self.shop()
        s.configure(shop.GANG.format(more=""))
        alive = [s.desk() for _ in range(3)]
        arrived = [shop.gang_art(f"The quick brown fox {n}", str(n)) for n in range(11)]
        for n, data in enumerate(arrived):
            (s / "in" / f"gang-{n}.pdf").write_bytes(data)
        for at in range(3):
            time.sleep(self.chance.uniform(0, 1))
            os.killpg(alive[at].pid, signal.SIGKILL)
            alive[at].wait()
            alive[at] = s.desk()

        def pieces():
            return [j["state"] for j in s.jobs() if j["batch"] != j["job"]]
        shop.wait_for(lambda: len(pieces()) == 11 and set(pieces()) <= {"ready", "waiting"} and pieces().count("waiting") < 2)
        assert s.run("gang", "now").returncode == 0
        shop.wait_for(lambda: pieces() == ["ready"] * 11)
        self.must_be_whole(s, arrived)
        s.close()

    def passwords(self):
        """None in the configuration, none in what is said; from the file that libpq knows it is taken."""
        address = self.server.database("guarded")
        s = self.shop(address=address.replace("guarded@", "guarded:a%20secret@"))
        refused = s.once()
        assert refused.returncode == 64 and "password" in refused.stderr and "secret" not in refused.stderr, refused.stderr
        s = self.shop(address=address + "?password=secret")
        refused = s.once()
        assert refused.returncode == 64 and "secret" not in refused.stderr, refused.stderr
        s = self.shop(address=address)
        refused = s.once({"PGPASSFILE": "/nowhere"})
        assert refused.returncode == 75, (refused.returncode, refused.stderr)
        known = s / "pgpass"
        known.write_text(f"127.0.0.1:{self.server.port}:*:guarded:a secret\n")
        known.chmod(0o600)
        (s / "in" / "fox.pdf").write_bytes(art(1))
        run = s.once({"PGPASSFILE": str(known)})
        assert run.returncode == 0 and "secret" not in run.stderr, run.stderr

    def two_desks(self):
        """Each arrival once; decisions are done by whoever sees them; one with a ledger of its own is kept out."""
        s = self.shop()
        desks = [s.desk(), s.desk()]
        arrived = self.arrive(s, 12)
        (s / "in" / "blank.pdf").write_bytes(shop.pdf(""))
        arrived.append(shop.pdf(""))
        shop.wait_for(lambda: s.at_rest(13))
        owners = self.server.sql("SELECT count(DISTINCT owner) FROM entry", s.address)
        number = next(j["job"] for j in s.jobs() if j["name"] == "blank.pdf")
        said = s.run("discard", str(number), "--why", "empty")
        assert said.returncode == 0 and "running watch" in said.stdout, said
        shop.wait_for(lambda: {j["job"]: j["state"] for j in s.jobs()}[number] == "discarded")
        self.must_be_whole(s, arrived)
        other = s / "other.toml"
        other.write_text((s / "layright.toml").read_text().replace(s.address, "alone.db"))
        alone = subprocess.run([str(s.program), "watch", "--once", "--config", str(other)], capture_output=True, text=True)
        assert alone.returncode == 75 and "another watcher" in alone.stderr, alone
        for desk in desks:
            desk.send_signal(signal.SIGTERM)
            assert desk.wait(30) in (0, 130, 143), desk.log.read_text()
        assert s.run("ledger", "--format", "json").returncode == 0
        print(f"  two desks: {owners} had jobs")
        s.close()

    def asleep(self):
        """One that is stopped for longer than its lease, while it has jobs in hand, and wakes."""
        s = self.shop(lease="1s")
        first = s.desk()
        arrived = self.arrive(s, 8)
        shop.wait_for(lambda: s.summary()[0] > 0)
        os.killpg(first.pid, signal.SIGSTOP)
        s.desk()
        shop.wait_for(lambda: s.at_rest(8), 90)
        os.killpg(first.pid, signal.SIGCONT)
        more = shop.pdf("one more")
        (s / "in" / "more.pdf").write_bytes(more)
        shop.wait_for(lambda: s.at_rest(9), 60)
        time.sleep(1.5)  # longer than the lease: what the sleeper still had in hand has come to its end
        self.must_be_whole(s, arrived + [more])
        s.close()

    def injected(self, s, **more):
        return {"LD_PRELOAD": str(self.injector), "FAULT_BELOW": str(s.folder), **more}

    def killed(self, tries=None):
        """One is killed before its n-th call that changes a file, or its n-th statement, another lives."""
        for _ in range(tries or (60 if self.whole else 5)):
            n = self.chance.randrange(1, 160)
            s = self.shop(lease="1s")
            first = s.desk(environment=self.injected(s, FAULT_AT=str(n), FAULT_SENDS="1"))
            arrived = self.arrive(s, 3)
            second = s.desk()
            shop.wait_for(lambda: s.at_rest(3), 90)
            assert second.poll() is None
            try:
                self.must_be_whole(s, arrived)
            except AssertionError as told:
                raise AssertionError(f"killed at call {n}: {told}") from None
            del first
            s.close()

    def share(self):
        """Folders that answer as a share does, and clocks two hours apart."""
        s = self.shop(lease="60s")  # far from the clocks' difference, and longer than a busy machine keeps a desk waiting
        for shift in (3600, -3600):
            s.desk(environment=self.injected(s, FAULT_SHARE="1", FAULT_SHIFT=str(shift)))
        arrived = self.arrive(s, 10)
        (s / "in" / "blank.pdf").write_bytes(shop.pdf(""))
        shop.wait_for(lambda: s.at_rest(11), 90)
        self.must_be_whole(s, arrived + [shop.pdf("")])
        again = self.server.sql("SELECT count(*) FROM entry WHERE token>1", s.address)
        assert again == "0", f"{again} were taken from a desk that lived"
        s.close()

    def copied(self):
        """A ledger goes from a file to a server and back, and is the same."""
        s = shop.Shop(self.build / "layright", self.folder / "file")
        for name, data in {"fox.pdf": art(1), "again.pdf": art(1), "blank.pdf": shop.pdf(""), b"caf\xe9.pdf".decode(errors="surrogateescape"): art(2)}.items():
            (s / "in" / name).write_bytes(data)
        s.once()
        was, address = s.jobs(), self.server.database()
        copied = s.run("ledger", "copy", s / "intake.db", address)
        assert copied.returncode == 0 and "entry    4 rows, the same in both" in copied.stdout, copied
        refused = s.run("ledger", "copy", s / "intake.db", address)
        assert refused.returncode == 73 and "jobs already" in refused.stderr, refused
        back = s.run("ledger", "copy", address, s / "back.db")
        assert back.returncode == 0, back
        dumps = [subprocess.run(["sqlite3", str(s / name), "SELECT * FROM entry ORDER BY id; SELECT * FROM output ORDER BY id; SELECT * FROM event ORDER BY rowid"],
                                capture_output=True).stdout for name in ("intake.db", "back.db")]
        assert "texts had bytes that are no UTF-8" in copied.stdout, copied.stdout  # the event that names the laid caf?.pdf; its name itself is kept
        dumps = [dump.decode(errors="replace") for dump in dumps]
        assert dumps[0] == dumps[1] and dumps[0], dumps
        toml = s / "layright.toml"
        toml.write_text(toml.read_text().replace("intake.db", address))
        assert s.jobs() == was
        (s / "in" / "new.pdf").write_bytes(art(3))
        assert s.once().returncode == 0 and len(s.jobs()) == 5, s.jobs()
        assert s.run("ledger", "check").returncode == 0

    def restarted(self):
        """The server ends at once, several times, under load."""
        s = self.shop(lease="2s")
        s.desk(), s.desk()
        count = 40 if self.whole else 12
        arrived = self.arrive(s, count)
        for _ in range(4 if self.whole else 2):
            time.sleep(self.chance.uniform(0.2, 1.5))
            self.server.stop("immediate")
            time.sleep(self.chance.uniform(0, 0.5))
            self.server.start()
        shop.wait_for(lambda: s.at_rest(count), 120)
        self.must_be_whole(s, arrived)
        s.close()

    def many(self):
        """Desks that die and begin again at random."""
        desks, count = (8, 2000) if self.whole else (3, 24)
        s = self.shop(lease="2s", more="job-sheet = false\n")
        arrived = self.arrive(s, count)
        alive = [s.desk() for _ in range(desks)]
        kills, begun = 0, time.monotonic()
        while not s.at_rest(count):
            if time.monotonic() - begun > shop.patience(60 + count):
                raise AssertionError(f"waited in vain: {s.summary()} of {count}")
            if kills < (60 if self.whole else 5):
                at = self.chance.randrange(desks)
                if alive[at].poll() is None:
                    os.killpg(alive[at].pid, signal.SIGKILL)
                assert alive[at].wait() in (-signal.SIGKILL, TRY_AGAIN), alive[at].log.read_text()
                alive[at] = s.desk()
                kills += 1
            time.sleep(self.chance.uniform(0, 1.5))
        self.must_be_whole(s, arrived)
        tokens = self.server.sql("SELECT count(*) FROM entry WHERE token>1", s.address)
        print(f"  {desks} desks, {count} files, {kills} kills: {tokens} were gone on with by another")
        s.close()


NAMES = ["one_desk", "ganged", "passwords", "two_desks", "asleep", "killed", "share", "copied", "restarted", "many"]


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("names", nargs="*")
    options.add_argument("--all", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    o = options.parse_args()
    good = bad = 0
    server = cluster.Cluster()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-desks-", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None))
    try:
        days = Days(o.build.resolve(), server, folder, random.Random(o.seed), o.all)
        for name in o.names or (NAMES if o.all else sorted(random.Random(o.seed).sample(list(NAMES), 5))):
            begun = time.monotonic()
            try:
                getattr(days, name)()
                good += 1
                print(f"  {name}: well, {time.monotonic() - begun:.1f} s", flush=True)
            except Exception:  # the others are tried all the same
                bad += 1
                print(f"  {name}: " + traceback.format_exc(limit=2), flush=True)
                if days.last:
                    days.last.close()
    finally:
        server.close()
        shutil.rmtree(folder, ignore_errors=True)
    print(f"{good} passed, {bad} failed")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
