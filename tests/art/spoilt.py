"""Pictures and fonts spoilt at random: cut, written over with zeros, single bytes changed. What two other readers still show of them may not reach
beyond what is told as ink, unless the damage is told; a picture that is cut is told always; what is whole never. Of fonts with single bytes changed
it is counted only: a changed number in an outline is a number.

    spoilt.py BUILD-FOLDER [--pictures N] [--fonts N] [--seed N]
"""
import argparse
import base64
import io
import json
import pathlib
import random
import subprocess
import sys
import tempfile
import zlib

import cairo
import numpy
import pikepdf
from PIL import Image

import damaged

SLACK = 2.0  # points: the readers draw at 72 pixels to the inch, and each takes edges in its own way
WHITE = 250
FAMILIES = ("DejaVu Serif", "DejaVu Sans", "FreeSerif", "Nimbus Roman", "Lato", "Linux Libertine O", "EB Garamond", "Quicksand")
POSTSCRIPT = ("NimbusRoman-Regular", "NimbusSans-Bold", "C059-Italic", "NimbusMonoPS-Regular", "P052-Roman", "Z003-MediumItalic")
WORDS = ("Hamburgefonstiv", "Fox & Owl 1984", "Quick brown", "Jumping sphinx")


# --- pictures -----------------------------------------------------------------------------------------------------------------------------

