"""Small PDFs that vary what a laid page must survive: every filter and form of its parameters, annotations by kind, flags and appearance, page groups,
matrices, clips, patterns at the edge of their cells. Each is made from its number alone: the same number, the same bytes. All content is invented."""
import random
import zlib

PAGE = 300


class File:
    """Numbered objects; refer() gives an object its number as it is added."""

    def __init__(self):
        self.bodies = [None, None]  # the catalog and the page tree come last

    def add(self, body):
        self.bodies.append(body if isinstance(body, bytes) else body.encode())
        return f"{len(self.bodies)} 0 R"

    def stream(self, data, entries=""):
        return self.add(f"<< {entries} /Length {len(data)} >>\nstream\n".encode() + data + b"\nendstream")

    def whole(self, pages, catalog=""):
        self.bodies[0] = f"<< /Type /Catalog /Pages 2 0 R {catalog} >>".encode()
        self.bodies[1] = f"<< /Type /Pages /Kids [{' '.join(pages)}] /Count {len(pages)} >>".encode()
        out, places = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", []
        for number, body in enumerate(self.bodies, 1):
            places.append(len(out))
            out += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
        size = len(self.bodies) + 1
        table = "".join(f"{p:010} 00000 n \n" for p in places)
        return out + f"xref\n0 {size}\n0000000000 65535 f \n{table}trailer\n<< /Size {size} /Root 1 0 R >>\nstartxref\n{len(out)}\n%%EOF\n".encode()


def hex_packed(data):
    return data.hex().encode() + b">"


def ascii85(data):
    import base64
    return base64.a85encode(data) + b"~>"


def runs(data):
    out = b""
    for at in range(0, len(data), 128):
        piece = data[at:at + 128]
        out += bytes([len(piece) - 1]) + piece
    return out + b"\x80"


