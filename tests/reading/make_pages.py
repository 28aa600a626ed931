#!/usr/bin/python3
"""Makes pages whose reading is known, for tests/reading/measure.

    make_pages.py --part teach|test --count N --seed S --into FOLDER

Writes FOLDER/NNNN.pdf and FOLDER/pages.tsv: file, kind, reading (right, wrong, unknown), turn, Rotate, language, font, text.
Words are made up from syllables; the two parts share neither syllables nor fonts. Thresholds are chosen on "teach" only.
Needs the Debian packages python3-cairo, python3-numpy, python3-pil, qpdf, ghostscript and those of FONTS below.
"""
import argparse
import io
import math
import os
import random
import subprocess

import cairo
import numpy
from PIL import Image, ImageFilter

# kind of letter -> fontconfig families, of fonts-dejavu, fonts-urw-base35, fonts-freefont-ttf, fonts-oldstandard, fonts-quicksand,
# fonts-dosis, fonts-rufscript, fonts-leckerli-one, fonts-blankenburg (teach) and fonts-linuxlibertine, fonts-vollkorn, fonts-lato, fonts-cabin,
# fonts-ebgaramond, fonts-dancingscript, fonts-lobstertwo, fonts-kaushanscript, fonts-roboto-slab, fonts-yanone-kaffeesatz, fonts-bebas-neue,
# fonts-comic-neue, fonts-gfs-didot, fonts-gfs-neohellenic, fonts-gamaliel (test); fonts-gotico-antiqua has faces for both.
FONTS = {
    "teach": {
        "serif": ["DejaVu Serif", "Nimbus Roman", "P052", "Old Standard TT"],
        "sans": ["DejaVu Sans", "Nimbus Sans", "URW Gothic", "Quicksand"],
        "slab": ["C059", "Nimbus Mono PS", "URW Bookman"],
        "condensed": ["DejaVu Sans Condensed", "Nimbus Sans Narrow", "Dosis"],
        "script": ["Z003", "Rufscript", "Leckerli One"],
        "blackletter": ["Blankenburg_UNZ1A", "Fust & Schoeffer"],
        "greek": ["DejaVu Serif", "FreeSans"],
        "cyrillic": ["DejaVu Serif", "FreeSans"],
        "hebrew": ["FreeSans"], "arabic": ["FreeMono"], "chinese": ["Droid Sans Fallback"],
    },
    "test": {
        "serif": ["Linux Libertine O", "Vollkorn", "EB Garamond"],
        "sans": ["Lato", "Cabin", "Comic Neue"],
        "slab": ["Roboto Slab"],
        "condensed": ["Yanone Kaffeesatz", "Bebas Neue"],
        "script": ["Dancing Script", "Lobster Two", "Kaushan Script"],
        "blackletter": ["Gamaliel", "Jessen"],
        "greek": ["GFS Didot", "GFS Neohellenic", "Linux Libertine O"],
        "cyrillic": ["Linux Libertine O", "Old Standard TT"],
        "hebrew": ["DejaVu Sans", "FreeSerif", "Linux Libertine O"], "arabic": ["FreeSerif", "DejaVu Sans"], "chinese": ["Droid Sans Fallback"],
    },
}
SYLLABLES = {
    "teach": "bra lon fer gus nel par kid sto jel fra rep dun gal zor pesk lim bur geff rolan skep dri fosh".split(),
    "test": "lan tern wick fog har bel dro ges nip quill ster zan jor fel pud krag sel bry nor gant reff losk".split(),
}
GREEK = {"teach": "λαρ γεν ζιρ φες ρεκ σολ δαρ".split(), "test": "καλ περ ζες γρα φιλ ρος δεξ".split()}
# Visual order, left to right; Arabic letters by their presentation forms: last, middle and first ones.
HEBREW = "אבגדהוזחטיכלמנסעפצקרשת"
ARABIC = ["ﺐﺲﻊﻒﻞﻢﻦﻲﻚ", "ﺒﺴﻌﻔﻠﻤﻨﻴﻜ", "ﺑﺳﻋﻓﻟﻣﻧﻳﻛ"]
CHINESE = "山田日本中国人大小水火木金土天花風雨海川林森石竹米糸力刀口目手足"
CYRILLIC = {"teach": "гар лек рус зеб бур ягл".split(), "test": "фог ляр бек зур гель эра".split()}
ACCENTS = str.maketrans("aeou", "áèöü")
# Letters that are another letter, or none, both in a mirror and in a mirror turned upside down.
TELLING = set("FGJLNPQRSZabdefghjkpqrstyz24567" "Γγρςσζδφλ" "ГУЯЬЭЧУгуяьэчбз")
TWO_FACED = ["AVA", "TOOT", "MUM", "OTTO", "O", "WOW", "HAH", "I", "X", "AHA", "BOOK", "DECK", "XOX", "TAT", "ICE", "OHO"]


