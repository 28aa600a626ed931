"""Unpacks PPDs of Debian's openprinting-ppds and foomatic-db-compressed-ppds into a folder, as they are.

Usage: unpack_ppds.py FOLDER COUNT SEED ROWS: FOLDER/drawn gets COUNT of them drawn by SEED (0: all, about 750 MB), and with them those that
cups-filters and Ghostscript install; FOLDER/by-hand those that the lines of the file ROWS begin with: DIGEST@NUMBER, the beginning of the
SHA-256 and the place in the packages' lists, under the digest as name.
Each package holds one xz archive, of up to 700 MB, inside a Python script that lists what lies where. It is unpacked piece by piece.
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

PACKAGES = ("openprinting-ppds", "foomatic-db-compressed-ppds")
PIECE = 1 << 20

folder, count, seed, rows = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4]
sys.dont_write_bytecode = True
archives, found = [], []  # found: (archive, name, start, size)
for number, package in enumerate(PACKAGES):
    listed = SourceFileLoader(package.replace("-", "_"), "/usr/lib/cups/driver/" + package).load_module().load()
    archives.append(base64.b64decode(listed.pop("ARCHIVE")))
    found += [(number, name, where[0], where[1]) for name, where in sorted(listed.items())]


def plain(data):
    return gzip.decompress(data) if data[:2] == b"\x1f\x8b" else data


def put(name, data):
    with open(os.path.join(folder, name), "wb") as out:
        out.write(data)


def put_drawn(name):
    return lambda data: put("drawn/" + name.split("/ppd/", 1)[-1].replace("/", "__"), data)


def put_if(digest, missing):
    def check(data):
        if hashlib.sha256(data).hexdigest()[:16] == digest:
            put("by-hand/" + digest, data)
        else:
            missing.add(digest)
    return check


def pieces(archive):
    unpacker = lzma.LZMADecompressor()
    data = unpacker.decompress(archive, PIECE)
    while data or not unpacker.eof:
        yield data
        data = b"" if unpacker.eof else unpacker.decompress(b"", PIECE)


def unpack(wanted):
    """`wanted`: archive, start, size, what to do with the bytes."""
    for number, archive in enumerate(archives):
        left = sorted((w[1:] for w in wanted if w[0] == number), key=lambda w: w[0], reverse=True)
        kept, begin = b"", 0  # kept[0] lies at `begin`
        for piece in pieces(archive):
            if not left:
                break
            kept += piece
            while left and left[-1][0] + left[-1][1] <= begin + len(kept):
                start, size, use = left.pop()
                use(plain(kept[start - begin:start - begin + size]))
            drop = min(len(kept), (left[-1][0] if left else begin + len(kept)) - begin)
            kept, begin = kept[drop:], begin + drop


for name in ("drawn", "by-hand"):
    os.makedirs(os.path.join(folder, name))
drawn = random.Random(seed).sample(found, min(count, len(found))) if count else found
wanted = [(number, start, size, put_drawn(PACKAGES[number] + "__" + name)) for number, name, start, size in drawn]
missing = set()
for line in open(rows):
    if line.strip() and not line.startswith("#"):
        digest, place = line.split()[0].split("@")
        if int(place) < len(found):
            number, name, start, size = found[int(place)]
            wanted.append((number, start, size, put_if(digest, missing)))
        else:
            missing.add(digest)
unpack(wanted)
if missing:  # another version of the packages: they may lie elsewhere
    def look(data):
        digest = hashlib.sha256(data).hexdigest()[:16]
        if digest in missing:
            put("by-hand/" + digest, data)
    unpack([(number, start, size, look) for number, name, start, size in found])
for path in glob.glob("/usr/share/ppd/cupsfilters/*.ppd") + glob.glob("/usr/share/ghostscript/*/lib/*.ppd"):
    shutil.copy(path, os.path.join(folder, "drawn"))
