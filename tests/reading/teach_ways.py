#!/usr/bin/python3
"""Teaches the network of src/reading/letter_ways_table.cpp to tell how letters and digits lie, from font files.

    teach_ways.py --into letter_ways_table.cpp [--against FONT-FILE…] FONT-FILE…

Every letter and digit of every font is drawn, sheared either way (so that a slant tells nothing), turned a little, thickened, blurred, as
fill or as stroke, and brought into a square. The network gives a square one number; of the four ways in which a square can lie the right one
shall get the greatest. Letters that look the same in a mirror so come to tell nothing. Letters of other scripts and shapes, which are made
here, shall tell nothing either. Fonts whose letters tell hardly anything, such as those of ornaments, are left out after a first round.
--against says how often words with a number, of fonts that did not teach, are told right and told wrong. Needs python3-numpy, python3-pil
and python3-fonttools; takes some minutes for 700 fonts. The table was taught by those of fonts-dejavu, fonts-urw-base35, fonts-freefont-ttf,
fonts-oldstandard, fonts-quicksand, fonts-dosis, fonts-rufscript, fonts-leckerli-one, and 90 more packages of Debian 12 that the pages of
make_pages.py do not use, at most ten fonts of each but of fonts-aenigma all.
"""
import argparse
import math
import random
import string

import numpy
from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFilter, ImageFont

SIDE, FIRST, SECOND, MIDDLE = 16, 72, 24, 0.3
LETTERS = string.ascii_uppercase + string.digits + string.ascii_lowercase
# Hebrew, Armenian, Georgian, Arabic, Devanagari, Thai, Canadian syllabics, Tifinagh, Coptic, Deseret, Ethiopic, Greek, Cyrillic, Chinese,
# Japanese, runes, Cherokee, Vai, signs.
OTHERS = [(0x5D0, 0x5EA), (0x531, 0x587), (0x10A0, 0x10FF), (0x621, 0x64A), (0x904, 0x939), (0xE01, 0xE30), (0x1401, 0x1676), (0x2D30, 0x2D6F),
          (0x2C80, 0x2CB1), (0x10400, 0x1044F), (0x1200, 0x1357), (0x391, 0x3C9), (0x410, 0x44F), (0x4E00, 0x4F00), (0x3041, 0x30FA), (0x16A0, 0x16EA),
          (0x13A0, 0x13F4), (0xA500, 0xA62B), (0x2190, 0x22FF), (0x2600, 0x26FF)]