class Words:
    def __init__(self, part, rng):
        self.part, self.rng = part, rng

    def word(self, least=2, most=4, script="latin"):
        stock = {"latin": SYLLABLES, "greek": GREEK, "cyrillic": CYRILLIC}[script][self.part]
        return "".join(self.rng.choice(stock) for _ in range(self.rng.randint(least, most)))

    def of_letters(self, letters, least, most):
        return " ".join("".join(self.rng.choice(letters) for _ in range(self.rng.randint(least, most))) for _ in range(self.rng.randint(1, 3)))

    def arabic(self):
        last, middle, first = ARABIC
        return " ".join(self.rng.choice(last) + "".join(self.rng.choice(middle) for _ in range(self.rng.randint(0, 4))) + self.rng.choice(first)
                        for _ in range(self.rng.randint(1, 3)))

    def cased(self, word):
        how = self.rng.random()
        return word.upper() if how < 0.35 else word.capitalize() if how < 0.8 else word

    def phrase(self, least, most, script="latin"):
        while True:
            text = " ".join(self.cased(self.word(1, 3, script)) for _ in range(self.rng.randint(least, most)))
            if sum(c in TELLING for c in text) >= 4:
                return text

    def short(self):
        while True:
            text = self.cased(self.rng.choice(SYLLABLES[self.part]) + self.rng.choice(["", "", self.rng.choice(SYLLABLES[self.part])]))
            if 3 <= len(text) <= 6 and sum(c in TELLING for c in text) >= 3:
                return text


def use_font(c, family, size, rng):
    slant = cairo.FONT_SLANT_ITALIC if rng.random() < 0.15 else cairo.FONT_SLANT_NORMAL
    weight = cairo.FONT_WEIGHT_BOLD if rng.random() < 0.3 else cairo.FONT_WEIGHT_NORMAL
    c.select_font_face(family, slant, weight)
    c.set_font_size(size)


class Art:
    """Draws text at the origin's right and below it; size() says how far it reaches."""

    def __init__(self, lines, sizes, family, rng, how="fill", ink=(0, 0, 0), ground=None, arc=0):
        self.lines, self.sizes, self.family, self.how, self.ink, self.ground, self.arc = lines, sizes, family, how, ink, ground, arc
        self.state = rng.getrandbits(32)

    def font(self, c, size):
        use_font(c, self.family, size, random.Random(self.state))

    def measure(self):
        c = cairo.Context(cairo.RecordingSurface(cairo.CONTENT_COLOR, None))
        widths = []
        for text, size in zip(self.lines, self.sizes):
            self.font(c, size)
            widths.append(c.text_extents(text).x_advance)
        return widths

    def size(self):
        if self.arc:
            length = self.measure()[0]
            radius = length / self.arc
            half = min(self.arc / 2, math.pi / 2)
            return 2 * radius * math.sin(half) + 2.5 * self.sizes[0], radius * (1 - math.cos(self.arc / 2)) + 2.5 * self.sizes[0]
        pad = 0.5 * max(self.sizes)
        return max(self.measure()) + 2 * pad, sum(1.35 * s for s in self.sizes) + 2 * pad

    def put(self, c, text):
        if self.how == "live":
            c.show_text(text)
            return
        c.text_path(text)
        if self.how == "stroke":
            c.set_line_width(max(0.5, self.sizes[0] * 0.018))
            c.stroke()
        else:
            c.fill()

    def draw(self, c):
        w, h = self.size()
        if self.ground:
            c.set_source_rgb(*self.ground)
            c.rectangle(0, 0, w, h)
            c.fill()
        c.set_source_rgb(*self.ink)
        if self.arc:
            self.draw_arc(c, w)
            return
        y = 0.5 * max(self.sizes)
        for text, size in zip(self.lines, self.sizes):
            self.font(c, size)
            c.move_to(0.5 * max(self.sizes), y + size)
            self.put(c, text)
            c.new_path()
            y += 1.35 * size

    def draw_arc(self, c, w):
        text, size = self.lines[0], self.sizes[0]
        self.font(c, size)
        radius = self.measure()[0] / self.arc
        angle = -self.arc / 2
        for letter in text:
            advance = c.text_extents(letter).x_advance
            c.save()
            c.translate(w / 2, 1.5 * size + radius)
            c.rotate(angle + advance / 2 / radius)
            c.translate(-advance / 2, -radius)
            c.move_to(0, 0)
            self.put(c, letter)
            c.new_path()
            c.restore()
            angle += advance / radius


