#include "support/sample_pages.h"

#include <array>
#include <cstdint>

#include "support/pdf_maker.h"
#include "support/tiny_font.h"

namespace layright::test {
namespace {

std::string const kMedia = "[0 0 300 400]";
/// A flag on a pole: no turn or reversal leaves it as it is.
std::string const kFlag = "0.1 0.1 0.4 rg 40 40 24 300 re f 64 260 130 80 re f\n";

PageMaker& flag_page(PdfMaker& pdf) { return pdf.page().media(kMedia).content(kFlag); }

void paths(PdfMaker& pdf) {
  flag_page(pdf).content(
      "8 w 1 J 1 j 0.8 0 0 RG 100 60 m 160 200 240 20 260 180 c S\n"
      "[12 6 2] 3 d 3 w 0 0.5 0 RG 90 230 m 250 210 l S [] 0 d\n"
      "0 J 0 j 5 w 20 M 120 120 m 150 170 l 180 120 l s 0.9 0.7 0 rg 200 80 40 30 re B*");
}

void text(PdfMaker& pdf) {
  flag_page(pdf)
      .use("Font", "F1", pdf.font("Times-Italic"))
      .content("BT /F1 40 Tf 90 180 Td (Lantern) Tj 0 -50 Td 1 Tr 0.5 w (Gf7) Tj 2 Tr 0 -50 Td 0 0.4 0.4 rg 120 Tz 6 Ts (Rk) Tj ET");
}

void text_as_clip(PdfMaker& pdf) {
  flag_page(pdf)
      .use("Font", "F1", pdf.font("Helvetica-Bold"))
      .content("q BT /F1 90 Tf 7 Tr 80 120 Td (FRG) Tj ET 0.9 0.2 0 rg 0 100 200 60 re f 0 0.3 0.9 rg 0 160 300 60 re f Q");
}

void cid_font(PdfMaker& pdf) {
  auto const file = pdf.stream("/Length1 " + std::to_string(tiny_truetype().size()), tiny_truetype());
  auto const descriptor = pdf.object(
      "<< /Type /FontDescriptor /FontName /AAAAAA+Tiny /Flags 4 /FontBBox [50 0 550 700] /ItalicAngle 0 "
      "/Ascent 700 /Descent 0 /CapHeight 700 /StemV 80 /FontFile2 " +
      file.text() + " >>");
  auto const descendant = pdf.object(
      "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /AAAAAA+Tiny /CIDSystemInfo << /Registry (Adobe) "
      "/Ordering (Identity) /Supplement 0 >> /DW 600 /CIDToGIDMap /Identity /FontDescriptor " +
      descriptor.text() + " >>");
  auto const font =
      pdf.object("<< /Type /Font /Subtype /Type0 /BaseFont /AAAAAA+Tiny /Encoding /Identity-H /DescendantFonts [" + descendant.text() + "] >>");
  flag_page(pdf)
      .use("Font", "F1", font)
      .content("BT /F1 60 Tf 80 150 Td <000100020001> Tj 0.9 0.3 0.1 rg 0.8 0.2 -0.3 0.9 150 60 Tm <00010002> Tj ET");
}

void type3_font(PdfMaker& pdf) {
  auto const coloured = pdf.stream("", "700 0 d0 0.9 0.3 0 rg 0 0 200 600 re f 0 0.5 0.3 rg 200 400 400 200 re f");
  auto const plain = pdf.stream("", "700 0 0 0 600 600 d1 0 0 600 100 re f 0 100 100 500 re f");
  auto const font = pdf.object("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 700 700] /FontMatrix [0.001 0 0 0.001 0 0] /CharProcs << /a " +
                               coloured.text() + " /b " + plain.text() +
                               " >> /Encoding << /Type /Encoding /Differences [97 /a /b] >> "
                               "/FirstChar 97 /LastChar 98 /Widths [700 700] /Resources << >> >>");
  flag_page(pdf).use("Font", "T3", font).content("BT /T3 70 Tf 80 120 Td 0 0 0.8 rg (abab) Tj ET");
}

void tiling_pattern(PdfMaker& pdf) {
  std::string const cell = "/Type /Pattern /PatternType 1 /TilingType 1 /BBox [0 0 20 20] /XStep 22 /YStep 26 /Resources << >> ";
  auto const coloured = pdf.stream(cell + "/PaintType 1 /Matrix [1 0.2 0 1 7 3]", "0.9 0.2 0 rg 0 0 6 20 re f 0 0.4 0.8 rg 6 12 12 6 re f");
  auto const plain = pdf.stream(cell + "/PaintType 2", "0 0 4 18 re f 4 14 10 4 re f");
  flag_page(pdf)
      .use("Pattern", "P1", coloured)
      .use("Pattern", "P2", plain)
      .use("ColorSpace", "Cs", "[/Pattern /DeviceRGB]")
      .content(
          "/Pattern cs /P1 scn 90 60 170 90 re f /Cs cs 0 0.5 0.2 /P2 scn 90 160 m 260 160 l 200 250 l h f\n"
          "q 2 0 0 2 0 0 cm /Pattern CS /P1 SCN 12 w 50 20 m 140 26 l S Q");
}

void pattern_in_form(PdfMaker& pdf) {
  auto const pattern = pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 14 /YStep 10 /Resources << >>",
                                  "0.7 0 0.5 rg 0 0 5 10 re f 5 6 5 4 re f");
  auto const form = pdf.form("[0 0 100 100]", "/Pattern cs /P1 scn 10 10 80 80 re f",
                             "/Matrix [1 0 0.3 1 0 0] /Resources << /Pattern << /P1 " + pattern.text() + " >> >>");
  flag_page(pdf).use("XObject", "Fm", form).content("q 1.3 0 0 1.1 90 80 cm /Fm Do Q");
}

void shadings(PdfMaker& pdf) {
  std::string const blend = "<< /FunctionType 2 /Domain [0 1] /C0 [0.9 0.1 0] /C1 [0 0.2 0.8] /N 1 >>";
  std::string const axial = "<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [100 60 240 120] /Function " + blend + " /Extend [true true] >>";
  std::string const radial = "<< /ShadingType 3 /ColorSpace /DeviceRGB /Coords [150 200 10 190 210 50] /Function " + blend + " >>";
  flag_page(pdf)
      .use("Shading", "A", axial)
      .use("Shading", "R", radial)
      .use("Pattern", "P", "<< /PatternType 2 /Matrix [1 0 0 1 0 -30] /Shading " + axial + " >>")
      .content("q 90 90 160 50 re W n /A sh Q /R sh /Pattern cs /P scn 90 50 m 260 50 l 260 80 l h f");
}

void mesh_shading(PdfMaker& pdf) {
  // Free-form triangles (type 4): flag, x, y as bytes, three colours as bytes.
  std::string data;
  for (auto const& [x, y, r, g, b] : std::vector<std::array<int, 5>>{{0, 0, 230, 20, 20}, {255, 40, 20, 200, 20}, {60, 255, 20, 20, 220}}) {
    for (int v : {0, x, y, r, g, b}) data += static_cast<char>(v);
  }
  auto const mesh = pdf.stream(
      "/ShadingType 4 /ColorSpace /DeviceRGB /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 "
      "/Decode [90 260 60 240 0 1 0 1 0 1]",
      data);
  flag_page(pdf).use("Shading", "M", mesh).content("/M sh");
}

std::string const kGroup = "/Group << /S /Transparency /CS /DeviceRGB ";

void soft_masks(PdfMaker& pdf) {
  auto const fade =
      pdf.form("[0 0 300 400]", "/A sh",
               kGroup +
                   ">> /Resources << /Shading << /A << /ShadingType 2 /ColorSpace /DeviceGray "
                   "/Coords [90 0 260 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [0.2] /C1 [1] /N 1 >> /Extend [true true] >> >> >>");
  auto const shape = pdf.form("[0 0 300 400]", "90 160 m 260 160 l 90 250 l h f", kGroup + ">> /Resources << >>");
  flag_page(pdf)
      .use("ExtGState", "L", "<< /SMask << /Type /Mask /S /Luminosity /G " + fade.text() + " /BC [0] >> >>")
      .use("ExtGState", "A", "<< /SMask << /Type /Mask /S /Alpha /G " + shape.text() + " >> >>")
      .content("q /L gs 0.8 0 0.1 rg 90 60 170 80 re f Q q /A gs 0 0.5 0.1 rg 80 150 190 110 re f Q");
}

void blend_modes(PdfMaker& pdf) {
  auto const inner = pdf.form("[0 0 200 200]", "/Mu gs 0.9 0.8 0 rg 0 0 100 100 re f 0 0.7 0.9 rg 60 40 100 90 re f",
                              kGroup + "/I true >> /Resources << /ExtGState << /Mu << /BM /Multiply >> >> >>");
  auto const knock = pdf.form("[0 0 200 200]", "0.9 0 0 rg 0 0 60 40 re f 0 0.6 0 rg 30 10 70 50 re f", kGroup + "/K true >> /Resources << >>");
  flag_page(pdf)
      .entry("Group", "<< /S /Transparency /CS /DeviceRGB /I true >>")
      .use("XObject", "In", inner)
      .use("XObject", "Kn", knock)
      .use("ExtGState", "Half", "<< /ca 0.6 >>")
      .use("ExtGState", "Sc", "<< /BM /Screen >>")
      .use("ExtGState", "No", "<< /BM /Normal /ca 1 >>")
      .content("q 1 0 0 1 90 110 cm /In Do Q q 1 0 0 1 90 40 cm /Half gs /Kn Do Q q /Sc gs 0.3 0.2 0.6 rg 50 280 60 100 re f Q");
}

void spot_and_overprint(PdfMaker& pdf) {
  std::string const tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0.8 0.9 0.1] /N 1 >>";
  auto const mix = pdf.stream("/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]", "{ 0 exch 0.5 mul 3 1 roll exch 0 }");
  flag_page(pdf)
      .use("ColorSpace", "Spot", "[/Separation /Ember /DeviceCMYK " + tint + "]")
      .use("ColorSpace", "Two", "[/DeviceN [/Ember /Moss] /DeviceCMYK " + mix.text() + "]")
      .use("ExtGState", "Over", "<< /OP true /op true /OPM 1 >>")
      .content(
          "1 0.2 0 0 k 90 60 100 100 re f /Over gs /Spot cs 0.9 scn 150 90 100 100 re f 0 0 1 0 k 120 120 40 100 re f\n"
          "/Two cs 0.8 0.5 scn 210 210 50 60 re f");
}

