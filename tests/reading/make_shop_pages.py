#!/usr/bin/python3
"""Makes the pages of make_pages.py, and those that shops send daily or that deceive: initials and numbers, scans of paper, halftones,
stripes, blackletter, letters on waves, circles and badges, scripts that turn Latin letters, jokes.

    make_shop_pages.py, with the options of make_pages.py

Beside right and wrong a page may be known to read both ways (mixed): then neither right nor wrong is an answer.
"""
import io
import math
import random

import cairo
import numpy
from PIL import Image, ImageFilter

import make_pages as pages

CAPITALS, TWO_FACED = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "AHIMOTUVWXY018"
PLAIN = ["serif", "sans", "slab", "condensed"]
# Scripts with letters that are Latin ones turned or reversed, or look so, by fonts of fonts-dejavu and fonts-freefont-ttf; both parts
# draw their words from the same letters.
SCRIPTS = {
    "Lisu": ("DejaVu Sans", range(0xA4D0, 0xA4F8)), "Tifinagh": ("DejaVu Sans", range(0x2D30, 0x2D66)),
    "Canadian syllabics": ("DejaVu Sans", range(0x1401, 0x1450)), "Georgian capitals": ("DejaVu Serif", range(0x10A0, 0x10C6)),
    "Georgian": ("DejaVu Sans", range(0x10D0, 0x10F1)), "Armenian capitals": ("DejaVu Sans", range(0x531, 0x557)),
    "Armenian": ("DejaVu Serif", range(0x561, 0x586)), "Cherokee": ("FreeSerif", range(0x13A0, 0x13F0)), "Coptic": ("FreeSerif", range(0x2C80, 0x2CB2)),
    "Old Italic": ("DejaVu Sans", range(0x10300, 0x1031F)), "Runes": ("FreeMono", range(0x16A0, 0x16EB)), "Gothic": ("FreeSerif", range(0x10330, 0x1034B)),
}
UPSIDE_DOWN = str.maketrans("abcdefghijklmnopqrstuvwxyz", "ɐqɔpǝɟƃɥıɾʞlɯuodbɹsʇnʌʍxʎz")


def font_of(part, rng, kinds=PLAIN):
    return rng.choice(pages.FONTS[part][rng.choice(kinds)])


def number(rng, least=1, most=3):
    return "".join(rng.choice("0123456789") for _ in range(rng.randint(least, most)))


def art(part, rng, lines, sizes=None, **kw):
    return pages.of(pages.Art(lines, sizes or [rng.uniform(30, 120)] * len(lines), kw.pop("family", None) or font_of(part, rng), rng, **kw))


def ink(rng):
    return rng.choice([(0, 0, 0), (0.85, 0.1, 0.1), (0.1, 0.2, 0.6), (0.5, 0.5, 0.1), (0.4, 0, 0.4)])


def telling(make, least=2):
    """What `make` makes until so many characters tell; those that do not are pages of "nothing: two-faced number"."""
    while True:
        lines = make()
        if sum(c in pages.TELLING or c == "9" for c in "".join(lines)) >= least:
            return lines


def initials(part, rng):
    def one():
        letters = "".join(rng.choice(CAPITALS) for _ in range(rng.randint(2, 3))) if rng.random() < 0.6 else pages.Words(part, rng).word(1, 1).upper()[:5]
        return [letters + rng.choice(["", "", " "]) + number(rng)]
    return art(part, rng, telling(one), ink=ink(rng))


def numbers(part, rng):
    how = rng.random()
    if how < 0.5:
        return art(part, rng, telling(lambda: [number(rng, 2, 3)]), [rng.uniform(80, 240)], ink=ink(rng))
    if how < 0.75:
        return art(part, rng, [rng.choice(["555-01%s", "(555) 555-01%s", "555.555.01%s"]) % number(rng, 2, 2)], ink=ink(rng))
    return art(part, rng, telling(lambda: [number(rng, 2, 2) for _ in range(rng.randint(2, 4))], 3), ink=ink(rng))


def jersey(part, rng):
    name = pages.Words(part, rng).word(1, 2).upper()
    return art(part, rng, [name, number(rng, 1, 2)], [rng.uniform(24, 40), rng.uniform(120, 240)], ink=ink(rng), how=rng.choice(["fill", "fill", "stroke"]))


def even_light(rng, u, v):
    return rng.uniform(190, 247) + rng.uniform(-25, 8) * u + rng.uniform(-15, 5) * v


def bad_light(rng, u, v):
    """Dark towards one side, as in a book's gutter, or towards all corners, or with a fold."""
    how = rng.randrange(3)
    if how == 0:
        return rng.uniform(200, 245) - rng.uniform(80, 180) * numpy.exp(-u / rng.uniform(0.02, 0.08))
    if how == 1:
        return rng.uniform(180, 240) - rng.uniform(40, 180) * ((u - 0.5) ** 2 + (v - 0.5) ** 2)
    return rng.uniform(170, 245) + rng.uniform(-60, 10) * u - rng.uniform(20, 70) * numpy.exp(-((v - rng.uniform(0.3, 0.7)) / 0.03) ** 2)


