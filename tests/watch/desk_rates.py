"""How many files a second desks take in: over a file, over a server, and several over one server. Nothing is drawn: all files have the same bytes,
and the intake skips what it knows. The last thousand of many are to come as fast as the first.

    desk_rates.py BUILD-FOLDER [--files N] [--desks 1,2,4] [--flat N] [--folder FOLDER]
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

# At least so many times the rate of one desk; one desk over a server, of one over a file; the last thousand, of the first.
WANTED = {2: 1.7, 4: 3.0}
OF_FILE, FLAT = 0.6, 0.8
THOUSAND = 1000


def fsyncs_a_second(folder):
    begun, count = time.monotonic(), 0
    with open(folder / "synced", "wb", buffering=0) as f:
        while time.monotonic() - begun < 1:
            f.write(b"x" * 4096)
            os.fsync(f.fileno())
            count += 1
    return count / (time.monotonic() - begun)


def rates(s, begin, desks, files, server=None):
    """Files a second until all have left the watched folder: of all, of the first thousand and of the last; and the processor's seconds that desks and
    server took for one."""
    (s / "in" / "first.pdf").write_bytes(shop.pdf("The quick brown fox"))
    running = [begin() for _ in range(desks)]
    shop.wait_for(lambda: [j["state"] for j in s.jobs()] == ["ready"], 120)
    time.sleep(1)  # until each knows of the others
    made = s.folder / "made"
    made.mkdir()
    for n in range(files):
        (made / f"{n:05}.pdf").write_bytes(shop.pdf("The quick brown fox"))
    os.sync()
    numbers = {desk.pid for desk in running}

    def processor():
        return sum(t for process, _, t in shop.processes() if process in numbers) + (server.processor_seconds() if server else 0)

    begun, marks, before = time.monotonic(), [], processor()
    for path in sorted(made.iterdir()):
        path.rename(s / "in" / path.name)
    while not marks or marks[-1][1]:
        time.sleep(0.05)
        marks.append((time.monotonic() - begun, len(os.listdir(s / "in"))))
    took = processor() - before
    at = lambda left: next(t for t, n in marks if n <= left)
    shop.wait_for(lambda: sum(j["state"] == "skipped" for j in s.jobs()) == files, 120)
    for desk in running:
        desk.terminate()
        desk.wait()
    several = min(THOUSAND, files)
    return files / marks[-1][0], several / at(files - several), several / (marks[-1][0] - at(several) if files > several else marks[-1][0]), took / files


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--files", type=int, default=5 * THOUSAND)
    options.add_argument("--desks", default="1,2,4", help="of 1, 2 and 4")
    options.add_argument("--flat", type=int, default=0)
    options.add_argument("--folder", type=pathlib.Path, help="on the disk that is to be measured")
    o = options.parse_args()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-rates-", dir=o.folder))
    server = cluster.Cluster(under=o.folder)
    settings = {"more": 'duplicates = "skip"\njob-sheet = false\n'}
    program, good = o.build.resolve() / "layright", True

    def told(what, value, wanted):
        nonlocal good
        good = good and value >= wanted
        print(f"  {what}: {value:.2f} (at least {wanted}){'' if value >= wanted else ' MISSED'}", flush=True)

    def over_server(desks, files):
        s = cluster.SharedShop(program, folder / f"{desks}-{files}", server.database(), "30s", **settings)
        return rates(s, s.desk, desks, files, server)

    try:
        print(f"{os.cpu_count()} cores, {fsyncs_a_second(folder):.0f} fsyncs of 4 kB a second")
        alone = shop.Shop(program, folder / "file", **settings)
        of_file = rates(alone, alone.begin, 1, o.files)[0]
        print(f"SQLite, 1 desk: {of_file:.0f} files a second", flush=True)
        first = None
        for desks in map(int, o.desks.split(",")):
            each, _, _, processor = over_server(desks, o.files)
            first = first or each
            allowed = os.cpu_count() / processor / first
            print(f"PostgreSQL, {desks} desk(s): {each:.0f} files a second; {processor * 1000:.2f} ms of a processor for one", flush=True)
            print(f"  {os.cpu_count()} cores have room for {allowed:.2f} times that", flush=True)
            if desks == 1:
                told("of SQLite's rate", each / of_file, OF_FILE)
            else:
                told(f"{desks} desks, of one's rate", each / first, WANTED[desks])
        if o.flat:
            for name, (_, early, late, _) in {"PostgreSQL": over_server(1, o.flat),
                                           "SQLite": rates(flat := shop.Shop(program, folder / "flat", **settings), flat.begin, 1, o.flat)}.items():
                print(f"{name}, {o.flat} files: the first {THOUSAND} {early:.0f} a second, the last {late:.0f}")
                told("the last of the first", late / early, FLAT)
    finally:
        server.close()
        shutil.rmtree(folder, ignore_errors=True)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
