"""Drawings: EPS, PostScript and SVG, their sizes, what they may not do, and the pictures that lie in them."""
import base64
import gzip
import io
import subprocess

import numpy as np

import make_art as art
from judge import WORDS, check, held, lay, told


def drawings(folder):
    def drawing(name, variant, file_name, data, size, judge, checks=()):
        path = folder / file_name
        path.write_bytes(data if isinstance(data, bytes) else data.encode())
        report, _ = check([path])
        file = report["files"][0]
        faults = [f"taken for {file['format']}"] if file["format"] != name else []
        faults += [f"{c} is not told" for c in checks if c not in {f["check"] for f in file["findings"]}]
        if not file["pages"]:
            faults.append("no page: " + " ".join(f["message"] for f in file["findings"]))
        elif not np.allclose(file["pages"][0]["seen_size_pt"], size, atol=0.05):
            faults.append(f"the page is {file['pages'][0]['seen_size_pt']} instead of {size}")
        laid, run = lay(path)
        if not laid:
            faults.append("not laid: " + run.stdout + run.stderr)
        told(name, variant, judge, faults, "laid at its size")
    eps = art.EPS
    drawing("eps", "%%BoundingBox", "plain.eps", eps.format(box="10 20 130 190", more=""), (120, 170), "EPSF 3.0")
    drawing("eps", "%%HiResBoundingBox", "fine.eps", eps.format(box="10 20 130 190", more="%%HiResBoundingBox: 10.25 20.5 129.75 189.125\n"), (119.5, 168.625), "EPSF 3.0")
    drawing("eps", "%%BoundingBox: (atend)", "late.eps", eps.format(box="(atend)", more="").replace("%%EOF", "%%Trailer\n%%BoundingBox: 10 20 130 190\n%%EOF"), (120, 170), "DSC 3.0")
    drawing("eps", "binary header, preview", "dos.eps", art.dos_eps(eps.format(box="10 20 130 190", more="").encode()), (120, 170), "EPSF 3.0, appendix B")
    drawing("eps", "origin far below", "far.eps", eps.format(box="-500 -400 130 190", more=""), (630, 590), "EPSF 3.0")
    drawing("eps", "lines that end in CR", "mac.eps", eps.format(box="10 20 130 190", more="").replace("\n", "\r"), (120, 170), "DSC 3.0")
    drawing("eps", "without showpage", "bare.eps", eps.format(box="10 20 130 190", more="").replace("showpage\n", ""), (120, 170), "EPSF 3.0")
    drawing("eps", "no box at all", "boxless.eps", eps.format(box="", more=""), (100, 140), "its ink, 20 30 to 120 170", ["file.converted"])
    drawing("eps", "named as a PDF", "named.pdf", eps.format(box="10 20 130 190", more=""), (120, 170), "EPSF 3.0", ["file.format"])
    body = "0.2 0.5 0.1 setrgbcolor 20 30 100 140 rectfill showpage\n"
    drawing("postscript", "setpagedevice", "page.ps", "%!PS\n<</PageSize [300 400]>> setpagedevice\n" + body, (300, 400), "PLRM 3")
    drawing("postscript", "%%DocumentMedia", "media.ps", "%!PS-Adobe-3.0\n%%DocumentMedia: film 310 410 0 () ()\n%%EndComments\n" + body + "%%EOF\n", (310, 410), "DSC 3.0")
    drawing("postscript", "%%BoundingBox", "box.ps", "%!PS-Adobe-3.0\n%%BoundingBox: 0 0 200 220\n%%EndComments\n" + body + "%%EOF\n", (200, 220), "DSC 3.0", ["file.converted"])
    drawing("postscript", "nothing: around its ink", "nothing.ps", "%!PS\n" + body, (100, 140), "its ink", ["file.converted"])
    drawing("postscript", "in a printer's job language", "job.prn", "\x1b%-12345X@PJL JOB\n@PJL ENTER LANGUAGE=POSTSCRIPT\n%!PS\n<</PageSize [300 400]>> setpagedevice\n" + body + "\x04\x1b%-12345X", (300, 400), "our own")
    drawing("postscript", "level 1", "level1.ps", "%!PS-Adobe-1.0\n%%BoundingBox: 0 0 200 220\n%%EndComments\nnewpath 20 30 moveto 120 30 lineto 120 170 lineto closepath fill showpage\n", (200, 220), "PLRM 1", ["file.converted"])
    (folder / "quick.toml").write_text("[limits]\nseconds-a-page = 1\n")
    for variant, text, checks, words in (
            ("DCS", eps.format(box="10 20 130 190", more="%%CyanPlate: crest.C\n"), ["file.format"], ["one for each ink"]),
            ("an endless loop", eps.format(box="10 20 130 190", more="").replace("showpage", "{} loop showpage"), ["file.limit"], ["never ends"]),
            ("reads a file", eps.format(box="10 20 130 190", more="").replace("showpage", "(/etc/hostname) (r) file pop showpage"), ["file.damaged"], ["Ghostscript cannot draw it"]),
            ("a font that is not in it", eps.format(box="10 20 130 190", more="").replace("showpage", "/Quillmark 20 selectfont 20 40 moveto (art) show showpage"), ["file.converted"], ["Quillmark", "outlines"]),
            ("cut short", eps.format(box="10 20 130 190", more="")[:95], ["file.damaged"], ["cut short"])):
        path = folder / ("held-" + "".join(c if c.isalnum() else "-" for c in variant) + ".eps")
        path.write_text(text)
        more = ["--config", str(folder / "quick.toml")] if "loop" in variant else []
        WORDS.extend(more)
        held("eps", variant, path, checks, words)
        del WORDS[len(WORDS) - len(more):]
    for variant, attributes, size in (("in", 'width="1in" height="2in" viewBox="0 0 96 192"', (72, 144)), ("mm", 'width="25.4mm" height="50.8mm" viewBox="0 0 96 192"', (72, 144)),
                                      ("px", 'width="96" height="192"', (72, 144)), ("pt", 'width="72pt" height="144pt" viewBox="0 0 96 192"', (72, 144)),
                                      ("cm, height missing", 'width="2.54cm" viewBox="0 0 96 192"', (72, 144)), ("viewBox alone", 'viewBox="0 0 96 192"', (72, 144))):
        drawing("svg", variant, f"{variant.split(',')[0].replace(' ', '-')}.svg", art.SVG.format(size=attributes, more=""), size, "CSS Values 3, 6.2: 96 px to the inch")
    drawing("svg", "no size: around its ink", "sizeless.svg", art.SVG.format(size="", more=""), (57, 129), "76 x 172 px", ["file.converted"])
    drawing("svg", "packed (svgz)", "packed.svgz", gzip.compress(art.SVG.format(size='width="1in" height="2in" viewBox="0 0 96 192"', more="").encode()), (72, 144), "RFC 1952")
    for variant, more, words in (("a picture from elsewhere", '<image xlink:href="photo.png" width="9" height="9"/>', ["photo.png", "never fetched"]),
                                 ("an address", '<image href="http://example.invalid/a.png" width="9" height="9"/>', ["example.invalid"]),
                                 ("a style sheet", "<style>@import 'look.css';</style>", ["look.css"]),
                                 ("a font that is not here", '<text x="12" y="50" font-family="Quillmark" font-size="20">art</text>', ["Quillmark", "outlines"])):
        path = folder / ("held-" + variant.replace(" ", "-") + ".svg")
        path.write_text(art.SVG.format(size='width="1in" height="2in" viewBox="0 0 96 192"', more=more))
        held("svg", variant, path, ["file.converted"], words)