def scan(part, rng, light=even_light):
    """Paper with a tone of its own, unevenly lit, with specks and sometimes a white rim."""
    source = pages.plain_art(part, rng)
    ppi = rng.choice([100, 150, 200, 300])
    source.sizes = [max(s, 13 / 0.45 * 72 / ppi) for s in source.sizes]
    image, _, w, h = pages.as_pixels(source, ppi, rng, blur=rng.uniform(0.3, 1), skew=rng.uniform(-2, 2))
    r = numpy.random.default_rng(rng.getrandbits(32))
    grey = numpy.asarray(image.convert("L")).astype(float) / 255
    y, x = numpy.mgrid[0:grey.shape[0], 0:grey.shape[1]]
    paper = light(rng, x / grey.shape[1], y / grey.shape[0])
    dark = rng.uniform(20, 90)
    grey = dark + (paper - dark) * grey + r.normal(0, rng.uniform(1, 8), grey.shape)
    for _ in range(rng.randint(0, 40)):
        px, py = rng.randrange(grey.shape[1]), rng.randrange(grey.shape[0])
        grey[py:py + rng.randint(1, 3), px:px + rng.randint(1, 3)] = rng.uniform(60, 160)
    rim = round(rng.choice([0, 0, 1, 3, 6]) * ppi / 72)
    grey = numpy.pad(grey, rim, constant_values=255)
    out, image = io.BytesIO(), Image.fromarray(numpy.clip(grey, 0, 255).astype(numpy.uint8)).convert("RGB")
    image.save(out, "JPEG", quality=rng.choice([40, 75, 92]))
    return pages.Picture(image, out.getvalue(), w + 2 * rim * 72 / ppi, h + 2 * rim * 72 / ppi), source


def screened(part, rng, stripes):
    """Letters of dots or stripes, or on a ground of them."""
    source = pages.plain_art(part, rng)
    source.sizes = [max(s, 40) for s in source.sizes]
    ppi, lines = 300, rng.uniform(20, 45)
    image, _, w, h = pages.as_pixels(source, ppi, rng)
    letters = numpy.asarray(image.convert("L")) < 128
    y, x = numpy.mgrid[0:letters.shape[0], 0:letters.shape[1]]
    angle, pitch, tone = rng.choice([0, math.pi / 4, rng.uniform(0, math.pi)]), ppi / lines, rng.uniform(0.3, 0.6)
    u, v = (x * math.cos(angle) + y * math.sin(angle)) / pitch, (y * math.cos(angle) - x * math.sin(angle)) / pitch
    wave = numpy.cos(2 * math.pi * u) if stripes else (numpy.cos(2 * math.pi * u) + numpy.cos(2 * math.pi * v)) / 2
    screen = wave > numpy.quantile(wave, 1 - tone)
    inked = letters & screen if rng.random() < 0.6 else letters | (screen & (wave > numpy.quantile(wave, 0.75)))
    image = Image.fromarray(numpy.where(inked, 20, 255).astype(numpy.uint8)).convert("RGB").filter(ImageFilter.GaussianBlur(rng.uniform(0, 1)))
    return pages.Picture(image, None, w, h), source


BENDS = {  # where a point (x of the width, y of the size) goes up or down
    "wave": lambda u, v: v + 0.35 * math.sin(2 * math.pi * u), "swell": lambda u, v: v * (0.7 + 0.6 * math.sin(math.pi * u)),
    "pinch": lambda u, v: v * (1.35 - 0.65 * math.sin(math.pi * u)), "rise": lambda u, v: v - 0.5 * u * u,
    "flag": lambda u, v: v + 0.2 * math.sin(3 * math.pi * u), "arch": lambda u, v: v - 0.8 * math.sin(math.pi * u), "lean": lambda u, v: v * (1.4 - 0.75 * u),
}


class Warped(pages.Art):
    """One line of which every point of its outline is moved."""

    def size(self):
        return self.measure()[0] + self.sizes[0], 3.2 * self.sizes[0]

    def draw(self, c):
        w, size = self.measure()[0], self.sizes[0]
        flat = cairo.Context(cairo.RecordingSurface(cairo.CONTENT_COLOR, None))
        self.font(flat, size)
        flat.set_tolerance(0.05)
        flat.text_path(self.lines[0])
        c.translate(size / 2, 2 * size)
        c.set_source_rgb(*self.ink)
        for kind, points in flat.copy_path_flat():
            if kind == cairo.PATH_CLOSE_PATH:
                c.close_path()
            else:
                (c.move_to if kind == cairo.PATH_MOVE_TO else c.line_to)(points[0], size * self.bend(points[0] / w, points[1] / size))
        c.fill()


