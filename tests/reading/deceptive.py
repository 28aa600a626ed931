#!/usr/bin/python3
"""Pages on which one thing says how they read and another shows it; the program must not be taken in.

    deceptive.py BUILD-FOLDER INTO --count N --seed S [--part teach|test] [--kind WORD] [--fonts FAMILY,…] [--limit P]

Writes INTO/NNNN.pdf, asks the program how each reads, and tells by kind how often it is decided, held as mixed, unknown, and false: told
one way though the page reads the other, or both. The truth is what the page was made of. Every page is written by hand (outlines by cairo,
pictures by make_pages.py), and a part of them goes through Ghostscript, qpdf or pdftocairo. Ends with 1 when an answer is false, or when fewer
than P percent of the honest pages are decided. Closes with "N passed, N failed".
"""
import argparse
import collections
import concurrent.futures
import io
import json
import os
import pathlib
import random
import subprocess
import sys
import zlib

import cairo

import make_pages

LIVE = {"Helvetica": "Nimbus Sans", "Helvetica-Bold": "Nimbus Sans", "Times-Roman": "Nimbus Roman", "Courier": "Nimbus Mono PS"}
PLAIN = ["serif", "sans", "slab", "condensed"]


class Page:
    """Marks in drawing order, from the lower left corner."""

    def __init__(self, width, height):
        self.width, self.height = width, height
        self.content, self.objects, self.resources = [], [], {"Font": {}, "XObject": {}, "ExtGState": {}}

    def add(self, operators):
        self.content.append(operators)

    def object(self, body):
        self.objects.append(body)
        return len(self.objects) + 4  # after catalog, pages, page and content

    def name(self, kind, body):
        names = self.resources[kind]
        key = "R%d" % (len(names) + 1)
        names[key] = self.object(body)
        return key

    def place(self, inner, x, y, w, h, wrong):
        self.add("q %s cm\n%s\nQ" % (("-1 0 0 1 %.2f %.2f" % (x + w, y)) if wrong else ("1 0 0 1 %.2f %.2f" % (x, y)), inner))

    def bytes(self, turn, rotate):
        w, h = (self.height, self.width) if turn % 180 else (self.width, self.height)
        before = {0: "1 0 0 1 0 0", 90: "0 1 -1 0 %d 0" % w, 180: "-1 0 0 -1 %d %d" % (w, h), 270: "0 -1 1 0 0 %d" % h}[turn]
        stream = zlib.compress(("%s cm\n%s" % (before, "\n".join(self.content))).encode("latin-1"))
        resources = " ".join("/%s << %s >>" % (kind, " ".join("/%s %d 0 R" % pair for pair in names.items())) for kind, names in self.resources.items())
        bodies = [b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
                  ("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %d %d] /Rotate %d /Contents 4 0 R /Resources << %s >> >>" % (w, h, rotate, resources)).encode(),
                  b"<< /Length %d /Filter /FlateDecode >>\nstream\n%s\nendstream" % (len(stream), stream)] + self.objects
        out, offsets = b"%PDF-1.6\n", []
        for number, body in enumerate(bodies, 1):
            offsets.append(len(out))
            out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
        table = b"".join(b"%010d 00000 n \n" % o for o in offsets)
        return out + b"xref\n0 %d\n0000000000 65535 f \n%strailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(bodies) + 1, table, len(bodies) + 1, len(out))


