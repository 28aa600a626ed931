#!/usr/bin/python3
"""Sets up the invented press of the Quillowfen print room and prints on it: the four forms of the page setup, the job sheets, and a job.

    print.py PROGRAM FOLDER          FOLDER/narrow and FOLDER/wide hold laid sheets

The press is a program: ippeveprinter, from Debian's cups-ipp-utils, started here on loopback. Where it or dbus-daemon is missing,
nothing is sent.
"""
import contextlib
import os
import pathlib
import shutil
import socket
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).parent
PRESS = HERE.parent / "testfiles/press/bench.conf"  # what it answers when it is asked
SHOP = HERE / "layright.toml"
FORMS = {"text": "for the operator", "ppd": "options as lp -o takes them", "postscript": "what stands before a PostScript job",
         "ipp": "a request for ipptool"}


def layright(program, *words):
    run = subprocess.run([program, *map(str, words)], capture_output=True, text=True)
    if run.returncode != 0:
        sys.exit(f"layright {words[0]} ended with {run.returncode}: {run.stdout}{run.stderr}")
    return run.stdout


def tell_forms(program):
    for form, what in FORMS.items():
        print(f"\nlayright setup --target narrow --as {form}   # {what}\n")
        print(layright(program, "setup", "--config", SHOP, "--target", "narrow", "--as", form), end="")


def make_job_sheets(program, folder):
    for target in ("narrow", "wide"):
        sheet = folder / f"job-sheet-{target}.pdf"
        layright(program, "setup", folder / target / "fox-letter.pdf", "--config", SHOP, "--target", target, "--as", "sheet", "-o", sheet)
        print(f"written: {sheet}")


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


def wait_until(there, seconds=60):
    end = time.monotonic() + seconds
    while not there():
        if time.monotonic() > end:
            sys.exit("the press did not start in time")
        time.sleep(0.02)


def answers(port):
    with socket.socket() as s:
        return s.connect_ex(("127.0.0.1", port)) == 0


@contextlib.contextmanager
def press_on_loopback(folder):
    """Gives its address; what it receives stays in FOLDER/spool. It wants a message bus, so it gets one of its own."""
    bus, port = folder / "bus", free_port()
    (folder / "spool").mkdir()
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    started = [subprocess.Popen(["dbus-daemon", "--session", "--nofork", "--nopidfile", f"--address=unix:path={bus}"], **quiet)]
    try:
        wait_until(bus.exists)
        started.append(subprocess.Popen(
            ["ippeveprinter", "-r", "off", "-n", "localhost", "-p", str(port), "-d", folder / "spool", "-k", "-a", PRESS, "-c", HERE / "press_prints.sh", "Bench"],
            env={**os.environ, "DBUS_SYSTEM_BUS_ADDRESS": f"unix:path={bus}"}, **quiet))
        wait_until(lambda: answers(port))
        yield f"ipp://localhost:{port}/ipp/print"
    finally:
        for process in reversed(started):
            process.terminate()
            process.wait()


def send(program, sheet):
    if not all(shutil.which(part, path=f"{os.environ['PATH']}:/usr/sbin") for part in ("ippeveprinter", "dbus-daemon")):
        print("Sending is left out: it takes Debian's cups-ipp-utils and dbus (ippeveprinter plays the press).")
        return
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        with press_on_loopback(folder) as address:
            # The shop's own table names a driver; this press is reached by its address alone, which is another one each time.
            shop = folder / "layright.toml"
            lines = SHOP.read_text().splitlines()
            shop.write_text("\n".join(f'ipp = "{address}"' if line.startswith("ppd = ") else line for line in lines))
            print(layright(program, "send", sheet, "--config", shop, "--target", "narrow"), end="")
        received = [path.read_bytes() for path in (folder / "spool").rglob("*") if path.is_file()]
        if sheet.read_bytes() not in received:
            sys.exit("the press did not receive the file that was sent")
        print("The press received the file byte for byte.")


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    print("\nThe press Bench is invented as well; its PPD is testfiles/press/bench.ppd.")
    tell_forms(program)
    print("\nThe operator's job sheets, one page each:\n")
    make_job_sheets(program, folder)
    print("\nlayright send narrow/fox-letter.pdf --target narrow\n")
    send(program, folder / "narrow" / "fox-letter.pdf")


if __name__ == "__main__":
    main()
