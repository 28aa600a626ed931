#!/usr/bin/python3
"""Makes the art that the Quillowfen print room, an invented shop, gets from its invented customers: each file has one kind of trouble.

    make_art.py FOLDER          the art goes into FOLDER, beside it the password of the locked one and, in large/, a banner for several sheets; in dark/,
                                art for a dark shirt
"""
import math
import pathlib
import subprocess
import sys
import zipfile

import cairo

HERE = pathlib.Path(__file__).parent


# --- by Ghostscript -------------------------------------------------------------------------------------------------------------------

def by_ghostscript(folder):
    for source in sorted((HERE / "art").glob("*.ps")):
        if source.stem != "motifs":
            subprocess.run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-dAutoRotatePages=/None", "-sDEVICE=pdfwrite",
                            "-o", folder / f"{source.stem}.pdf", HERE / "art" / "motifs.ps", source], check=True)


# --- by cairo -------------------------------------------------------------------------------------------------------------------------

def lantern(pen, x, y, size):
    """A lantern around (x, y), y downwards."""
    pen.save()
    pen.translate(x, y)
    pen.scale(size, size)
    glow = cairo.RadialGradient(0, 0, 0.05, 0, 0, 0.5)
    glow.add_color_stop_rgb(0, 1, 0.85, 0.3)
    glow.add_color_stop_rgb(1, 0.85, 0.35, 0.1)
    pen.set_source(glow)
    pen.arc(0, 0, 0.5, 0, 2 * math.pi)
    pen.fill()
    pen.set_source_rgb(0.15, 0.12, 0.1)
    for top in (-0.62, 0.5):
        pen.rectangle(-0.25, top, 0.5, 0.12)
        pen.fill()
    pen.set_line_width(0.04)
    pen.arc(0, -0.62, 0.2, math.pi, 0)
    pen.stroke()
    for bar in (-0.18, 0, 0.18):
        pen.move_to(bar, -0.5)
        pen.line_to(bar, 0.5)
        pen.stroke()
    pen.restore()


def words(pen, text, x, y, size):
    pen.select_font_face("sans-serif", cairo.FONT_SLANT_NORMAL, cairo.FONT_WEIGHT_BOLD)
    pen.set_font_size(size)
    extents = pen.text_extents(text)
    pen.move_to(x - extents.width / 2 - extents.x_bearing, y)
    pen.show_text(text)


def cairo_page(folder, name, width, height, draw):
    surface = cairo.PDFSurface(str(folder / f"{name}.pdf"), width, height)
    surface.set_metadata(cairo.PDFMetadata.CREATE_DATE, "2024-05-02T09:00:00Z")
    pen = cairo.Context(surface)
    draw(pen)
    surface.finish()


def lantern_and_name(pen, x, y, size, name):
    lantern(pen, x, y, size)
    pen.set_source_rgb(0.15, 0.12, 0.1)
    words(pen, name, x, y + size * 0.95, size * 0.16)


def reversed_names(pen):
    pen.translate(612, 0)
    pen.scale(-1, 1)
    lantern_and_name(pen, 306, 520, 320, "Wick and Ember")


def by_cairo(folder):
    cairo_page(folder, "lantern-fine", 612, 1224, lambda pen: lantern_and_name(pen, 306, 560, 300, "Lamplight Evening"))
    cairo_page(folder, "names-reversed", 612, 1224, reversed_names)
    cairo_page(folder, "order-locked", 500, 600, lambda pen: lantern_and_name(pen, 250, 240, 260, "Locked Order"))
    cairo_page(folder, "badge-no-printing", 500, 600, lambda pen: lantern_and_name(pen, 250, 240, 260, "Night Watch"))
    cairo_page(folder, "patch-small-print", 500, 620, small_print)
    cairo_page(folder, "patch-damaged", 500, 600, lambda pen: lantern_and_name(pen, 250, 240, 260, "Torn Patch"))


# --- what is no PDF: one of each format that customers send ---------------------------------------------------------------------------

def surface_page(surface, name):
    lantern_and_name(cairo.Context(surface), 180, 150, 200, name)
    surface.finish()


