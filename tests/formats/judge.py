"""What the judges of formats share: layright at work on a file, and what lies in the pages that it lays."""
import json
import pathlib
import subprocess
import sys

import numpy as np
import pikepdf
from PIL import Image

BUILD = pathlib.Path(sys.argv[1]).resolve()
PROGRAM = str(BUILD / "layright")
Image.MAX_IMAGE_PIXELS = None
ROWS = []  # format, variant, outcome, judge
FAILED = []
WORDS = ["--sheet", "20x30in", "--margin", "0in"]


def told(name, variant, judge, faults, outcome="laid, the same pixels"):
    ROWS.append((name, variant, outcome if not faults else "FAILED: " + "; ".join(faults), judge))
    if faults:
        FAILED.append(f"{name}, {variant}: " + "; ".join(faults))


def check(paths, *more):
    run = subprocess.run([PROGRAM, "check", *map(str, paths), *WORDS, *more, "--format", "json"], capture_output=True, timeout=600)
    return json.loads(run.stdout), run.returncode


def lay(path, *more):
    out = path.with_name(path.name + ".laid.pdf")
    out.unlink(missing_ok=True)
    run = subprocess.run([PROGRAM, "lay", str(path), "-o", str(out), "--reading", "as-is", *WORDS, *more], capture_output=True, text=True, timeout=600)
    return (out if out.exists() else None), run


def images_of(pdf):
    """Every image that the pages paint, in the order painted: also inside forms."""
    found = []

    def look(resources):
        for name, x in sorted((resources.get("/XObject") or {}).items()):
            if x.get("/Subtype") == "/Image":
                found.append(x)
            elif x.get("/Resources"):
                look(x["/Resources"])
    for page in pdf.pages:
        look(page.get("/Resources") or {})
    return found


def samples(image):
    """As stored: rows x columns x channels, with Decode applied where it turns them over."""
    w, h, bits = int(image["/Width"]), int(image["/Height"]), int(image["/BitsPerComponent"])
    raw = image.read_bytes()
    row = len(raw) // h
    if bits == 16:
        n = row // 2 // w
        values = np.frombuffer(raw, ">u2").reshape(h, -1)[:, :w * n].reshape(h, w, n).astype(int)
    elif bits == 8:
        n = row // w
        values = np.frombuffer(raw, np.uint8).reshape(h, w, n).astype(int)
    else:
        flat = np.unpackbits(np.frombuffer(raw, np.uint8).reshape(h, row), axis=1)
        count = flat.shape[1] // bits
        flat = flat[:, :count * bits].reshape(h, count, bits)
        values = (flat * (1 << np.arange(bits - 1, -1, -1))).sum(-1)
        n = 1 if image.get("/SMask") is not None or count < 2 * w else count // w
        values = values[:, :w * n].reshape(h, w, n)
    decode = [float(v) for v in image.get("/Decode") or []]
    if decode and decode[0] > decode[1]:
        values = (1 << bits) - 1 - values
    space = image["/ColorSpace"]
    if isinstance(space, pikepdf.Array) and space[0] == "/Indexed":
        table = space[3].read_bytes() if isinstance(space[3], pikepdf.Stream) else bytes(space[3])
        values = np.frombuffer(table, np.uint8).reshape(-1, 3).astype(int)[values[:, :, 0]]
    return values


def profile_of(image):
    space = image["/ColorSpace"]
    if isinstance(space, pikepdf.Array) and space[0] == "/Indexed":
        space = space[1]
    return space[1].read_bytes() if isinstance(space, pikepdf.Array) and space[0] == "/ICCBased" else None


def same(faults, what, got, wanted):
    if got.shape != wanted.shape:
        faults.append(f"{what}: {got.shape} instead of {wanted.shape}")
    elif not np.array_equal(got, wanted):
        faults.append(f"{what}: {int((got != wanted).sum())} samples differ")


def picture(name, variant, path, wanted, judge, alpha=None, icc=None, size=None, checks=(), inside=None, pages=1):
    """Lays `path` and compares. `wanted`: samples as rows x columns x channels; `size`: of the page as seen, in points."""
    faults = []
    report, _ = check([path])
    file = report["files"][0]
    if file["format"] != name:
        faults.append(f"taken for {file['format']}")
    ids = {f["check"] for f in file["findings"]}
    faults += [f"{c} is not told" for c in checks if c not in ids]
    if size and file["pages"] and not np.allclose(file["pages"][0]["seen_size_pt"], size, atol=0.02):
        faults.append(f"the page is {file['pages'][0]['seen_size_pt']} pt instead of {list(size)}")
    if len(file["pages"]) != pages:
        faults.append(f"{len(file['pages'])} pages: " + str([f["message"] for f in file["findings"]]))
    laid, run = lay(path)
    if not laid:
        return told(name, variant, judge, faults + ["not laid: " + run.stdout.strip().split("\n")[-1] + run.stderr])
    with pikepdf.open(laid) as pdf:
        images = images_of(pdf)
        if not images:
            return told(name, variant, judge, faults + ["no picture in the laid page"])
        if inside:
            faults += inside(images[0])
        if wanted is not None:
            same(faults, "pixels", samples(images[0]), np.asarray(wanted).reshape(np.asarray(wanted).shape[0], np.asarray(wanted).shape[1], -1).astype(int))
        if alpha is not None:
            mask = images[0].get("/SMask")
            if mask is None:
                faults.append("the opacity is lost")
            else:
                same(faults, "opacity", samples(mask)[:, :, 0], np.asarray(alpha).astype(int))
        if icc is not None and profile_of(images[0]) != icc:
            faults.append("the profile is not the same bytes")
    told(name, variant, judge, faults)


def held(name, variant, path, checks, words, judge="our own", status=(2, 65)):
    """Not laid, and the message has these words in it."""
    report, code = check([path])
    file = report["files"][0]
    laid, _ = lay(path)
    said = " ".join(f["message"] for f in file["findings"])
    faults = ["laid although it should be held"] if laid else []
    faults += [f"status {code}"] if code not in status else []
    faults += [f"{c} is not told" for c in checks if c not in {f["check"] for f in file["findings"] if f["level"] == "hold"}]
    faults += [f"no word of '{w}' in: {said}" for w in words if w not in said]
    told(name, variant, judge, faults, "held: " + said[:160])


def size_at(w, h, ppi=300.0):
    return (w * 72 / ppi, h * 72 / ppi)