def warped(part, rng, bends):
    source = Warped([pages.Words(part, rng).phrase(1, 3)], [rng.uniform(36, 60)], font_of(part, rng), rng)
    source.bend = BENDS[rng.choice(bends)]
    return source, source


class Badge(pages.Art):
    """One line over the top of a circle, the other along its bottom, both upright; sometimes between rings."""

    def size(self):
        return (2 * self.radius + 3 * self.sizes[0],) * 2

    def draw(self, c):
        middle, size = self.size()[0] / 2, self.sizes[0]
        c.set_source_rgb(*self.ink)
        self.font(c, size)
        for text, radius, way in zip(self.lines, (self.radius, self.radius + 0.75 * size), (1, -1)):
            angle = -c.text_extents(text).x_advance / radius / 2
            for letter in text:
                advance = c.text_extents(letter).x_advance
                c.save()
                c.translate(middle, middle)
                c.rotate(way * (angle + advance / 2 / radius))
                c.translate(-advance / 2, -way * radius)
                c.move_to(0, 0)
                c.text_path(letter)
                c.fill()
                c.restore()
                angle += advance / radius
        for radius in (self.radius - 0.45 * size, self.radius + 1.3 * size) if self.rings else ():
            c.arc(middle, middle, radius, 0, 2 * math.pi)
            c.set_line_width(1.5)
            c.stroke()


def badge(part, rng):
    words = pages.Words(part, rng)
    source = Badge([words.phrase(2, 3), words.phrase(1, 2)], [rng.uniform(20, 36)] * 2, font_of(part, rng, ["serif", "sans", "slab"]), rng)
    source.radius, source.rings = max(source.measure()) / rng.uniform(1.8, 3), rng.random() < 0.5
    return source, source


def on_circle(part, rng):
    """Around most of a circle, as on a badge."""
    source = pages.Art([pages.Words(part, rng).phrase(3, 4)], [rng.uniform(24, 40)], font_of(part, rng, ["serif", "sans", "slab"]), rng, arc=rng.uniform(3.6, 5.6))
    length = source.measure()[0]
    source.size = lambda: (2 * length / source.arc + 3 * source.sizes[0],) * 2
    return source, source


def script(name):
    family, letters = SCRIPTS[name]

    def make(part, rng):
        word = lambda: "".join(chr(rng.choice(letters)) for _ in range(rng.randint(2, 8)))
        return art(part, rng, [" ".join(word() for _ in range(rng.randint(1, 3))) for _ in range(rng.randint(1, 3))], family=family)
    return make


def joke(part, rng):
    """One line the right way and one in a mirror, of like size: a person must say which was meant."""
    words = pages.Words(part, rng)
    one, other = [pages.Art([words.phrase(1, 2)], [rng.uniform(30, 50)], font_of(part, rng), rng) for _ in range(2)]
    return Stacked(one, other), one


class Stacked:
    def __init__(self, upper, lower):
        self.upper, self.lower = upper, lower

    def size(self):
        (w1, h1), (w2, h2) = self.upper.size(), self.lower.size()
        return max(w1, w2), h1 + h2

    def draw(self, c):
        (_, h1), (w2, _) = self.upper.size(), self.lower.size()
        c.save()
        self.upper.draw(c)
        c.restore()
        c.translate(w2, h1)
        c.scale(-1, 1)
        self.lower.draw(c)


pages.KINDS.update({
    "initials and number": initials,
    "numbers": numbers,
    "name and number": jersey,
    "scan of paper": scan,
    "scan in a bad light": lambda p, r: scan(p, r, bad_light),
    "dots": lambda p, r: screened(p, r, False),
    "stripes": lambda p, r: screened(p, r, True),
    "on a wave": lambda p, r: warped(p, r, ["wave", "swell"]),
    "warped": lambda p, r: warped(p, r, ["pinch", "rise", "flag", "arch", "lean"]),
    "on a circle": on_circle,
    "on a badge": badge,
    "blackletter": lambda p, r: art(p, r, [pages.Words(p, r).phrase(1, 3) for _ in range(2)], family=r.choice(pages.FONTS[p]["blackletter"])),
    "script font": lambda p, r: art(p, r, [pages.Words(p, r).phrase(1, 3) for _ in range(2)], family=r.choice(pages.FONTS[p]["script"])),
    "both ways: joke": joke,
    "nothing: two-faced number": lambda p, r: art(p, r, ["".join(r.choice(TWO_FACED) for _ in range(r.randint(1, 4)))], family=r.choice(pages.FONTS[p]["sans"])),
    "not for its reader: upside down": lambda p, r: art(p, r, [" ".join(pages.Words(p, r).phrase(1, 2).lower()[::-1].translate(UPSIDE_DOWN) for _ in range(1))], family="DejaVu Sans"),
} | {"not for its reader: " + name: script(name) for name in SCRIPTS})

if __name__ == "__main__":
    pages.main()