def lzw(data):
    """Codes of nine bits, cleared before they grow (ISO 32000-1, 7.4.4)."""
    bits, count = 0, 0
    for at, byte in enumerate(data):
        if at % 200 == 0:
            bits, count = bits << 9 | 256, count + 1
        bits, count = bits << 9 | byte, count + 1
    bits, count = bits << 9 | 257, count + 1
    pad = -(count * 9) % 8
    return (bits << pad).to_bytes((count * 9 + pad) // 8, "big")


PACK = {"FlateDecode": zlib.compress, "LZWDecode": lzw, "RunLengthDecode": runs, "ASCIIHexDecode": hex_packed, "ASCII85Decode": ascii85, "Crypt": lambda data: data}


def filtered(file, rng, data):
    """(packed data, dictionary entries): some filters, and one of the forms that their parameters come in."""
    names = rng.choice([[], ["FlateDecode"], ["FlateDecode"], ["LZWDecode"], ["RunLengthDecode"], ["ASCIIHexDecode"], ["ASCII85Decode"], ["ASCII85Decode", "FlateDecode"],
                        ["ASCIIHexDecode", "LZWDecode"], ["Crypt"], ["Crypt", "FlateDecode"], ["RunLengthDecode", "FlateDecode"]])
    for name in reversed(names):
        data = PACK[name](data)
    listed = len(names) != 1 or rng.random() < 0.4
    filters = "[" + " ".join("/" + n for n in names) + "]" if listed else "/" + names[0]
    if not names and rng.random() < 0.7:
        filters = ""
    elif rng.random() < 0.15:
        filters = file.add(filters)
    one = rng.choice(["null", "<< >>", "<< /Predictor 1 >>", "<< /Type /DecodeParms >>"])
    several = "[" + " ".join(rng.choice(["null", "<< >>", file.add("<< >>"), file.add("null")]) for _ in names) + "]"
    parms = rng.choice(["", "", "null", "[]", "<< >>", "[null]", "[<< >>]", one, several, several, file.add("null"), file.add("[]"), file.add("<< >>"), file.add(several)])
    if names == ["Crypt"] and rng.random() < 0.5:
        parms = "<< /Name /Identity >>"
    key = rng.choice(["DecodeParms"] * 8 + ["DP", "FDecodeParms"])
    return data, (f"/Filter {filters} " if filters else "") + (f"/{key} {parms} " if parms else "")


def stream(file, rng, data, entries=""):
    data, packing = filtered(file, rng, data.encode() if isinstance(data, str) else data)
    if rng.random() < 0.25:
        entries += f" /Metadata {metadata(file, rng)}"
    return file.stream(data, entries + " " + packing)


def metadata(file, rng):
    data, packing = filtered(file, rng, b"<?xpacket begin='' id='W5M0MpCehiHzreSzNTczkc9d'?><x:xmpmeta xmlns:x='adobe:ns:meta/'/><?xpacket end='w'?>")
    return file.stream(data, "/Type /Metadata /Subtype /XML " + packing)


ODD = ["1 0 0 1 0 0", "1 0 0 -1 0 300", "-1 0 0 1 300 0", "0 1 -1 0 300 0", "0.5 0.2 -0.3 0.7 40 10", "0 0 0 0 0 0", "1 0 0 0 10 10", "1 1 1 1 0 0", "1e3 0 0 1 0 0", "100000 0 0 100000 -1e5 0",
       "0.00001 0 0 0.00001 100 100", "1 0 0 1 32767 -32768", "1 0 0 1 99999999 0", "1 0 0 1 -99999999999 5", "+1 0 0 1. -.0 .5", "1 0 0 1 --5 7", "1 0 0 1 0.1.2 3", "1 0 0", "/a 0 0 1 0 0",
       "1 0 0 1 (x) 0", "3.4e38 0 0 1 0 0", "340282346638528859811704183484516925440 0 0 1 0 0", "1 0 0 1 0.0000000000000000000001 0", "-0 0 0 -0 0 0", "1000000 0 0 0.000001 0 0", "1 0 0 1 .1e1 5"]


def number(rng):
    return rng.choice([rng.randint(-50, 350), round(rng.uniform(0, 300), 2), round(rng.uniform(20, 280), 5)])


def shapes(rng, times=3):
    text = ""
    for _ in range(times):
        colour = rng.choice(["0 g", "1 0 0 rg", "0 1 0 0 k", "0.5 G 0.3 g", "0 0 1 RG"])
        x, y, w, h = (number(rng) for _ in range(4))
        path = rng.choice([f"{x} {y} {w} {h} re", f"{x} {y} m {w} {h} l {y} {x} l h", f"{x} {y} m {w} {y} {w} {h} {x} {h} c", f"{x} {y} 0 {h} re", f"{x} {y} {w} 0 re", f"{x} {y} m"])
        text += f"{colour} {path} {rng.choice(['f', 'S', 'B', 'f*', 'b*', 'n', 's'])}\n"
    return text


def clips(rng):
    x, y, w, h = number(rng), number(rng), rng.choice([0, 50, 200, 1e-4, -80]), rng.choice([0, 60, 150, -1e-4])
    return rng.choice([f"{x} {y} {w} {h} re W n", "W n", f"{x} {y} m W n", f"{x} {y} {w} {h} re W* n", "0 0 300 300 re W n", "-1e6 -1e6 2e6 2e6 re W n", f"{x} {y} m {x} {y} l W n",
                       "10 10 100 100 re 150 150 50 50 re W* n", "BT /F 30 Tf 7 Tr 20 100 Td (Heron) Tj ET", "BT /F 30 Tf 7 Tr ET", "BT /F 0 Tf 7 Tr 9 9 Td (a) Tj ET", "400 400 50 50 re W n"])


def tiling(file, rng):
    """A cell, and areas that end on its edges, or nearly."""
    wide, high = rng.choice([10, 12.5, 33.3333, 100 / 3, 50, 445.2975]), rng.choice([10, 7.25, 100 / 7, 387.716])
    step_x, step_y = rng.choice([wide, wide, -wide, wide * 1.5, wide / 2, wide + 0.001]), rng.choice([high, high, -high, high * 2, high * 0.999])
    x0, y0 = rng.choice([0, 5, 55.11708, -3.3]), rng.choice([0, 5, 331.3474, -7.7])
    matrix = rng.choice(["1 0 0 1 0 0", "1 0 0 1 0 0", "0.5 0 0 0.5 10 10", "1 0 0 -1 0 300", "0.9 0.1 -0.1 0.9 3 3", "1 0 0 1 55.11708 31.3474"])
    uncoloured = rng.random() < 0.3
    body = ("" if uncoloured else "1 0 0 rg ") + f"{x0} {y0} {wide / 2} {high / 2} re f"
    name = stream(file, rng, body, f"/Type /Pattern /PatternType 1 /PaintType {2 if uncoloured else 1} /TilingType {rng.randint(1, 3)} /BBox [{x0} {y0} {x0 + wide} {y0 + high}] "
                  f"/XStep {step_x} /YStep {step_y} /Matrix [{matrix}] /Resources << >>")
    space = "/CP cs 0.5 0.2 0.1 /P scn" if uncoloured else "/Pattern cs /P scn"
    across, up = rng.choice([1, 1, 2, 0.5, 3, 0.9999999, 1.0000001]), rng.choice([1, 1, 2, 0.5, 1.0000001])
    ax, ay = x0 + rng.choice([0, 0, 1, -1, 0.5, 1e-5]) * wide, y0 + rng.choice([0, 0, 1, 1e-5]) * high
    area = rng.choice([f"{ax} {ay} {across * wide} {up * high} re", f"{ax} {ay} m {ax + across * wide} {ay} l {ax + across * wide} {ay + up * high} l h", "0 0 300 300 re"])
    return f"/Pattern << /P {name} >> /ColorSpace << /CP [/Pattern /DeviceRGB] >>", f"q {rng.choice(ODD[:5])} cm {space} {area} {rng.choice(['f', 'f', 'B', 'S'])} Q\n"


KINDS = ["Text", "Link", "FreeText", "Line", "Square", "Circle", "Polygon", "PolyLine", "Highlight", "Underline", "Squiggly", "StrikeOut", "Stamp", "Caret", "Ink", "Popup", "FileAttachment",
         "Sound", "Movie", "Widget", "Screen", "PrinterMark", "TrapNet", "Watermark", "3D", "Redact", "RichMedia", "Projection", "Wharf"]


def appearance(file, rng):
    box = rng.choice(["0 0 80 40", "0 0 80 40", "80 40 0 0", "10 10 10 10", "0 0 0.001 40", "-5 -5 75 35"])
    matrix = rng.choice(["", "", f"/Matrix [{rng.choice(ODD[:6])}]"])
    kind = rng.choice(["/Type /XObject /Subtype /Form", "/Subtype /Form", ""])
    form = stream(file, rng, rng.choice(["1 0 0 rg 0 0 50 50 re f", "0 g 5 5 m 70 30 l S", "", "   ", clips(rng) + " 0 g 0 0 90 90 re f", "q 0 g 3 3 20 20 re f"]), f"{kind} /BBox [{box}] {matrix} /Resources << >>")
    return rng.choice([f"/AP << /N {form} >>"] * 6 + [f"/AP << /N << /On {form} /Off {form} >> >> /AS /On", f"/AP << /N << /On {form} >> >>", f"/AP << /N << /On {form} >> >> /AS /Off", "/AP << >>", "/AP << /N null >>",
                                                      "/AP << /N << >> >>", f"/AP << /D {form} >>", ""])


def annotation(file, rng, layers):
    kind = rng.choice(KINDS)
    flags = rng.choice([4, 4, 5, 5, 4 | 16, 4 | 32, 4 | 2, 0, 1, 4 | 64, 4 | 128, 4 | 8, 21, 4 | 256 | 512])
    rect = rng.choice(["20 20 100 60", "20 20 100 60", "100 60 20 20", "150 150 150 180", "250 250 350 350", "-20 10 40 40", "120.5 60.25 190.75 99"])
    entries = f"/Type /Annot /Subtype /{kind} /F {flags} /Rect [{rect}] {appearance(file, rng)}"
    if rng.random() < 0.25:
        entries += f" /OC {rng.choice(layers)}"
    entries += rng.choice(["", " /C [1 0 0]", " /C []", " /C [0.5]", " /C [0 1 0 0]", " /IC [0 1 0] /C [0 0 1]"]) + rng.choice(["", " /Border [0 0 2]", " /BS << /W 3 /S /D /D [3 2] >>", " /Border [0 0 0]"])
    entries += rng.choice(["", " /CA 0.5", " /RD [2 2 2 2]", " /Contents (Heron)", " /QuadPoints [20 60 100 60 20 20 100 20]", " /L [20 20 100 60] /LE [/OpenArrow /None]", " /Vertices [20 20 60 60 100 20]",
                           " /InkList [[20 20 50 60 100 30]]"])
    if kind == "Widget":
        entries += rng.choice(["", " /FT /Tx /T (a) /V (Heron) /DA (/F 12 Tf 0 g)", " /FT /Btn /T (b)", " /FT /Sig /T (c)", " /FT /Tx /T (d) /MK << /BG [1 1 0] /BC [0 0 1] >>", " /FT /Ch /T (e) /V (Heron)"])
    return file.add(f"<< {entries} >>") if rng.random() < 0.6 else f"<< {entries} >>"


def image(file, rng):
    mask = rng.choice(["", "", f" /SMask {stream(file, rng, bytes(range(0, 160, 40)), '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8')}", " /Mask [0 10 0 10 0 10]", " /Interpolate true"])
    return stream(file, rng, bytes(rng.randrange(256) for _ in range(12)), f"/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceRGB /BitsPerComponent 8{mask}")


def soft_mask(file, rng):
    form = stream(file, rng, "0.6 g 50 50 200 200 re f", "/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Group << /S /Transparency /CS /DeviceGray >> /Resources << >>")
    return f"<< /SMask << /S /{rng.choice(['Luminosity', 'Alpha'])} /G {form} {rng.choice(['', '/BC [1]', '/BC [0]'])} >> >>"


def group(rng):
    return rng.choice(["", "", "/Group << /S /Transparency >>"]) if rng.random() < 0.5 else \
        f"/Group << /S /Transparency {rng.choice(['', '/CS /DeviceRGB', '/CS /DeviceCMYK', '/CS /DeviceGray'])} {rng.choice(['', '/I true', '/I false'])} {rng.choice(['', '/K true', '/K false', '/K true'])} >>"


def page(file, rng, layers):
    fonts = f"/F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica {'/Metadata ' + metadata(file, rng) if rng.random() < 0.3 else ''} >>"
    states = f"/H << /ca {rng.choice([0.5, 1])} /BM /{rng.choice(['Multiply', 'Normal', 'Screen'])} >> /M {soft_mask(file, rng)} /N << /SMask /None >>"
    pattern, tiled = tiling(file, rng)
    form = stream(file, rng, shapes(rng, 2) + (tiled if rng.random() < 0.4 else ""), f"/Type /XObject /Subtype /Form /BBox [{rng.choice(['0 0 300 300', '20 20 200 150', '300 300 0 0', '50 50 50 50'])}] {rng.choice(['', f'/Matrix [{rng.choice(ODD[:6])}]'])} /Resources << {pattern} >> {group(rng)}")
    parts = {"shapes": shapes(rng), "odd": f"q {rng.choice(ODD)} cm {shapes(rng, 2)} Q\n", "clip": f"q {clips(rng)} {shapes(rng, 2)} Q\n", "image": f"q {rng.choice(['100 0 0 100 50 50', '-80 0 0 80 200 100', '0 90 -90 0 200 50', rng.choice(ODD)])} cm /I Do Q\n",
             "form": f"q {rng.choice(['0.7 0 0 0.7 30 30'] * 3 + ODD)} cm /X Do Q\n", "tiled": tiled, "text": "BT /F 24 Tf 30 200 Td (Heron & Rail) Tj ET\n", "blend": f"/H gs {shapes(rng, 2)}", "masked": f"q /M gs {shapes(rng, 2)} /N gs Q\n",
             "layer": f"/OC /L{rng.randrange(len(layers))} BDC {shapes(rng, 1)} EMC\n", "open": "q q 1 0 0 1 3 3 cm ", "close": "Q Q ", "inline": "q 40 0 0 40 200 200 cm BI /W 2 /H 2 /BPC 8 /CS /G ID \x10\x80\x90\xf0 EI Q\n"}
    chosen = rng.sample(sorted(parts), rng.randint(1, 5))
    content = "".join(parts[c] for c in chosen)
    if rng.random() < 0.2:
        content = f"{rng.choice(ODD)} cm {content}"
    content += rng.choice([""] * 12 + ["BT /F 30 Tf 7 Tr 20 100 Td (Heron) Tj", "10 10 90 90 re W", "q 10 10 90 90 re W n", "BT /F 20 Tf 5 Tr 30 30 Td (Rail) Tj ET 0 g 0 0 300 300 re f", "BT 7 Tr", "/OC /L1 BDC",
                                      "10 10 m 200 200 l", "BI /W 2", "(open"])
    content = content.encode("latin-1")
    if rng.random() < 0.25:
        cut = content.find(b"\n") + 1 or len(content)
        contents = f"[{stream(file, rng, content[:cut])} {stream(file, rng, content[cut:])}]"
    else:
        contents = stream(file, rng, content)
    notes = [annotation(file, rng, layers) for _ in range(rng.choice([0, 0, 1, 1, 2, 4]))]
    box = rng.choice(["/MediaBox [0 0 300 300]"] * 4 + ["/MediaBox [-50 -20 250 280] /CropBox [-40 -10 200 200]", "/MediaBox [300 300 0 0] /Rotate 90", "/MediaBox [0 0 300 300] /Rotate 270 /UserUnit 2"])
    properties = " ".join(f"/L{i} {layer}" for i, layer in enumerate(layers))
    resources = f"<< /Font << {fonts} >> /ExtGState << {states} >> {pattern} /XObject << /X {form} /I {image(file, rng)} >> /Properties << {properties} >> >>"
    return file.add(f"<< /Type /Page /Parent 2 0 R {box} /Resources {resources} /Contents {contents} {group(rng)} {'/Annots [' + ' '.join(notes) + ']' if notes else ''} "
                    f"{'/Metadata ' + metadata(file, rng) if rng.random() < 0.2 else ''} >>")


def mutant(number_):
    rng, file = random.Random(f"mutant {number_}"), File()
    shown, hidden = file.add("<< /Type /OCG /Name (shown) >>"), file.add("<< /Type /OCG /Name (hidden) >>")
    layers = [shown, hidden, file.add(f"<< /Type /OCMD /OCGs [{shown} {hidden}] /P /{rng.choice(['AllOn', 'AnyOn', 'AnyOff', 'AllOff'])} >>")]
    first = page(file, rng, layers)
    catalog = f"/OCProperties << /OCGs [{shown} {hidden}] /D << /OFF [{hidden}] /Order [] >> >>"
    if rng.random() < 0.3:
        catalog += f" /Metadata {metadata(file, rng)}"
    if rng.random() < 0.3:
        catalog += " /AcroForm << /Fields [] /DR << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >> /DA (/F 12 Tf 0 g) >>"
    return file.whole([first], catalog)
