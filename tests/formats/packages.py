"""ZIPs as customers send them, and as nobody should: every file in them is laid as it would be alone, or the whole is held by its name."""
import gzip
import io
import struct
import subprocess
import zipfile
import zlib

import numpy as np
import pikepdf
from PIL import Image

import make_art as art
from judge import check, held, images_of, lay, same, samples, told

TEXT = b"cut it by Friday\n"
PAGE = "%!PS\n<</PageSize [200 300]>> setpagedevice 20 20 100 100 rectfill showpage\n"


def png(seed=0, w=art.W, h=art.H):
    out = io.BytesIO()
    Image.fromarray(np.random.default_rng(seed).integers(0, 256, (h, w, 3), dtype=np.uint8), "RGB").save(out, "PNG", dpi=(300, 300))
    return out.getvalue()


def pixels(data):
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


def written(path, files, how=zipfile.ZIP_DEFLATED):
    with zipfile.ZipFile(path, "w", how) as z:
        for name, data in files:
            z.writestr(name, data)
    return path


def laid_as(variant, path, wanted, judge, aside=0, words=()):
    """`wanted`: (name, pixels or nothing) of each page in order. `words`: of the note that tells what is left out."""
    report, code = check([path])
    file = report["files"][0]
    faults = [f"taken for {file['format']}"] if file["format"] != "zip" else []
    names = [p.get("member") for p in file["pages"]]
    if names != [n for n, _ in wanted]:
        faults.append(f"its pages are of {names}: " + "; ".join(f["message"] for f in file["findings"]))
    said = " ".join(f["message"] for f in file["findings"] if f["level"] == "note")
    faults += [f"no word of '{w}' in: {said}" for w in words if w not in said]
    laid, run = lay(path)
    if not laid:
        return told("zip", variant, judge, faults + ["not laid: " + run.stdout + run.stderr])
    again = laid.read_bytes()
    if lay(path)[0].read_bytes() != again:
        faults.append("laid twice, it is not the same bytes")
    with pikepdf.open(laid) as pdf:
        images = images_of(pdf)
        found = [i for _, p in wanted if p is not None for i in [images.pop(0) if images else None]]
        for (name, p), image in zip([w for w in wanted if w[1] is not None], found):
            if image is None:
                faults.append(f"{name} has no picture")
            else:
                same(faults, name, samples(image), p)
    told("zip", variant, judge, faults, "laid, the same pixels" if any(p is not None for _, p in wanted) else "laid")


def one_of_each(folder):
    """Every format that is taken, in one package; whatever is no art beside them."""
    made = folder / "made"
    made.mkdir()
    picture = Image.open(io.BytesIO(png(7)))
    files = {"01 page.ps": PAGE.encode(), "02 line.eps": art.EPS.format(box="10 20 130 190", more="").encode(),
             "03 drawing.svg": art.SVG.format(size='width="1in" height="2in"', more="").encode(),
             "04 packed.svgz": gzip.compress(art.SVG.format(size='width="1in" height="2in"', more="").encode()),
             "09 layers.psd": art.psd(3, list(np.asarray(picture).transpose(2, 0, 1)))}
    (made / "art.ps").write_text(PAGE)
    art.run(["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-sOutputFile={made}/art.pdf", str(made / "art.ps")])
    files["00 art.ai"] = (made / "art.pdf").read_bytes()
    files["05 crest.png"] = png(7)
    for name, options in (("06 crest.tif", {}), ("07 photo.jpg", {"quality": 95, "subsampling": 0})):
        out = io.BytesIO()
        picture.save(out, "TIFF" if name.endswith("tif") else "JPEG", dpi=(300, 300), **options)
        files[name] = out.getvalue()
    for name, words in (("10 phone.heic", ["heif-enc", "-q", "90"]), ("11 phone.avif", ["heif-enc", "-A", "-q", "90"]), ("12 web.webp", ["cwebp", "-quiet", "-lossless"])):
        (made / "source.png").write_bytes(png(7))
        art.run([*words, str(made / "source.png"), "-o", str(made / name)])
        files[name] = (made / name).read_bytes()
    beside = [("__MACOSX/._05 crest.png", b"\0\5\x16\7" + bytes(80)), (".DS_Store", b"\0\0\0\1Bud1" + bytes(80)), ("Thumbs.db", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(80)),
              ("read me.txt", TEXT), ("fonts/", b""), ("fonts/Quillmark.otf", b"OTTO" + bytes(200))]
    path = written(folder / "order.zip", [*sorted(files.items(), reverse=True), *beside])
    report, _ = check([path], "--width", "2in")
    file = report["files"][0]
    faults = []
    names = [p.get("member") for p in file["pages"]]
    if names != sorted(files):
        faults.append(f"pages of {names} instead of {sorted(files)}")
    said = " ".join(f["message"] for f in file["findings"])
    faults += [f"no word of '{w}'" for w in ("left out, because it is no art", "and 2 more") if w not in said]
    laid, run = lay(path, "--width", "2in")
    faults += [] if laid else ["not laid: " + run.stdout + run.stderr]
    told("zip", f"one of each: {len(files)} files of {len({n.rsplit('.')[-1] for n in files})} kinds, and what is no art", "the list of names", faults, "laid, a page of each, in the order of their names")
    # Each page shows what the same file shows when it is laid alone, drawn by poppler.
    if laid:
        faults = []
        for number, (name, data) in enumerate(sorted(files.items()), 1):
            alone = made / ("alone-" + name.replace(" ", "-"))
            alone.write_bytes(data)
            single, _ = lay(alone, "--width", "2in")
            if not single:
                faults.append(f"{name} is not laid alone")
                continue
            def drawn(pdf, page):
                return subprocess.run(["pdftoppm", "-r", "40", "-f", str(page), "-l", str(page), str(pdf)], check=True, capture_output=True).stdout
            if drawn(laid, number) != drawn(single, 1):
                faults.append(f"{name} is not drawn alike")
        told("zip", "one of each: every page as when laid alone", "drawn by poppler", faults, f"{len(files)} pages, the same drawn pixels")