void images(PdfMaker& pdf) {
  std::vector<std::uint8_t> rgb, mask;
  for (int y = 0; y < 12; ++y) {
    for (int x = 0; x < 16; ++x) {
      rgb.insert(rgb.end(), {static_cast<std::uint8_t>(x * 15), static_cast<std::uint8_t>(y * 20), static_cast<std::uint8_t>(x < 4 ? 200 : 30)});
      mask.push_back(static_cast<std::uint8_t>(x + y < 6 ? 60 : 255));
    }
  }
  auto const soft = pdf.image_gray(16, 12, mask);
  auto const photo = pdf.image_rgb(16, 12, rgb, "/Interpolate false /SMask " + soft.text());
  auto const stencil = pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 4 /ImageMask true /BitsPerComponent 1", "\x0F\x7F\x3F\x01");
  auto const keyed = pdf.stream(
      "/Type /XObject /Subtype /Image /Width 3 /Height 2 /BitsPerComponent 8 /ColorSpace [/Indexed /DeviceRGB 2 <C80000 00C800 0000C8>] "
      "/Mask [1 1]",
      std::string("\x00\x01\x02\x02\x00\x01", 6));
  flag_page(pdf)
      .use("XObject", "Photo", photo)
      .use("XObject", "Stencil", stencil)
      .use("XObject", "Keyed", keyed)
      .content("q 150 30 -20 90 110 50 cm /Photo Do Q q 0.5 0 0.5 rg 80 0 0 40 90 190 cm /Stencil Do Q q 60 0 0 -40 190 240 cm /Keyed Do Q");
}

