"""Judges from outside: what poppler and Ghostscript draw of a page, and whether one picture is another, turned, reversed and put in a place.

Pictures are numpy arrays of rows from the top, three bytes a pixel.
"""
import pathlib
import subprocess
import tempfile

import numpy
from PIL import Image

DPI = 144                 # two pixels to the point
PIXEL = 72 / DPI
INK_BELOW = 250           # a pixel with any channel below this shows ink (the same limit that judged the corpus)
TONE = 40                 # how far two renderings of one thing may differ in tone at edges that fall between pixels
STRAY = 0.005             # the share of pixels that may find no like in the other picture
Image.MAX_IMAGE_PIXELS = None


class NoPicture(Exception):
    pass


def _run(command, seconds=60):
    try:
        run = subprocess.run(command, capture_output=True, timeout=seconds)
    except subprocess.TimeoutExpired:
        raise NoPicture(f"{command[0]} took more than {seconds} s") from None
    if run.returncode:
        raise NoPicture(f"{command[0]}: {run.stderr.decode(errors='replace')[-300:]}")


def poppler(path, dpi=DPI, page=1):
    with tempfile.TemporaryDirectory() as folder:
        _run(["pdftoppm", "-q", "-cropbox", "-r", f"{dpi:.6f}", "-f", str(page), "-l", str(page), "-singlefile", str(path), folder + "/p"])
        return _read(pathlib.Path(folder) / "p.ppm")


def ghostscript(path, dpi=DPI, page=1):
    with tempfile.TemporaryDirectory() as folder:
        _run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-dUseCropBox", "-dPrinted", "-sDEVICE=ppmraw", f"-r{dpi:.6f}",
              "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", f"-dFirstPage={page}", f"-dLastPage={page}",
              "-o", folder + "/p.ppm", str(path)])
        return _read(pathlib.Path(folder) / "p.ppm")


JUDGES = {"poppler": poppler, "ghostscript": ghostscript}


def _read(path):
    if not path.exists():
        raise NoPicture("no picture came out")
    return numpy.asarray(Image.open(path).convert("RGB"))


def ink_of(picture):
    """Rows and columns of the ink: top, left, bottom, right (past the last). None when the picture is blank."""
    dark = (picture < INK_BELOW).any(axis=2)
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    return (rows[0], columns[0], rows[-1] + 1, columns[-1] + 1) if len(rows) else None


def inked(picture):
    """The picture cut down to its ink."""
    box = ink_of(picture)
    if box is None:
        raise NoPicture("the picture is blank")
    return picture[box[0]:box[2], box[1]:box[3]]


def turned(picture, degrees, reverse):
    """First reversed across its vertical middle, then turned counterclockwise: the order of DESIGN rule 7."""
    return numpy.rot90(numpy.fliplr(picture) if reverse else picture, degrees // 90)


def _spread(picture):
    """The least and the greatest tone in the nine pixels around each."""
    padded = numpy.pad(picture, ((1, 1), (1, 1), (0, 0)), mode="constant", constant_values=255)
    height, width = picture.shape[:2]
    least, greatest = picture.copy(), picture.copy()
    for dy in range(3):
        for dx in range(3):
            near = padded[dy:dy + height, dx:dx + width]
            numpy.minimum(least, near, out=least)
            numpy.maximum(greatest, near, out=greatest)
    return least.astype(numpy.int16) - TONE, greatest.astype(numpy.int16) + TONE


def _strays(one, other):
    least, greatest = _spread(other)
    return ((one < least) | (one > greatest)).any(axis=2).mean()


def difference(one, other):
    """The share of pixels of either picture that find no like in the other, right there or next to it: 0 for the same picture drawn on a
    slightly different grid, 1 for nothing in common. Pictures whose sizes differ by more than two pixels have nothing in common."""
    if abs(one.shape[0] - other.shape[0]) > 2 or abs(one.shape[1] - other.shape[1]) > 2:
        return 1.0
    height, width = min(one.shape[0], other.shape[0]), min(one.shape[1], other.shape[1])
    best = 1.0
    for top in range(one.shape[0] - height + 1):
        for left in range(one.shape[1] - width + 1):
            for other_top in range(other.shape[0] - height + 1):
                for other_left in range(other.shape[1] - width + 1):
                    a = one[top:top + height, left:left + width]
                    b = other[other_top:other_top + height, other_left:other_left + width]
                    best = min(best, max(_strays(a, b), _strays(b, a)))
    return best


EIGHT = [(degrees, reverse) for reverse in (False, True) for degrees in (0, 90, 180, 270)]


def compare(source, laid, degrees, reverse):
    """Faults of a laid page: it must be the source under the intended turn and reversal, and under no other."""
    art, here = inked(source), inked(laid)
    found = difference(turned(art, degrees, reverse), here)
    faults = []
    if found > STRAY:
        faults.append(f"is not the source's picture: {found:.2%} of the pixels differ")
        others = [(difference(turned(art, d, r), here), d, r) for d, r in EIGHT if (d, r) != (degrees, reverse)]
        least = min(others)
        if least[0] <= STRAY:
            faults.append(f"but it is under turn {least[1]}{' reversed' if least[2] else ''}")
    return faults


def tells_apart(source):
    """Whether all eight turns and reversals of the art look different, so that the judgement means something."""
    art = inked(source)
    return all(difference(turned(art, d, r), art) > 4 * STRAY for d, r in EIGHT if (d, r) != (0, False))


def place_faults(laid, wanted_points, slack=1.0):
    """Where the ink lies against where it must: left, bottom, right, top in points on the sheet."""
    top, left, bottom, right = ink_of(laid)
    height = laid.shape[0]
    found = [left * PIXEL, (height - bottom) * PIXEL, right * PIXEL, (height - top) * PIXEL]
    return [f"{side} at {f:.2f} pt instead of {w:.2f} pt"
            for side, f, w in zip(("left", "bottom", "right", "top"), found, wanted_points) if abs(f - w) > slack]
