#!/usr/bin/python3
"""Dense banners, longer than any sheet.

    banner.py FILE          one of 80 in
"""
import random
import sys

import cairo

INCH = 72.0


def dense(path, dice, length=None):
    """A strip of words, blocks and ornaments of at most 1.25 in close beside each other, 28 to 83 in long where nobody says."""
    long, wide = (length or dice.uniform(28, 83)) * INCH, dice.uniform(5, 7.4) * INCH
    upright = dice.random() < 0.5
    w, h = (wide, long) if upright else (long, wide)

    def draw(c, w, h):
        at = 4.0
        c.select_font_face("DejaVu Sans")
        along = h if upright else w
        across = w if upright else h
        while at < along - 40:
            step = dice.uniform(12, 90)
            step = min(step, along - at - 2)
            kind = dice.randrange(4)
            c.set_source_rgb(dice.random() * 0.8, dice.random() * 0.8, dice.random() * 0.8)
            if kind == 0:
                c.rectangle(*((6, at, across - 12, step) if upright else (at, 6, step, across - 12)))
                c.fill()
            elif kind == 1:
                n = max(1, int(across / step))
                for i in range(n):
                    x, y = (across * (i + 0.5) / n, at + step / 2) if upright else (at + step / 2, across * (i + 0.5) / n)
                    c.arc(x, y, min(step, across / n) / 2 - 1, 0, 7)
                    c.fill()
            elif kind == 2:
                size = dice.uniform(12, 40)
                y = (at if upright else 6) + size
                while y < (at + step if upright else across - 6):
                    c.set_font_size(size)
                    c.move_to(6 if upright else at, y)
                    text = "".join(dice.choice("ABEGHMNRSW") for _ in range(200))
                    room = (across - 12) if upright else step
                    while text and c.text_extents(text).x_advance > room:
                        text = text[:-1]
                    c.show_text(text)
                    y += size * 1.1
            else:
                for i in range(int(step / 6)):
                    k = at + 6 * i
                    c.move_to(*((6, k) if upright else (k, 6)))
                    c.line_to(*((across - 6, k + 4) if upright else (k + 4, across - 6)))
                    c.stroke()
            at += step + dice.uniform(2, 12)

    surface = cairo.PDFSurface(str(path), w, h)
    draw(cairo.Context(surface), w, h)
    surface.finish()
    return path


if __name__ == "__main__":
    dense(sys.argv[1], random.Random(1), 80)