void inline_image(PdfMaker& pdf) {
  flag_page(pdf).content("q 160 0 0 120 90 90 cm BI /W 4 /H 3 /BPC 8 /CS /G /F /AHx ID 00 40 80 C0 20 20 20 E0 A0 00 00 30 > EI Q");
}

void layers(PdfMaker& pdf) {
  auto const shown = pdf.object("<< /Type /OCG /Name (Art) >>");
  auto const hidden = pdf.object("<< /Type /OCG /Name (Notes) >>");
  pdf.catalog("OCProperties", "<< /OCGs [" + shown.text() + " " + hidden.text() + "] /D << /ON [" + shown.text() + "] /OFF [" + hidden.text() +
                                  "] /Order [" + shown.text() + " " + hidden.text() + "] >> >>");
  flag_page(pdf)
      .use("Properties", "Art", shown)
      .use("Properties", "Notes", hidden)
      .content("/OC /Art BDC 0.8 0.2 0 rg 90 60 150 60 re f EMC /OC /Notes BDC 0 0.6 0 rg 10 350 280 40 re f EMC");
}

void annotations(PdfMaker& pdf) {
  auto const look = pdf.form("[0 0 50 50]", "0.9 0.5 0 rg 0 0 50 50 re f 0 0 0.6 rg 0 0 15 50 re f 15 35 20 15 re f", "/Resources << >>");
  auto const turned = pdf.form("[0 0 50 50]", "0 0.6 0.6 rg 0 0 50 20 re f 0 20 20 30 re f", "/Matrix [0 1 -1 0 0 0] /Resources << >>");
  flag_page(pdf)
      .annotation("/Type /Annot /Subtype /Stamp /Rect [90 60 200 120] /F 4 /AP << /N " + look.text() + " >>")
      .annotation("/Type /Annot /Subtype /Stamp /Rect [210 60 270 160] /F 4 /AP << /N " + turned.text() + " >>")
      .annotation("/Type /Annot /Subtype /Stamp /Rect [90 150 150 230] /F 6 /AP << /N " + look.text() + " >>");
}