def ways_of_packing(folder):
    one, two = png(1), png(2)
    wanted = [("a 2.png", pixels(one)), ("a 10.png", pixels(two))]
    files = [("a 10.png", two), ("a 2.png", one)]
    for variant, how in (("stored", zipfile.ZIP_STORED), ("Deflate", zipfile.ZIP_DEFLATED), ("bzip2", zipfile.ZIP_BZIP2)):
        laid_as(variant, written(folder / f"{variant}.zip", files, how), wanted, "Python's zipfile wrote it")
    for name, data in files:
        (folder / name).write_bytes(data)
    for variant, words in (("by zip", ["zip", "-q"]), ("by zip, streamed", ["zip", "-q", "-fd"]), ("by zip, ZIP64", ["zip", "-q", "-fz"]), ("by 7z", ["7z", "a", "-bd", "-tzip"])):
        path = folder / (variant.replace(" ", "-").replace(",", "") + ".zip")
        made = subprocess.run([*words, str(path), "a 10.png", "a 2.png"], cwd=folder, capture_output=True)
        laid_as(variant, path, wanted, f"{words[0]} wrote it" + ("" if made.returncode == 0 else ", with status " + str(made.returncode)))
    stream = io.BytesIO()

    class Pipe(io.RawIOBase):  # cannot seek, so sizes stand behind the data
        def writable(self):
            return True

        def write(self, data):
            return stream.write(data)
    with zipfile.ZipFile(Pipe(), "w", zipfile.ZIP_DEFLATED) as z:
        for name, data in files:
            z.writestr(name, data)
    (folder / "piped.zip").write_bytes(stream.getvalue())
    laid_as("sizes behind the data", folder / "piped.zip", wanted, "Python's zipfile wrote it")
    laid_as("with the mark of one that was to be split", by_hand(folder / "marked.zip", [entry(b"a 2.png", one)], before=b"PK00"), wanted[:1], "the ZIP application note, 8.5.4")
    written(folder / "plain.zip", files)
    held("zip", "LZMA", written(folder / "LZMA.zip", files, zipfile.ZIP_LZMA), ["file.format"], ["a 2.png: ", "packed in a way", "ordinary way"], "Python's zipfile wrote it", (2, 65))
    commented = bytearray((folder / "plain.zip").read_bytes())
    commented[-2:] = (40).to_bytes(2, "little")
    (folder / "commented.zip").write_bytes(bytes(commented) + b"PK\5\6" + bytes(36))
    laid_as("a comment that looks like an end", folder / "commented.zip", wanted, "the ZIP application note, 4.3.16")
    name = "Zeichnung für Jürgen – 図.png"
    laid_as("a name in UTF-8", written(folder / "names.zip", [(name, one)]), [(name, pixels(one))], "the ZIP application note, appendix D")
    old = written(folder / "old.zip", [("Bl?tter.png", one)]).read_bytes().replace(b"Bl?tter", b"Bl\x84tter")
    (folder / "old.zip").write_bytes(old)
    laid_as("a name in the code page of old", folder / "old.zip", [("Blätter.png", pixels(one))], "code page 437, 0x84")
    deep = "x/" * 60 + "crest.png"
    laid_as("folders in folders", written(folder / "deep.zip", [(deep, one), ("x/", b"")]), [(deep, pixels(one))], "our own")
    (folder / "named.png").write_bytes((folder / "plain.zip").read_bytes())
    report, _ = check([folder / "named.png"])
    ids = [f["check"] for f in report["files"][0]["findings"]]
    told("zip", "named .png", "our own", [] if "file.format" in ids and report["files"][0]["format"] == "zip" else [str(ids)], "taken as ZIP, told")