def square(ink):
    """The inked part in the middle of a square, as SIDE x SIDE means; nothing where there is hardly any."""
    rows, columns = numpy.flatnonzero(ink.max(1) > 0.5), numpy.flatnonzero(ink.max(0) > 0.5)
    if len(rows) == 0:
        return None
    ink = ink[rows[0]:rows[-1] + 1, columns[0]:columns[-1] + 1]
    side = max(ink.shape)
    if side < 6:
        return None
    padded = Image.new("L", (side, side), 0)
    padded.paste(Image.fromarray((numpy.clip(ink, 0, 1) * 255).astype(numpy.uint8)), ((side - ink.shape[1]) // 2, (side - ink.shape[0]) // 2))
    return numpy.asarray(padded.resize((SIDE, SIDE), Image.BOX))


def drawn(font, letter, rng):
    x0, y0, x1, y1 = font.getbbox(letter)
    if not (0 < x1 - x0 <= 300 and 0 < y1 - y0 <= 300):
        return None
    image = Image.new("L", (x1 - x0 + 24, y1 - y0 + 24), 0)
    stroke = rng.choice([1, 1, 2]) if rng.random() < 0.12 else 0
    ImageDraw.Draw(image).text((12 - x0, 12 - y0), letter, fill=255, font=font, stroke_width=stroke)
    if stroke:
        ImageDraw.Draw(image).text((12 - x0, 12 - y0), letter, fill=0, font=font)
    return image


def changed(image, rng):
    if rng.random() < 0.5:
        image = image.rotate(rng.gauss(0, 3), Image.BILINEAR, expand=True)
    shear, wide = rng.uniform(-0.4, 0.4) if rng.random() < 0.75 else 0, rng.uniform(0.75, 1.3) if rng.random() < 0.5 else 1
    w, h = image.size
    image = image.transform((int(w * wide + abs(shear) * h) + 1, h), Image.AFFINE, (1 / wide, shear / wide, -max(shear, 0) * h / wide, 0, 1, 0), Image.BILINEAR)
    how = rng.random()
    if how < 0.3:
        image = image.filter(ImageFilter.MaxFilter(3) if how < 0.1 else ImageFilter.MinFilter(3) if how < 0.15 else ImageFilter.GaussianBlur(rng.uniform(0.5, 1.6)))
    ink = numpy.asarray(image).astype(numpy.float32) / 255
    if rng.random() < 0.15:
        grain = numpy.random.default_rng(rng.getrandbits(32)).normal(0, 0.25, ink.shape)
        ink = numpy.clip(ink + grain * (ink > 0.05), 0, 1)
    return (ink > 0.5).astype(numpy.float32) if rng.random() < 0.5 else ink


def squares_of(files, letters_of, times, rng):
    """Squares, and of each its letter and the number of its font."""
    squares, letters, fonts = [], [], []
    for number, file in enumerate(files):
        try:
            sizes = [ImageFont.truetype(file, size) for size in (22, 32, 44)]
            wanted = letters_of(TTFont(file, lazy=True, fontNumber=0).getBestCmap() or {})
        except Exception as fault:  # a font that a library cannot open
            print(file, fault)
            continue
        for letter in wanted:
            for _ in range(times * (2 if letter in string.digits else 1)):
                image = drawn(rng.choice(sizes), letter, rng)
                cells = square(changed(image, rng)) if image else None
                if cells is not None:
                    squares.append(cells), letters.append(letter), fonts.append(number)
    return numpy.array(squares), numpy.array(letters), numpy.array(fonts)


def shape(rng):
    """Something that is no letter."""
    image = Image.new("L", (64, 64), 0)
    draw, place = ImageDraw.Draw(image), lambda: (rng.uniform(8, 56), rng.uniform(8, 56))
    how, width = rng.random(), rng.randint(2, 9)
    if how < 0.3:
        points = [place() for _ in range(rng.randint(3, 8))]
        draw.polygon(points, fill=255) if rng.random() < 0.5 else draw.line(points, fill=255, width=width)
    elif how < 0.5:
        (ax, ay), (bx, by) = place(), place()
        start = rng.uniform(0, 360)
        draw.arc((min(ax, bx), min(ay, by), max(ax, bx) + 4, max(ay, by) + 4), start, start + rng.uniform(90, 360), fill=255, width=width)
    elif how < 0.7:
        points, angle = [], rng.uniform(0, 6)
        for _ in range(rng.randint(4, 14)):
            radius = rng.uniform(8, 26)
            points.append((32 + radius * math.cos(angle), 32 + radius * math.sin(angle)))
            angle += rng.uniform(0.3, 1.2)
        draw.polygon(points, fill=255)
    elif how < 0.85:
        ends = [numpy.array(place()) for _ in range(4)]
        curve = [tuple(sum(math.comb(3, k) * (1 - t) ** (3 - k) * t**k * ends[k] for k in range(4))) for t in numpy.linspace(0, 1, 30)]
        draw.line(curve, fill=255, width=width)
    else:
        for _ in range(rng.randint(2, 4)):
            x, y = place()
            draw.rectangle((x, y, x + rng.uniform(3, 30), y + rng.uniform(3, 30)), fill=255)
    return square(numpy.asarray(image).astype(numpy.float32) / 255)


def ways(squares):
    """Upright, turned, reversed, reversed and turned; as in src/reading/line_trial.h."""
    cells = squares.astype(numpy.float32) / 255 - MIDDLE
    return numpy.stack([cells, cells[:, ::-1, ::-1], cells[:, :, ::-1], cells[:, ::-1, :]], 1)


def layers(net, cells):
    first = numpy.maximum(cells @ net["W1"] + net["b1"], 0)
    second = numpy.maximum(first @ net["W2"] + net["b2"], 0)
    return first, second, second @ net["W3"]


def likelihoods(net, squares):
    """Logarithms, for the four ways."""
    sums = numpy.concatenate([layers(net, ways(squares[i:i + 4096]).reshape(-1, SIDE * SIDE))[2].reshape(-1, 4) for i in range(0, len(squares), 4096)])
    sums = sums - sums.max(1, keepdims=True)
    return sums - numpy.log(numpy.exp(sums).sum(1, keepdims=True))


def right_over_wrong(logs):
    return numpy.logaddexp(logs[..., 0], logs[..., 1]) - numpy.logaddexp(logs[..., 2], logs[..., 3])


def teach(squares, letters, others, rounds):
    """Adam (Kingma and Ba, 2014) on the likelihood of the right way, of any way for what is no letter."""
    rng, size = numpy.random.default_rng(1), SIDE * SIDE
    net = {"W1": rng.normal(0, (2 / size) ** 0.5, (size, FIRST)), "b1": numpy.zeros(FIRST), "W2": rng.normal(0, (2 / FIRST) ** 0.5, (FIRST, SECOND)),
           "b2": numpy.zeros(SECOND), "W3": rng.normal(0, (1 / SECOND) ** 0.5, (SECOND, 1))}
    net = {name: values.astype(numpy.float32) for name, values in net.items()}
    mean, spread = ({name: numpy.zeros_like(values) for name, values in net.items()} for _ in range(2))
    everything, is_letter = numpy.concatenate([squares, others]), numpy.arange(len(squares) + len(others)) < len(squares)
    weight = numpy.concatenate([[1.3 if c in string.digits else 1.2 if c in string.ascii_uppercase else 1 for c in letters], numpy.full(len(others), 0.6)])
    batch, step = 256, 0
    steps = rounds * (len(everything) // batch)
    for number in range(rounds):
        order = rng.permutation(len(everything))
        for start in range(0, len(everything) - batch + 1, batch):
            chosen = order[start:start + batch]
            cells = ways(everything[chosen])
            if rng.random() < 0.3:
                cells = numpy.roll(cells, tuple(rng.integers(-1, 2, 2)), (2, 3))
            cells = numpy.ascontiguousarray(cells).reshape(4 * batch, size)
            first, second, sums = layers(net, cells)
            likely = numpy.exp(sums.reshape(batch, 4) - sums.reshape(batch, 4).max(1, keepdims=True))
            likely /= likely.sum(1, keepdims=True)
            wanted = numpy.where(is_letter[chosen][:, None], [[0.9775, 0.0075, 0.0075, 0.0075]], 0.25)
            share = (weight[chosen] / weight[chosen].sum())[:, None]
            slope = ((likely - wanted) * share).reshape(-1, 1).astype(numpy.float32)
            slope2 = (slope @ net["W3"].T) * (second > 0)
            slope1 = (slope2 @ net["W2"].T) * (first > 0)
            slopes = {"W3": second.T @ slope, "W2": first.T @ slope2, "b2": slope2.sum(0), "W1": cells.T @ slope1, "b1": slope1.sum(0)}
            step += 1
            rate = 1e-3 * (1 + math.cos(math.pi * step / steps)) + 1e-5
            for name in net:
                s = slopes[name] + (2e-5 * net[name] if name[0] == "W" else 0)
                mean[name] = 0.9 * mean[name] + 0.1 * s
                spread[name] = 0.999 * spread[name] + 0.001 * s**2
                net[name] -= rate * (mean[name] / (1 - 0.9**step)) / (numpy.sqrt(spread[name] / (1 - 0.999**step)) + 1e-8)
        print("round", number + 1, "of", rounds, flush=True)
    return net


def table(net):
    def character(value):
        return {"\\": "~", "?": "!"}.get(chr(80 + value), chr(80 + value))

    def unit(weights, bias):
        scale = max(abs(weights).max() / 45, 1e-9)
        text = "".join(character(int(v)) for v in numpy.clip(numpy.rint(weights / scale), -45, 45))
        return "    {%.6gF, %.6gF,\n     %s},\n" % (scale, bias, "\n     ".join('"%s"' % text[i:i + 128] for i in range(0, len(text), 128)))

    def units(name, number):
        rows = "".join(unit(net["W%d" % number][:, i], net["b%d" % number][i]) for i in range(len(net["b%d" % number])))
        return "std::array<WaysUnit, kWays%s> const kWays%sUnits = {{\n%s}};\n\n" % (name, name, rows)

    last = ["%.5gF" % v for v in net["W3"][:, 0]]
    return ('#include "reading/letter_ways_table.h"\n\nnamespace layright {\n\n' + units("First", 1) + units("Second", 2) + "std::array<float, kWaysSecond> const kWaysLast = {" +
            ", ".join(last[:SECOND // 2]) + ",\n                                                     " + ", ".join(last[SECOND // 2:]) + "};\n\n}  // namespace layright\n")


def judge(net, squares, letters, fonts, rng):
    """Two capitals to five and one digit to three, of one font."""
    logs, of, sums = likelihoods(net, squares), {}, []
    for i, key in enumerate(zip(fonts, letters)):
        of.setdefault(key, []).append(i)
    for _ in range(20000):
        font = rng.choice(fonts)
        text = [rng.choice(string.ascii_uppercase) for _ in range(rng.randint(2, 5))] + [rng.choice(string.digits) for _ in range(rng.randint(1, 3))]
        if all((font, c) in of for c in text):
            sums.append(right_over_wrong(logs[[rng.choice(of[font, c]) for c in text]].sum(0)))
    sums = numpy.array(sums)
    for least in (3, 5, 7):
        print(f"of {len(sums)} from {least}: {100 * (sums > least).mean():.1f} % right, {(sums < -least).sum()} wrong")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--into", required=True)
    parser.add_argument("--against", nargs="*", default=[])
    parser.add_argument("fonts", nargs="+")
    args = parser.parse_args()
    rng = random.Random(5)
    latin = lambda known: LETTERS if all(ord(c) in known for c in LETTERS) else ""
    other = lambda known: rng.sample(sorted(have), min(150, len(have))) if (have := [chr(u) for a, b in OTHERS for u in range(a, b + 1) if u in known]) else []
    squares, letters, fonts = squares_of(args.fonts, latin, 2, rng)
    others, _, _ = squares_of(args.fonts, other, 1, rng)
    shapes = [cells for cells in (shape(rng) for _ in range(14000)) if cells is not None and cells.sum() > 255 * 6]
    others = numpy.concatenate([others, shapes]) if len(others) else numpy.array(shapes)
    net = teach(squares, letters, others, 3)
    told = right_over_wrong(likelihoods(net, squares))
    telling = [number for number in set(fonts) if told[fonts == number].mean() >= 0.25]
    keep = numpy.isin(fonts, telling)
    print(len(telling), "of", len(set(fonts)), "fonts teach")
    net = teach(squares[keep], letters[keep], others, 8)
    with open(args.into, "w", encoding="utf-8") as file:
        file.write(table(net))
    if args.against:
        judge(net, *squares_of(args.against, latin, 1, rng), rng)


if __name__ == "__main__":
    main()
