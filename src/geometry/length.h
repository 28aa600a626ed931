// A length is a type of its own: points inside, the user's unit at the edge of the program.
#pragma once
#include <compare>
#include <string>
#include <string_view>

#include "base/result.h"

namespace layright {

/// What people read and write lengths in.
enum class Unit { inch, millimetre, point };

/// A distance, held in points of 1/72 in. 1 in = 25.4 mm = 72 pt exactly (ISO 32000-1, 8.3.2.3; ISO 31-1 for the inch).
class Length {
 public:
  constexpr Length() = default;
  static constexpr Length points(double v) { return Length(v); }
  static constexpr Length inches(double v) { return Length(v * 72.0); }
  static constexpr Length millimetres(double v) { return Length(v * 72.0 / 25.4); }

  constexpr double in_points() const { return pt_; }
  constexpr double in_inches() const { return pt_ / 72.0; }
  constexpr double in_millimetres() const { return pt_ * 25.4 / 72.0; }
  constexpr double in(Unit unit) const { return unit == Unit::inch ? in_inches() : unit == Unit::millimetre ? in_millimetres() : in_points(); }

  constexpr auto operator<=>(Length const&) const = default;
  constexpr Length operator-() const { return Length(-pt_); }
  friend constexpr Length operator+(Length a, Length b) { return Length(a.pt_ + b.pt_); }
  friend constexpr Length operator-(Length a, Length b) { return Length(a.pt_ - b.pt_); }
  friend constexpr Length operator*(Length a, double k) { return Length(a.pt_ * k); }
  friend constexpr double operator/(Length a, Length b) { return a.pt_ / b.pt_; }

 private:
  explicit constexpr Length(double pt) : pt_(pt) {}
  double pt_ = 0.0;
};

static_assert(Length::inches(1) == Length::points(72));

/// "0.25in", "1/4 inch", "1 1/4\"", "6.35 mm", "18pt": a decimal number (point, never comma; sign allowed) or a fraction, and one of in, mm, pt,
/// cm as people write them. Error (usage) when the unit is missing, the number is malformed, or it is not finite.
Result<Length> parse_length(std::string_view text);

/// Where in `text` its first unit begins: a letter or a sign for inches; its size where there is none.
std::size_t unit_start(std::string_view text);

/// For people: "0.25 in", "6.35 mm", "18 pt": at most three, two and one decimals, trailing zeros dropped, never the locale's
/// comma.
std::string format_length(Length length, Unit unit);
/// "8.5 x 17 in": as format_length, the unit once.
std::string format_size(Length a, Length b, Unit unit);
/// "in", "mm", "pt".
std::string_view unit_name(Unit unit);
/// The reverse; error (usage) for anything else.
Result<Unit> parse_unit(std::string_view text);
/// A plain number for people and files: at most `decimals` decimals, trailing zeros dropped, decimal point, no "-0".
std::string format_number(double value, int decimals);

}  // namespace layright