def plain_art(part, rng, how="fill", **kw):
    words = Words(part, rng)
    sort = rng.choice(["serif", "sans", "slab", "condensed", "script"])
    count = rng.randint(1, 4)
    lines = [words.phrase(1, 3) for _ in range(count)]
    sizes = [rng.choice([18, 24, 36, 48, 64]) * rng.uniform(0.8, 1.2) for _ in range(count)]
    return Art(lines, sizes, rng.choice(FONTS[part][sort]), rng, how, **kw)


def colours(rng, apart):
    while True:
        a, b = [tuple(rng.random() for _ in range(3)) for _ in range(2)]
        luminance = lambda x: 0.299 * x[0] + 0.587 * x[1] + 0.114 * x[2]
        if max(abs(x - y) for x, y in zip(a, b)) > 0.45 and (luminance(a) - luminance(b)) * apart >= 0.25 * abs(apart):
            return a, b


def as_pixels(art, ppi, rng, noise=0, blur=0, jpeg=None, skew=0, rough=False):
    """A picture of the art, and its size in points."""
    w, h = art.size()
    rad = math.radians(skew)
    bw, bh = w * abs(math.cos(rad)) + h * abs(math.sin(rad)), w * abs(math.sin(rad)) + h * abs(math.cos(rad))
    surface = cairo.ImageSurface(cairo.FORMAT_RGB24, math.ceil(bw * ppi / 72), math.ceil(bh * ppi / 72))
    c = cairo.Context(surface)
    c.set_source_rgb(*(art.ground or (1, 1, 1)))
    c.paint()
    c.scale(ppi / 72, ppi / 72)
    c.translate(bw / 2, bh / 2)
    c.rotate(rad)
    c.translate(-w / 2, -h / 2)
    art.draw(c)
    surface.flush()
    data = numpy.ndarray((surface.get_height(), surface.get_width(), 4), numpy.uint8, surface.get_data(), strides=(surface.get_stride(), 4, 1))
    image = Image.fromarray(data[:, :, 2::-1].copy())
    if blur:
        image = image.filter(ImageFilter.GaussianBlur(blur))
    pixels = numpy.asarray(image).astype(float)
    r = numpy.random.default_rng(rng.getrandbits(32))
    if noise:
        pixels += r.normal(0, noise, pixels.shape[:2])[:, :, None]
    if rough:  # a bad copy: uneven light, specks, two levels
        y, x = numpy.mgrid[0:pixels.shape[0], 0:pixels.shape[1]]
        light = 1 - 0.25 * x / pixels.shape[1] - 0.15 * y / pixels.shape[0]
        grey = pixels.mean(axis=2) * light + r.normal(0, 30, pixels.shape[:2])
        specks = r.random(pixels.shape[:2])
        grey[specks < 0.002] = 0
        grey[specks > 0.998] = 255
        pixels = numpy.repeat((grey > 110)[:, :, None] * 255.0, 3, axis=2)
    image = Image.fromarray(numpy.clip(pixels, 0, 255).astype(numpy.uint8))
    out = io.BytesIO()
    if jpeg:
        image.save(out, "JPEG", quality=jpeg)
    else:
        image.save(out, "PNG")
    return image, out.getvalue() if jpeg else None, bw, bh


class Picture:
    """Pixels as art."""

    def __init__(self, image, jpeg, w, h):
        self.image, self.jpeg, self.w, self.h = image, jpeg, w, h

    def size(self):
        return self.w, self.h

    def draw(self, c):
        rgb = numpy.asarray(self.image.convert("RGB"))
        bgr = numpy.zeros((rgb.shape[0], rgb.shape[1], 4), numpy.uint8)
        bgr[:, :, 0], bgr[:, :, 1], bgr[:, :, 2], bgr[:, :, 3] = rgb[:, :, 2], rgb[:, :, 1], rgb[:, :, 0], 255
        surface = cairo.ImageSurface.create_for_data(bytearray(bgr.tobytes()), cairo.FORMAT_RGB24, rgb.shape[1], rgb.shape[0])
        if self.jpeg:
            surface.set_mime_data("image/jpeg", self.jpeg)
        c.scale(self.w / rgb.shape[1], self.h / rgb.shape[0])
        c.set_source_surface(surface, 0, 0)
        c.paint()


