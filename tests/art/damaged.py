"""Pictures and fonts whose data are not all there: what programs make of them is their own affair, so each is told, wherever it lies. The same whole,
and what writers leave behind or off an end, is told as nothing. The data are made by Pillow, fontTools, tiffcp, Ghostscript, pbmtog3 and by hand."""
import io
import itertools
import pathlib
import struct
import subprocess
import zlib

import numpy
from fontTools import ttLib
from PIL import Image

TRUETYPE = pathlib.Path("/usr/share/fonts/truetype/dejavu/DejaVuSerif-Bold.ttf")
TOLD = ("file.damaged", "font.damaged")
GROUND = "0.5 0.8 0.9 rg 0 0 612 792 re f "


def pdf(objects, content, resources):
    bodies = [b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
              f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Contents 4 0 R /Resources << {resources} >> >>".encode(),
              f"<< /Length {len(content)} >>\nstream\n{content}\nendstream".encode(), *objects]
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(bodies, 1):
        places.append(len(out))
        out += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
    table = "".join(f"{p:010} 00000 n \n" for p in places)
    return out + f"xref\n0 {len(bodies) + 1}\n0000000000 65535 f \n{table}trailer\n<< /Size {len(bodies) + 1} /Root 1 0 R >>\nstartxref\n{len(out)}\n%%EOF\n".encode()


def stream(dictionary, data):
    return f"<< {dictionary} /Length {len(data)} >>\nstream\n".encode() + data + b"\nendstream"


def picture_page(dictionary, data, ground):
    return pdf([stream("/Type /XObject /Subtype /Image " + dictionary, data)], (GROUND if ground else "") + "q 300 0 0 200 50 50 cm /I Do Q", "/XObject << /I 5 0 R >>")


def saved(image, form, **more):
    out = io.BytesIO()
    image.save(out, form, **more)
    return out.getvalue()


def group4(folder, image):
    image.save(folder / "a.tif", compression="group4")
    subprocess.run(["tiffcp", "-c", "g4", "-r", "9999", folder / "a.tif", folder / "b.tif"], check=True, capture_output=True)
    made = Image.open(folder / "b.tif")
    start, size = made.tag_v2[273][0], made.tag_v2[279][0]
    return (folder / "b.tif").read_bytes()[start:start + size], made.tag_v2[262] == 1


def group3(folder, image):
    """Every form of Group 3 (ITU-T T.4; ISO 32000-1, Table 11): name -> (parameters, data). Of rows of two kinds none are without the marks between
    them: each reader takes those in its own way."""
    made = {}
    for k, line, align, block in itertools.product((0, 1, 4), (False, True), (False, True), (False, True)):
        if k > 0 and not line:
            continue
        form = f"/K {k} /Columns {image.width} /Rows {image.height} " + " ".join(f"/{key} {'true' if on else 'false'}" for key, on in (("EndOfLine", line), ("EncodedByteAlign", align), ("EndOfBlock", block)))
        (folder / "fax.ps").write_text(f"%!PS\n/w (%stdout) (w) file def /f w << {form} >> /CCITTFaxEncode filter def f <{image.tobytes().hex()}> writestring f closefile w flushfile quit\n")
        made["Group 3 " + form] = form, subprocess.run(["gs", "-q", "-dNODISPLAY", folder / "fax.ps"], check=True, capture_output=True).stdout
    image.save(folder / "a.tif", compression="group3")
    for k, kind in enumerate(("1d", "2d")):
        for fill in ("", ":fill"):
            subprocess.run(["tiffcp", "-c", f"g3:{kind}{fill}", "-r", "9999", folder / "a.tif", folder / "b.tif"], check=True, capture_output=True)
            tags = Image.open(folder / "b.tif").tag_v2
            form = f"/K {k} /Columns {image.width} /Rows {image.height}" + " /EncodedByteAlign true /EndOfLine true" * bool(fill) + " /BlackIs1 true" * bool(tags[262])
            made[f"Group 3 by tiffcp, {kind}{fill}"] = form, (folder / "b.tif").read_bytes()[tags[273][0]:tags[273][0] + tags[279][0]]
    image.save(folder / "a.pbm")
    for words in ((), ("-align8",)):
        fax = subprocess.run(["pbmtog3", "-nofixedwidth", *words, folder / "a.pbm"], check=True, capture_output=True).stdout
        made[" ".join(("Group 3 by pbmtog3", *words))] = f"/K 0 /Columns {image.width} /Rows {image.height}" + " /EncodedByteAlign true /EndOfLine true" * bool(words), fax
    return made