def lzw(data, early):
    """ISO 32000-1, 7.4.4: codes of 9 to 12 bits, highest first; with `early` each length of code begins one code sooner."""
    clear, end, codes = 256, 257, []
    table, count, word = {}, 258, b""

    def give(code):
        codes.append(f"{code:0{max(9, (count + early - 1).bit_length())}b}")
    give(clear)
    for byte in data:
        longer = word + bytes([byte])
        if len(longer) == 1 or longer in table:
            word = longer
            continue
        give(table.get(word, word[0]))
        table[longer] = count
        count += 1
        if count == 4093:
            give(clear)
            table, count = {}, 258
        word = bytes([byte])
    give(table.get(word, word[0]))
    count += 1
    give(end)
    text = "".join(codes)
    text += "0" * (-len(text) % 8)
    return int(text, 2).to_bytes(len(text) // 8, "big")


def predicted(data, row, pixel, chance):
    """PNG's filters (W3C PNG, 9.2), one a row, at random."""
    before, out = bytes(row), bytearray()
    for at in range(0, len(data), row):
        line, kind = data[at:at + row], chance.randrange(5)
        out.append(kind)
        for i, value in enumerate(line):
            a, b, c = line[i - pixel] if i >= pixel else 0, before[i], before[i - pixel] if i >= pixel else 0
            p = a + b - c
            paeth = min((a, b, c), key=lambda v: abs(p - v))
            out.append((value - (0, a, b, (a + b) // 2, paeth)[kind]) & 255)
        before = line
    return bytes(out)


def runs(data):
    out = bytearray()
    for at in range(0, len(data), 100):
        piece = data[at:at + 100]
        out += bytes([257 - len(piece), piece[0]]) if len(set(piece)) == 1 and len(piece) > 1 else bytes([len(piece) - 1]) + piece
    return bytes(out) + b"\x80"


def fax(folder, image, chance):
    k = chance.choice((-1, -1, 0, 1, 4))
    flag = lambda on: "true" if on else "false"  # noqa: E731
    line = k > 0 or (k == 0 and chance.random() < 0.5)
    form = (f"/K {k} /Columns {image.width} /Rows {image.height} /EndOfLine {flag(line)} /EncodedByteAlign {flag(chance.random() < 0.5)} /EndOfBlock {flag(chance.random() < 0.5)} "
            f"/BlackIs1 {flag(chance.random() < 0.5)}")
    (folder / "fax.ps").write_text(f"%!PS\n/w (%stdout) (w) file def /f w << {form} >> /CCITTFaxEncode filter def f <{image.tobytes().hex()}> writestring f closefile w flushfile quit\n")
    return form, subprocess.run(["gs", "-q", "-dNODISPLAY", folder / "fax.ps"], check=True, capture_output=True).stdout


def picture(folder, chance):
    """(kind, dictionary without its filters, filters with parameters from the outermost, data)"""
    w, h = chance.randrange(40, 160), chance.randrange(40, 160)
    y, x = numpy.mgrid[0:h, 0:w]
    noise = numpy.random.default_rng(chance.randrange(1 << 30)).normal(0, chance.choice((1, 12, 40)), (h, w, 3))
    waves = numpy.stack([numpy.sin(x / 9) * 60 + 120, numpy.cos(y / 7) * 60 + 110, (x + y) % 97 + 40], 2) + noise
    rgb = Image.fromarray(numpy.clip(waves, 0, 230).astype("uint8"))
    mode = chance.choice(("L", "RGB", "CMYK"))
    image, space = rgb.convert(mode), {"L": "/DeviceGray", "RGB": "/DeviceRGB", "CMYK": "/DeviceCMYK"}[mode]
    size = f"/Width {w} /Height {h} /BitsPerComponent "
    kind = chance.choice(("JPEG", "JPEG", "progressive JPEG", "JPEG 2000", "fax", "fax", "Flate", "Flate, predicted", "LZW", "LZW, predicted", "runs", "bare", "bits"))
    parameters = "null"
    if "JPEG" in kind and kind != "JPEG 2000":
        data = damaged.saved(image, "JPEG", progressive="progressive" in kind, quality=chance.choice((30, 75, 95)), optimize=chance.random() < 0.5, subsampling=chance.choice((0, 2)) if mode == "RGB" else -1)
        dictionary, name = size + f"8 /ColorSpace {space}", "/DCTDecode"
    elif kind == "JPEG 2000":
        image = image if mode != "CMYK" else rgb
        data = damaged.saved(image, "JPEG2000", irreversible=chance.random() < 0.5, **({"tile_size": (64, 64)} if chance.random() < 0.5 else {}), quality_layers=[chance.choice((2, 10))] if chance.random() < 0.5 else None)
        dictionary, name = f"/Width {w} /Height {h}", "/JPXDecode"
    elif kind in ("fax", "bits"):
        ones = rgb.convert("L").point(lambda v: 255 if v > 115 else 0).convert("1")
        dictionary = size + "1 /ColorSpace /DeviceGray"
        if kind == "fax":
            form, data = fax(folder, ones, chance)
            name, parameters = "/CCITTFaxDecode", f"<< {form} >>"
            kind = form.split(" /Columns")[0][1:] + " fax"
        else:
            name, data = "/FlateDecode", zlib.compress(ones.tobytes())
    else:
        bare, pixel = image.tobytes(), len(mode)
        dictionary, name = size + f"8 /ColorSpace {space}", {"F": "/FlateDecode", "L": "/LZWDecode", "r": "/RunLengthDecode", "b": ""}[kind[0]]
        form = ""
        if "predicted" in kind:
            bare = predicted(bare, w * pixel, pixel, chance)
            form = f"/Predictor {chance.randrange(10, 16)} /Columns {w} /Colors {pixel} "
        early = chance.randrange(2)
        data = {"F": zlib.compress, "L": lambda d: lzw(d, early), "r": runs, "b": lambda d: d}[kind[0]](bare)
        if name == "/LZWDecode":
            form += f"/EarlyChange {early}"
        parameters = f"<< {form} >>" if form else "null"
    filters = [(name, parameters)] if name else []
    return kind, dictionary, filters, data


def in_letters(data, chance):
    if chance.random() < 0.5:
        return "/ASCII85Decode", base64.a85encode(data, wrapcol=80) + b"~>"
    return "/ASCIIHexDecode", data.hex().encode() + b">"


def spoil(data, chance):
    """(how, data); `how` is empty where it is left whole."""
    way = chance.choice(("", "cut", "cut", "zeros", "bytes"))
    if way == "cut":
        return "cut", data[:int(len(data) * chance.uniform(0.03, 0.9))]
    if way == "zeros":
        at, n = int(len(data) * chance.uniform(0.05, 0.9)), max(4, int(len(data) * chance.uniform(0.02, 0.3)))
        return "zeros", data[:at] + bytes(min(n, len(data) - at)) + data[at + n:]
    if way == "bytes":
        data = bytearray(data)
        for _ in range(chance.randrange(1, 10)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        return "bytes", bytes(data)
    return "", data


def spoilt_picture(folder, chance):
    kind, dictionary, filters, data = picture(folder, chance)
    how, data = spoil(data, chance)
    if chance.random() < 0.25:
        name, data = in_letters(data, chance)
        filters, kind = [(name, "null"), *filters], kind + " in letters"
        if not how and chance.random() < 0.5:
            how, data = "cut", data[:int(len(data) * chance.uniform(0.03, 0.9))]
    if not how and chance.random() < 0.3:
        data += b"\r\n"
    about = dictionary + (f" /Filter [{' '.join(f for f, _ in filters)}] /DecodeParms [{' '.join(p for _, p in filters)}]" if filters else "")
    return f"{kind}, {how or 'whole'}", how, damaged.picture_page(about, data, chance.random() < 0.3)


# --- fonts --------------------------------------------------------------------------------------------------------------------------------

def by_cairo(folder, chance):
    surface = cairo.PDFSurface(str(folder / "font.pdf"), 612, 792)
    drawn = cairo.Context(surface)
    drawn.select_font_face(chance.choice(FAMILIES), chance.randrange(2), chance.randrange(2))
    drawn.set_font_size(chance.uniform(12, 50))
    for i in range(chance.randrange(1, 4)):
        drawn.move_to(60, 200 + 80 * i)
        drawn.show_text(chance.choice(WORDS))
    surface.finish()


def by_ghostscript(folder, chance):
    lines = "".join(f"60 {200 + 90 * i} moveto ({chance.choice(WORDS)}) show " for i in range(chance.randrange(1, 4)))
    (folder / "font.ps").write_text(f"%!PS\n/{chance.choice(POSTSCRIPT)} findfont {chance.uniform(12, 50):.1f} scalefont setfont {lines} showpage\n")
    subprocess.run(["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", *chance.choice(((), ("-dCompressFonts=false",), ("-dSubsetFonts=false", "-dEmbedAllFonts=true"))), "-o", folder / "font.pdf", folder / "font.ps"], check=True)


def by_hand(folder, chance):
    (folder / "font.pdf").write_bytes(damaged.font_page(damaged.TRUETYPE.read_bytes()))


MAKERS = [by_cairo, by_ghostscript, by_hand]


def spoilt_font(folder, chance):
    maker = chance.choice(MAKERS)
    maker(folder, chance)
    with pikepdf.open(folder / "font.pdf") as pdf:
        files = [(o, key) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) for key in ("/FontFile", "/FontFile2", "/FontFile3") if key in o]
        about, key = chance.choice(files)
        how, packed = "", chance.random() < 0.2 and "/Filter" in about[key]
        program = about[key]
        if packed:
            how, data = spoil(program.read_raw_bytes(), chance)
            program.write(data, filter=program.Filter, decode_parms=program.get("/DecodeParms"))
        else:
            how, data = spoil(program.read_bytes(), chance)
            program.write(data)
        out = io.BytesIO()
        pdf.save(out, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none, static_id=True)
    return f"{maker.__name__} {key}{' packed' if packed else ''}, {how or 'whole'}", how, out.getvalue()


# --- what is told, and what is shown --------------------------------------------------------------------------------------------------------

def shown(gray):
    rows, columns = numpy.nonzero(gray < WHITE)
    return (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1) if rows.size else None


def by_poppler(path):
    drawn = subprocess.run(["pdftoppm", "-gray", "-r", "72", path], capture_output=True, timeout=60).stdout
    return shown(numpy.asarray(Image.open(io.BytesIO(drawn)))) if drawn else None


def by_gs(path):
    drawn = subprocess.run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pgmraw", "-r72", "-dTextAlphaBits=4", "-o", "%stdout", path], capture_output=True, timeout=60).stdout
    at = drawn.find(b"P5")
    return shown(numpy.asarray(Image.open(io.BytesIO(drawn[at:])))) if at >= 0 else None


def reaches_beyond(theirs, ours):
    if theirs is None:
        return False
    if ours is None:
        return True
    return theirs[0] < ours[0] - SLACK or theirs[1] < ours[1] - SLACK or theirs[2] > ours[2] + SLACK or theirs[3] > ours[3] + SLACK


def judge(program, made, folder, tally):
    """Gives lines of trouble. `made`: (name, how it was spoilt, is a picture, data)."""
    paths = [folder / f"{number}.pdf" for number in range(len(made))]
    for path, each in zip(paths, made):
        path.write_bytes(each[3])
    said = subprocess.run([program, "check", *paths, "--sheet", "100x100in", "--format", "json", "--only", "file.damaged,font.damaged"], capture_output=True, timeout=60 + 2 * len(paths)).stdout
    troubles = []
    for path, (name, how, is_picture, _), file in zip(paths, made, json.loads(said)["files"]):
        page = file["pages"][0] if file["pages"] else {"findings": []}
        told = [f["check"] for f in page["findings"] + file["findings"] if f["level"] == "hold"] or not page.get("ink_known", True)
        tally[how or "whole"] = tally.get(how or "whole", 0) + 1
        if told:
            tally[f"{how or 'whole'}, told"] = tally.get(f"{how or 'whole'}, told", 0) + 1
        if not how and told:
            troubles.append(f"{path.name} {name}: told {told}")
        elif how == "cut" and is_picture and not told:
            troubles.append(f"{path.name} {name}: told as nothing")
        elif how and not told:
            x0, y0, x1, y1 = page.get("ink_pt") or (0, 0, 0, 0)
            high = page["boxes"]["media"][3]
            ink = (x0, high - y1, x1, high - y0) if x1 > x0 else None  # from above, as pictures count
            if not any(reaches_beyond(reader(path), ink) for reader in (by_poppler, by_gs)):
                continue
            if how == "bytes" and not is_picture:
                tally["fonts with bytes changed that others show larger"] = tally.get("fonts with bytes changed that others show larger", 0) + 1
            else:
                troubles.append(f"{path.name} {name}: ink told as {ink}, poppler {by_poppler(path)}, Ghostscript {by_gs(path)}")
    return troubles


def made_at_random(program, pictures, fonts, seed, scratch):
    """Gives lines of trouble, and how many were spoilt in which way and told."""
    chance = random.Random(seed)
    made = []
    for count, make, is_picture in ((pictures, spoilt_picture, True), (fonts, spoilt_font, False)):
        for _ in range(count):
            name, how, data = make(scratch, chance)
            made.append((name, how, is_picture, data))
    tally = {}
    return judge(program, made, scratch, tally), tally


def main():
    options = argparse.ArgumentParser()
    options.add_argument("build", type=pathlib.Path)
    options.add_argument("--pictures", type=int, default=1200)
    options.add_argument("--fonts", type=int, default=640)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--keep", type=pathlib.Path)
    o = options.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = o.keep or pathlib.Path(scratch)
        folder.mkdir(exist_ok=True)
        troubles, tally = made_at_random(o.build / "layright", o.pictures, o.fonts, o.seed, folder)
    for trouble in troubles:
        print("  " + trouble)
    print(", ".join(f"{what}: {n}" for what, n in sorted(tally.items())))
    print(f"{o.pictures + o.fonts - len(troubles)} passed, {len(troubles)} failed")
    return 1 if troubles else 0


if __name__ == "__main__":
    sys.exit(main())
