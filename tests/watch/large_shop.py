"""A month of a large shop in a ledger: rows as the program writes them, multiplied by a generator; what they take, and what desks cost and do beside
them. Held against the estimate in src/DESIGN.md.

    large_shop.py BUILD-FOLDER [--jobs N] [--desks N] [--folder FOLDER]
"""
import argparse
import os
import pathlib
import shutil
import sys
import tempfile
import time

import cluster
import shop

# What src/DESIGN.md says on paper, of a month with a million jobs on 50 desks; what is found may be half as much again. The list is one that a
# person waits for; what a desk takes slows down by cold pages at most.
ESTIMATE = {"rows a job": 5, "bytes a job": 3000, "server's processor a job, ms": 5.0, "server's processor an idle desk, ms a second": 2.0,
            "the day's list, s": 1.0, "a file taken, of an empty ledger's rate": 0.75}
HIGHER_IS_BETTER = {"a file taken, of an empty ledger's rate"}
HALF_AGAIN, TAKEN = 1.5, 3000
MONTH = 30 * 86400000


def multiplied(server, address, jobs):
    """Each job of the ledger again and again, with times over a month, names, places and bytes of its own."""
    def columns(table, but):
        return [c for c in server.sql(f"SELECT column_name FROM information_schema.columns WHERE table_name='{table}' ORDER BY ordinal_position", address)
                .split() if c not in but]
    real = int(server.sql("SELECT count(*) FROM entry", address))
    rounds = max(1, jobs // real)
    entry = columns("entry", {"id", "name", "digest", "arrived", "changed", "place", "place_key"})
    output = columns("output", {"id", "entry", "path", "path_key"})
    event = columns("event", {"rowid", "entry"})
    apart = "convert_to('-' || r || '.pdf','UTF8')"
    server.sql(f"""SET synchronous_commit=off; SELECT setval('entry_id_seq', 1000000);
        INSERT INTO entry(id, name, digest, arrived, changed, place, place_key, {','.join(entry)})
          SELECT 1000000 + r*{real} + id, name || {apart}, encode(sha256(convert_to(digest || r,'UTF8')),'hex'), arrived - {MONTH} + r*({MONTH}/{rounds}),
            changed - {MONTH} + r*({MONTH}/{rounds}), place || {apart}, place_key || {apart}, {','.join(entry)}
          FROM entry, generate_series(1,{rounds}) AS r;
        INSERT INTO output(entry, path, path_key, {','.join(output)})
          SELECT 1000000 + r*{real} + entry, path || {apart}, path_key || {apart}, {','.join(output)} FROM output, generate_series(1,{rounds}) AS r
          WHERE entry <= {real};
        INSERT INTO event(entry, {','.join(event)})
          SELECT 1000000 + r*{real} + entry, {','.join(event)} FROM event, generate_series(1,{rounds}) AS r WHERE entry <= {real};
        SELECT setval('entry_id_seq', (SELECT max(id) FROM entry))""", address)
    server.sql("VACUUM ANALYZE", address)
    return rounds * real


def take_rate(s, count, tag):
    """Files a second that one desk takes of bytes that it knows."""
    desk = s.desk()
    begun = time.monotonic()
    for n in range(count):
        path = s / f"{tag}-{n}"
        path.write_bytes(shop.pdf("Order number 0"))
        path.rename(s / "in" / f"{tag}-{n}.pdf")
    while os.listdir(s / "in"):
        time.sleep(0.02)
    took = time.monotonic() - begun
    desk.terminate()
    desk.wait()
    return count / took


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--jobs", type=int, default=1000000)
    options.add_argument("--desks", type=int, default=8)
    options.add_argument("--folder", type=pathlib.Path, help="on the disk of the server")
    o = options.parse_args()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-large-", dir=o.folder))
    server, found = cluster.Cluster(under=o.folder), {}
    try:
        s = cluster.SharedShop(o.build.resolve() / "layright", folder / "s", server.database(), "30s", more='duplicates = "skip"\n')
        real, first = 24, 8
        desk = s.desk()
        for numbers in (range(first), range(first, real)):  # with the first its plans are made
            before = server.processor_seconds()
            for n in numbers:
                (s / "in" / f"order-{n}.pdf").write_bytes(shop.pdf(f"Order number {n}"))
            shop.wait_for(lambda: s.at_rest(numbers[-1] + 1), 120)
        found["server's processor a job, ms"] = (server.processor_seconds() - before) * 1000 / (real - first)
        desk.terminate()
        desk.wait()
        empty = take_rate(s, TAKEN, "early")
        server.sql(f"DELETE FROM event WHERE entry>{real}; DELETE FROM output WHERE entry>{real}; DELETE FROM entry WHERE id>{real}", s.address)
        begun = time.monotonic()
        jobs = multiplied(server, s.address, o.jobs)
        print(f"{jobs} jobs were made in {time.monotonic() - begun:.0f} s")
        rows = sum(int(server.sql(f"SELECT count(*) FROM {t}", s.address)) for t in ("entry", "output", "event"))
        size = sum(int(server.sql(f"SELECT pg_total_relation_size('{t}')", s.address)) for t in ("entry", "output", "event"))
        found["rows a job"], found["bytes a job"] = rows / jobs, size / jobs
        begun = time.monotonic()
        s.run("ledger", "--day", "today", "--format", "json")
        found["the day's list, s"] = time.monotonic() - begun
        idle = [s.desk() for _ in range(o.desks)]
        time.sleep(5)  # its plans are made
        before, begun = server.processor_seconds(), time.monotonic()
        time.sleep(8)
        found["server's processor an idle desk, ms a second"] = (server.processor_seconds() - before) * 1000 / (time.monotonic() - begun) / o.desks
        for desk in idle:
            desk.terminate()
            desk.wait()
        found["a file taken, of an empty ledger's rate"] = take_rate(s, TAKEN, "late") / empty
    finally:
        server.close()
        shutil.rmtree(folder, ignore_errors=True)
    bad = 0
    for what, value in found.items():
        good = value >= ESTIMATE[what] / HALF_AGAIN if what in HIGHER_IS_BETTER else value <= ESTIMATE[what] * HALF_AGAIN
        bad += not good
        print(f"  {what}: {value:.2f} (estimate {ESTIMATE[what]}){'' if good else ' MISSED'}")
    print(f"{len(found) - bad} passed, {bad} failed")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
