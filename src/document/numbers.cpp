#include "document/numbers.h"

#include <charconv>
#include <cmath>

namespace layright {

std::optional<double> number_of(QPDFObjectHandle object) {
  if (object.isInteger()) return static_cast<double>(object.getIntValue());
  if (!object.isReal()) return std::nullopt;
  auto const text = object.getRealValue();
  auto const* first = text.data();
  if (!text.empty() && *first == '+') ++first;
  double value = 0;
  auto const read = std::from_chars(first, text.data() + text.size(), value, std::chars_format::fixed);
  if (read.ec == std::errc::result_out_of_range) return HUGE_VAL;
  if (read.ec != std::errc{}) return std::nullopt;
  return value;
}

std::string exact_number(double value) {
  if (value == 0 || !std::isfinite(value)) return "0";  // no "-0"; what is not finite never comes this far
  char text[400];
  auto const end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed);
  return {text, end.ptr};
}

QPDFObjectHandle number_array(std::initializer_list<double> values) {
  std::vector<QPDFObjectHandle> items;
  for (double const value : values) items.push_back(QPDFObjectHandle::newReal(exact_number(value)));
  return QPDFObjectHandle::newArray(items);
}

}  // namespace layright