def other_formats(folder):
    made = folder.parent / "made"
    made.mkdir(exist_ok=True)
    surface_page(cairo.PDFSurface(str(made / "lamp.pdf"), 360, 396), "Marsh Lamp")
    drawing = cairo.PSSurface(str(folder / "lamp-drawing.eps"), 360, 396)
    drawing.set_eps(True)
    surface_page(drawing, "Marsh Lamp")
    surface_page(cairo.SVGSurface(str(made / "lamp.svg"), 360, 396), "Marsh Lamp")
    (made / "lamp.svg").replace(folder / "lamp-outlines.svg")
    for device, name, *more in (("jpeg", "lamp-photo.jpg", "-dJPEGQ=92"), ("pngalpha", "lamp-clear.png"), ("tiff32nc", "lamp-inks.tif", "-sCompression=lzw"),
                                ("psdcmyk", "lamp-layers.psd"), ("png16m", "lamp-small.png"), ("ps2write", "lamp-program.ps")):
        subprocess.run(["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", f"-sDEVICE={device}", "-r300" if name != "lamp-small.png" else "-r100", *more,
                        "-o", folder / name, made / "lamp.pdf"], check=True)
    small = folder / "lamp-small.png"
    subprocess.run(["cwebp", "-quiet", "-lossless", small, "-o", folder / "lamp-web.webp"], check=True)
    subprocess.run(["heif-enc", "-q", "80", small, "-o", folder / "lamp-phone.heic"], check=True, stdout=subprocess.DEVNULL)
    (folder / "lamp-misnamed.jpg").write_bytes((made / "lamp.pdf").read_bytes())
    torn = (folder / "lamp-photo.jpg").read_bytes()
    (folder / "lamp-torn.jpg").write_bytes(torn[:len(torn) * 3 // 5])  # as a broken transfer leaves it
    small.unlink()
    with zipfile.ZipFile(folder / "lamp-order.docx", "w") as office:
        office.writestr("[Content_Types].xml", "<Types/>")
        office.writestr("word/document.xml", "<document/>")
    with zipfile.ZipFile(folder / "lamp-package.zip", "w", zipfile.ZIP_DEFLATED) as package:
        for path in (made / "lamp.pdf", folder / "lamp-photo.jpg", folder / "lamp-outlines.svg"):
            package.write(path, f"Marsh Lamp/{path.name}")
        package.writestr("Marsh Lamp/read me.txt", "ten shirts, by the new moon\n")


# --- by hand: what neither of them writes ---------------------------------------------------------------------------------------------

def plain_pdf(path, objects):
    """A PDF of these objects, numbered from 1; the first is the catalog."""
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += f"{number} 0 obj\n{body}\nendobj\n".encode()
    table = "".join(f"{place:010} 00000 n \n" for place in places)
    path.write_bytes(out + f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n{table}trailer\n"
                           f"<< /Size {len(objects) + 1} /Root 1 0 R >>\nstartxref\n{len(out)}\n%%EOF\n".encode())


def stream(entries, data):
    return f"<< {entries} /Length {len(data)} >>\nstream\n{data}\nendstream"


BANNER = "0.2 0.4 0.3 rg 120 300 260 90 re f 0.9 0.8 0.3 rg 150 320 60 50 re f BT /F1 40 Tf 0.1 g 140 230 Td (Reedmarch) Tj ET\n"
FONT = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold >>"


def by_hand(folder):
    plain_pdf(folder / "proof-layers.pdf", [
        "<< /Type /Catalog /Pages 2 0 R /OCProperties << /OCGs [6 0 R] /D << /OFF [6 0 R] /Order [6 0 R] >> >> >>",
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 500 600] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> /Properties << /Notes 6 0 R >> >> >>",
        stream("", BANNER + "/OC /Notes BDC 1 0 0 rg BT /F1 20 Tf 60 500 Td (cut here, sew there) Tj ET EMC"),
        FONT, "<< /Type /OCG /Name (Notes) >>"])
    plain_pdf(folder / "proof-stamped.pdf", [
        "<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 500 600] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> /Annots [6 0 R] >>",
        stream("", BANNER), FONT,
        "<< /Type /Annot /Subtype /Stamp /Rect [300 480 460 540] /F 4 /Contents (seen) /AP << /N 7 0 R >> >>",
        stream("/Type /XObject /Subtype /Form /BBox [0 0 160 60] /Resources << /Font << /F1 5 0 R >> >>",
               "0.7 0 0 RG 3 w 3 3 154 54 re S BT /F1 30 Tf 0.7 0 0 rg 30 20 Td (SEEN) Tj ET")])


def qpdf(path, *options):
    subprocess.run(["qpdf", *options, "--static-id", "--replace-input", path], check=True)


def small_print(pen):
    """Art that fits, and would not print well: a coarse picture, hairlines, small print, light words on a dark ground."""
    lantern_and_name(pen, 250, 190, 200, "Candle Club")
    pen.set_source_rgb(0, 0, 0)
    words(pen, "established by the harbour wall, three steps down from the lamp", 250, 420, 4.5)
    pen.set_line_width(0.2)
    for y in (430, 434, 438):
        pen.move_to(80, y)
        pen.line_to(420, y)
        pen.stroke()
    pen.rectangle(80, 450, 340, 40)
    pen.fill()
    pen.set_source_rgb(1, 1, 1)
    words(pen, "open from dusk until the wick is short", 250, 473, 6)
    coarse = cairo.ImageSurface(cairo.FORMAT_RGB24, 24, 12)
    drawing = cairo.Context(coarse)
    for x in range(24):
        drawing.set_source_rgb(0.9 - x / 40, 0.5, 0.1 + x / 40)
        drawing.rectangle(x, 0, 1, 4 + (5 * x) % 8)
        drawing.fill()
    pen.translate(110, 500)
    pen.scale(280 / 24, 90 / 12)
    pen.set_source_surface(coarse)
    pen.paint()


def banner(folder):
    """40 inches for the harbor fair, on goods that are longer than any film."""
    def draw(pen):
        wide, high = 40 * 72, 6.5 * 72
        pen.set_source_rgb(0.1, 0.25, 0.45)
        words(pen, "Ebb Harbor", 590, 250, 150)
        words(pen, "Lantern Fair", 2180, 250, 150)
        pen.new_path()
        for at in range(9):
            lantern(pen, 120 + at * (wide - 240) / 8, high - 105, 120)
        for x in (1210, 1330, 1450):
            lantern(pen, x, 180, 190)

    folder.mkdir(exist_ok=True)
    cairo_page(folder, "fair-banner", 40 * 72, 6.5 * 72, draw)


def dark_shirt(pen):
    """For a dark shirt: a picture with soft edges, fine lines, white words. Where nothing is painted the shirt shows."""
    moon = cairo.ImageSurface(cairo.FORMAT_ARGB32, 600, 600)
    drawing = cairo.Context(moon)
    glow = cairo.RadialGradient(300, 300, 120, 300, 300, 300)
    glow.add_color_stop_rgba(0, 1, 0.93, 0.7, 1)
    glow.add_color_stop_rgba(0.3, 1, 0.75, 0.35, 0.9)
    glow.add_color_stop_rgba(1, 0.9, 0.35, 0.2, 0)
    drawing.set_source(glow)
    drawing.paint()
    pen.save()
    pen.translate(100, 60)
    pen.scale(0.5, 0.5)
    pen.set_source_surface(moon)
    pen.paint()
    pen.restore()
    for i, width in enumerate((0.3, 0.5, 0.75, 1, 1.5, 2.5)):
        pen.set_source_rgb(0.3, 0.7, 0.9)
        pen.set_line_width(width)
        pen.move_to(60, 380 + 12 * i)
        pen.curve_to(180, 360 + 12 * i, 300, 410 + 12 * i, 440, 376 + 12 * i)
        pen.stroke()
    pen.set_source_rgb(0.75, 0.15, 0.1)
    pen.move_to(170, 350)
    pen.line_to(330, 350)
    pen.line_to(300, 385)
    pen.line_to(200, 385)
    pen.close_path()
    pen.fill()
    pen.set_source_rgb(1, 1, 1)
    words(pen, "Moonrise Ferry", 250, 500, 46)
    words(pen, "last boat at half past nine", 250, 530, 14)


def finish(folder):
    """Locks two files and tears one."""
    qpdf(folder / "order-locked.pdf", "--allow-weak-crypto", "--encrypt", "wick", "ember", "128", "--use-aes=y", "--")
    qpdf(folder / "badge-no-printing.pdf", "--allow-weak-crypto", "--encrypt", "", "ember", "128", "--use-aes=y", "--print=none", "--")
    (folder.parent / "order-locked.password").write_text("wick\n")
    torn = folder / "patch-damaged.pdf"
    torn.write_bytes(torn.read_bytes()[:-2000])  # as a broken download leaves it


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    by_ghostscript(folder)
    by_cairo(folder)
    by_hand(folder)
    dark = folder.parent / "dark"
    dark.mkdir(exist_ok=True)
    cairo_page(dark, "shirt-moonrise", 500, 560, dark_shirt)
    other_formats(folder)
    finish(folder)
    banner(folder.parent / "large")


if __name__ == "__main__":
    main()