void unbalanced_state(PdfMaker& pdf) {
  flag_page(pdf)
      .content("Q Q 0.8 0.2 0 rg q 1 0 0 1 20 10 cm q 0.5 0 0 0.5 40 0 cm 90 90 200 100 re f")
      .content("Q q q 0 0.5 0.5 rg 120 180 60 40 re f");
}

void split_content(PdfMaker& pdf) {
  pdf.page()
      .media(kMedia)
      .content("q 0.1 0.1 0.4 rg 40 40 24")
      .content("300 re f 64 260 130")
      .content("80 re f Q 0.8 0 0 rg 100 60")
      .content("90 40 re f");
}

void inherited_resources(PdfMaker& pdf) {
  auto const font = pdf.font("Courier-Bold");
  pdf.inherited("Resources", "<< /Font << /F1 " + font.text() + " >> >>").inherited("MediaBox", kMedia).inherited("Rotate", "90");
  pdf.page().without_media().without_resources().content(kFlag + "BT /F1 48 Tf 80 120 Td (RFk) Tj ET");
}

void no_resources(PdfMaker& pdf) { pdf.page().media(kMedia).without_resources().content(kFlag + "0.7 0 0 rg 100 60 60 30 re f"); }

void crop_hides(PdfMaker& pdf) {
  flag_page(pdf).media("[-20 -30 340 450]").crop("[30 20 280 360]").content("0.8 0 0 rg 100 -30 60 120 re f 0 0.6 0 rg 250 200 90 40 re f");
}

void calibrated_colour(PdfMaker& pdf) {
  std::string const rgb = "[/CalRGB << /WhitePoint [0.9505 1 1.089] /Gamma [2.2 2.2 2.2] >>]";
  flag_page(pdf)
      .use("ColorSpace", "Cal", rgb)
      .use("ColorSpace", "Lab", "[/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-100 100 -100 100] >>]")
      .content("/Cal cs 0.8 0.3 0.1 scn 90 60 150 50 re f /Lab cs 60 -50 40 scn 90 130 80 90 re f");
}

void nested_forms(PdfMaker& pdf) {
  auto const inner = pdf.form("[0 0 60 60]", "0.8 0.1 0.1 rg 0 0 20 60 re f 20 40 60 20 re f", "/Matrix [0 1 -1 0 60 0] /Resources << >>");
  auto const outer = pdf.form("[0 0 160 120]", "q 1 0 0 1 10 10 cm /In Do Q q 0.7 0.3 -0.3 0.7 100 40 cm /In Do Q",
                              "/Resources << /XObject << /In " + inner.text() + " >> >>");
  flag_page(pdf).use("XObject", "Out", outer).content("q 1.1 0 0 1.2 85 70 cm /Out Do Q");
}