class Tilted:
    def __init__(self, art, degrees):
        self.art, self.rad = art, math.radians(degrees)

    def size(self):
        w, h = self.art.size()
        return w * abs(math.cos(self.rad)) + h * abs(math.sin(self.rad)), w * abs(math.sin(self.rad)) + h * abs(math.cos(self.rad))

    def draw(self, c):
        w, h = self.art.size()
        bw, bh = self.size()
        c.translate(bw / 2, bh / 2)
        c.rotate(self.rad)
        c.translate(-w / 2, -h / 2)
        self.art.draw(c)


class Shapes:
    """Things without letters."""

    def __init__(self, rng, what):
        self.rng, self.what = random.Random(rng.getrandbits(32)), what

    def size(self):
        return 300, 260

    def draw(self, c):
        r = self.rng
        for _ in range(r.randint(3, 40)):
            c.set_source_rgb(r.random(), r.random(), r.random())
            x, y, s = r.uniform(20, 280), r.uniform(20, 240), r.uniform(4, 40)
            if self.what == "round":
                c.arc(x, y, s / 2, 0, 2 * math.pi)
            elif self.what == "square":
                c.rectangle(x - s / 2, y - s / 2, s, s)
            elif self.what == "leaves":
                c.move_to(x, y)
                c.curve_to(x + r.uniform(-s, s), y - s, x + s, y + r.uniform(-s, s), x + r.uniform(-s, s), y + s)
                c.curve_to(x - s, y, x, y + r.uniform(-s, s), x, y)
            else:
                for k in range(r.randint(3, 9)):
                    c.line_to(x + s * r.uniform(-1, 1), y + s * r.uniform(-1, 1))
                c.close_path()
            if r.random() < 0.6:
                c.fill()
            else:
                c.set_line_width(r.uniform(0.5, 4))
                c.stroke()


class Row(Shapes):
    """Ornaments of one height side by side, as letters stand."""

    def draw(self, c):
        r = self.rng
        c.set_source_rgb(0, 0, 0)
        s = r.uniform(12, 22)
        for i in range(int(260 / s)):
            c.save()
            c.translate(20 + i * s, 100)
            motif = random.Random(r.choice([1, 2, 3]))
            for _ in range(3):
                c.move_to(motif.uniform(0, 0.8 * s), motif.uniform(0, s))
                c.curve_to(*(motif.uniform(0, 0.8 * s) for _ in range(6)))
            c.set_line_width(s / 8)
            c.stroke()
            c.restore()


class Codes(Shapes):
    """Bars, and a square of small squares."""

    def draw(self, c):
        r = self.rng
        c.set_source_rgb(0, 0, 0)
        x = 20
        while x < 260:
            w = r.choice([1, 2, 3, 4])
            c.rectangle(x, 20, w, 70)
            x += w + r.choice([1, 2, 3, 4])
        cell = r.uniform(3, 7)
        for i in range(int(120 / cell)):
            for j in range(int(120 / cell)):
                if r.random() < 0.5:
                    c.rectangle(20 + i * cell, 120 + j * cell, cell, cell)
        c.fill()


class Drawing(Shapes):
    """Sprigs and scrolls with a pen."""

    def draw(self, c):
        r = self.rng
        c.set_source_rgb(0.1, 0.1, 0.1)
        for _ in range(r.randint(4, 14)):
            x, y, turn, size = r.uniform(30, 270), r.uniform(30, 230), r.uniform(0, 6.28), r.uniform(10, 60)
            c.set_line_width(r.uniform(0.7, 3))
            c.move_to(x, y)
            for k in range(r.randint(2, 10)):
                turn += r.uniform(-1, 1.4)
                a, b = x + size * math.cos(turn), y + size * math.sin(turn)
                c.curve_to(x + r.uniform(-9, 9), y + r.uniform(-9, 9), a + r.uniform(-9, 9), b + r.uniform(-9, 9), a, b)
                x, y, size = a, b, size * r.uniform(0.5, 1)
            c.stroke()


