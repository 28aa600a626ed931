"""The watch folder's speed: files a second with isolation and ledger, on one core and on two, as ratios to a bare fsync and to `check` alone in the
same run; how long one file takes from arrival to ready; whether memory and time a file stay flat; how long a start takes with a long ledger."""
import os
import pathlib
import subprocess
import sys
import threading
import time

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "watch"))
import shop  # noqa: E402

MANY_ROWS = 100000


def fsyncs_a_second(folder):
    path, begun, count = folder / "synced", time.monotonic(), 0
    with open(path, "wb", buffering=0) as f:
        while time.monotonic() - begun < 2:
            f.write(b"x" * 4096)
            os.fsync(f.fileno())
            count += 1
    return count / (time.monotonic() - begun)


def shop_with(bench, folder, count, more="", page=None):
    s = shop.Shop(bench.program, folder / "shop", more)
    for i in range(count):
        (s / "in" / f"{i}.pdf").write_bytes(page(i) if page else shop.pdf(f"Order number {i} of the day"))
    return s


def seconds_for(s, cores):
    begun = time.monotonic()
    run = subprocess.run(["taskset", "-c", ",".join(map(str, range(cores))), *s.words("watch", "--once")], stderr=subprocess.PIPE, env=s.environment())
    took = time.monotonic() - begun
    if run.returncode:
        sys.exit(f"watch --once ended with {run.returncode}: {run.stderr.decode(errors='replace')[-500:]}")
    return took


def rates(bench, folder, count):
    syncs = fsyncs_a_second(folder)
    bench.note("a bare fsync of 4 kB", syncs, "/s")
    one = count / seconds_for(shop_with(bench, folder, count), 1)
    s = shop_with(bench, folder, count)
    check = count / bench.took([*bench.check(s / "in", only=False, jobs=2), "--skip", "ink.island,ink.gap"]).wall
    two = count / seconds_for(s, 2)
    plain = count / seconds_for(shop_with(bench, folder, count, "job-sheet = false"), 2)
    bench.row(f"{count} files of live text, two cores, files a second", two, 25, "/s", at_most=False)
    bench.note("without job sheets", plain, "/s")
    bench.row("two cores, times as fast as one", two / one, 1.8, at_most=False)
    bench.note("files a second, of bare fsyncs a second", two / syncs, "")
    bench.note("files a second, of check alone", two / check, "")
    drawn = shop_with(bench, folder, count // 8, page=lambda i: shop.pdf("", note=str(i), more="72 72 300 300 re 0 0 1 rg f"))
    bench.note("pages without text, looked at for letters, two cores", count // 8 / seconds_for(drawn, 2), "/s")


def latency(bench, folder):
    s = shop.Shop(bench.program, folder / "shop", settle="2s")
    watcher, took = s.begin(), []
    for i in range(5 if bench.quick else 20):
        begun = time.monotonic()
        (s / "in" / f"{i}.pdf").write_bytes(shop.pdf(f"Order {i}"))
        shop.wait_for(lambda: (s / "ready" / f"{i}.pdf").exists())
        took.append(time.monotonic() - begun)
    s.end(watcher)
    bench.row("one page, from arrival to ready, the middle of several", sorted(took)[len(took) // 2], 0.5, "s")


def processor_seconds(pid):
    """Of the process and of its children that have ended."""
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")


def flat(bench, folder, count):
    s = shop_with(bench, folder, count)
    with subprocess.Popen(s.words("watch", "--once"), stderr=subprocess.DEVNULL, env=s.environment()) as watcher:
        most, marks, over = 0, [(0, 0)], threading.Event()
        while watcher.poll() is None:
            try:
                status = pathlib.Path(f"/proc/{watcher.pid}/status").read_text()
                most = max(most, int(status.split("VmRSS:")[1].split()[0]) / 1024)
                marks.append((processor_seconds(watcher.pid), len(os.listdir(s / "originals"))))
            except (OSError, IndexError):
                pass
            over.wait(0.5)
    at = lambda share: next(t for t, n in marks if n >= share * count)
    bench.row(f"memory of the parent over {count} files", most, 100, "MB")
    bench.row(f"processor time for a file of the last quarter of {count}, of one of the second", (at(0.99) - at(0.75)) / 0.24 / ((at(0.5) - at(0.25)) / 0.25), 1.3)


def long_ledger(bench, folder):
    s = shop_with(bench, folder, 1)
    s.once()
    columns = "intake, digest, device, inode, bytes, modified_ns, changed, state, next, place, goes_to, place_key, goes_key, target, copies, run, tries, interrupted, verdict, " \
              "reason, findings, same_as, decision, send, send_name, send_told, press_job, render"
    s.sqlite(f"WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n WHERE i<{MANY_ROWS}) INSERT INTO entry(name, arrived, {columns}) "
             f"SELECT 'f'||i||'.pdf', i, {columns.replace('digest', 'hex(randomblob(32))').replace('place_key', 'randomblob(40)', 1)} FROM entry, n WHERE id=1")
    begun = time.monotonic()
    run = s.once()
    took = time.monotonic() - begun
    if run.returncode:
        sys.exit(f"with {MANY_ROWS} rows: {run.stderr}")
    bench.row(f"a start with {MANY_ROWS} rows in the ledger, to its end", took, 1, "s")


def heavy_among_small(bench, folder):
    s = shop_with(bench, folder, 0)
    for i in range(3):
        (s / "in" / f"heavy{i}.pdf").write_bytes(shop.pdf(f"Heavy {i}", more="0 0 m 612 792 l S\n" * 5000000))
    watcher = s.begin()
    time.sleep(1)
    begun = time.monotonic()
    for i in range(20):
        (s / "in" / f"{i}.pdf").write_bytes(shop.pdf(f"Order {i}"))
    shop.wait_for(lambda: all((s / "ready" / f"{i}.pdf").exists() for i in range(20)), 120)
    small = time.monotonic() - begun
    shop.wait_for(lambda: all(j["state"] in shop.AT_REST for j in s.jobs()), 300)
    whole = time.monotonic() - begun
    s.end(watcher)
    bench.row("20 small files behind three heavy ones, of the time for all", small / whole, 0.9)


def measure(bench, folder):
    print("the watch folder")
    rates(bench, folder, 100 if bench.quick else 1000)
    latency(bench, folder)
    flat(bench, folder, 400 if bench.quick else 20000)
    long_ledger(bench, folder)
    heavy_among_small(bench, folder)
