// Colour profiles that are only a header and a description: all that is looked at (ICC.1:2022, 7.2 and 7.3).
#pragma once
#include "support/pdf_maker.h"

namespace layright::test {

inline std::string number_bytes(std::size_t n) {
  std::string out;
  for (int shift = 24; shift >= 0; shift -= 8) out += static_cast<char>(n >> shift & 255);
  return out;
}

/// `space` as its header has it: "RGB ", "CMYK", "GRAY"; "junk" for bytes that are no profile.
inline std::string profile_bytes(std::string const& space, std::string const& name = "Wharf proof") {
  if (space == "junk")
    return "these bytes are no colour profile at all, though the file says so; they only have to be long enough to be looked at by something that "
           "wants to read a header of 128 bytes and a table of tags behind it";
  std::string const tag = "desc" + number_bytes(0) + number_bytes(name.size() + 1) + name + '\0';
  std::string const table = number_bytes(1) + "desc" + number_bytes(144) + number_bytes(tag.size());
  std::string header(128, '\0');
  header.replace(0, 4, number_bytes(144 + tag.size()));
  header.replace(12, 4, "prtr");
  header.replace(16, 4, space);
  header.replace(36, 4, "acsp");
  return header + table + tag;
}

inline Ref profile_object(PdfMaker& pdf, std::string const& space, int components = 0) {
  int const n = components ? components : space == "CMYK" ? 4 : space == "GRAY" ? 1 : 3;
  return pdf.stream("/N " + std::to_string(n), profile_bytes(space));
}

}  // namespace layright::test
