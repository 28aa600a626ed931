"""What the checks of the art cost beside the ink-only pass, and a proof and a report beside their rendering."""
import json
import os
import random
import subprocess
import zlib

from bench import in_turns, make_pdf

DRAWN = ("ink.total", "white.under")  # these look at a drawing of the page
GROUPS = ("picture", "line", "text", "font", "colour", "white")


def checks_of_the_art(program):
    listed = json.loads(subprocess.run([program, "checks", "--format", "json"], capture_output=True, check=True).stdout)
    return [c["check"] for c in listed if c["check"].split(".")[0] in GROUPS and c["check"] not in DRAWN]


WEEDED = ("ink.island", "ink.gap")   # at one as the press draws it


def sheet_of_bits(folder, name, row):
    """12.5 x 19 in of a black-and-white picture with a pixel for each of the press; `row` gives the bytes of one of its rows."""
    width, height, content = 7500, 11400, "900 0 0 1368 0 0 cm /I Do"
    data = zlib.compress(b"".join(row(y) for y in range(height)), 1)
    bodies = [b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
              b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 900 1368] /Contents 4 0 R /Resources << /XObject << /I 5 0 R >> >> >>",
              f"<< /Length {len(content)} >>\nstream\n{content}\nendstream".encode(),
              f"<< /Type /XObject /Subtype /Image /Width {width} /Height {height} /ImageMask true /BitsPerComponent 1 /Filter /FlateDecode "
              f"/Length {len(data)} >>\nstream\n".encode() + data + b"\nendstream"]
    path = folder / name
    path.write_bytes(whole_pdf(bodies))
    return path


def whole_pdf(bodies):
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(bodies, 1):
        places.append(len(out))
        out += b"%d 0 obj\n" % number + body + b"\nendobj\n"
    table = "".join(f"{p:010} 00000 n \n" for p in places)
    return out + f"xref\n0 {len(bodies) + 1}\n0000000000 65535 f \n{table}trailer\n<< /Size {len(bodies) + 1} /Root 1 0 R >>\nstartxref\n{len(out)}\n%%EOF\n".encode()


def large_sheet(folder):
    """12.5 x 19 in full of art: circles in rows, text over them, lines across, slits."""
    lines = []
    for row in range(34):
        for column in range(22):
            x, y = 40 * column + 10, 40 * row + 8
            lines.append(f"{(row % 5) / 5} {(column % 4) / 4} 0.2 rg {x} {y + 15} m {x + 40} {y + 50} {x + 40} {y - 20} {x} {y + 15} c f")
        lines.append(f"0 g BT /F 9 Tf 12 {40 * row + 32} Td ({'Quillowfen print room, film on the tray ' * 5}) Tj ET")
        lines.append(f"{0.3 + row % 3} w 5 {40 * row + 3} m 890 {40 * row + 12} l S")
    content = "\n".join(lines)
    bodies = ["<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
              "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 900 1368] /Contents 4 0 R /Resources << /Font << /F << /Type /Font /Subtype /Type1 "
              "/BaseFont /Helvetica >> >> >> >>", f"<< /Length {len(content)} >>\nstream\n{content}\nendstream"]
    path = folder / "large.pdf"
    path.write_bytes(whole_pdf([body.encode() for body in bodies]))
    return path


def weeding(bench, folder):
    chance = random.Random(3)
    sheets = {"full of art": large_sheet(folder), "of noise": sheet_of_bits(folder, "noise.pdf", lambda y: chance.randbytes(938)),
              "of stripes two pixels wide": sheet_of_bits(folder, "stripes.pdf", lambda y: b"\x33" * 938)}
    for what, path in sheets.items():
        words = [bench.program, "check", path, "--sheet", "12.5x19in", "--margin", "0.05in", "--jobs", 1, "--only"]
        with_it, without = in_turns(3, [*words, ",".join(WEEDED)], [*words, "ink.margin"])
        bench.row(f"what weeds, 12.5 x 19 in {what} at 600 dpi, processor time", with_it.processor, 2, "s")
        bench.note("the same sheet without it", without.processor, "s")
        bench.row("memory of that", bench.memory([*words, ",".join(WEEDED)]), 200, "MB")


def rows(bench, folder, count):
    print(f"checks of the art, {count} pages")
    path = make_pdf(folder, count)
    all_of_the_art = [bench.program, "check", path, "--format", "json", "--jobs", 1,
                      "--only", ",".join(["ink.margin", *checks_of_the_art(bench.program)])]
    ink, art = in_turns(3, bench.check(path), all_of_the_art)
    (drawn,) = in_turns(1, [bench.program, "check", path, "--format", "json", "--jobs", 1, "--only", ",".join(["ink.margin", *DRAWN])])
    bench.row("ink and all checks of the art, of the ink-only pass", art.processor / ink.processor, 2)
    bench.row("ink, ink.total and white.under (a drawing of each page), of the ink-only pass", drawn.processor / ink.processor, 10)
    weeding(bench, folder)
    one = make_pdf(folder, 1)
    without, drawing, proof = in_turns(3, [bench.program, "check", one, "--jobs", 1], ["mutool", "draw", "-q", "-r", "144", "-F", "png", "-o", os.devnull, one],
                                       [bench.program, "check", one, "--jobs", 1, "--proof", folder / "proof.png"])
    bench.row("a proof of one page, processor time beyond the check and its rendering", proof.processor - without.processor - drawing.processor, 0.5, "s")
