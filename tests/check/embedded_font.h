// A font that comes with the file, its glyphs named by their numbers (ISO 32000-1, 9.7.4.2: Identity).
#pragma once
#include "support/pdf_maker.h"

namespace layright::test {

/// `program`: a TrueType file. Text in it is written as two bytes a glyph: "<0001>" shows glyph 1.
inline Ref embedded_font(PdfMaker& pdf, std::string const& program, std::string const& name = "Quillserif-Book") {
  auto const file = pdf.stream("/Length1 " + std::to_string(program.size()), program);
  auto const descriptor = pdf.object("<< /Type /FontDescriptor /FontName /ABCDEF+" + name +
                                     " /Flags 4 /FontBBox [0 -200 1000 800] /ItalicAngle 0 /Ascent 800 "
                                     "/Descent -200 /CapHeight 700 /StemV 80 /FontFile2 " +
                                     file.text() + " >>");
  auto const descendant = pdf.object("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /ABCDEF+" + name +
                                     " /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) "
                                     "/Supplement 0 >> /FontDescriptor " +
                                     descriptor.text() + " /DW 600 /CIDToGIDMap /Identity >>");
  return pdf.object("<< /Type /Font /Subtype /Type0 /BaseFont /ABCDEF+" + name + " /Encoding /Identity-H /DescendantFonts [" + descendant.text() +
                    "] >>");
}

/// A packaged font whose glyph 0 is a box.
inline std::string packaged_font() { return read_file("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"); }

}  // namespace layright::test
