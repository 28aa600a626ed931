"""What customers of an invented shop sent this week, each file made here, and the shop's own layright.toml."""
import cairo
from PIL import Image

SHOP = """[press.bench]
prints-white = false
[target.film]
sheet = "narrow-film"
press = "bench"
reading = "wrong"
[target.dark-film]
sheet = "narrow-film"
press = "bench"
reading = "wrong"
goods = "dark"
[intake.desk]
target = "film"
in = "in"
ready = "ready"
held = "held"
originals = "originals"
ledger = "intake.db"
settle = "20ms"
"""
LETTER, FILM = (612, 792), (612, 1224)
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="3in" height="2in" viewBox="0 0 300 200"><rect x="20" y="20" width="200" height="100" fill="#204080"/></svg>'


def words(pen, text, x, y, size, color=(0.1, 0.1, 0.5)):
    pen.select_font_face("DejaVu Sans", cairo.FONT_SLANT_NORMAL, cairo.FONT_WEIGHT_BOLD)
    pen.set_font_size(size)
    pen.set_source_rgb(*color)
    pen.move_to(x, y)
    pen.show_text(text)


def page(path, size, draw):
    surface = cairo.PDFSurface(str(path), *size)
    draw(cairo.Context(surface))
    surface.finish()


def guided(pen):
    words(pen, "GUIDED FERRY", 90, 500, 44)
    pen.set_source_rgb(1, 0, 1)
    pen.set_line_width(1)
    pen.rectangle(18, 18, 576, 1188)
    pen.stroke()


def owl(pen):
    pen.set_source_rgb(0.1, 0.2, 0.6)
    pen.rectangle(80, 100, 450, 300)
    pen.fill()
    words(pen, "WHITE OWL", 120, 240, 60, (1, 1, 1))
    words(pen, "BLUE BELOW", 120, 470, 48)


def furnish(folder):
    for name in ("orders/1001", "orders/1002", "shop/in", "elsewhere", "home"):
        (folder / name).mkdir(parents=True)
    orders = folder / "orders"
    page(orders / "1001/logo.pdf", LETTER, lambda pen: words(pen, "LANTERN NIGHT", 60, 200, 48))
    page(orders / "1002/logo.pdf", LETTER, lambda pen: words(pen, "OTTER FEST", 60, 200, 60))
    (orders / "1002/logo.svg").write_text(SVG)
    page(orders / "fitting.pdf", FILM, lambda pen: words(pen, "PLAIN FITTING ART", 70, 600, 42))
    page(orders / "guide.pdf", FILM, guided)
    page(orders / "owl.pdf", LETTER, owl)
    page(orders / "big.pdf", (1700, 2000), lambda pen: words(pen, "BIG HARBOR", 100, 300, 200))
    page(orders / "blank.pdf", FILM, lambda pen: None)
    Image.new("RGB", (1200, 600), (20, 20, 120)).save(orders / "web.png")
    (orders / "broken.pdf").write_bytes(b"%PDF-1.4\nrubbish")
    (orders / "notes.txt").write_text("call her back")
    (folder / "shop/layright.toml").write_text(SHOP)
    (folder / "elsewhere/layright.toml").write_text("[target.film]\nsheet = \u201cnarrow-film\u201d\n")
