#include "write/sheet_marks.h"

#include <array>
#include <optional>
#include <utility>

#include "geometry/length.h"

namespace layright {
namespace {

/// A letter on a grid of 4 by 6, as lines: "002640 1232" goes from (0,0) by (2,6) to (4,0), and from (1,2) to (3,2).
struct Letter {
  char letter;
  std::string_view lines;
};
constexpr std::array kLetters{
    Letter{'0', "103041453616050110"},
    Letter{'1', "042620"},
    Letter{'2', "05163645440040"},
    Letter{'3', "05163645443313 334241301001"},
    Letter{'4', "30360242"},
    Letter{'5', "460603334241301001"},
    Letter{'6', "453616050110304142331302"},
    Letter{'7', "064610"},
    Letter{'8', "13040516364544331302011030414233"},
    Letter{'9', "011030414536160504133344"},
    Letter{'A', "002640 1232"},
    Letter{'B', "00063645443303 3342413000"},
    Letter{'C', "4536160501103041"},
    Letter{'D', "00062644422000"},
    Letter{'E', "46060040 0333"},
    Letter{'F', "460600 0333"},
    Letter{'G', "45361605011030414323"},
    Letter{'H', "0006 4046 0343"},
    Letter{'I', "2026"},
    Letter{'J', "4641301001"},
    Letter{'K', "0006 460340"},
    Letter{'L', "060040"},
    Letter{'M', "0006234640"},
    Letter{'N', "00064046"},
    Letter{'O', "103041453616050110"},
    Letter{'P', "00063645443303"},
    Letter{'Q', "103041453616050110 2240"},
    Letter{'R', "00063645443303 2340"},
    Letter{'S', "453616050413334241301001"},
    Letter{'T', "0646 2620"},
    Letter{'U', "060110304146"},
    Letter{'V', "062046"},
    Letter{'W', "0610233046"},
    Letter{'X', "0046 0640"},
    Letter{'Y', "062346 2320"},
    Letter{'Z', "06460040"},
    Letter{' ', ""},
    Letter{'/', "0046"},
    Letter{'.', "2021"},
    Letter{',', "2110"},
    Letter{':', "2122 2425"},
    Letter{'+', "0343 2125"},
    Letter{'(', "36242230"},
    Letter{')', "16242210"},
};
constexpr std::string_view kDash = "1333";
constexpr double kGridHeight = 6, kGridWidth = 4, kAdvance = 6;

std::string_view lines_of(char letter) {
  if (letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 'a' + 'A');
  for (auto const& known : kLetters)
    if (known.letter == letter) return known.lines;
  return kDash;
}

/// Bytes that go on with a letter of several (UTF-8) are no letters of their own.
bool begins_letter(char byte) { return (static_cast<unsigned char>(byte) & 0xc0) != 0x80; }

int letters_in(std::string_view text) {
  int n = 0;
  for (char const c : text) n += begins_letter(c);
  return n;
}

}  // namespace

Rect<SheetSpace> SheetMark::extents() const {
  std::optional<Rect<SheetSpace>> all;
  for (auto const& line : lines)
    for (auto const& p : line) all = united(all, std::optional(Rect<SheetSpace>{p.x, p.y, p.x, p.y}));
  return all.value_or(Rect<SheetSpace>{}).grown(kMarkWidth / 2);
}

std::vector<SheetMark> corner_marks(Rect<SheetSpace> const& box, double away, double length) {
  std::vector<SheetMark> marks;
  double const far = away + length;
  for (double const x : {box.x0, box.x1}) {
    marks.push_back({{{{x, box.y0 - far}, {x, box.y0 - away}}}});
    marks.push_back({{{{x, box.y1 + away}, {x, box.y1 + far}}}});
  }
  for (double const y : {box.y0, box.y1}) {
    marks.push_back({{{{box.x0 - far, y}, {box.x0 - away, y}}}});
    marks.push_back({{{{box.x1 + away, y}, {box.x1 + far, y}}}});
  }
  return marks;
}

SheetMark label_mark(std::string_view text, Point<SheetSpace> at, double height) {
  SheetMark mark;
  double const unit = height / kGridHeight;
  double x = at.x;
  for (char const c : text) {
    if (!begins_letter(c)) continue;
    bool begins = true;
    auto const lines = lines_of(c);
    for (std::size_t i = 0; i + 1 < lines.size(); i += 2) {
      if (lines[i] == ' ') {
        begins = true;
        ++i;
      }
      if (std::exchange(begins, false)) mark.lines.emplace_back();
      mark.lines.back().push_back({x + (lines[i] - '0') * unit, at.y + (lines[i + 1] - '0') * unit});
    }
    x += kAdvance * unit;
  }
  return mark;
}

double label_width(std::string_view text, double height) {
  int const letters = letters_in(text);
  return letters == 0 ? 0 : (kAdvance * (letters - 1) + kGridWidth) * height / kGridHeight;
}

SheetMark moved(SheetMark mark, Matrix<SheetSpace, SheetSpace> const& by) {
  for (auto& line : mark.lines)
    for (auto& p : line) p = by.apply(p);
  return mark;
}

std::string mark_operators(std::span<SheetMark const> marks) {
  if (marks.empty()) return {};
  std::string text = "q 0 G " + format_number(kMarkWidth, 3) + " w 1 J 1 j [] 0 d\n";
  for (auto const& mark : marks) {
    for (auto const& line : mark.lines)
      for (std::size_t i = 0; i < line.size(); ++i)
        text += format_number(line[i].x, 3) + " " + format_number(line[i].y, 3) + (i == 0 ? " m " : " l ");
    text += "S\n";
  }
  return text + "Q\n";
}

}  // namespace layright