def names_are_only_shown(folder):
    one = png(3)
    odd = ["../../escaped.png", "/absolute.png", "C:\\escaped.png", "line\nbreak \x1b[31m.png", "-o.png", "\u202egnp.exe.png", "n" * 400 + ".png"]
    path = written(folder / "odd.zip", [(n, one) for n in odd])
    before = sorted(p for p in folder.rglob("*"))
    report, _ = check([path])
    laid, run = lay(path)
    after = sorted(p for p in folder.rglob("*") if p != laid)
    faults = [] if laid else ["not laid: " + run.stdout + run.stderr]
    faults += [f"made {set(after) - set(before)}"] if before != after else []
    faults += ["a control character is shown as it is"] if "\x1b" in run.stdout + run.stderr else []
    faults += [f"{len(report['files'][0]['pages'])} pages"] if len(report["files"][0]["pages"]) != len(odd) else []
    told("zip", "names that lead elsewhere, with control characters, very long", "what lies in the folder", faults, "laid; no file is made under any of them")


def held_by_name(folder):
    one, two = png(1), png(2)
    inner = written(folder / "inner.zip", [("a.png", one)]).read_bytes()
    cut = two[:len(two) // 2]
    office = io.BytesIO()
    written(office, [("[Content_Types].xml", b"<Types/>"), ("word/document.xml", b"<w/>")])
    for variant, name, data, checks, words in (
            ("a picture cut short in it", "torn.png", cut, ["file.damaged"], ["torn.png: ", "cut short"]),
            ("a ZIP in it", "more.zip", inner, ["file.format"], ["more.zip: ", "ZIP in a ZIP"]),
            ("a GIF in it", "logo.gif", b"GIF89a" + bytes(60), ["file.format"], ["logo.gif: ", "GIF", "PNG or TIFF"]),
            ("an office document in it", "order.docx", office.getvalue(), ["file.format"], ["order.docx: ", "office document", "PDF"]),
            ("a drawing program's own file in it", "crest.cdr", b"RIFF\x20\0\0\0XYZ9vrsn" + bytes(100), ["file.format"], ["crest.cdr: ", "own file"]),
            ("an empty file in it", "nothing.png", b"", ["file.damaged"], ["nothing.png: ", "empty"]),
            ("text named as a picture in it", "crest.png", TEXT, ["file.damaged"], ["crest.png: ", "ends in .png"]),
            ("of no known kind in it", "crest.xyz", bytes(range(256)) * 20, ["file.format"], ["crest.xyz: ", "no known kind"]),
            ("a broken PDF in it", "art.pdf", b"%PDF-1.7\n" + bytes(200), ["file.damaged"], ["art.pdf: "]),
            ("no PDF although named so", "art.pdf", TEXT * 20, ["file.damaged"], ["art.pdf: ", "no PDF"]),
            ("a drawing that asks for a picture elsewhere", "line.svg", art.SVG.format(size='width="1in" height="2in"', more='<image href="photo.png" width="9" height="9"/>').encode(), ["file.converted"],
             ["line.svg: ", "photo.png"])):
        path = written(folder / (name + "-" + variant.replace(" ", "-") + ".zip"), [("a good one.png", one), (name, data)])
        held("zip", variant, path, checks, words, status=(2,))
        report, _ = check([path])
        pages = [p.get("member") for p in report["files"][0]["pages"] if p.get("member") != name]
        told("zip", variant + ": the other file is looked at", "our own", [] if pages == ["a good one.png"] else [str(pages)], "its page is there")
    accepted, run = lay(folder / "logo.gif-a-GIF-in-it.zip", "--accept", "file.format")
    told("zip", "a GIF in it that a person accepts", "our own", [] if accepted else [run.stdout + run.stderr], "the others are laid")
    for variant, names, words in (("an office document packed anew", ["word/document.xml", "[Content_Types].xml"], ["office document"]), ("a program", ["a.class", "META-INF/MANIFEST.MF"], ["program"]),
                                  ("another program's own file with a small picture in it", ["Document.archive", "QuickLook/Thumbnail.png"], ["own file", "PDF"])):
        held("zip", variant, written(folder / (variant.replace(" ", "-") + ".zip"), [(n, one) for n in names]), ["file.format"], words, status=(65,))
    held("zip", "nothing of use in it", written(folder / "texts.zip", [("a.txt", TEXT), ("b.txt", TEXT)]), ["file.format"], ["no file in it that can be taken"], status=(65,))
    held("zip", "nothing in it", written(folder / "empty.zip", []), ["file.format"], ["nothing in it"], status=(65,))
    for name, data in (("a.png", one), ("b.png", two)):
        (folder / name).write_bytes(data)
    for variant, words in (("locked", ["zip", "-q", "-P", "secret"]), ("locked (AES)", ["7z", "a", "-bd", "-tzip", "-psecret", "-mem=AES256"])):
        path = folder / (variant.replace(" ", "-") + ".zip")
        subprocess.run([*words, str(path), "a.png", "b.png"], cwd=folder, capture_output=True)
        held("zip", variant, path, ["file.password"], ["a.png: ", "without one"], words[0] + " wrote it", (2,))


def entry(name, data, packed=None, method=8, crc=None, size=None, packed_size=None, offset=None):
    """A local header with its data, and what the list at the end says of it (the ZIP application note, 4.3)."""
    packed = packed if packed is not None else zlib.compress(data, 9)[2:-4] if method == 8 else data
    crc = zlib.crc32(data) if crc is None else crc
    size = len(data) if size is None else size
    packed_size = len(packed) if packed_size is None else packed_size
    common = struct.pack("<HHHHHIIIHH", 20, 0, method, 0, 33, crc, packed_size, size, len(name), 0)
    local = b"PK\3\4" + common + name + packed
    return local, lambda at: b"PK\1\2" + struct.pack("<H", 20) + common + struct.pack("<HHHII", 0, 0, 0, 0, at) + name


def by_hand(path, entries, offsets=None, count=None, before=b""):
    body, places = before, []
    for local, _ in entries:
        places.append(len(body))
        body += local
    listed = b"".join(central(at) for (_, central), at in zip(entries, offsets or places))
    count = len(entries) if count is None else count
    path.write_bytes(body + listed + b"PK\5\6" + struct.pack("<HHHHIIH", 0, 0, count, count, len(listed), len(body), 0))
    return path


def hostile(folder):
    one = png(4)
    good = entry(b"a.png", one)
    laid_as("written by hand, sound", by_hand(folder / "sound.zip", [good]), [("a.png", pixels(one))], "the ZIP application note, 4.3")
    # Fifield's construction: many entries of the list lead to one and the same data.
    kernel = entry(b"b.png", one)
    held("zip", "files that lie over each other", by_hand(folder / "overlap.zip", [kernel] + [(b"", entry(b"c%03d.png" % i, one)[1]) for i in range(300)], [0] * 301), ["file.damaged"],
         ["lie over each other"], "as overlapping bombs are built", (2,))
    zeros = zlib.compress(bytes(150_000_000), 9)[2:-4]
    held("zip", "150 MB of zeros in 150 kB", by_hand(folder / "zeros.zip", [good, entry(b"zeros.tif", b"", zeros, crc=0, size=150_000_000)]), ["file.limit"], ["zeros.tif: ", "200 times"], status=(2,))
    held("zip", "zeros that say they are few", by_hand(folder / "lying.zip", [good, entry(b"zeros.tif", b"", zeros, crc=0, size=5000)]), ["file.damaged"], ["zeros.tif: "], status=(2,))
    held("zip", "a list that says it unpacks to 4 GB", by_hand(folder / "huge.zip", [entry(b"huge.tif", one, size=0xFFFFFFF0)]), ["file.limit"], ["most-unpacked-mb"], status=(2,))
    many = [entry(b"%05d.png" % i, b"x") for i in range(1001)]
    held("zip", "1,001 files", by_hand(folder / "many.zip", many), ["file.limit"], ["1001 files", "most-packed-files"], status=(2,))
    # As 42.zip: ZIPs in ZIPs, each of sixteen more. Nothing below the first is ever unpacked.
    inner = by_hand(folder / "0.zip", [entry(b"zeros.tif", b"", zeros, crc=0, size=150_000_000)]).read_bytes()
    for level in range(3):
        inner = written(folder / f"nest{level}.zip", [(f"lib {i:x}.zip", inner) for i in range(16)]).read_bytes()
    held("zip", "a bomb of ZIPs in ZIPs", folder / "nest2.zip", ["file.format"], ["lib 0.zip: ", "ZIP in a ZIP"], "as nested bombs are built", (65,))
    for variant, bad in (("a wrong check sum", entry(b"b.png", one, crc=1)), ("it says it is shorter", entry(b"b.png", one, size=len(one) - 5)), ("it says it is longer", entry(b"b.png", one, size=len(one) + 5)),
                         ("packed data that is none", entry(b"b.png", one, b"\xff" * 500)), ("packed data cut short", entry(b"b.png", one, zlib.compress(one, 9)[2:400]))):
        held("zip", variant, by_hand(folder / (variant.replace(" ", "-") + ".zip"), [good, bad]), ["file.damaged"], ["b.png: "], status=(2,))
    held("zip", "packed in a way that nobody knows", by_hand(folder / "method.zip", [good, entry(b"b.png", one, one, method=77)]), ["file.format"], ["b.png: ", "packed in a way"], status=(2,))
    held("zip", "a list that leads beyond the end", by_hand(folder / "beyond.zip", [good, entry(b"b.png", one)], [0, 1 << 30]), ["file.damaged"], ["b.png: "], status=(2,))
    held("zip", "a list that says it has more files", by_hand(folder / "count.zip", [good], count=9), ["file.damaged"], ["list of what is in it"], status=(2,))
    whole = bytearray((folder / "sound.zip").read_bytes())
    whole[-18:-16] = b"\1\0"
    (folder / "part.zip").write_bytes(bytes(whole))
    held("zip", "one part of several", folder / "part.zip", ["file.format", "file.damaged"][:1], ["one part"], status=(2, 65))
    data = written(folder / "whole.zip", [("a.png", one), ("inner.zip", written(folder / "i.zip", [("b.png", one)]).read_bytes()), ("z.png", one)], zipfile.ZIP_STORED).read_bytes()
    cuts = []
    for i in range(1, 20):
        path = folder / f"cut-{i:02}.zip"
        path.write_bytes(data[:len(data) * i // 20])
        cuts.append(path)
    report, _ = check(cuts)
    passed = [(f["path"][-6:], f["verdict"]) for f in report["files"] if f["verdict"] != "hold" or f["pages"]]
    told("zip", "cut at each twentieth, with a whole ZIP inside", "every one held", [str(passed)] if passed else [], "held, 19 of 19")
    rng = np.random.default_rng(11)
    broken = []
    for i in range(60):
        bytes_of = bytearray((folder / "sound.zip").read_bytes() if i % 2 else (folder / "overlap.zip").read_bytes())
        for at in rng.integers(0, len(bytes_of), 4):
            bytes_of[at] ^= int(rng.integers(1, 256))
        path = folder / f"broken-{i:02}.zip"
        path.write_bytes(bytes(bytes_of))
        broken.append(path)
    report, _ = check(broken)
    died = [f["path"][-6:] for f in report["files"] for g in f["findings"] if "broke the reading process" in g["message"]]
    told("zip", "60 with four bytes changed", "each has its verdict", [f"died: {died}"] if died or len(report["files"]) != 60 else [], "no process dies")


def pdfs_in_it(folder):
    """PDFs keep what they show: layers that are off, inherited boxes, a page that layright laid itself."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 100))
    layers = [pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=n)) for n in ("Shown", "Hidden")]
    page.Resources = pikepdf.Dictionary(Properties=pikepdf.Dictionary(A=layers[0], B=layers[1]))
    page.Contents = pdf.make_stream(b"/OC /A BDC 0 g 20 20 40 40 re f EMC /OC /B BDC 1 0 0 rg 100 20 80 60 re f EMC")
    pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=pikepdf.Array(layers), D=pikepdf.Dictionary(BaseState=pikepdf.Name.OFF, ON=pikepdf.Array([layers[0]])))
    pdf.save(folder / "layers.pdf")
    turned = pikepdf.new()
    turned.add_blank_page(page_size=(50, 60))
    turned.pages[0].Contents = turned.make_stream(b"0 g 5 5 20 30 re f")
    turned.Root.Pages.Rotate = 90
    turned.Root.Pages.MediaBox = turned.pages[0].MediaBox
    del turned.pages[0]["/MediaBox"]
    turned.save(folder / "turned.pdf")
    alone, _ = lay(folder / "turned.pdf")
    (folder / "laid.pdf").write_bytes(alone.read_bytes())
    names = ["laid.pdf", "layers.pdf", "turned.pdf"]
    path = written(folder / "pdfs.zip", [(n, (folder / n).read_bytes()) for n in names])
    report, _ = check([path])
    alone, _ = check([folder / n for n in names])
    faults = []
    for page, single in zip(report["files"][0]["pages"], alone["files"]):
        for key in ("boxes", "rotate", "ink_pt", "seen_size_pt", "reading_from"):
            if page.get(key) != single["pages"][0].get(key):
                faults.append(f"{page['member']}: {key} {page.get(key)} instead of {single['pages'][0].get(key)}")
    if "Hidden" not in str([f["message"] for f in report["files"][0]["findings"] if f["check"] == "layer.hidden"]):
        faults.append("the layer that does not print is not told")
    laid, run = lay(path)
    faults += [] if laid else ["not laid: " + run.stdout + run.stderr]
    told("zip", "PDFs: layers that are off, inherited boxes, one that was laid before", "the same files alone", faults, "boxes, ink and layers as alone")
    meant = pikepdf.open(folder / "turned.pdf")
    meant.Root.OutputIntents = pikepdf.Array([pikepdf.Dictionary(S=pikepdf.Name.GTS_PDFX, OutputConditionIdentifier="an invented press")])
    meant.save(folder / "meant.pdf")
    notes = [f["message"] for f in check([written(folder / "meant.zip", [("meant.pdf", (folder / "meant.pdf").read_bytes())])])[0]["files"][0]["findings"] if f["check"] == "file.converted"]
    told("zip", "a PDF/X in it", "ISO 15930-1", [] if len(notes) == 1 and notes[0].startswith("meant.pdf: ") and "left out" in notes[0] else [str(notes)], "laid; what is left out is told")
    odd = (folder / "layers.pdf").read_bytes().replace(b"/Type /Pages", b"/Type /Pagez").replace(b"startxref", b"startxxxx")
    trap = written(folder / "odd.zip", [("odd.pdf", odd), ("turned.pdf", (folder / "turned.pdf").read_bytes())])
    (folder / "odd.pdf").write_bytes(odd)
    single = sorted((f["check"], f["level"]) for f in check([folder / "odd.pdf"])[0]["files"][0]["findings"] if f["check"] == "file.damaged")
    joined = sorted((f["check"], f["level"]) for f in check([trap])[0]["files"][0]["findings"] if f["check"] == "file.damaged")
    told("zip", "a PDF in it that had to be repaired", "the same file alone", [] if single and joined == single else [f"{joined} instead of {single}"], "told, or held, as alone")
    subprocess.run(["qpdf", "--encrypt", "secret", "secret", "256", "--", str(folder / "turned.pdf"), str(folder / "locked.pdf")], check=True)
    subprocess.run(["qpdf", "--encrypt", "", "owner", "256", "--print=none", "--", str(folder / "turned.pdf"), str(folder / "kept.pdf")], check=True)
    for name, checks, words in (("locked.pdf", ["file.password"], ["locked.pdf: ", "password"]), ("kept.pdf", ["file.permission"], ["kept.pdf: ", "forbids printing"])):
        held("zip", f"a PDF in it: {name}", written(folder / (name + ".zip"), [("layers.pdf", (folder / "layers.pdf").read_bytes()), (name, (folder / name).read_bytes())]), checks, words, "qpdf wrote it", (2,))


def zips(folder):
    for part in (one_of_each, ways_of_packing, names_are_only_shown, held_by_name, hostile, pdfs_in_it):
        inside = folder / part.__name__
        inside.mkdir()
        part(inside)
