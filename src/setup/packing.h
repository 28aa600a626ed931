// Plain values as bytes and back, for what a child reports (talk.h). The other side is not trusted: what does not fit gives empty values.
#pragma once
#include <charconv>
#include <string>
#include <string_view>
#include <system_error>

namespace layright {

class Packer {
 public:
  void text(std::string_view text) {
    number(static_cast<long long>(text.size()));
    bytes_.append(text);
  }
  void number(long long value) { bytes_ += std::to_string(value) + ";"; }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : bytes_(bytes) {}
  long long number() {
    auto const end = bytes_.find(';');
    long long value = 0;
    if (end == std::string_view::npos) return fail(), 0;
    auto const read = std::from_chars(bytes_.data(), bytes_.data() + end, value);
    if (read.ec != std::errc() || read.ptr != bytes_.data() + end) return fail(), 0;
    bytes_.remove_prefix(end + 1);
    return value;
  }
  int small() { return static_cast<int>(number()); }
  std::string text() {
    auto const size = number();
    if (size < 0 || static_cast<unsigned long long>(size) > bytes_.size()) return fail(), std::string();
    std::string const text(bytes_.substr(0, static_cast<std::size_t>(size)));
    bytes_.remove_prefix(static_cast<std::size_t>(size));
    return text;
  }
  /// How many follow; each takes at least two bytes.
  long long count() {
    auto const many = number();
    if (many < 0 || static_cast<unsigned long long>(many) > bytes_.size()) return fail(), 0;
    return many;
  }
  bool good() const { return good_; }

 private:
  void fail() {
    good_ = false;
    bytes_ = {};
  }
  std::string_view bytes_;
  bool good_ = true;
};

}  // namespace layright
