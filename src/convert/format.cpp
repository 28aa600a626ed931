#include "convert/format.h"

#include <algorithm>
#include <optional>

#include "base/lower_case.h"

namespace layright {
namespace {

// Sources of the signatures: ISO 32000-1 7.5.2 and Annex H; Adobe Technical Notes 5001 and 5002 (DSC, EPS); ITU-T T.81 B.1.1.3 (JPEG); W3C PNG 5.2;
// TIFF 6.0 section 2, and its 64-bit form; W3C SVG 2; RFC 9649 (WebP); ISO/IEC 14496-12 4.3 and 23008-12 (HEIF); the ZIP application
// note 4.3.7; the published file-format specification of layered pictures (PSD). Those of what is refused: common practice, from memory.

constexpr std::array kTaken = {
    FormatInfo{Format::pdf, "pdf", "a PDF", " pdf ai ", "qpdf and MuPDF", "the page", "everything, untouched",
               "files that need another program to be seen"},
    FormatInfo{Format::eps, "eps", "an EPS drawing", " eps epsf epsi ai ps ", "Ghostscript, shut in", "%%HiResBoundingBox, else %%BoundingBox",
               "lines, text and pictures", "separated colors in several files (DCS)"},
    FormatInfo{Format::postscript, "postscript", "a PostScript file", " ps prn eps ai ", "Ghostscript, shut in",
               "its own page setup, %%DocumentMedia, %%BoundingBox, else around its ink", "lines, text and pictures", "encrypted files"},
    FormatInfo{Format::svg, "svg", "an SVG drawing", " svg svgz ", "librsvg and cairo, shut in", "width, height and viewBox, 96 px to the inch",
               "lines and text", "whatever it asks for from elsewhere: files and addresses outside itself"},
    FormatInfo{Format::jpeg, "jpeg", "a JPEG picture", " jpg jpeg jpe jfif ", "layright (the data is copied)", "its density (JFIF, else Exif)",
               "the very data; profile, orientation", "12-bit, lossless and arithmetic-coded ones"},
    FormatInfo{Format::png, "png", "a PNG picture", " png ", "layright (the data is copied); libpng where it has transparency or is interlaced",
               "pHYs", "every pixel, 1 to 16 bit; profile, gamma, transparency", "moving pictures: the first is taken"},
    FormatInfo{Format::tiff, "tiff", "a TIFF picture", " tif tiff ", "libtiff", "its resolution and unit",
               "every pixel, 1 to 16 bit; CMYK and named inks; profile, transparency; each page", "more than 16 bit a channel; raw files of cameras"},
    FormatInfo{Format::psd, "psd", "a layered picture (PSD, PSB)", " psd psb ", "layright (its merged picture)", "its resolution",
               "every pixel, 8 and 16 bit; CMYK and named spot channels; profile, transparency", "files saved without the merged picture; 32 bit"},
    FormatInfo{Format::webp, "webp", "a WebP picture", " webp ", "libwebp", "Exif, which few have", "every pixel; profile, transparency",
               "moving pictures"},
    FormatInfo{Format::heif, "heif", "a HEIF picture", " heic heif hif ", "libheif", "Exif", "every pixel; profile, transparency", "moving pictures"},
    FormatInfo{Format::avif, "avif", "an AVIF picture", " avif ", "libheif", "Exif", "every pixel; profile, transparency", "moving pictures"},
    FormatInfo{Format::zip, "zip", "a ZIP with files in it", " zip ", "libzip, then each file's own reader", "each file's own",
               "a page or more of each file, in the order of their names",
               "a ZIP in a ZIP, files locked with a password, bombs; what is no art is left out and reported"},
};

bool begins(std::string_view text, std::string_view with) { return text.starts_with(with); }

Recognised refused(std::string what, std::string ask, bool beside_art = false) {
  return {Format::refused, std::move(what), std::move(ask), beside_art};
}

Recognised drawing_program() {
  return refused("a drawing program's own file", "ask the customer to save it from that program as PDF, with text turned into outlines");
}
Recognised painting_program() {
  return refused("a painting program's own file", "ask the customer to save it from that program as a flattened PNG or TIFF");
}
Recognised office_document() { return refused("an office document", "ask the customer to save it as PDF from the program that made it"); }
Recognised other_archive() { return refused("an archive with files in it", "unpack it first, or ask for the files one by one"); }
Recognised other_picture(std::string const& kind) {
  return refused("a picture of a kind that is not taken (" + kind + ")",
                 "ask the customer for it as PNG or TIFF, at the size it is to have on the goods");
}
Recognised camera_raw() { return refused("a camera's raw file", "ask the customer for the developed picture as TIFF or JPEG"); }

/// UTF-16 read as if its ASCII were alone; anything else as it is.
std::string narrowed(std::string_view text) {
  std::string out;
  bool const wide = begins(text, "\xFF\xFE") || begins(text, std::string_view("\xFE\xFF", 2));
  for (char c : text)
    if (!wide || (c != '\0' && c != '\xFF' && c != '\xFE')) out += c;
  if (begins(out, "\xEF\xBB\xBF")) out.erase(0, 3);
  return out;
}

/// What begins with "<": the name of its first element decides.
std::optional<Recognised> markup(std::string_view head) {
  std::string const text = lower_case(narrowed(head));
  auto const start = text.find_first_not_of(" \t\r\n");
  if (start == std::string::npos || text[start] != '<') return std::nullopt;
  for (auto at = start; at != std::string::npos && at + 1 < text.size(); at = text.find('<', at + 1)) {
    std::string_view const rest = std::string_view(text).substr(at + 1);
    if (begins(rest, "!--")) {
      at = text.find("-->", at);
      if (at == std::string::npos) break;
      continue;
    }
    if (rest[0] == '?' || begins(rest, "!doctype svg")) continue;
    if (begins(rest, "!entity") || begins(rest, "!attlist")) continue;
    if (begins(rest, "html") || begins(rest, "!doctype html"))
      return refused("a web page", "ask the customer for the art itself, as PDF or as the picture file");
    auto const name = rest.substr(0, rest.find_first_of(" \t\r\n>/"));
    if (name == "svg" || name.ends_with(":svg")) return Recognised{Format::svg};
    if (rest[0] != '!') break;
  }
  return refused("data in XML that is no drawing", "ask the customer for the art as PDF", true);
}

std::optional<Recognised> riff(std::string_view text) {
  bool const big = begins(text, "RIFX");
  if (!begins(text, "RIFF") && !big) return std::nullopt;
  auto const form = text.substr(std::min<std::size_t>(8, text.size()), 4);
  if (form == "WEBP") return Recognised{Format::webp};
  if (form == "WAVE" || form == "AVI " || form == "RMID") return refused("a sound or a film", "ask the customer for the art");
  return drawing_program();
}

std::optional<Recognised> boxes(std::string_view text) {
  if (text.size() < 16 || text.substr(4, 4) != "ftyp") return std::nullopt;
  auto const is = [&](std::initializer_list<std::string_view> brands) {
    for (std::size_t at = 8; at + 4 <= std::min<std::size_t>(text.size(), 64); at += 4)
      if (at != 12 && std::ranges::find(brands, text.substr(at, 4)) != brands.end()) return true;
    return false;
  };
  if (is({"avif", "avis"})) return Recognised{Format::avif};
  if (is({"heic", "heix", "heim", "heis", "hevc", "mif1", "msf1"})) return Recognised{Format::heif};
  if (text.substr(8, 3) == "crx") return camera_raw();
  return refused("a film", "ask the customer for the art");
}

/// What the first member of a ZIP says it is; many office documents and drawings are one.
Recognised packed(std::string_view text) {
  std::string_view const first = text.substr(std::min<std::size_t>(30, text.size()), 60);
  auto const has = [&](std::string_view word) { return text.find(word) != std::string_view::npos; };
  if (begins(first, "[Content_Types].xml") || begins(first, "_rels/")) return office_document();
  if (begins(first, "mimetype")) {
    if (has("opendocument.graphics")) return drawing_program();
    if (has("opendocument") || has("sun.xml")) return office_document();
    if (has("epub")) return refused("a book for reading devices", "ask the customer for the art as PDF");
    if (has("openraster")) return painting_program();
    return drawing_program();
  }
  if (begins(first, "word/") || begins(first, "xl/") || begins(first, "ppt/") || begins(first, "docProps/")) return office_document();
  return {Format::zip};
}

struct Signature {
  std::size_t at;
  std::string_view bytes;
  Recognised (*is)();
};

using namespace std::string_view_literals;
constexpr auto sound = [] { return refused("a sound", "ask the customer for the art"); };
constexpr auto font = [] { return refused("a font", "ask the customer for the art itself, as PDF with its fonts embedded", true); };
constexpr auto profile = [] { return refused("a color profile", "ask the customer for the art itself", true); };
constexpr auto gif = [] { return other_picture("GIF: 256 colors at most, made for screens"); };
constexpr auto bitmap = [] { return other_picture("BMP"); };
constexpr auto wavelet = [] { return other_picture("JPEG 2000"); };
constexpr auto longer = [] { return other_picture("JPEG XL"); };
constexpr auto metafile = [] { return refused("a metafile (EMF or WMF)", "ask the customer to save it as PDF or SVG"); };
constexpr auto cad = [] { return refused("a construction drawing (CAD)", "ask the customer to print it to a PDF"); };
constexpr auto program = [] { return refused("a program, not art", "do not open it, and ask the customer what was meant"); };
constexpr auto layout = [] { return refused("a layout program's own file", "ask the customer to export it as PDF, with its fonts embedded"); };

constexpr Signature kRefused[] = {
    {0, "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"sv, office_document},
    {0, "{\\rtf"sv, office_document},
    {0, "\x06\x06\xED\xF5\xD8\x1D\x46\xE5"sv, layout},
    {0, "gimp xcf"sv, painting_program},
    {0, "\x00\xFF\x4B\x41"sv, drawing_program},
    {0, "7z\xBC\xAF\x27\x1C"sv, other_archive},
    {0, "Rar!\x1A\x07"sv, other_archive},
    {0, "BZh"sv, other_archive},
    {0,
     "\xFD"
     "7zXZ\x00"sv,
     other_archive},
    {0, "\x28\xB5\x2F\xFD"sv, other_archive},
    {0, "MSCF"sv, other_archive},
    {257, "ustar"sv, other_archive},
    {0, "GIF8"sv, gif},
    {0, "\x00\x00\x00\x0CjP  "sv, wavelet},
    {0, "\xFF\x4F\xFF\x51"sv, wavelet},
    {0, "\xFF\x0A"sv, longer},
    {0, "\x00\x00\x00\x0CJXL "sv, longer},
    {0, "\xD7\xCD\xC6\x9A"sv, metafile},
    {40, " EMF"sv, metafile},
    {0, "AC10"sv, cad},
    {0, "OTTO"sv, font},
    {0, "\x00\x01\x00\x00\x00"sv, font},
    {36, "acsp"sv, profile},
    {0, "wOFF"sv, font},
    {0, "wOF2"sv, font},
    {0, "ID3"sv, sound},
    {0, "OggS"sv, sound},
    {0,
     "\x7F"
     "ELF"sv,
     program},
    {0, "MZ"sv, program},
    {0, "FUJIFILMCCD-RAW"sv, camera_raw},
};

/// A printer's job language or a control character may come before PostScript.
std::optional<Recognised> postscript(std::string_view text) {
  if (begins(text, "\xC5\xD0\xD3\xC6")) return Recognised{Format::eps};
  std::size_t at = text.find_first_not_of("\x04\r\n\t \xEF\xBB\xBF");
  if (begins(text, "\x1B%-12345X")) at = text.find("%!");
  if (at == std::string_view::npos || !begins(text.substr(at), "%!")) return std::nullopt;
  auto const line = text.substr(at, text.find_first_of("\r\n", at) - at);
  if (line.find(" PDF-") != std::string_view::npos) return Recognised{Format::pdf};
  return Recognised{line.find(" EPSF") != std::string_view::npos ? Format::eps : Format::postscript};
}

std::optional<Recognised> tiff(std::string_view text) {
  bool const little = begins(text, "II\x2A\x00"sv) || begins(text, "II\x2B\x00"sv);
  if (!little && !begins(text, "MM\x00\x2A"sv) && !begins(text, "MM\x00\x2B"sv)) return std::nullopt;
  if (text.substr(std::min<std::size_t>(8, text.size()), 2) == "CR") return camera_raw();
  return Recognised{Format::tiff};
}

/// In lower case; empty where it has none that a program could have given it.
std::string ending_of(std::string_view name) {
  auto const slash = name.rfind('/');
  auto const file = slash == std::string_view::npos ? name : name.substr(slash + 1);
  auto const dot = file.rfind('.');
  if (dot == std::string_view::npos || dot == 0 || dot + 1 == file.size()) return {};
  std::string const ending = lower_case(file.substr(dot + 1));
  if (ending.size() > 5 || !std::ranges::all_of(ending, [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); })) return {};
  return ending;
}

}  // namespace