def pictures(folder):
    """name -> (the picture's dictionary, its data)"""
    y, x = numpy.mgrid[0:100, 0:150]
    waves = numpy.stack([numpy.sin(x / 9) * 60 + 120, numpy.cos(y / 7) * 60 + 110, (x + y) % 97 + 40], 2) + numpy.random.default_rng(5).normal(0, 12, (100, 150, 3))
    rgb = Image.fromarray(numpy.clip(waves, 0, 230).astype("uint8"))
    grey, cmyk, bits = rgb.convert("L"), rgb.convert("CMYK"), rgb.convert("L").point(lambda v: 255 if v > 115 else 0).convert("1")
    size = "/Width 150 /Height 100 /BitsPerComponent "
    predicted = b"".join(b"\2" + (numpy.asarray(grey, int)[i] - (numpy.asarray(grey, int)[i - 1] if i else 0)).astype("uint8").tobytes() for i in range(100))
    runs = b"".join(bytes([149 - 100]) + row[:50] + bytes([99]) + row[50:] for row in (grey.tobytes()[i:i + 150] for i in range(0, 15000, 150))) + b"\x80"
    fax, black_is_1 = group4(folder, bits)
    black = "/BlackIs1 true" if black_is_1 else ""

    def segment(number, kind, data):
        return struct.pack(">IBBBI", number, kind, 0, 1, len(data)) + data
    # ITU-T T.88: a page, and a region of it in MMR, which is Group 4.
    jbig2 = segment(0, 0x30, struct.pack(">IIIIBH", 150, 100, 0, 0, 0, 0)) + segment(1, 0x27, struct.pack(">IIIIB", 150, 100, 0, 0, 0) + b"\1" + fax)
    return {
        "JPEG": (size + "8 /ColorSpace /DeviceRGB /Filter /DCTDecode", saved(rgb, "JPEG")),
        "progressive JPEG": (size + "8 /ColorSpace /DeviceRGB /Filter /DCTDecode", saved(rgb, "JPEG", progressive=True)),
        "JPEG in CMYK": (size + "8 /ColorSpace /DeviceCMYK /Filter /DCTDecode", saved(cmyk, "JPEG")),
        "JPEG upside down": (size + "8 /ColorSpace /DeviceGray /Decode [1 0] /Filter /DCTDecode", saved(grey, "JPEG")),
        "JPEG 2000": ("/Width 150 /Height 100 /Filter /JPXDecode", saved(rgb, "JPEG2000")),
        "JPEG 2000 in tiles": ("/Width 150 /Height 100 /Filter /JPXDecode", saved(grey, "JPEG2000", tile_size=(64, 64))),
        "JBIG2": (size + "1 /ColorSpace /DeviceGray /Filter /JBIG2Decode", jbig2),
        "Group 4": (size + f"1 /ColorSpace /DeviceGray /Filter /CCITTFaxDecode /DecodeParms << /K -1 /Columns 150 /Rows 100 {black} >>", fax),
        "Flate": (size + "8 /ColorSpace /DeviceRGB /Filter /FlateDecode", zlib.compress(rgb.tobytes())),
        "Flate, predicted": (size + "8 /ColorSpace /DeviceGray /Filter /FlateDecode /DecodeParms << /Predictor 15 /Columns 150 >>", zlib.compress(predicted)),
        "runs": (size + "8 /ColorSpace /DeviceGray /Filter /RunLengthDecode", runs),
        "bare": (size + "8 /ColorSpace /DeviceGray", grey.tobytes()),
        **{name: (size + f"1 /ColorSpace /DeviceGray /Filter /CCITTFaxDecode /DecodeParms << {form} >>", fax) for name, (form, fax) in group3(folder, bits).items()},
    }


