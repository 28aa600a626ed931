"""Several pieces on one sheet: an order of 500 pieces, and arrangements against libnest2d's."""
import random
import subprocess

import cairo


def art(path, dice):
    """A crest of lines, a disk and a name, 1 to 4 in wide."""
    w, h = dice.uniform(72, 288), dice.uniform(72, 288)
    surface = cairo.PDFSurface(str(path), w, h)
    c = cairo.Context(surface)
    c.set_source_rgb(dice.random() * 0.8, dice.random() * 0.8, dice.random() * 0.8)
    c.rectangle(2, 2, w - 4, h - 4)
    c.stroke()
    c.arc(w / 2, h / 2, min(w, h) / 4, 0, 7)
    c.fill()
    c.set_source_rgb(0, 0, 0)
    c.select_font_face("DejaVu Sans")
    c.set_font_size(h / 8)
    c.move_to(w * 0.1, h * 0.95)
    c.show_text("Lantern & Fox")
    surface.finish()


def rows(bench, folder, memory):
    print("several pieces on one sheet")
    dice, pieces = random.Random(1), []
    for i in range(50):
        art(folder / f"piece{i}.pdf", dice)
        pieces.append(f"{folder / f'piece{i}.pdf'}:10")
    words = [bench.program, "gang", *pieces, "-o", folder / "sheets.pdf", "--force", "--sheet", "12.5x19in", "--reading", "as-is", "--accept", "ink.guide,ink.cut"]
    cost = bench.took(words, times=3)
    bench.row("gang: 500 pieces of 50 files, by the clock", cost.wall, 2, "s")
    bench.row("gang: 500 pieces of 50 files, memory", memory(words) / 1024, 200, "MB")
    orders = {"boxes": 4 if bench.quick else 20, "shapes": 2 if bench.quick else 20}
    for kind, most_sheets, most_time in (("boxes", 0.95, 0.2), ("shapes", 1.03, 1.2)):
        done = subprocess.run([bench.build / "tests" / "nest", kind, str(orders[kind])], check=True, capture_output=True, text=True)
        ours, seconds, theirs, their_seconds = map(float, done.stdout.split())
        bench.row(f"gang: sheets for {orders[kind]} orders by {kind}, of libnest2d's", ours / theirs, most_sheets)
        bench.row("gang: processor time for them, of libnest2d's", seconds / their_seconds, most_time)
