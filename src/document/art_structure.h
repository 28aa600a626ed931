// What a file's structure says of its art, beside what its pages paint: fonts, colour profiles, alternates, promises. Plain values.
#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace layright {

/// A font that a page names (ISO 32000-1, 9.6 and 9.7).
struct FontEntry {
  std::string name;  // without the mark of a subset
  bool type3 = false;
  bool embedded = false;  // a font file comes with it (9.9)
  bool operator==(FontEntry const&) const = default;
};

/// A colour profile (ICC.1:2022, 7.2 and 9.2.41).
struct ProfileEntry {
  std::string name;     // its own description, or empty
  int components = 0;   // as the file says
  std::string trouble;  // what is wrong with it, in plain words, or empty
  bool operator==(ProfileEntry const&) const = default;
};

struct ArtStructure {
  std::vector<FontEntry> fonts;
  std::vector<ProfileEntry> profiles;  // of the colours and pictures that the page names, each once
  long alternates = 0;                 // pictures that bring others to be taken in their stead (8.9.5.4)
};

/// What the file says it is made for (14.11.5).
struct OutputIntent {
  std::string kind;       // GTS_PDFX, GTS_PDFA1, …
  std::string condition;  // the printing condition's name, or empty
  std::optional<ProfileEntry> profile;
};

struct FileArt {
  std::string pdfx, pdfa;  // the claims as written: "PDF/X-4", "2" for PDF/A-2; empty: none
  std::string pdfa_level;  // its conformance: "A", "B", "U", …
  std::string pdfua;       // "1" for PDF/UA-1
  std::vector<OutputIntent> intents;
  bool encrypted = false;
};

/// Which claims a laid file may keep. That of PDF/UA goes with the tags.
struct KeptClaims {
  bool pdfx = true, pdfa = true;
};

/// `hold`: of all pages that are laid, as far as a reader can test it. Laying drops the tags that PDF/A's level A is about.
inline KeptClaims claims_of_laid(FileArt const& art, bool hold) { return {hold, hold && art.pdfa_level != "A" && art.pdfa_level != "a"}; }

/// The same of a page that gets a white plate as a spot color: PDF/X up to X-3 and PDF/A-1 forbid its transparency (ISO 15930-1, -3 and 19005-1), and
/// PDF/A a stand-in in CMYK unless the file is made for CMYK (19005-2, 6.2.4). From memory.
inline KeptClaims claims_with_plate(FileArt const& art, KeptClaims kept) {
  bool const old_x =
      art.pdfx.find("X-1") != std::string::npos || art.pdfx.find("X-2") != std::string::npos || art.pdfx.find("X-3") != std::string::npos;
  bool const cmyk = std::ranges::any_of(art.intents, [](OutputIntent const& o) { return o.profile && o.profile->components == 4; });
  return {kept.pdfx && !old_x, kept.pdfa && art.pdfa != "1" && cmyk};
}

}  // namespace layright