def font_page(data):
    font = b"<< /Type /Font /Subtype /TrueType /BaseFont /Made /FirstChar 32 /LastChar 126 /Widths [" + b"600 " * 95 + b"] /Encoding /WinAnsiEncoding /FontDescriptor 6 0 R >>"
    about = b"<< /Type /FontDescriptor /FontName /Made /Flags 32 /FontBBox [-200 -200 1200 1000] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV 80 /FontFile2 7 0 R >>"
    return pdf([font, about, stream(f"/Length1 {len(data)}", data)], "BT /F 20 Tf 30 100 Td (Hamburgefonstiv 12) Tj ET", "/Font << /F 5 0 R >>")


def with_table(font, tag, change):
    """`change` of (name, from, length) of one table in the directory."""
    font = bytearray(font)
    for at in range(12, 12 + 16 * struct.unpack(">H", font[4:6])[0], 16):
        if bytes(font[at:at + 4]) == tag:
            name, start, length = change(tag, *struct.unpack(">II", font[at + 8:at + 16]))
            font[at:at + 4], font[at + 8:at + 16] = name, struct.pack(">II", start, length)
    return bytes(font)


def fonts():
    """name -> (the font, whether it is told)"""
    sound = TRUETYPE.read_bytes()
    made = {"whole": (sound, False), "three bytes short of its last table": (sound.rstrip(b"\0") if len(sound) - len(sound.rstrip(b"\0")) in (1, 2, 3) else sound, False), "with more behind it": (sound + b"\0\0\0\0", False)}
    subset = io.BytesIO()
    one = ttLib.TTFont(TRUETYPE)
    for table in ("GPOS", "GSUB", "GDEF", "kern", "name", "post", "OS/2"):
        if table in one:
            del one[table]
    one.save(subset)
    made["with few tables"] = (subset.getvalue(), False)
    for part in (0.3, 0.6, 0.9, 0.98):
        made[f"cut at {part}"] = (sound[:int(len(sound) * part)], True)
    for tag in (b"glyf", b"loca", b"head", b"hhea", b"hmtx", b"maxp"):
        made[f"without {tag.decode()}"] = (with_table(sound, tag, lambda name, start, length: (b"zzzz", start, length)), True)
    for tag in (b"glyf", b"loca"):
        made[f"{tag.decode()} beyond the end"] = (with_table(sound, tag, lambda name, start, length: (name, start, length + 9_000_000)), True)
        made[f"{tag.decode()} cut"] = (with_table(sound, tag, lambda name, start, length: (name, start, length // 50)), True)
    at, size = next(struct.unpack(">II", sound[i + 8:i + 16]) for i in range(12, 12 + 16 * struct.unpack(">H", sound[4:6])[0], 16) if sound[i:i + 4] == b"glyf")
    made["outlines written over with zeros"] = (sound[:at] + bytes(size) + sound[at + size:], True)
    return made


def made_pages(folder, checked):
    """Gives lines of trouble, and how many pages were looked at. `checked` takes files and gives the pages of each."""
    wanted = {}
    made = pictures(folder)
    for name, (dictionary, data) in made.items():
        for ground in (False, True):
            where = " on a ground" if ground else ""
            wanted[f"{name}, whole{where}"] = (picture_page(dictionary, data, ground), False)
            wanted[f"{name}, with a line's end behind it{where}"] = (picture_page(dictionary, data + b"\r\n", ground), False)
            for part in (0.3, 0.6, 0.9):
                wanted[f"{name}, cut at {part}{where}"] = (picture_page(dictionary, data[:int(len(data) * part)], ground), True)
    # Only its last mark is missing, and some writers leave that off.
    for name in ("JPEG", "JPEG in CMYK"):
        dictionary, data = made[name]
        wanted[f"{name} without its end mark"] = (picture_page(dictionary, data[:-2], False), False)
    for name, (data, told) in fonts().items():
        wanted[f"font {name}"] = (font_page(data), told)
    paths = [folder / f"{number}.pdf" for number in range(len(wanted))]
    for path, (data, _) in zip(paths, wanted.values()):
        path.write_bytes(data)
    troubles = []
    for (name, (_, told)), (page,) in zip(wanted.items(), checked(paths)):
        held = [f["check"] for f in page["findings"] if f["check"] in TOLD and f["level"] == "hold"]
        if bool(held) != told:
            troubles.append(f"{name}: {held or 'told as nothing'}")
        if "file.damaged" in held and page.get("ink_known", True):
            troubles.append(f"{name}: its ink is told as known")
    return troubles, len(wanted)