def photograph(rng):
    r = numpy.random.default_rng(rng.getrandbits(32))
    h, w = 500, 600
    total = numpy.zeros((h, w, 3))
    for octave in range(2, 8):
        n = 2**octave
        small = Image.fromarray((r.random((n, n, 3)) * 255).astype(numpy.uint8)).resize((w, h), Image.BICUBIC)
        total += numpy.asarray(small).astype(float) / (octave if rng.random() < 0.5 else n)
    total -= total.min()
    image = Image.fromarray((total / total.max() * 255).astype(numpy.uint8))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=rng.choice([30, 70, 90]))
    return Picture(image, out.getvalue(), 288, 240)


def white_noise(rng):
    r = numpy.random.default_rng(rng.getrandbits(32))
    grey = r.random((300, 300)) * 255 if rng.random() < 0.5 else (r.random((300, 300)) > rng.uniform(0.3, 0.97)) * 255
    return Picture(Image.fromarray(grey.astype(numpy.uint8)).convert("RGB"), None, 216, 216)


def pixel_kind(ppi, **kw):
    def make(part, rng):
        art = plain_art(part, rng)
        # legible: small letters at least about 11 pixels high (from memory: what readers of letters need at least is near 10)
        art.sizes = [max(s, 11 / 0.45 * 72 / ppi) for s in art.sizes]
        done = {k: (v(rng) if callable(v) else v) for k, v in kw.items()}
        return Picture(*as_pixels(art, ppi, rng, **done)), art
    return make


def of(art):
    return art, art


def foreign(part, rng, script, text):
    return of(Art([text], [rng.uniform(24, 90)], rng.choice(FONTS[part][script]), rng))


KINDS = {
    "live": lambda p, r: of(plain_art(p, r, "live")),
    "outlined": lambda p, r: of(plain_art(p, r)),
    "outlined by Ghostscript": lambda p, r: of(plain_art(p, r, "live")),
    "one short word": lambda p, r: of(Art([Words(p, r).short()], [r.uniform(24, 120)], r.choice(FONTS[p][r.choice(["serif", "sans", "slab", "condensed"])]), r)),
    "small print": lambda p, r: of(Art([Words(p, r).phrase(3, 6) for _ in range(5)], [r.uniform(6, 10)] * 5, r.choice(FONTS[p][r.choice(["serif", "sans"])]), r)),
    "dark ground": lambda p, r: of(plain_art(p, r, ink=(1, 1, 1), ground=(0.1, 0.1, 0.15))),
    "colour on colour": lambda p, r: of((lambda c: plain_art(p, r, ink=c[0], ground=c[1]))(colours(r, r.choice([-1, 1])))),
    "colours of one lightness": lambda p, r: of(plain_art(p, r, ink=(0.85, 0.25, 0.2), ground=(0.1, 0.51, 0.55))),
    "stroke only": lambda p, r: of(Art([Words(p, r).phrase(1, 2)], [r.uniform(40, 90)], r.choice(FONTS[p][r.choice(["serif", "sans", "slab"])]), r, "stroke")),
    "slanted": lambda p, r: (lambda a: (Tilted(a, r.uniform(-10, 10)), a))(plain_art(p, r)),
    "on an arc": lambda p, r: of(Art([Words(p, r).phrase(2, 3)], [r.uniform(24, 60)], r.choice(FONTS[p][r.choice(["serif", "sans", "slab"])]), r, arc=r.uniform(0.8, 2.6))),
    "pixels 72": pixel_kind(72),
    "pixels 100": pixel_kind(100),
    "pixels 150": pixel_kind(150),
    "pixels 300": pixel_kind(300),
    "pixels 600": pixel_kind(600),
    "poor JPEG": pixel_kind(150, jpeg=lambda r: r.randint(12, 30)),
    "noise": pixel_kind(150, noise=lambda r: r.uniform(15, 40)),
    "rough scan": pixel_kind(200, blur=1.0, rough=True),
    "slanted scan": pixel_kind(200, skew=lambda r: r.uniform(-10, 10), noise=8, blur=0.7),
    "accents": lambda p, r: of(Art([Words(p, r).phrase(2, 3).translate(ACCENTS) for _ in range(2)], [r.uniform(20, 50)] * 2, r.choice(FONTS[p]["serif"]), r)),
    "Greek": lambda p, r: of(Art([Words(p, r).phrase(2, 3, "greek") for _ in range(2)], [r.uniform(20, 50)] * 2, r.choice(FONTS[p]["greek"]), r)),
    "Cyrillic": lambda p, r: of(Art([Words(p, r).phrase(2, 3, "cyrillic") for _ in range(2)], [r.uniform(20, 50)] * 2, r.choice(FONTS[p]["cyrillic"]), r)),
    # In a script that the reader of English does not know: nothing need be said of these, but nothing wrong may be.
    "not for its reader: Cyrillic": lambda p, r: foreign(p, r, "cyrillic", Words(p, r).phrase(1, 3, "cyrillic")),
    "not for its reader: Greek": lambda p, r: foreign(p, r, "greek", Words(p, r).phrase(1, 3, "greek")),
    "not for its reader: Greek, lines": lambda p, r: of(Art([Words(p, r).phrase(1, 3, "greek") for _ in range(4)], [r.uniform(24, 60)] * 4, r.choice(FONTS[p]["greek"]), r)),
    "not for its reader: Cyrillic, lines": lambda p, r: of(Art([Words(p, r).phrase(1, 3, "cyrillic") for _ in range(4)], [r.uniform(24, 60)] * 4, r.choice(FONTS[p]["cyrillic"]), r)),
    "not for its reader: Hebrew": lambda p, r: foreign(p, r, "hebrew", Words(p, r).of_letters(HEBREW, 2, 7)),
    "not for its reader: Arabic": lambda p, r: foreign(p, r, "arabic", Words(p, r).arabic()),
    "not for its reader: Chinese": lambda p, r: foreign(p, r, "chinese", Words(p, r).of_letters(CHINESE, 2, 6)),
    "not for its reader: digits": lambda p, r: foreign(p, r, "sans", Words(p, r).of_letters("0123456789", 2, 6)),
    "nothing: two-faced word": lambda p, r: of(Art([r.choice(TWO_FACED)], [r.uniform(20, 120)], r.choice(["DejaVu Sans", "Lato", "Nimbus Sans", "Cabin"]), r)),
    "nothing: shapes": lambda p, r: (Shapes(r, r.choice(["round", "square", "leaves", "scraps"])), None),
    "nothing: row of ornaments": lambda p, r: (Row(r, ""), None),
    "nothing: bars and squares": lambda p, r: (Codes(r, ""), None),
    "nothing: pen drawing": lambda p, r: (Drawing(r, ""), None),
    "nothing: photograph": lambda p, r: (photograph(r), None),
    "nothing: noise": lambda p, r: (white_noise(r), None),
}
LANGUAGE = {"Greek": "ell", "Cyrillic": "rus"}


