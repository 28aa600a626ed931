#include "base/byte_fields.h"

#include <catch2/catch.hpp>
#include <limits>
#include <string>

namespace layright {
namespace {

enum class Colour { red, green, blue };
constexpr Colour last(Colour) { return Colour::blue; }

struct Piece {
  std::string name;
  int number = 0;
  Colour colour = Colour::red;
  bool operator==(Piece const&) const = default;
};
auto fields(Piece& p) { return std::tie(p.name, p.number, p.colour); }
bool is_right(Piece const& p) { return p.number != 13; }

struct Pile {
  std::vector<Piece> pieces;
  std::map<std::string, std::vector<int>> numbers;
  std::optional<std::optional<int>> maybe;
  std::vector<std::uint8_t> row;
  std::variant<double, std::string, bool> figure;
  std::monostate nothing;
  bool operator==(Pile const&) const = default;
};
auto fields(Pile& p) { return std::tie(p.pieces, p.numbers, p.maybe, p.row, p.figure, p.nothing); }

template <class T>
std::string written(T value) {
  ByteWriter writer;
  part(writer, value);
  return writer.take();
}

template <class T>
std::optional<T> read(std::string_view bytes) {
  ByteReader reader(bytes);
  T value{};
  part(reader, value);
  if (!reader.whole()) return std::nullopt;
  return value;
}

Pile full_pile() {
  return {{{"film", -7, Colour::green}, {std::string("a\0b", 3), std::numeric_limits<int>::min(), Colour::blue}},
          {{"", {}}, {"odd", {1, 3}}},
          std::optional<int>(),
          {0, 255},
          "a figure",
          {}};
}

}  // namespace

TEST_CASE("a value comes back as it was written", "[byte_fields]") {
  CHECK(read<Pile>(written(full_pile())) == full_pile());
  CHECK(read<Pile>(written(Pile{})) == Pile{});
  CHECK(read<double>(written(0.1)) == 0.1);
}

TEST_CASE("bytes that are too few, too many or of no such value are not believed", "[byte_fields]") {
  auto const whole = written(full_pile());
  for (std::size_t n = 0; n < whole.size(); ++n) CHECK_FALSE(read<Pile>(std::string_view(whole).substr(0, n)));
  CHECK_FALSE(read<Pile>(whole + "x"));
  CHECK_FALSE(read<bool>("\x02"));
  CHECK_FALSE(read<Colour>(written(static_cast<Colour>(3))));
  CHECK_FALSE(read<Colour>(written(static_cast<Colour>(-1))));
  CHECK_FALSE(read<Piece>(written(Piece{"unlucky", 13})));
  // A list that says that it is longer than all that came takes no memory for it.
  CHECK_FALSE(read<std::vector<std::string>>(written(std::uint32_t{0xFFFFFFFF}) + "some"));
  CHECK_FALSE(read<std::string>(written(std::uint32_t{0xFFFFFFFF}) + "some"));
}

}  // namespace layright