Recognised recognise(std::span<std::byte const> bytes) {
  std::string_view const text(reinterpret_cast<char const*>(bytes.data()), std::min(bytes.size(), kFormatHead));
  if (begins(text, "%PDF-")) return {Format::pdf};
  if (begins(text, "\xFF\xD8\xFF")) return {Format::jpeg};
  if (begins(text, "\x89PNG\r\n\x1A\n")) return {Format::png};
  if (begins(text, "8BPS")) return {Format::psd};
  if (auto const found = tiff(text)) return *found;
  if (auto const found = riff(text)) return *found;
  if (auto const found = postscript(text)) return *found;
  if (begins(text, "PK\x03\x04")) return packed(text);
  // The mark of one that was to be split, or was split, into several parts comes before the first file.
  if (begins(text, "PK\x07\x08PK\x03\x04") || begins(text, "PK00PK\x03\x04")) return packed(text.substr(4));
  if (begins(text, "PK\x05\x06")) return refused("an archive with nothing in it", "ask the customer to send it again");
  // A packed SVG is named so by custom; what else is packed that way is told when it is unpacked.
  if (begins(text, "\x1F\x8B")) return {Format::svg};
  // The header of a PDF may come after up to 1,024 bytes of something else (ISO 32000-1, Annex H).
  if (text.substr(0, 1024).find("%PDF-") != std::string_view::npos) return {Format::pdf};
  if (auto const found = boxes(text)) return *found;
  for (auto const& signature : kRefused)
    if (text.size() > signature.at && begins(text.substr(signature.at), signature.bytes)) return signature.is();
  if (begins(text, "BM") && text.size() > 18 && (text[14] == '\x28' || text[14] == '\x6C' || text[14] == '\x7C')) return bitmap();
  if (auto const found = markup(text)) return *found;
  return {};
}