def save(art, path, wrong, turn, rotate, kind):
    w, h = art.size()
    if turn % 180:
        pw, ph = h, w
    else:
        pw, ph = w, h
    margin = 36
    surface = cairo.PDFSurface(path, pw + 2 * margin, ph + 2 * margin)
    c = cairo.Context(surface)
    c.translate(margin + pw / 2, margin + ph / 2)
    c.rotate(math.radians(turn))
    if wrong:
        c.scale(-1, 1)
    c.translate(-w / 2, -h / 2)
    art.draw(c)
    surface.finish()
    if kind == "outlined by Ghostscript":
        subprocess.run(["gs", "-q", "-dBATCH", "-dNOPAUSE", "-dNoOutputFonts", "-sDEVICE=pdfwrite", "-o", path + "~", path], check=True)
        os.replace(path + "~", path)
    if rotate:
        subprocess.run(["qpdf", path, "--rotate=+%d:1" % rotate, "--replace-input"], check=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--part", choices=["teach", "test"], required=True)
    parser.add_argument("--count", type=int, required=True)
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--into", required=True)
    parser.add_argument("--kind", help="only those that begin so")
    args = parser.parse_args()
    os.makedirs(args.into, exist_ok=True)
    kinds = [k for k in KINDS if k.startswith(args.kind or "")]
    print("seed", args.seed)
    with open(os.path.join(args.into, "pages.tsv"), "w", encoding="utf-8") as table:
        for i in range(args.count):
            kind = kinds[i % len(kinds)]
            rng = random.Random("%s %d %d" % (args.part, args.seed, i))
            art, source = KINDS[kind](args.part, rng)
            wrong, turn, rotate = rng.random() < 0.5, rng.choice([0, 90, 180, 270]), rng.choice([0, 90, 270])
            name = "%04d.pdf" % i
            save(art, os.path.join(args.into, name), wrong, turn, rotate, kind)
            reading = "unknown" if kind.startswith("nothing") else "mixed" if kind.startswith("both ways") else "wrong" if wrong else "right"
            text = " / ".join(source.lines) if source else ""
            table.write("\t".join([name, kind, reading, str(turn), str(rotate), LANGUAGE.get(kind, "eng"), source.family if source else "", text]) + "\n")
            table.flush()


if __name__ == "__main__":
    main()
