// Numbers as PDF writes them (ISO 32000-1, 7.3.3), both ways, without any locale.
#pragma once
#include <array>
#include <optional>
#include <string>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// The value of an integer or a real object; nothing for anything else.
std::optional<double> number_of(QPDFObjectHandle object);
/// The first N items of an array; nothing where it is no array, has fewer items, or one of them is no number.
template <std::size_t N>
std::optional<std::array<double, N>> numbers_of(QPDFObjectHandle array) {
  if (!array.isArray() || array.getArrayNItems() < static_cast<int>(N)) return std::nullopt;
  std::array<double, N> out{};
  for (std::size_t i = 0; i < N; ++i) {
    auto const value = number_of(array.getArrayItem(static_cast<int>(i)));
    if (!value) return std::nullopt;
    out[i] = *value;
  }
  return out;
}

/// Written without exponent, as short as it can be and still read back as the same double.
std::string exact_number(double value);
/// An array of exact numbers.
QPDFObjectHandle number_array(std::initializer_list<double> values);

}  // namespace layright
