"""JPEG: its own data in the page, its orientations and densities, and what it must not be laid with."""
import io
import subprocess

import numpy as np
from PIL import Image, ImageOps

import make_art as art
from judge import check, held, lay, picture, size_at, told


def jpegs(folder):
    def copied(path):
        data = path.read_bytes()
        end = data.rfind(b"\xff\xd9") + 2
        return lambda image: [] if image.read_raw_bytes() == data[:end] else ["the data is not the very same"]
    for variant, image, options in (("baseline", art.rgb(), {}), ("progressive", art.rgb(), {"progressive": True}), ("grey", art.rgb().convert("L"), {}),
                                    ("4:2:0, optimised", art.rgb(), {"subsampling": 2, "optimize": True}), ("profile", art.rgb(), {"icc_profile": art.profile()})):
        path = folder / f"{variant.split(',')[0].replace(':', '')}.jpg"
        image.save(path, quality=90, dpi=(300, 300), **options)
        picture("jpeg", variant, path, None, "Pillow wrote it; its own bytes", size=size_at(art.W, art.H), inside=copied(path), icc=options.get("icc_profile"))
    cmyk = folder / "cmyk.jpg"
    Image.fromarray(art.ramp(4), "CMYK").save(cmyk, quality=95, dpi=(300, 300))

    def inverted(image):
        return [] if [float(v) for v in image.get("/Decode") or []] == [1, 0] * 4 else ["Adobe's inversion is not told to the reader"]
    picture("jpeg", "CMYK, Adobe-inverted", cmyk, None, "Pillow", inside=inverted, size=size_at(art.W, art.H))
    plain = folder / "cmyk-plain.jpg"
    art.run(["convert", str(cmyk), "-quality", "95", "-density", "300", str(plain)])
    for orientation in range(1, 9):
        path = folder / f"orientation-{orientation}.jpg"
        flat = Image.new("RGB", (80, 48), (230, 230, 230))
        flat.paste((200, 30, 30), (8, 8, 24, 24))
        flat.paste((20, 20, 160), (56, 32, 72, 40))
        flat.save(path, quality=95, dpi=(72, 72), exif=art.exif(orientation), subsampling=0)
        laid, run = lay(path)
        faults = [] if laid else ["not laid: " + run.stdout + run.stderr]
        if laid:
            subprocess.run(["pdftoppm", "-r", "72", "-png", str(laid), str(laid)], check=True)
            shown = np.asarray(Image.open(sorted(folder.glob(laid.name + "-*.png"))[0]).convert("RGB")).astype(int)
            ink = np.argwhere((shown < 250).any(-1))
            shown = shown[ink[:, 0].min():ink[:, 0].max() + 1, ink[:, 1].min():ink[:, 1].max() + 1]
            wanted = np.asarray(ImageOps.exif_transpose(Image.open(path)).convert("RGB")).astype(int)
            if abs(shown.shape[0] - wanted.shape[0]) > 1 or abs(shown.shape[1] - wanted.shape[1]) > 1:
                faults.append(f"shown as {shown.shape}, meant as {wanted.shape}")
            else:
                h, w = min(shown.shape[0], wanted.shape[0]), min(shown.shape[1], wanted.shape[1])
                off = np.abs(shown[:h, :w] - wanted[:h, :w]).max(-1) > 60
                if off.mean() > 0.06:
                    faults.append(f"{off.mean():.0%} of the pixels lie elsewhere")
        ids = {f["check"] for f in check([path])[0]["files"][0]["findings"]}
        if (orientation in (2, 4, 5, 7)) != ("picture.turned" in ids):
            faults.append("mirroring is told wrongly")
        told("jpeg", f"Exif orientation {orientation}", "Pillow's exif_transpose, drawn by poppler", faults, "laid, turned as Pillow turns it")
    bare = folder / "no-density.jpg"
    art.rgb().save(bare, quality=90)
    held("jpeg", "no density", bare, ["picture.density"], ["--width", "pixels-per-inch"], "JFIF 1.02", (2,))
    sized, run = lay(bare, "--width", "4in")
    told("jpeg", "no density, --width 4in", "our own", [] if sized else [run.stdout + run.stderr], "laid at that width")
    absurd = folder / "absurd-density.jpg"
    art.rgb().save(absurd, quality=90, dpi=(1, 1))
    whole = bytearray((folder / "baseline.jpg").read_bytes())
    taller = bytearray(whole)
    frame = taller.find(b"\xff\xc0")
    taller[frame + 5:frame + 7] = (2 * art.H).to_bytes(2, "big")
    (folder / "taller.jpg").write_bytes(bytes(taller))
    held("jpeg", "fewer rows than it says, with an end", folder / "taller.jpg", ["file.damaged"], ["cut short"], "ITU-T T.81", (2,))
    taller[frame + 5:frame + 7] = (art.H // 2).to_bytes(2, "big")
    (folder / "shorter.jpg").write_bytes(bytes(taller))
    held("jpeg", "more rows than it says", folder / "shorter.jpg", ["file.damaged"], ["again"], "ITU-T T.81", (2,))
    overwritten(folder)
    held("jpeg", "1 pixel to the inch", absurd, ["picture.density"], ["cannot be meant"], "our own", (2,))
    gs = folder / "arithmetic.jpg"
    with open(gs, "wb") as f:
        base = subprocess.run(["jpegtran", "-arithmetic", str(folder / "baseline.jpg")], stdout=f, stderr=subprocess.DEVNULL)
    if base.returncode == 0 and gs.stat().st_size:
        held("jpeg", "arithmetic-coded", gs, ["file.format"], ["arithmetic"], "ITU-T T.81")


def overwritten(folder):
    """Zeros where data was, as a failing disk leaves them: told wherever the picture shows other blocks than before."""
    photo = np.clip(np.random.default_rng(9).normal(128, 40, (300, 400, 3)).cumsum(1) % 256, 0, 255).astype(np.uint8)
    for variant, options in (("baseline", {}), ("optimised", {"optimize": True}), ("4:4:4", {"subsampling": 0}), ("progressive", {"progressive": True}), ("restart markers", {"restart_marker_rows": 1})):
        out = io.BytesIO()
        Image.fromarray(photo).save(out, "JPEG", quality=85, dpi=(300, 300), **options)
        data = out.getvalue()
        begin = data.index(b"\xff\xda") + 14
        paths = [folder / f"whole-{variant[:4]}.jpg"]
        paths[0].write_bytes(data)
        for i in range(1, 10):
            spoilt = bytearray(data)
            at = begin + (len(data) - begin) * i // 10
            spoilt[at:at + 200] = bytes(min(200, len(data) - at))
            paths.append(folder / f"zeros-{variant[:4]}-{i}.jpg")
            paths[-1].write_bytes(bytes(spoilt))
        report, _ = check(paths)
        held_ones = [any(f["level"] == "hold" for f in file["findings"]) for file in report["files"]]
        told("jpeg", f"200 zeros at each tenth of its data, {variant}", "what was written", ["the sound one is held"] * held_ones[0] + [f"laid: {held_ones[1:].count(False)} of 9"] * (not all(held_ones[1:])), "held, 9 of 9")
