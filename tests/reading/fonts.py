#!/usr/bin/python3
"""Live text in embedded fonts whose outlines were reversed below every matrix: such a page must never be said to read right.

    fonts.py BUILD-FOLDER

Takes the fonts of make_pages.py's test part, TrueType and CFF, embeds each as it is and with every outline reversed (fontTools), and asks
the program. As it is each must read right by its text.
"""
import io
import json
import pathlib
import subprocess
import sys
import tempfile

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

import make_pages

LATIN = "Gastrel findery PORGAN 257"
TEXT = {"serif": LATIN, "sans": LATIN, "slab": LATIN, "condensed": LATIN, "script": LATIN, "greek": "Γλαρ φεζγρες δεξ", "cyrillic": "Лекбур зегляр ГУЗ",
        "hebrew": "דגל שבת קרן"}


def file_of(family):
    """The font's file and its number in it."""
    path, index = subprocess.run(["fc-match", "-f", "%{file}\n%{index}", family], check=True, stdout=subprocess.PIPE, text=True).stdout.split("\n")
    return path, int(index)


def reverse(font, names):
    """Every outline of `names` in a mirror, without turning its winding round."""
    glyphs, drawn = font.getGlyphSet(), {}
    for name in names:
        drawn[name] = DecomposingRecordingPen(glyphs)
        glyphs[name].draw(drawn[name])
    for name, drawing in drawn.items():
        width = font["hmtx"][name][0]
        flip = (-1, 0, 0, 1, width, 0)
        if "glyf" in font:
            pen = TTGlyphPen(None)
            drawing.replay(TransformPen(pen, flip))
            font["glyf"][name] = pen.glyph()
        else:
            outlines = font["CFF "].cff.topDictIndex[0].CharStrings
            pen = T2CharStringPen(width, None)
            drawing.replay(TransformPen(pen, flip))
            outlines[name] = pen.getCharString(outlines[name].private, outlines[name].globalSubrs)


def page_of(family, text, reversed_outlines):
    """One page with the text in that font, as objects; whoever opens it mends the missing cross-reference table."""
    path, index = file_of(family)
    font = TTFont(path, fontNumber=index, recalcTimestamp=False)
    names = [font.getBestCmap()[ord(c)] for c in text]
    if reversed_outlines:
        reverse(font, set(names))
    font["head"].modified = font["head"].created = 0  # some fonts hold times that fontTools complains of
    file = io.BytesIO()
    font.save(file, reorderTables=False)
    ids, scale = [font.getGlyphID(name) for name in names], 1000 / font["head"].unitsPerEm
    widths = " ".join(f"{i} [{font['hmtx'][name][0] * scale:.0f}]" for i, name in zip(ids, names))
    unicode = "".join(f"<{i:04X}> <{ord(c):04X}>\n" for i, c in dict(zip(ids, text)).items())
    cmap = (f"begincmap\n1 begincodespacerange <0000> <FFFF> endcodespacerange\n{len(set(ids))} beginbfchar\n{unicode}endbfchar\nendcmap").encode()
    content = f"BT /F 24 Tf 72 400 Td <{''.join(f'{i:04X}' for i in ids)}> Tj ET".encode()
    kind, key = ("CIDFontType2", "FontFile2") if "glyf" in font else ("CIDFontType0", "FontFile3")
    return b"%PDF-1.7\n" + b"".join(b"%d 0 obj\n%s\nendobj\n" % (number, body) for number, body in enumerate([
        b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Contents 4 0 R /Resources << /Font << /F 5 0 R >> >> >>",
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content),
        b"<< /Type /Font /Subtype /Type0 /BaseFont /Art /Encoding /Identity-H /DescendantFonts [6 0 R] /ToUnicode 9 0 R >>",
        b"<< /Type /Font /Subtype /%s /BaseFont /Art /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /W [%s] "
        b"/FontDescriptor 7 0 R %s>>" % (kind.encode(), widths.encode(), b"/CIDToGIDMap /Identity " if "glyf" in font else b""),
        b"<< /Type /FontDescriptor /FontName /Art /Flags 4 /FontBBox [0 -300 1000 1000] /ItalicAngle 0 /Ascent 900 /Descent -300 /CapHeight 700 "
        b"/StemV 80 /%s 8 0 R >>" % key.encode(),
        b"<< /Length %d %s>>\nstream\n%s\nendstream" % (len(file.getvalue()), b"" if "glyf" in font else b"/Subtype /OpenType ", file.getvalue()),
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(cmap), cmap)], 1)) + b"trailer\n<< /Size 10 /Root 1 0 R >>\n%%EOF\n"


def answer(program, page):
    with tempfile.TemporaryDirectory() as folder:
        rough, path = pathlib.Path(folder) / "rough.pdf", pathlib.Path(folder) / "page.pdf"
        rough.write_bytes(page)
        subprocess.run(["qpdf", rough, path], stderr=subprocess.DEVNULL)  # makes the table
        told = subprocess.run([program, "check", path, "--format", "json", "--reading", "right"], stdout=subprocess.PIPE)
        page = json.loads(told.stdout)["files"][0]["pages"][0]
        return page["reading"], page["reading_from"]


def main():
    program, faults, found_out = pathlib.Path(sys.argv[1]) / "layright", [], 0
    fonts = [(family, text) for kind, text in TEXT.items() for family in make_pages.FONTS["test"][kind]]
    for family, text in fonts:
        natural, reversed_one = answer(program, page_of(family, text, False)), answer(program, page_of(family, text, True))
        found_out += reversed_one[0] == "wrong"
        if natural != ("right", "text"):
            faults.append(f"{family} as it is: {natural}")
        if reversed_one[0] in ("right", "mixed"):
            faults.append(f"{family} with its outlines reversed: {reversed_one}")
        if reversed_one != ("wrong", "text"):
            print(f"  {family} with its outlines reversed: {reversed_one}")
    print(f"{'broken ' if faults else 'kept   '} of {len(fonts)} fonts with reversed outlines none is said to read right, {found_out} are found out")
    print("".join(f"  {fault}\n" for fault in faults), end="")
    print(f"{int(not faults)} passed, {int(bool(faults))} failed")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
