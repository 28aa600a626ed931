"""How many files a second desks take in: over a file, over a server, and several over one server. Nothing is drawn: all files have the same bytes,
and the intake skips what it knows.

    desk_rates.py BUILD-FOLDER [--files N] [--desks 1,2,4]
"""
import argparse
import pathlib
import shutil
import tempfile
import time

import cluster
import shop


def rate(s, begin, files):
    """Files a second, from the first that is in the ledger to the last."""
    (s / "in" / "first.pdf").write_bytes(shop.pdf("The quick brown fox"))
    desks = [begin() for _ in range(s.wanted)]
    shop.wait_for(lambda: len(s.jobs()) == 1 and s.jobs()[0]["state"] == "ready", 120)
    made = s.folder / "made"
    made.mkdir()
    for n in range(files):
        (made / f"{n:05}.pdf").write_bytes(shop.pdf("The quick brown fox"))
    begun = time.monotonic()
    for path in made.iterdir():
        path.rename(s / "in" / path.name)
    while s.files("in"):
        time.sleep(0.02)
    took = time.monotonic() - begun
    shop.wait_for(lambda: sum(j["state"] == "skipped" for j in s.jobs()) == files, 120)
    for desk in desks:
        desk.terminate()
        desk.wait()
    return files / took


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--files", type=int, default=1000)
    options.add_argument("--desks", default="1,2,4")
    o = options.parse_args()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-rates-"))
    server = cluster.Cluster()
    settings = {"more": 'duplicates = "skip"\njob-sheet = false\n'}
    try:
        alone = shop.Shop(o.build.resolve() / "layright", folder / "file", **settings)
        alone.wanted = 1
        of_file = rate(alone, alone.begin, o.files)
        print(f"SQLite, 1 desk: {of_file:.0f} files a second", flush=True)
        first = None
        for desks in map(int, o.desks.split(",")):
            s = cluster.SharedShop(o.build.resolve() / "layright", folder / str(desks), server.database(), "30s", **settings)
            s.wanted = desks
            each = rate(s, s.desk, o.files)
            first = first or each
            print(f"PostgreSQL, {desks} desks: {each:.0f} files a second, {each / first:.2f} of one desk, {each / of_file:.2f} of SQLite", flush=True)
    finally:
        server.close()
        shutil.rmtree(folder, ignore_errors=True)


main()
