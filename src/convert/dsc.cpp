#include "convert/dsc.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "convert/bytes.h"

namespace layright {
namespace {

constexpr std::size_t kHeadBytes = 1u << 16, kTailBytes = 1u << 16;
constexpr double kFarthest = 1e6;  // points; nothing that is printed is larger

std::string_view without_blanks(std::string_view text) {
  auto const first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

/// Lines that end in any of the three ways.
template <class Take>
void each_line(std::string_view text, Take const& take) {
  while (!text.empty()) {
    auto const end = std::min(text.find_first_of("\r\n"), text.size());
    if (!take(text.substr(0, end))) return;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

std::vector<double> numbers_in(std::string_view text) {
  std::vector<double> numbers;
  while (!(text = without_blanks(text)).empty() && numbers.size() < 8) {
    auto const word = text.substr(0, text.find_first_of(" \t"));
    double value = 0;
    auto const from = word.starts_with('+') ? word.substr(1) : word;
    auto const [end, error] = std::from_chars(from.data(), from.data() + from.size(), value);
    if (error != std::errc{} || end != from.data() + from.size() || !(std::abs(value) <= kFarthest)) break;
    numbers.push_back(value);
    text.remove_prefix(word.size());
  }
  return numbers;
}

std::optional<Rect<PageSpace>> box_in(std::string_view text) {
  auto const n = numbers_in(text);
  if (n.size() < 4) return std::nullopt;
  Rect<PageSpace> const box{std::min(n[0], n[2]), std::min(n[1], n[3]), std::max(n[0], n[2]), std::max(n[1], n[3])};
  if (!(box.width() > 0) || !(box.height() > 0)) return std::nullopt;
  return box;
}

/// "%%DocumentMedia: NAME WIDTH HEIGHT …": the name may be in parentheses.
std::optional<Rect<PageSpace>> media_in(std::string_view text) {
  text = without_blanks(text);
  auto const name_ends = text.starts_with('(') ? text.find(')') : text.find_first_of(" \t");
  if (name_ends == std::string_view::npos) return std::nullopt;
  auto const n = numbers_in(text.substr(name_ends + 1));
  if (n.size() < 2 || !(n[0] > 0) || !(n[1] > 0)) return std::nullopt;
  return Rect<PageSpace>{0, 0, n[0], n[1]};
}

struct Found {
  std::optional<Rect<PageSpace>> box, fine_box, media;
  std::string plates;
  std::vector<std::size_t> no_boxes;  // from the beginning of what was looked at
};

void look_at(std::string_view line, Found& found) {
  auto const value = [&](std::string_view key) -> std::optional<std::string_view> {
    if (!line.starts_with(key)) return std::nullopt;
    return line.substr(key.size());
  };
  if (auto const v = value("%%BoundingBox:")) found.box = found.box ? found.box : box_in(*v);
  if (auto const v = value("%%HiResBoundingBox:")) found.fine_box = found.fine_box ? found.fine_box : box_in(*v);
  if (auto const v = value("%%DocumentMedia:")) found.media = found.media ? found.media : media_in(*v);
  // DCS 1 and 2: pre-separated colours in files, or parts, of their own.
  for (auto const key : {"%%CyanPlate:", "%%MagentaPlate:", "%%YellowPlate:", "%%BlackPlate:", "%%PlateFile:"})
    if (line.starts_with(key)) found.plates = key;
}

Found in_header(std::string_view text) {
  Found found;
  each_line(text.substr(0, kHeadBytes), [&](std::string_view line) {
    look_at(line, found);
    for (std::string_view const key : {"%%BoundingBox:", "%%HiResBoundingBox:"})
      if (line.starts_with(key) && !box_in(line.substr(key.size()))) found.no_boxes.push_back(static_cast<std::size_t>(line.data() - text.data()));
    if (line.starts_with("%%EndComments") || line.starts_with("%%EndProlog")) return false;
    // A header goes on as long as each line is a comment; a blank one ends nothing in files that people send.
    return line.empty() || line.starts_with('%');
  });
  return found;
}

/// What was left "(atend)" stands behind the last %%Trailer.
Found in_trailer(std::string_view text) {
  Found found;
  auto const tail = text.substr(text.size() - std::min(text.size(), kTailBytes));
  auto const trailer = tail.rfind("%%Trailer");
  if (trailer == std::string_view::npos) return found;
  each_line(tail.substr(trailer), [&](std::string_view line) {
    look_at(line, found);
    return true;
  });
  return found;
}

bool comes_to_an_end(std::string_view text) {
  auto tail = text.substr(text.size() - std::min<std::size_t>(text.size(), 4096));
  auto const last = tail.find_last_not_of(std::string_view(" \t\r\n\x04\0\x1A", 7));
  if (last == std::string_view::npos) return false;
  tail = tail.substr(0, last + 1);
  if (tail.rfind("%%EOF") != std::string_view::npos) return true;
  auto const word = tail.substr(tail.find_last_of(" \t\r\n}") + 1);
  constexpr std::array kLastWords{"showpage", "end", "restore", "grestore", "quit", "cleartomark", "pop", "setdistillerparams"};
  return std::ranges::find(kLastWords, word) != kLastWords.end();
}

/// Where the PostScript lies: the binary header of EPSF 3.0, appendix B, or a job language around it.
Outcome find_postscript(std::span<std::byte const> bytes, DscFacts& facts) {
  auto const text = text_of(bytes);
  facts.length = text.size();
  if (text.starts_with("\xC5\xD0\xD3\xC6")) {
    Bytes const in(bytes, true);
    facts.from = in.u32(4);
    facts.length = in.u32(8);
    if (in.inside(facts.from, facts.length) && facts.length > 0) return done();
    return Error{ErrorKind::data, "it is cut short: its PostScript is not all there; ask the customer to send it again"};
  }
  if (!text.starts_with("\x1B%-12345X")) return done();
  facts.from = std::min(text.find("%!"), text.size());
  auto const end = text.rfind("\x1B%-12345X");
  facts.length = (end > facts.from ? end : text.size()) - facts.from;
  return done();
}

}  // namespace

Result<DscFacts> read_dsc(std::span<std::byte const> bytes) {
  DscFacts facts;
  if (auto const found = find_postscript(bytes, facts); !found) return found.error();
  auto text = text_of(bytes.subspan(facts.from, facts.length));
  auto const start = std::min(text.find("%!"), text.size());
  auto const first_line = text.substr(start, text.find_first_of("\r\n", start) - start);
  facts.eps = first_line.find("EPSF") != std::string_view::npos || text_of(bytes).starts_with("\xC5\xD0\xD3\xC6");
  auto const header = in_header(text.substr(start)), trailer = in_trailer(text);
  facts.box = header.fine_box ? header.fine_box : trailer.fine_box ? trailer.fine_box : header.box ? header.box : trailer.box;
  facts.media = header.media ? header.media : trailer.media;
  facts.plates = header.plates;
  for (auto const at : header.no_boxes) facts.no_boxes.push_back(start + at);
  facts.ends = comes_to_an_end(text);
  return facts;
}

}  // namespace layright
