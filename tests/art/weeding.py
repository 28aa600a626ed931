"""Whether something too fine lies where ink.island and ink.gap say: each place is looked at on a rendering by poppler, at twice the press's pixels."""
import io
import subprocess

import numpy
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
JUDGED = 1200                # pixels to the inch as printed
PIXEL = 72 / 600             # of the press, in points: what the program sees no finer than
WIDTH, SIDE = 0.5, 0.7       # the limits, in points
AROUND = 2                   # points around a place that are looked at as well


def drawn(path, page, unit, scale, place, height):
    """What poppler draws around a place as seen, in points: True where ink is, and the place's own pixels (left, top, right, bottom) in it."""
    k = JUDGED * scale / 72  # pixels to a point as seen
    x0, y0, x1, y1 = place
    around = AROUND / scale
    left, top = int((x0 - around) * k), int((height - y1 - around) * k)
    wide, high = int((x1 - x0 + 2 * around) * k) + 1, int((y1 - y0 + 2 * around) * k) + 1
    # Poppler 22.12 does not know UserUnit: it draws the page smaller.
    words = ["pdftoppm", "-gray", "-aa", "no", "-aaVector", "no", "-cropbox", "-r", JUDGED * scale * unit, "-f", page, "-l", page,
             "-x", max(left, 0), "-y", max(top, 0), "-W", wide, "-H", high, path]
    shown = subprocess.run([str(w) for w in words], capture_output=True, timeout=60).stdout
    if not shown:
        return None, None
    ink = numpy.asarray(Image.open(io.BytesIO(shown))) < 250
    own = [(x0 * k) - max(left, 0), (height - y1) * k - max(top, 0), x1 * k - max(left, 0), (height - y0) * k - max(top, 0)]
    return ink, [int(own[0]) - 1, int(own[1]) - 1, int(own[2]) + 2, int(own[3]) + 2]


def moved(mask, dx, dy):
    out = numpy.zeros_like(mask)
    h, w = mask.shape
    out[max(0, -dy):min(h, h - dy), max(0, -dx):min(w, w - dx)] = mask[max(0, dy):min(h, h + dy), max(0, dx):min(w, w + dx)]
    return out


