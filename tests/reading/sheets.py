#!/usr/bin/python3
"""The pages of deceptive.py, and sheets on which several customers' pieces stand, drawn as one picture or as outlines; one is the other way round.

    sheets.py, with the arguments of deceptive.py

A piece is a word or a few, in a font, size and color of its own, bare or in a frame or on a patch; pieces stand in a column, a row, a grid or
anywhere. Such a sheet reads both ways, and must never be told to read one way; sheets whose pieces agree are the honest ones beside them.
"""
import sys

import deceptive
import make_pages

WORDS = ("Club Meadow Lantern Bakery Garden Summer Coffee Family Reunion Falcon Rangers Staff Crew Senior Spring Camp Lake Engine Repair Daycare Fresh "
         "Brew Golf League Green Harbor Fishing Angler Perfect Bride Groom Squad Party Fire Rescue Soccer Ladies Grill Barber Studio Flowers Plumbing "
         "Electric Farm Ranch Bowling Jazz Band Fest Run Relay Finish Legend Pride Class Grade School Art Dance Karate Judo Surf Sail Anchor").split()


def phrase(m):
    """Of one to four words, with three letters that tell at least."""
    r = m.rng
    while True:
        one = lambda: r.choice(WORDS) if r.random() < 0.6 else m.words.word(1, 3)
        lines = [" ".join(m.words.cased(one()) for _ in range(r.choice([1, 1, 2]))) for _ in range(r.choice([1, 1, 1, 2]))]
        if sum(c in make_pages.TELLING for c in "".join(lines)) >= 3 and all(len(line) >= 3 for line in lines):
            return lines


def piece(m, wrong):
    r = m.rng
    lines = phrase(m)
    art = make_pages.Art(lines, [r.uniform(16, 60)] * len(lines), m.family(), r)
    operators, w, h = m.outlines(art)
    around = r.random()
    if around < 0.15:
        operators += "\n%.1f w 0 G 4 4 %.1f %.1f re S" % (r.uniform(0.5, 3), w - 8, h - 8)
    elif around < 0.3:
        operators = "%.2f %.2f %.2f rg 3 3 %.1f %.1f re f\n1 1 1 rg\n%s" % (r.uniform(0, 0.5), r.uniform(0, 0.4), r.uniform(0, 0.5), w - 6, h - 6, operators.split("\n", 1)[1])
    return operators, w, h, wrong


def places(r, pieces):
    """Lower left corners, and the page's size."""
    gap, margin = r.uniform(2, 40), 25
    across = r.choice([1, 1, 2, 2, 3, len(pieces)])
    at, y, width = [], margin, 0
    for first in range(0, len(pieces), across):
        row, x = pieces[first:first + across], margin + r.choice([0, 0, r.uniform(0, 80)])
        for _, w, h, _ in row:
            at.append((x, y + r.choice([0, 0, r.uniform(0, 20)])))
            x += w + gap
        y += max(h for _, _, h, _ in row) + gap + 20
        width = max(width, x)
    return at, int(width) + margin, int(y) + margin


def sheet(m, page, wrong, how, odd):
    r = m.rng
    count = r.randint(2, 6)
    contrary = r.randrange(count) if odd else None
    if r.random() < 0.5:  # all of one font, as one designer's
        m.fonts, kept = [m.family()], m.fonts
    else:
        kept = m.fonts
    pieces = [piece(m, wrong != (i == contrary)) for i in range(count)]
    m.fonts = kept
    at, page.width, page.height = places(r, pieces)
    for (operators, w, h, piece_wrong), (x, y) in zip(pieces, at):
        page.place(operators, x, y, w, h, piece_wrong)
    if how == "picture":
        flat = deceptive.Page(page.width, page.height)
        flat.content = page.content
        page.content = ["q %d 0 0 %d 0 0 cm /%s Do Q" % (page.width, page.height, m.picture(page, deceptive.drawn(flat.bytes(0, 0), r.choice([100, 150, 200, 300]))))]
    return "mixed" if odd else deceptive.way(wrong)


deceptive.KINDS.update({
    "pieces in a picture, one odd": lambda m, p, w: sheet(m, p, w, "picture", True),
    "pieces of outlines, one odd": lambda m, p, w: sheet(m, p, w, "outlines", True),
    "honest: pieces in a picture": lambda m, p, w: sheet(m, p, w, "picture", False),
    "honest: pieces of outlines": lambda m, p, w: sheet(m, p, w, "outlines", False),
})

if __name__ == "__main__":
    sys.exit(deceptive.main())
