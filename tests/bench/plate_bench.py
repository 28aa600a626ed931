"""The white plate: what it costs to make, of drawing the same page; its erosion, of OpenCV's; its memory."""
import subprocess

import cairo

WIDE, TALL = 12.5 * 72, 19 * 72  # points
PULL_IN = 0.5


def art(path):
    """Letters, lines, curves and a soft picture over the whole of a wide sheet."""
    surface = cairo.PDFSurface(str(path), WIDE, TALL)
    c = cairo.Context(surface)
    for row in range(14):
        for column in range(8):
            x, y = 40 + column * 104, 40 + row * 92
            c.set_source_rgb(0.1 + 0.1 * (row % 8), 0.7 - 0.08 * column, 0.3)
            c.arc(x + 36, y + 36, 30, 0, 7)
            c.fill()
            c.set_source_rgb(0.1, 0.1, 0.4)
            c.set_line_width(0.5 + 0.25 * column)
            c.move_to(x, y)
            c.curve_to(x + 90, y + 10, x, y + 70, x + 88, y + 80)
            c.stroke()
            c.set_font_size(13)
            c.move_to(x, y + 84)
            c.show_text("Lantern & Fox")
    glow = cairo.ImageSurface(cairo.FORMAT_ARGB32, 600, 600)
    g = cairo.Context(glow)
    shade = cairo.RadialGradient(300, 300, 40, 300, 300, 300)
    shade.add_color_stop_rgba(0, 1, 0.8, 0.2, 1)
    shade.add_color_stop_rgba(1, 1, 0.2, 0.1, 0)
    g.set_source(shade)
    g.paint()
    c.set_source_surface(glow, 150, 700)
    c.paint()
    surface.finish()


def rows(bench, folder, erosion):
    print("the white plate, 12.5 x 19 in")
    path, out = folder / "plate.pdf", folder / "plated.pdf"
    art(path)
    for dpi, most_memory in ((600, 160),) if bench.quick else ((600, 160), (1200, 450)):
        config = folder / f"plate{dpi}.toml"
        config.write_text(f'[sheet.wide]\nsize = "12.5x19in"\nmargin = "0.1in"\n[press.p]\nprints-white = true\nprinter-resolution = "{dpi}dpi"\n'
                          '[target.t]\nsheet = "wide"\npress = "p"\nreading = "as-is"\nscale = "shrink"\n')
        plain = bench.lay(path, out, "--config", config, "--target", "t")
        plated = plain + ["--plate", "all", "--pull-in", f"{PULL_IN}pt"]
        off, without, white, draw = bench.took(plain + ["--plate", "off"], plain, plated, ["mutool", "draw", "-q", "-r", dpi, "-o", folder / "page.ppm", path],
                                               times=3)
        bench.row(f"making it at {dpi} dpi, of mutool draw", (white.processor - without.processor) / draw.processor, 0.7)
        bench.row(f"memory at {dpi} dpi", bench.memory(plated), most_memory, "MB")
        bench.row(f"a page without one at {dpi} dpi, of a page that names none", off.processor / without.processor, 1.1)
        bench.note(f"making it at {dpi} dpi, processor time", white.processor - without.processor, "s")
        radius = PULL_IN * dpi / 72
        ours, theirs, different = map(float, subprocess.run([str(erosion), str(int(12.5 * dpi)), str(19 * dpi), str(radius), "10"], capture_output=True, check=True,
                                                            text=True).stdout.split())
        bench.row(f"eroding it at {dpi} dpi, of OpenCV's with the same disc", ours / theirs, 0.25)
        bench.row(f"pixels in which the two erosions differ at {dpi} dpi", different, 0)