def widths(mask, most):
    """For each pixel the largest disc around it that lies in the mask, as a width in pixels: every pixel by itself, no further than `most`."""
    best = numpy.where(mask, 1, 0)
    inside = mask.copy()
    done = {(0, 0)}
    for width in range(2, most + 1):
        reach = range(-(width // 2), width // 2 + 1)
        for dx, dy in ((dx, dy) for dx in reach for dy in reach if dx * dx + dy * dy <= width * width / 4):
            if (dx, dy) not in done:
                done.add((dx, dy))
                inside &= moved(mask, dx, dy)
        best[inside] = width
    return best


def piece_at(mask, own):
    """The pixels that hang together with those of the place."""
    piece = numpy.zeros_like(mask)
    piece[max(own[1], 0):own[3], max(own[0], 0):own[2]] = True
    piece &= mask
    while True:
        grown = mask & (piece | moved(piece, 1, 0) | moved(piece, -1, 0) | moved(piece, 0, 1) | moved(piece, 0, -1))
        if (grown == piece).all():
            return piece
        piece = grown


def seen_at(path, page, unit, scale, place, height, gap):
    """Width and area, in points as printed, of the finest that poppler draws at the place; nothing where it draws nothing of the kind there."""
    ink, own = drawn(path, page, unit, scale, place, height)
    if ink is None:
        return None
    mask = ~ink if gap else ink
    inside = mask[max(own[1], 0):own[3], max(own[0], 0):own[2]]
    if not inside.any():
        return None
    point = JUDGED / 72
    piece = piece_at(mask, own)
    edge = piece[0].any() or piece[-1].any() or piece[:, 0].any() or piece[:, -1].any()
    most = int((WIDTH + 3 * PIXEL) * point)
    fine = widths(mask, most)[max(own[1], 0):own[3], max(own[0], 0):own[2]]
    # Along the place: in each row, or column, of it the widest disc; the finest half of them is the hair itself, the rest its ends.
    along = fine.max(axis=0 if fine.shape[1] >= fine.shape[0] else 1)
    along = numpy.sort(along[along > 0])
    return along[len(along) // 2] / point, float("inf") if edge else piece.sum() / point ** 2


def fine_at(path, page, unit, place, height, gap):
    """Whether poppler draws something narrower than the limit and a pixel to each side along at least half of the place, or something too small."""
    ink, own = drawn(path, page, unit, 1, place, height)
    if ink is None:
        return False
    mask, point = (~ink if gap else ink), JUDGED / 72
    reach = int((WIDTH + 2 * PIXEL) * point) // 2
    disc = [(dx, dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1) if dx * dx + dy * dy <= (reach + 0.5) ** 2]
    fits, covered = mask.copy(), numpy.zeros_like(mask)
    for dx, dy in disc:
        fits &= moved(mask, dx, dy)
    for dx, dy in disc:
        covered |= moved(fits, dx, dy)
    thin = (mask & ~covered)[max(own[1], 0):own[3], max(own[0], 0):own[2]]
    rows, columns = numpy.nonzero(thin.any(axis=1))[0], numpy.nonzero(thin.any(axis=0))[0]
    if len(rows) and max(rows[-1] - rows[0], columns[-1] - columns[0]) >= max(thin.shape) / 2:
        return True
    piece = piece_at(mask, own)
    edge = piece[0].any() or piece[-1].any() or piece[:, 0].any() or piece[:, -1].any()
    return bool(piece.any() and not edge and piece.sum() / point ** 2 < (SIDE + 2 * PIXEL) ** 2)


def place_agrees(seen):
    """Too narrow, or too small, by no more than a pixel of the press to each side."""
    if seen is None:
        return False
    width, area = seen
    return width < WIDTH + 2 * PIXEL or area < (SIDE + 2 * PIXEL) ** 2


# --- pages made here: what is drawn, on a page of 300 x 400 points, for sizes as printed ---------------------------------------------------

BLOCK = "20 20 60 60 re f "
MADE = {  # the defect of this size on the page: a piece of ink, or a gap; its width and area as printed are the size's
    "a bar alone": ("ink.island", lambda s: BLOCK + f"120 100 {60} {s} re f", 0.3),
    "a bar on a block": ("ink.island", lambda s: BLOCK + f"70 50 80 {s} re f", 0.3),
    "a slanting line": ("ink.island", lambda s: BLOCK + f"{s} w 120 120 m 200 190 l S", 0.3),
    "a ring": ("ink.island", lambda s: BLOCK + f"{s} w 200 220 m 230 220 230 260 200 260 c 170 260 170 220 200 220 c S", 0.3),
    "a dot": ("ink.island", lambda s: BLOCK + f"200 300 {s} {s} re f", 0.45),
    "a slit": ("ink.gap", lambda s: f"100 100 150 150 re 120 150 70 {s} re f*", 0.3),
    "between blocks": ("ink.gap", lambda s: f"50 50 80 60 re {130 + s} 50 80 60 re f", 0.3),
    "a slanting slit": ("ink.gap", lambda s: f"50 50 150 150 re f 1 G {s} w 70 70 m 150 170 l S", 0.3),
    "a hole": ("ink.gap", lambda s: f"50 50 150 150 re 120 150 {s} {s} re f*", 0.45),
}
SHOWN = [("0", 1, 1), ("90", 1, 1), ("0", 2, 1), ("270", 1, 0.5), ("180", 2, 0.75)]  # Rotate, UserUnit, scale


def made_pages(folder, plain_pdf, checked):
    """Lines of trouble, places compared, and the farthest that a width is off, in points."""
    troubles, compared, worst = [], 0, 0.0
    for name, (check, draw, size) in MADE.items():
        for rotate, unit, scale in SHOWN:
            path = folder / "weeding.pdf"
            path.write_bytes(plain_pdf(draw(round(size / unit / scale, 5)), page=f"/Rotate {rotate} /UserUnit {unit} /MediaBox [0 0 300 400]"))
            (page,) = checked(path, "--only", "ink.island,ink.gap", "--scale", f"{100 * scale}%")
            found = [f for f in page["findings"] if f["check"] in ("ink.island", "ink.gap")]
            where = f"{name} of {size} pt, turned {rotate}, unit {unit}, scale {scale}"
            if [f["check"] for f in found] != [check] or found[0]["measured"]["count"] != 1:
                troubles.append(f"{where}: told {[(f['check'], f['measured']['count']) for f in found]}")
                continue
            seen = seen_at(path, 1, unit, scale, found[0]["where_pt"], page["seen_size_pt"][1], check == "ink.gap")
            compared += 1
            if not place_agrees(seen):
                troubles.append(f"{where}: poppler draws {seen} at {found[0]['where_pt']}")
                continue
            measured = found[0]["measured"]
            off = abs(measured["width_pt"] - seen[0]) if "width_pt" in measured else 0
            worst = max(worst, off)
            if off > 1.5 * PIXEL or (seen[1] < 100 and abs(measured["area_pt2"] - seen[1]) > 2 * PIXEL * (seen[1] / seen[0] + seen[0])):
                troubles.append(f"{where}: told {measured}, poppler draws {seen}")
    return troubles, compared, worst


def compare_places(path, pages, tally, most=4):
    """The first places on pages of a real file."""
    for page in pages:
        for finding in page["findings"]:
            if finding["check"] not in ("ink.island", "ink.gap") or "where_pt" not in finding:
                continue
            kind = finding["check"]
            for place in [finding["where_pt"], *finding.get("places_pt", [])][:most]:
                if max(place[2] - place[0], place[3] - place[1]) > 100:
                    tally[f"{kind}: places too large to be judged"] += 1
                    continue
                agrees = fine_at(path, page["number"], page.get("user_unit", 1), place, page["seen_size_pt"][1], kind == "ink.gap")
                tally[f"{kind}: places where poppler draws it as well" if agrees else f"{kind}: places where poppler draws it otherwise"] += 1
                if not agrees:
                    print(f"  {path.name} page {page['number']}: {kind} at {place}, but not as poppler draws it")


# --- real faces: Debian's, by fontconfig's names ------------------------------------------------------------------------------------------

FACES = ["DejaVu Sans", "DejaVu Serif", "FreeSans", "FreeSerif", "Linux Libertine O", "Vollkorn", "EB Garamond", "Lato", "Cabin", "Roboto Slab", "Nimbus Roman", "Nimbus Sans", "C059", "Comic Neue", "GFS Didot"]
ORDINARY = ["The heron waits where the lantern stands, and twelve quiet foxes pass: 1,234,567.89", "Café, naïve, Zürich & Ångström — “quick” brown jumps; § 8 @ 50 % + 3 × 4 = #17",
            "Sphinx of black quartz, judge my vow! Grumpy wizards make a toxic brew (for J. Q.)"] * 3
NAMED = "éèñ–.-#&;Å"  # one of them by itself, so small that something of it is too fine


def set_text(path, face, size, lines, ink=False):
    """A page of real text; `ink`: with a block beside it."""
    import cairo  # python3-cairo
    surface = cairo.PDFSurface(str(path), 400, 300)
    pen = cairo.Context(surface)
    if ink:
        pen.rectangle(20, 200, 60, 60)
        pen.fill()
    pen.select_font_face(face)
    pen.set_font_size(size)
    for row, line in enumerate(lines):
        pen.move_to(20, 40 + 1.5 * size * row)
        pen.show_text(line)
    surface.finish()


def real_faces(folder, checked):
    """Lines of trouble, and what was looked at: ordinary text of 8 pt and more has nothing to tell; what is told of a letter names it."""
    troubles, looked, path = [], 0, folder / "faces.pdf"
    told = lambda: [f for f in checked(path, "--only", "ink.island,ink.gap")[0]["findings"] if f["check"] in ("ink.island", "ink.gap")]  # noqa: E731
    for face in FACES:
        for size in (8, 11):
            set_text(path, face, size, ORDINARY)
            looked += 1
            troubles += [f"{face} of {size} pt: {f['message'][:160]}" for f in told()]
    for face, size in (("DejaVu Serif", 3), ("Lato", 3)):
        for letter in NAMED:
            set_text(path, face, size, [letter], ink=True)
            looked += 1
            found = told()
            if not found or not all(f'"{letter}"' in f["message"] for f in found):
                troubles.append(f"{face} of {size} pt, {letter}: {[f['message'][:160] for f in found]}")
    return troubles, looked
