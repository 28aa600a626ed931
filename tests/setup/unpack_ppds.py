"""Unpacks the PPDs of Debian's openprinting-ppds and foomatic-db-compressed-ppds into a folder, as they are, and copies those that
cups-filters and Ghostscript install beside them.

Usage: unpack_ppds.py FOLDER [COUNT SEED]: all of them (about 750 MB), or COUNT of the packed ones drawn by SEED.
       unpack_ppds.py FOLDER --digests FILE: those whose SHA-256 begins with the first word of one of the file's lines, under that name.
Both packages hold one xz archive inside a Python script that lists what lies where.
"""
import base64
import glob
import gzip
import hashlib
import lzma
import os
import random
import shutil
import sys
from importlib.machinery import SourceFileLoader

folder = sys.argv[1]
sys.dont_write_bytecode = True
found = []
for package in ("openprinting-ppds", "foomatic-db-compressed-ppds"):
    script = SourceFileLoader(package.replace("-", "_"), "/usr/lib/cups/driver/" + package).load_module()
    listed = script.load()
    archive = lzma.decompress(base64.b64decode(listed.pop("ARCHIVE")))
    found += [(package, name, archive, where[0], where[1]) for name, where in sorted(listed.items())]
if len(sys.argv) > 3 and sys.argv[2] == "--digests":
    wanted = {line.split()[0] for line in open(sys.argv[3]) if line.strip() and not line.startswith("#")}
    for package, name, archive, start, size in found:
        data = archive[start:start + size]
        if data[:2] == b"\x1f\x8b":
            data = gzip.decompress(data)
        digest = hashlib.sha256(data).hexdigest()[:16]
        if digest in wanted:
            with open(os.path.join(folder, digest), "wb") as out:
                out.write(data)
    sys.exit()
if len(sys.argv) > 2:
    found = random.Random(int(sys.argv[3])).sample(found, min(int(sys.argv[2]), len(found)))
for package, name, archive, start, size in found:
    data = archive[start:start + size]
    if data[:2] == b"\x1f\x8b":
        data = gzip.decompress(data)
    os.makedirs(os.path.join(folder, package), exist_ok=True)
    with open(os.path.join(folder, package, name.split("/ppd/", 1)[-1].replace("/", "__")), "wb") as out:
        out.write(data)
installed = glob.glob("/usr/share/ppd/cupsfilters/*.ppd") + glob.glob("/usr/share/ghostscript/*/lib/*.ppd")
os.makedirs(os.path.join(folder, "installed"), exist_ok=True)
for path in installed:
    shutil.copy(path, os.path.join(folder, "installed"))
print(len(found) + len(installed))