class Maker:
    def __init__(self, part, rng, fonts):
        self.part, self.rng, self.words = part, rng, make_pages.Words(part, rng)
        self.fonts = fonts or [f for kind in PLAIN for f in make_pages.FONTS[part][kind]]

    def family(self):
        return self.rng.choice(self.fonts)

    def art(self, lines=None, sizes=None):
        count = self.rng.randint(1, 3)
        lines = lines or [self.words.phrase(1, 2) for _ in range(count)]
        sizes = sizes or [self.rng.uniform(22, 60) for _ in lines]
        return make_pages.Art(lines, sizes, self.family(), self.rng)

    def color(self):
        return self.rng.choice(["0 g", "0 g", "0.1 0.2 0.5 rg", "0.6 0.1 0.1 rg", "0 0.35 0.2 rg", "0.2 0.9 0.7 0.2 k"])

    def outlines(self, art):
        """Operators of the art's letters as paths, and its size."""
        w, h = art.size()
        surface = cairo.RecordingSurface(cairo.CONTENT_COLOR, None)
        c = cairo.Context(surface)
        parts, y = [], 0.5 * max(art.sizes)
        whole = self.rng.random() < 0.5  # all letters one path, or each its own
        for text, size in zip(art.lines, art.sizes):
            art.font(c, size)
            x = 0.5 * max(art.sizes)
            for piece in [text] if whole else text:
                c.new_path()
                c.move_to(x, y + size)
                c.text_path(piece)
                x += c.text_extents(piece).x_advance
                for kind, points in c.copy_path():
                    p = ["%.2f" % (v if i % 2 == 0 else h - v) for i, v in enumerate(points)]
                    parts.append(" ".join(p) + {cairo.PATH_MOVE_TO: " m", cairo.PATH_LINE_TO: " l", cairo.PATH_CURVE_TO: " c", cairo.PATH_CLOSE_PATH: "h"}[kind])
                parts.append("f")
            y += 1.35 * size
        return self.color() + "\n" + "\n".join(parts), w, h

    def image(self, page, art, ppi=None, invert=False):
        """The name of a picture of the art, and its size in points."""
        image, _, w, h = make_pages.as_pixels(art, ppi or self.rng.choice([120, 150, 200, 300]), self.rng, noise=self.rng.choice([0, 0, 6, 12]), blur=self.rng.choice([0, 0.6]))
        return self.picture(page, image), w, h

    def picture(self, page, image):
        if self.rng.random() < 0.5:
            out = io.BytesIO()
            image.convert("RGB").save(out, "JPEG", quality=self.rng.randint(60, 95))
            data, coding, space = out.getvalue(), "DCTDecode", "DeviceRGB"
        else:
            data, coding, space = zlib.compress(image.convert("L").tobytes()), "FlateDecode", "DeviceGray"
        return page.name("XObject", ("<< /Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace /%s /Filter /%s /Length %d >>\nstream\n"
                                     % (image.width, image.height, space, coding, len(data))).encode() + data + b"\nendstream")

    def drawn(self, page, how, art=None):
        """Operators of some art that is no live text, and its size."""
        art = art or self.art()
        if how == "outlines":
            return self.outlines(art)
        name, w, h = self.image(page, art)
        return "%.2f 0 0 %.2f 0 0 cm /%s Do" % (w, h, name), w, h

    def live(self, page, text, size, how="", color=None):
        """Operators of a line of live text, and its size; `how` stands before its letters are shown."""
        base = self.rng.choice(list(LIVE))
        font = page.name("Font", ("<< /Type /Font /Subtype /Type1 /BaseFont /%s /Encoding /WinAnsiEncoding >>" % base).encode())
        c = cairo.Context(cairo.RecordingSurface(cairo.CONTENT_COLOR, None))
        c.select_font_face(LIVE[base], cairo.FONT_SLANT_NORMAL, cairo.FONT_WEIGHT_BOLD if "Bold" in base else cairo.FONT_WEIGHT_NORMAL)
        c.set_font_size(size)
        return "%s BT /%s %.3f Tf %s 0 %.2f Td (%s) Tj ET" % (color or "0 g", font, size, how, 0.25 * size, text), c.text_extents(text).x_advance, 1.2 * size


def stack(m, parts, gap=None):
    """A page of (operators, w, h, wrong) one below the other; each at some place across."""
    rng = m.rng
    gap = gap or rng.uniform(14, 50)
    width = max(w for _, w, _, _ in parts) + 72
    page_of = lambda: (int(width) + 1, int(sum(h + gap for _, _, h, _ in parts) + 72 - gap) + 1)
    places, (pw, ph) = [], page_of()
    y = ph - 36
    for _, w, h, _ in parts:
        y -= h
        places.append((rng.uniform(36, max(36, pw - 36 - w)), y))
        y -= gap
    return pw, ph, places