SIZE = 'width="1in" height="2in" viewBox="0 0 96 192"'


def embedded(kind, data, name="image"):
    return f'<{name} xlink:href="data:{kind};base64,{base64.b64encode(data).decode()}" x="20" y="40" width="40" height="30"/>'


def in_format(name, **options):
    out = io.BytesIO()
    art.rgb().save(out, name, **options)
    return out.getvalue()


def drawn_alike(path, reference):
    """Whether the laid pages show the same at 60 pixels to the inch, drawn by poppler."""
    shown = []
    for p in (path, reference):
        laid, run = lay(p)
        if not laid:
            return "not laid: " + run.stdout + run.stderr
        shown.append(subprocess.run(["pdftoppm", "-r", "60", str(laid)], check=True, capture_output=True).stdout)
    return "" if shown[0] == shown[1] else "another picture"


def embedded_pictures(folder):
    """A picture inside a drawing that its program leaves out in silence is told; one that only says the wrong kind is drawn."""
    png, jpeg = in_format("PNG"), in_format("JPEG", quality=90)
    (folder / "right.svg").write_text(art.SVG.format(size=SIZE, more=embedded("image/jpeg", jpeg)))
    (folder / "png.svg").write_text(art.SVG.format(size=SIZE, more=embedded("image/png", png)))
    (folder / "bare.svg").write_text(art.SVG.format(size=SIZE, more=""))
    for variant, more, as_drawn in (("a PNG", embedded("image/png", png), "png.svg"), ("a JPEG", embedded("image/jpeg", jpeg), "right.svg"), ("a JPEG that says image/jpg", embedded("image/jpg", jpeg), "right.svg"),
                                    ("a PNG that says image/jpeg", embedded("image/jpeg", png), "png.svg"), ("a PNG that says nothing", embedded("", png), "png.svg"),
                                    ("a PNG in lines", embedded("image/png", png).replace("AAAA", "AA&#10;AA\n"), "png.svg")):
        path = folder / ("with " + variant.replace("/", " ") + ".svg")
        path.write_text(art.SVG.format(size=SIZE, more=more))
        fault = drawn_alike(path, folder / as_drawn)
        told("svg", variant + " in it", "the same picture, drawn by poppler", [fault] if fault else [], "laid, the same drawn pixels")
    fault = drawn_alike(folder / "png.svg", folder / "bare.svg")
    told("svg", "a PNG in it is there at all", "drawn by poppler", [] if fault == "another picture" else ["it is not drawn"], "laid, other pixels than without")
    zeros = bytearray(jpeg)
    zeros[len(jpeg) // 2:len(jpeg) // 2 + 100] = bytes(100)
    broken = bytearray(png)
    broken[len(png) // 2] ^= 0x55
    for variant, more, checks, words in (
            ("a PNG cut short", embedded("image/png", png[:len(png) // 2]), ["file.damaged"], ["embedded in it is damaged", "cut short"]),
            ("a JPEG cut short", embedded("image/jpeg", jpeg[:len(jpeg) // 2]), ["file.damaged"], ["embedded in it is damaged", "cut short"]),
            ("a PNG with a wrong byte", embedded("image/png", bytes(broken)), ["file.damaged"], ["embedded in it is damaged"]),
            ("a JPEG with zeros in it", embedded("image/jpeg", bytes(zeros)), ["file.damaged"], ["embedded in it is damaged"]),
            ("Base64 that is none", embedded("image/png", png).replace("AAAA", "A$$A", 1), ["file.damaged"], ["no Base64"]),
            ("no picture", embedded("image/png", b"sorry, not found"), ["file.damaged"], ["no picture"]),
            ("an image without an address", '<image x="20" y="40" width="40" height="30"/>', ["file.damaged"], ["has nothing in it"]),
            ("an image with an empty address", '<image href="" x="20" y="40" width="40" height="30"/>', ["file.damaged"], ["has nothing in it"]),
            ("a WebP", embedded("image/webp", in_format("WEBP")), ["file.converted"], ["WebP", "PNG or JPEG"]),
            ("a GIF", embedded("image/gif", in_format("GIF")), ["file.converted"], ["GIF", "PNG or JPEG"]),
            ("a drawing in it that asks for more", embedded("image/svg+xml", art.SVG.format(size=SIZE, more='<image href="b.png" width="9" height="9"/>').encode()), ["file.converted"], ["from elsewhere"]),
            ("a picture of an effect, broken", "<filter id='f'>" + embedded("image/png", png[:300], "feImage") + "</filter>", ["file.damaged"], ["embedded in it is damaged"])):
        path = folder / ("held " + variant + ".svg")
        path.write_text(art.SVG.format(size=SIZE, more=more))
        held("svg", "embedded: " + variant, path, checks, words, status=(2,))
    wide = folder / "wide.svg"
    wide.write_bytes(("<?xml version='1.0' encoding='UTF-16'?>" + art.SVG.format(size=SIZE, more=embedded("image/png", png[:300]))).encode("utf-16"))
    held("svg", "embedded: a PNG cut short, two bytes a letter", wide, ["file.damaged"], ["embedded in it is damaged"], status=(2,))
