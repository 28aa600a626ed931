"""Pictures in, laid PDF out, against img2pdf, which only wraps the same data and measures nothing: as ratios within one run. And what the
largest picture costs."""
import subprocess
import time

import numpy as np
from PIL import Image

Image.MAX_IMAGE_PIXELS = None


def photograph(width, height):
    """Soft shapes and some grain, so that it packs as a photograph does."""
    y, x = np.mgrid[0:height, 0:width]
    rng = np.random.default_rng(7)
    planes = [127 + 90 * np.sin(x / (90 + 40 * c)) * np.cos(y / (130 - 30 * c)) for c in range(3)]
    return Image.fromarray((np.stack(planes, -1) + rng.integers(0, 12, (height, width, 3))).clip(0, 255).astype(np.uint8))


def against_img2pdf(bench, folder):
    print("pictures, laid and proved, against img2pdf")
    image = photograph(4000, 3000)
    for name, options in (("jpeg", {"quality": 92}), ("png", {}), ("tiff", {"compression": "tiff_lzw"})):
        path, out = folder / f"photo.{name}", folder / f"photo.{name}.pdf"
        image.save(path, dpi=(300, 300), **options)
        lay = [bench.program, "lay", path, "-o", out, "--force", "--reading", "as-is", "--sheet", "15x20in"]
        ours, theirs = bench.took(lay, ["img2pdf", path, "-o", folder / "other.pdf"], times=5)
        bench.row(f"12 million pixels of {name}: lay, of img2pdf", ours.processor / theirs.processor, 1)
        bench.note(f"12 million pixels of {name}: lay", ours.wall * 1000, "ms")


def largest(bench, folder):
    """30,000 x 40,000 pixels, written row by row so that making it takes no memory either."""
    print("the largest picture")
    path = folder / "largest.ppm"
    width, height = (30000, 40000) if not bench.quick else (12000, 10000)
    row = (np.arange(width * 3) % 251).astype(np.uint8)
    with open(path, "wb") as f:
        f.write(b"P6 %d %d 255\n" % (width, height))
        for y in range(height):
            f.write(np.roll(row, 3 * (y // 64)).tobytes())
    tiff = folder / "largest.tif"
    with open(tiff, "wb") as f:
        subprocess.run(["pamtotiff", "-lzw", "-xresolution=300", "-yresolution=300", str(path)], stdout=f, check=True, stderr=subprocess.DEVNULL)
    path.unlink()
    lay = [bench.program, "lay", tiff, "-o", folder / "largest.pdf", "--force", "--reading", "as-is", "--sheet", f"{width // 300 + 2}x{height // 300 + 2}in"]
    begun = time.monotonic()
    bench.row(f"{width} x {height} pixels of tiff: most memory of lay, mapped files with it", bench.memory(lay), 300, "MB")
    bench.note(f"{width} x {height} pixels of tiff: lay", time.monotonic() - begun, "s")


def grain(bench, folder):
    """Pixels that do not pack: what is mapped and what is held while they are read is as large as it gets."""
    path = folder / "grain.tif"
    width, height = (12000, 10000) if not bench.quick else (6000, 6000)
    rng = np.random.default_rng(1)
    with open(path, "wb") as out, subprocess.Popen(["pamtotiff", "-lzw", "-xresolution=300", "-yresolution=300", "-"], stdin=subprocess.PIPE, stdout=out, stderr=subprocess.DEVNULL) as pack:
        pack.stdin.write(b"P6 %d %d 255\n" % (width, height))
        for _ in range(height):
            pack.stdin.write(rng.integers(0, 200, width * 3, dtype=np.uint8).tobytes())
        pack.stdin.close()
    lay = [bench.program, "lay", path, "-o", folder / "grain.pdf", "--force", "--reading", "as-is", "--sheet", "42x36in"]
    bench.row(f"{width} x {height} pixels of mere grain: most memory of lay, mapped files with it", bench.memory(lay), 300, "MB")
    path.unlink()


def measure(bench, folder):
    against_img2pdf(bench, folder)
    grain(bench, folder)
    largest(bench, folder)