using Build = void (*)(PdfMaker&);
struct Named {
  char const* name;
  Build build;
};
constexpr Named kSamples[] = {{"paths", paths},
                              {"text", text},
                              {"text-as-clip", text_as_clip},
                              {"cid-font", cid_font},
                              {"type3-font", type3_font},
                              {"tiling-pattern", tiling_pattern},
                              {"pattern-in-form", pattern_in_form},
                              {"shadings", shadings},
                              {"mesh-shading", mesh_shading},
                              {"soft-masks", soft_masks},
                              {"blend-modes", blend_modes},
                              {"spot-and-overprint", spot_and_overprint},
                              {"images", images},
                              {"inline-image", inline_image},
                              {"layers", layers},
                              {"annotations", annotations},
                              {"unbalanced-state", unbalanced_state},
                              {"split-content", split_content},
                              {"inherited-resources", inherited_resources},
                              {"no-resources", no_resources},
                              {"crop-hides", crop_hides},
                              {"calibrated-colour", calibrated_colour},
                              {"nested-forms", nested_forms}};

/// The same flag on a page of each rotation, unit and origin: 4 x 2 x 3.
std::vector<SamplePage> turned_pages() {
  std::vector<SamplePage> out;
  for (char const* rotate : {"0", "90", "-180", "630"}) {
    for (char const* unit : {"1", "0.5"}) {
      for (int origin : {0, 100, -250}) {
        PdfMaker pdf;
        double const k = std::string(unit) == "1" ? 1 : 2;  // so that each is seen at the same size
        auto const n = [&](double v) { return std::to_string(v * k + origin) + " "; };
        auto const box = "[" + n(300) + n(400) + n(0) + n(0) + "]";
        auto const k_text = std::to_string(k), o_text = std::to_string(origin);
        pdf.page().media(box).rotate(rotate).user_unit(unit).content("q " + k_text + " 0 0 " + k_text + " " + o_text + " " + o_text + " cm " + kFlag +
                                                                     " Q");
        out.push_back({"rotate" + std::string(rotate) + "-unit" + unit + "-origin" + o_text, pdf.bytes()});
      }
    }
  }
  return out;
}

/// A page changed by an update at the end of its file (ISO 32000-1, 7.5.6): what counts is the newer content.
SamplePage incremental() {
  PdfMaker pdf;
  auto const content = pdf.stream("", "0 0.8 0 rg 0 0 300 400 re f");
  pdf.page().media(kMedia).entry("Contents", content.text());
  auto bytes = pdf.bytes();
  auto const previous = bytes.substr(bytes.rfind("startxref\n") + 10, bytes.rfind("\n%%EOF") - bytes.rfind("startxref\n") - 10);
  auto const root = bytes.substr(bytes.rfind("/Root "), bytes.find(" R", bytes.rfind("/Root ")) + 2 - bytes.rfind("/Root "));
  auto const at = std::to_string(bytes.size());
  bytes += std::to_string(content.number) + " 0 obj\n" + PdfMaker::stream_body("", kFlag) + "\nendobj\n";
  auto const table = std::to_string(bytes.size());
  bytes += "xref\n" + std::to_string(content.number) + " 1\n" + std::string(10 - at.size(), '0') + at + " 00000 n \ntrailer\n<< /Size 5 " + root +
           " /Prev " + previous + " >>\nstartxref\n" + table + "\n%%EOF\n";
  return {"incremental", bytes};
}

}  // namespace

std::vector<SamplePage> sample_pages() {
  std::vector<SamplePage> out;
  for (auto const& sample : kSamples) {
    PdfMaker pdf;
    sample.build(pdf);
    out.push_back({sample.name, pdf.bytes()});
  }
  out.push_back(incremental());
  auto turned = turned_pages();
  out.insert(out.end(), turned.begin(), turned.end());
  return out;
}

}  // namespace layright::test
