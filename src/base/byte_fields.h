// Values as bytes and back: one list of a value's parts (fields()) writes and reads it. What is read is not trusted: a number that is
// none, a choice that there is not or bytes that are too few make the whole unreadable.
#pragma once
#include <cstdint>
#include <cstring>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

namespace layright {

class ByteWriter {
 public:
  static constexpr bool kReads = false;
  void raw(void* from, std::size_t size) { bytes_.append(static_cast<char const*>(from), size); }
  void fail_unless(bool) {}
  bool good() const { return true; }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class ByteReader {
 public:
  static constexpr bool kReads = true;
  explicit ByteReader(std::string_view bytes) : left_(bytes) {}
  void raw(void* into, std::size_t size) {
    if (size > left_.size()) return fail();
    std::memcpy(into, left_.data(), size);
    left_.remove_prefix(size);
  }
  void fail_unless(bool right) {
    if (!right) fail();
  }
  std::size_t left() const { return left_.size(); }
  bool good() const { return good_; }
  /// Read to the end, and all of it right.
  bool whole() const { return good_ && left_.empty(); }

 private:
  void fail() {
    good_ = false;
    left_ = {};
  }
  std::string_view left_;
  bool good_ = true;
};

template <class Bytes, class T>
requires std::is_arithmetic_v<T>
void part(Bytes& b, T& value) {
  if constexpr (std::is_same_v<T, bool>) {
    auto byte = static_cast<std::uint8_t>(value ? 1 : 0);
    b.raw(&byte, 1);
    b.fail_unless(byte <= 1);
    value = byte == 1;
  } else {
    b.raw(&value, sizeof value);
  }
}

/// A choice of several: last() of its kind gives the last of them, and none has a number below zero.
template <class Bytes, class E>
requires std::is_enum_v<E>
void part(Bytes& b, E& value) {
  auto number = static_cast<std::int32_t>(value);
  b.raw(&number, sizeof number);
  b.fail_unless(number >= 0 && number <= static_cast<std::int32_t>(last(value)));
  if (b.good()) value = static_cast<E>(number);
}

template <class Bytes>
void part(Bytes& b, std::string& text) {
  auto size = static_cast<std::uint32_t>(text.size());
  b.raw(&size, sizeof size);
  if constexpr (Bytes::kReads) {
    b.fail_unless(size <= b.left());
    if (b.good()) text.resize(size);
  }
  if (b.good()) b.raw(text.data(), text.size());
}

template <class Bytes, class... T>
void parts(Bytes& b, T&... values) {
  (part(b, values), ...);
}

template <class Bytes, class T>
void part(Bytes& b, std::optional<T>& value) {
  bool there = value.has_value();
  part(b, there);
  if (there && b.good() && !value) value.emplace();
  if (there && b.good()) part(b, *value);
}

template <class Bytes, class T>
void part(Bytes& b, std::vector<T>& list) {
  auto count = static_cast<std::uint32_t>(list.size());
  b.raw(&count, sizeof count);
  if constexpr (Bytes::kReads) {
    // Each takes a byte at least; memory is taken only as they come.
    b.fail_unless(count <= b.left());
    list.clear();
    for (std::uint32_t i = 0; i < count && b.good(); ++i) part(b, list.emplace_back());
  } else {
    for (auto& item : list) part(b, item);
  }
}

/// Rows of pixels: read and written in one.
template <class Bytes>
void part(Bytes& b, std::vector<std::uint8_t>& list) {
  std::string text(list.begin(), list.end());
  part(b, text);
  if constexpr (Bytes::kReads) list.assign(text.begin(), text.end());
}

template <class Bytes, class A, class B>
void part(Bytes& b, std::pair<A, B>& both) {
  parts(b, both.first, both.second);
}

template <class Bytes, class K, class V>
void part(Bytes& b, std::map<K, V>& map) {
  std::vector<std::pair<K, V>> list(map.begin(), map.end());
  part(b, list);
  map = {list.begin(), list.end()};
}

template <class Bytes>
void part(Bytes&, std::monostate&) {}

template <class Bytes>
void part(Bytes& b, std::variant<double, std::string, bool>& figure) {
  auto which = static_cast<std::uint8_t>(figure.index());
  b.raw(&which, 1);
  b.fail_unless(which <= 2);
  if constexpr (Bytes::kReads) {
    if (which == 0) figure = 0.0;
    if (which == 1) figure = std::string();
    if (which == 2) figure = false;
  }
  std::visit([&](auto& value) { part(b, value); }, figure);
}

/// Whatever a value must be beside what its fields must; overloaded where there is such a thing.
template <class T>
bool is_right(T const&) {
  return true;
}

/// A value of which fields() gives all that it holds.
template <class Bytes, class T>
requires requires(T& value) { fields(value); }
void part(Bytes& b, T& value) {
  std::apply([&](auto&... each) { parts(b, each...); }, fields(value));
  b.fail_unless(is_right(value));
}

}  // namespace layright