class Kinds:
    """Each gives a page and how it reads, when `wrong` says how its art reads."""

    def together(self, m, page, parts, gap=None):
        page.width, page.height, places = stack(m, parts, gap)
        for (operators, w, h, wrong), (x, y) in zip(parts, places):
            page.place(operators, x, y, w, h, wrong)

    def beside(self, m, page, wrong, how, text, size, same):
        art = m.drawn(page, how) + (wrong,)
        word = m.live(page, text, size) + (wrong if same else not wrong,)
        parts = [art, word]
        m.rng.shuffle(parts)
        self.together(m, page, parts)
        return way(wrong) if same else "mixed"

    def footer(self, m, page, wrong, how, same=False):
        return self.beside(m, page, wrong, how, m.words.phrase(1, 4), m.rng.uniform(6, 14), same)

    def lone_letter(self, m, page, wrong, how):
        return self.beside(m, page, wrong, how, m.rng.choice("RGFJPLS2457"), m.rng.uniform(8, 60), False)

    def live_art_and_footer(self, m, page, wrong):
        parts = [m.live(page, m.words.phrase(1, 2), m.rng.uniform(30, 60)) + (wrong,), m.live(page, m.words.phrase(1, 3), m.rng.uniform(7, 12)) + (not wrong,)]
        self.together(m, page, parts)
        return "mixed"

    def live_alone(self, m, page, wrong):
        """Honest: live text with bullets, rules and boxes, as the many are."""
        parts = [m.live(page, m.words.phrase(2, 3), m.rng.uniform(14, 40)) + (wrong,) for _ in range(m.rng.randint(2, 5))]
        parts.append(("%.2f w 0 5 m 200 5 l S" % m.rng.uniform(0.3, 2), 200, 10, False))
        parts.append(("0.8 g 0 0 180 24 re f 0.2 G 0 0 180 24 re S", 180, 24, False))
        self.together(m, page, parts)
        return way(wrong)

    def live_with_drawing(self, m, page, wrong):
        """Honest: live text beside shapes that are no letters."""
        drawing = self.scraps(m)
        parts = [m.live(page, m.words.phrase(2, 3), m.rng.uniform(20, 44)) + (wrong,) for _ in range(m.rng.randint(2, 3))] + [drawing + (wrong,)]
        m.rng.shuffle(parts)
        self.together(m, page, parts)
        return way(wrong)

    def live_with_photo(self, m, page, wrong):
        photo = make_pages.photograph(m.rng)
        name = m.picture(page, photo.image)
        parts = [("240 0 0 200 0 0 cm /%s Do" % name, 240, 200, wrong), m.live(page, m.words.phrase(2, 3), m.rng.uniform(20, 44)) + (wrong,)]
        self.together(m, page, parts)
        return way(wrong)

    def scraps(self, m):
        r, parts = m.rng, []
        for _ in range(r.randint(3, 12)):
            x, y, s = r.uniform(20, 180), r.uniform(20, 130), r.uniform(6, 40)
            parts.append("%.2f %.2f %.2f rg %.1f %.1f m %s f" % (r.random(), r.random(), r.random(), x, y, " ".join(
                "%.1f %.1f %.1f %.1f %.1f %.1f c" % tuple(v + s * r.uniform(-1, 1) for v in (x, y, x, y, x, y)) for _ in range(r.randint(2, 5)))))
        return "\n".join(parts), 220, 170

    def layer(self, m, page, wrong, under, layer_wrong, visible=False):
        """A scan, and text on or beneath it as a reader of letters writes it: unseen, or shown and then covered."""
        art = m.art([m.words.phrase(1, 3) for _ in range(m.rng.randint(2, 5))], None)
        art.sizes = [m.rng.uniform(14, 40) for _ in art.lines]
        name, w, h = m.image(page, art, m.rng.choice([150, 200, 300]))
        page.width, page.height = int(w) + 40, int(h) + 40
        scan = "%.2f 0 0 %.2f 0 0 cm /%s Do" % (w, h, name)
        hidden, y = [], h - 0.5 * max(art.sizes)
        for line, size in zip(art.lines, art.sizes):
            y -= 1.35 * size
            hidden.append("q 1 0 0 1 %.1f %.1f cm %s Q" % (0.5 * max(art.sizes), y, m.live(page, line, size, "" if visible else "3 Tr")[0]))
        if under:
            page.place("\n".join(hidden), 20, 20, w, h, layer_wrong)
        page.place(scan, 20, 20, w, h, wrong)
        if not under:
            page.place("\n".join(hidden), 20, 20, w, h, layer_wrong)
        return way(wrong)

    def unseen(self, m, page, wrong, how, art_how="outlines"):
        """Live text that reads the other way, and that nobody sees; beside or upon art that is seen."""
        r = m.rng
        art, aw, ah = m.drawn(page, art_how)
        text, size = m.words.phrase(2, 4), r.uniform(9, 20)
        shade = ["%.2f" % r.uniform(0, 1) for _ in range(3)]
        color, before, after, letters = "0 g", "", "", ""
        if how == "small":
            size = r.uniform(0.2, 0.9)
        state = {"opacity": r.choice([0, 0, 0.01, 0.03, 0.05])}.get(how)
        if state is not None:
            before = "/%s gs" % page.name("ExtGState", ("<< /ca %s /CA %s >>" % (state, state)).encode())
        if how == "mode 7":
            letters = "7 Tr"
        if how == "white":
            color = r.choice(["1 g", "1 1 1 rg", "0 0 0 0 k", "0.99 g"])
        line, w, h = m.live(page, text, size, letters, color)
        if how == "ground":
            kind = r.choice(["rg", "g", "k"])
            shade = {"rg": " ".join(shade), "g": shade[0], "k": " ".join(shade) + " 0"}[kind]
            ground = r.choice(["-6 -4 %.1f %.1f re f" % (w + 12, h + 8), "-9 -9 m %.1f -9 l %.1f %.1f l %.1f %.1f %.1f %.1f -9 %.1f c h f" % (w + 9, w + 9, h + 9, w, h + 19, 9, h + 19, h + 9)])
            line = "%s %s %s\n%s" % (shade, kind, ground, m.live(page, text, size, "", "%s %s" % (shade, kind))[0])
        if how == "covered":
            cover = r.choice(["rectangle", "strips", "curve", "picture"])
            if cover == "rectangle":
                after = "%s rg -4 -4 %.1f %.1f re f" % (" ".join(shade), w + 8, h + 8)
            elif cover == "strips":
                count = r.randint(2, 7)
                after = "%s rg " % " ".join(shade) + " ".join("%.2f -4 %.2f %.1f re f" % (-4 + i * (w + 8) / count, (w + 8) / count + 0.3, h + 8) for i in range(count))
            elif cover == "curve":
                after = "%s rg -20 -20 m %.1f -30 l %.1f %.1f l %.1f %.1f -10 %.1f -20 %.1f c h f" % (" ".join(shade), w + 20, w + 20, h + 20, w, h + 40, h + 40, h + 20)
            else:
                name = m.picture(page, make_pages.photograph(r).image)
                after = "q %.1f 0 0 %.1f -5 -5 cm /%s Do Q" % (w + 10, h + 10, name)
        if how == "clipped":
            before = r.choice(["%.1f 0 50 50 re W n" % (w + 30), "0 -60 %.1f 50 re W n" % w, "0 0 0.5 0.5 re W n", "%.1f %.1f m %.1f %.1f l %.1f %.1f l h W n" % (-90, -90, -20, -20, -90, -20),
                               "2 2 m 2.2 2 l 2.2 2.2 l h W n"])
        line = "\n".join(["q", before, line, after, "Q"])
        self.together(m, page, [(art, aw, ah, wrong), (line, w + 12, h + 12, not wrong)])
        return way(wrong)

    def hidden_only(self, m, page, wrong, how):
        """Nothing but shapes is seen."""
        told = self.unseen
        drawn, m.drawn = m.drawn, lambda page, how, art=None: self.scraps(m)
        try:
            told(m, page, wrong, how)
        finally:
            m.drawn = drawn
        return "unknown"

    def faint_but_read(self, m, page, wrong, how):
        """Honest: text that is seen, in ways like those in which it is not."""
        r = m.rng
        text, size = m.words.phrase(2, 4), r.uniform(16, 40)
        before = after = letters = ""
        color = "0 g"
        line, w, h = m.live(page, text, size, letters, color)
        if how == "white on colour":
            line = "%.2f %.2f 0.3 rg -6 -4 %.1f %.1f re f\n" % (r.uniform(0, 0.5), r.uniform(0, 0.5), w + 12, h + 8) + m.live(page, text, size, "", "1 g")[0]
        if how == "half opaque":
            before = "/%s gs" % page.name("ExtGState", ("<< /ca %.2f >>" % r.uniform(0.3, 0.8)).encode())
        if how == "clip that shows it":
            before = "-20 -20 m %.1f -30 l %.1f %.1f l -20 %.1f l h W n" % (w + 20, w + 30, h + 30, h + 20)
        if how == "mode 7":
            line = "q %s\n0.1 0.2 0.4 rg -20 -20 %.1f %.1f re f Q" % (m.live(page, text, size, "7 Tr")[0], w + 40, h + 40)
        if how == "multiplied":
            before = "/%s gs" % page.name("ExtGState", b"<< /BM /Multiply >>")
        if how == "on a picture":
            name = m.picture(page, make_pages.photograph(r).image)
            before = "q %.1f 0 0 %.1f -20 -20 cm /%s Do Q" % (w + 40, h + 60, name)
            line = "1 g -4 -4 %.1f %.1f re f " % (w + 8, h + 8) + line
        line = "\n".join(["q", before, line, after, "Q"])
        self.together(m, page, [(line, w + 40, h + 40, wrong)])
        return way(wrong)

    def sheet(self, m, page, wrong, how, odd, pixels_together=False):
        """Several pieces, one or more of them the other way."""
        r = m.rng
        count = r.randint(2, 6)
        odd_ones = set(r.sample(range(count), r.randint(1, max(1, count // 2)))) if odd else set()
        across = r.randint(1, 3)
        pieces = []
        for i in range(count):
            art = m.art(None, None)
            art.sizes = [r.uniform(20, 44) for _ in art.lines]
            pieces.append(m.outlines(art) + (wrong != (i in odd_ones),))
        cell_w, cell_h = max(p[1] for p in pieces) + r.uniform(4, 30), max(p[2] for p in pieces) + r.uniform(4, 30)
        rows = (count + across - 1) // across
        page.width, page.height = int(across * cell_w) + 50, int(rows * cell_h) + 50
        for i, (operators, w, h, piece_wrong) in enumerate(pieces):
            page.place(operators, 25 + (i % across) * cell_w, page.height - 25 - cell_h - (i // across) * cell_h, w, h, piece_wrong)
        if how == "picture":
            flat = Page(page.width, page.height)
            flat.content = page.content
            image = drawn(flat.bytes(0, 0), r.choice([120, 150, 200]))
            page.content = ["q %d 0 0 %d 0 0 cm /%s Do Q" % (page.width, page.height, m.picture(page, image))]
        return "mixed" if odd else way(wrong)


def way(wrong):
    return "wrong" if wrong else "right"


def drawn(pdf, dpi):
    from PIL import Image
    png = subprocess.run(["pdftoppm", "-r", str(dpi), "-png", "-singlefile", "-"], input=pdf, stdout=subprocess.PIPE, check=True).stdout
    return Image.open(io.BytesIO(png))


K = Kinds()
KINDS = {
    "footer over outlines": lambda m, p, w: K.footer(m, p, w, "outlines"),
    "footer over a picture": lambda m, p, w: K.footer(m, p, w, "picture"),
    "footer under live art": lambda m, p, w: K.live_art_and_footer(m, p, w),
    "lone letter, outlines": lambda m, p, w: K.lone_letter(m, p, w, "outlines"),
    "lone letter, picture": lambda m, p, w: K.lone_letter(m, p, w, "picture"),
    "layer over a scan": lambda m, p, w: K.layer(m, p, w, False, not w),
    "layer under a scan": lambda m, p, w: K.layer(m, p, w, True, not w),
    "text under a scan": lambda m, p, w: K.layer(m, p, w, True, not w, True),
    "unseen: opacity": lambda m, p, w: K.unseen(m, p, w, "opacity"),
    "unseen: mode 7": lambda m, p, w: K.unseen(m, p, w, "mode 7"),
    "unseen: small": lambda m, p, w: K.unseen(m, p, w, "small"),
    "unseen: white": lambda m, p, w: K.unseen(m, p, w, "white"),
    "unseen: in its ground's colour": lambda m, p, w: K.unseen(m, p, w, "ground"),
    "unseen: covered": lambda m, p, w: K.unseen(m, p, w, "covered"),
    "unseen: clipped": lambda m, p, w: K.unseen(m, p, w, "clipped"),
    "unseen, on a picture": lambda m, p, w: K.unseen(m, p, w, m.rng.choice(["opacity", "mode 7", "small", "white", "ground", "covered", "clipped"]), "picture"),
    "unseen, only shapes": lambda m, p, w: K.hidden_only(m, p, w, m.rng.choice(["opacity", "mode 7", "small", "white", "ground", "covered", "clipped"])),
    "sheet of outlines, one odd": lambda m, p, w: K.sheet(m, p, w, "outlines", True),
    "sheet as a picture, one odd": lambda m, p, w: K.sheet(m, p, w, "picture", True),
    "honest: sheet of outlines": lambda m, p, w: K.sheet(m, p, w, "outlines", False),
    "honest: sheet as a picture": lambda m, p, w: K.sheet(m, p, w, "picture", False),
    "honest: footer and outlines": lambda m, p, w: K.footer(m, p, w, "outlines", True),
    "honest: footer and picture": lambda m, p, w: K.footer(m, p, w, "picture", True),
    "honest: live text alone": lambda m, p, w: K.live_alone(m, p, w),
    "honest: live text, drawing": lambda m, p, w: K.live_with_drawing(m, p, w),
    "honest: live text, photograph": lambda m, p, w: K.live_with_photo(m, p, w),
    "honest: layer that agrees": lambda m, p, w: K.layer(m, p, w, False, w),
    "honest: text that is seen": lambda m, p, w: K.faint_but_read(m, p, w, m.rng.choice(["white on colour", "half opaque", "clip that shows it", "mode 7", "multiplied", "on a picture"])),
}


def through(path, maker):
    """What another program makes of it."""
    other = path + "~"
    commands = {"Ghostscript": ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", "-dAutoRotatePages=/None", "-o", other, path],
                "qpdf": ["qpdf", "--object-streams=generate", "--linearize", path, other], "cairo": ["pdftocairo", "-pdf", path, other]}
    if maker in commands and subprocess.run(commands[maker], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0:
        os.replace(other, path)


def make(number, args, kinds):
    kind = kinds[number % len(kinds)]
    rng = random.Random("%s %d %d" % (args.part, args.seed, number))
    m, page = Maker(args.part, rng, args.fonts), Page(0, 0)
    told = KINDS[kind](m, page, rng.random() < 0.5)
    path = os.path.join(args.into, "%04d.pdf" % number)
    turn, rotate = rng.choice([0, 0, 90, 180, 270]), rng.choice([0, 0, 90, 270])
    with open(path, "wb") as f:
        f.write(page.bytes(turn, rotate))
    maker = rng.choice(["hand", "hand", "Ghostscript", "qpdf", "cairo"])
    through(path, maker)
    return path, kind, told, maker


def ask(program, path):
    before = os.times()
    out = subprocess.run([program, "check", path, "--format", "json", "--reading", "wrong", "--sheet", "40x40in", "--only", "reading.reverse,reading.mixed,reading.unknown"], stdout=subprocess.PIPE).stdout
    page = json.loads(out)["files"][0]["pages"][0]
    return page["reading"], page.get("reading_from", ""), " ".join(page.get("reading_words", []))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("into")
    parser.add_argument("--count", type=int, required=True)
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--part", choices=["teach", "test"], default="test")
    parser.add_argument("--kind", default="", help="only those that have this in their name")
    parser.add_argument("--fonts", type=lambda text: text.split(","), help="of outlines and pictures, in place of make_pages.py's")
    parser.add_argument("--limit", type=float, default=80, help="percent of the honest pages that must be decided")
    parser.add_argument("--made", action="store_true", help="the pages are there already")
    args = parser.parse_args()
    os.makedirs(args.into, exist_ok=True)
    kinds = [k for k in KINDS if args.kind in k]
    table = os.path.join(args.into, "pages.tsv")
    if not args.made:
        with concurrent.futures.ThreadPoolExecutor(2) as pool, open(table, "w", encoding="utf-8") as out:
            for row in pool.map(lambda n: make(n, args, kinds), range(args.count)):
                out.write("\t".join(row) + "\n")
    with open(table, encoding="utf-8") as rows:
        cases = [c for c in (row.rstrip("\n").split("\t") for row in rows) if c[1] in kinds]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(lambda c: ask(args.build / "layright", c[0]), cases))
    tally, honest, false = collections.defaultdict(collections.Counter), collections.Counter(), 0
    for (path, kind, truth, maker), (said, by, words) in zip(cases, answers):
        bad = said in ("right", "wrong") and said != truth
        false += bad
        tally[kind][said if said not in ("right", "wrong") else "false" if bad else "decided"] += 1
        if kind.startswith("honest"):
            honest["decided" if said == truth else "not"] += 1
        if bad or (kind.startswith("honest") and said != truth):
            print("  %s (%s, %s) reads %s; told %s by %s %s" % (path, kind, maker, truth, said, by, words))
    print("%-32s %6s %8s %6s %8s %6s" % ("kind", "pages", "decided", "mixed", "unknown", "FALSE"))
    for kind in kinds:
        t = tally[kind]
        print("%-32s %6d %8d %6d %8d %6d" % (kind, sum(t.values()), t["decided"], t["mixed"], t["unknown"], t["false"]))
    share = 100 * honest["decided"] / max(1, sum(honest.values()))
    kept = false == 0 and share >= args.limit
    print("%s of %d deceptive and honest pages (seed %d) none is told falsely (%d are); of the honest ones %.0f %% are decided" % ("kept   " if kept else "broken ", len(cases), args.seed, false, share))
    print("%d passed, %d failed" % (kept, not kept))
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