std::span<FormatInfo const> formats_taken() { return kTaken; }

FormatInfo const& info_of(Format format) {
  auto const found = std::ranges::find(kTaken, format, &FormatInfo::format);
  return found == kTaken.end() ? kTaken[0] : *found;
}

std::string_view word(Format format) { return format == Format::none || format == Format::refused ? std::string_view() : info_of(format).word; }

std::string ending_of_taken(std::string_view name) {
  auto const ending = ending_of(name);
  if (ending.empty()) return {};
  auto const has = [&](FormatInfo const& f) { return f.endings.find(" " + ending + " ") != std::string_view::npos; };
  return std::ranges::any_of(kTaken, has) ? ending : std::string();
}

std::string misleading_ending(std::string_view name, Format format) {
  auto const ending = ending_of(name);
  if (ending.empty()) return {};
  std::string const listed = " " + ending + " ";
  if (info_of(format).endings.find(listed) != std::string_view::npos) return {};
  // Only an ending that promises something is misleading: another format that is taken, or one that programs of other kinds use.
  constexpr std::string_view kPromises = " doc docx odt xls xlsx ppt pptx pub cdr indd xcf gif bmp jp2 jxl emf wmf dwg dxf rar 7z txt html htm raw ";
  return !ending_of_taken(name).empty() || kPromises.find(listed) != std::string_view::npos ? ending : std::string();
}

}  // namespace layright
