// Numbers out of bytes that are not trusted: what lies outside reads as 0 and is remembered.
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

namespace layright {

class Bytes {
 public:
  explicit Bytes(std::span<std::byte const> bytes, bool little = false) : bytes_(bytes), little_(little) {}

  std::size_t size() const { return bytes_.size(); }
  /// Something was asked for that lies outside.
  bool short_of() const { return short_; }

  std::uint8_t u8(std::size_t at) const { return static_cast<std::uint8_t>(number(at, 1)); }
  std::uint16_t u16(std::size_t at) const { return static_cast<std::uint16_t>(number(at, 2)); }
  std::uint32_t u32(std::size_t at) const { return static_cast<std::uint32_t>(number(at, 4)); }
  std::uint64_t u64(std::size_t at) const { return number(at, 8); }

  /// Empty where any of it lies outside.
  std::span<std::byte const> part(std::size_t at, std::size_t length) const {
    if (!inside(at, length)) return {};
    return bytes_.subspan(at, length);
  }
  std::string_view text(std::size_t at, std::size_t length) const {
    auto const p = part(at, length);
    return {reinterpret_cast<char const*>(p.data()), p.size()};
  }
  bool inside(std::size_t at, std::size_t length) const {
    bool const good = at <= bytes_.size() && length <= bytes_.size() - at;
    if (!good) short_ = true;
    return good;
  }

 private:
  std::uint64_t number(std::size_t at, std::size_t length) const {
    if (!inside(at, length)) return 0;
    std::uint64_t value = 0;
    for (std::size_t i = 0; i < length; ++i) value = value << 8 | static_cast<std::uint64_t>(bytes_[at + (little_ ? length - 1 - i : i)]);
    return value;
  }
  std::span<std::byte const> bytes_;
  bool little_;
  mutable bool short_ = false;
};

inline std::string_view text_of(std::span<std::byte const> bytes) { return {reinterpret_cast<char const*>(bytes.data()), bytes.size()}; }
inline std::span<std::byte const> bytes_of(std::string_view text) { return std::as_bytes(std::span(text.data(), text.size())); }

}  // namespace layright
