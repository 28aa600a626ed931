#include "document/icc_profile.h"

#include <algorithm>
#include <exception>
#include <map>
#include <new>
#include <string_view>

#include <qpdf/Pl_String.hh>

namespace layright {
namespace {

constexpr std::size_t kHeader = 128, kTag = 12, kMostTags = 200, kLongestName = 120;

std::size_t number_at(std::string const& b, std::size_t at) {
  std::size_t n = 0;
  for (std::size_t i = at; i < at + 4; ++i) n = n << 8 | static_cast<unsigned char>(b[i]);
  return n;
}

/// What is printable of it.
std::string plain(std::string_view text) {
  std::string out;
  for (char const c : text)
    if (c >= ' ' && c <= '~' && out.size() < kLongestName) out += c;
  return out;
}

/// Of a textDescriptionType (version 2) or a multiLocalizedUnicodeType (version 4).
std::string description(std::string const& b) {
  if (b.size() < kHeader + 4) return {};
  std::size_t const tags = std::min(number_at(b, kHeader), kMostTags);
  for (std::size_t i = 0; i < tags; ++i) {
    std::size_t const row = kHeader + 4 + i * kTag;
    if (row + kTag > b.size()) return {};
    if (b.compare(row, 4, "desc") != 0) continue;
    std::size_t const at = number_at(b, row + 4);
    if (at > b.size() || b.size() - at < 12) return {};
    std::string_view const text(b);
    if (text.substr(at, 4) == "desc") {
      std::size_t const size = number_at(b, at + 8);
      return size > b.size() - at - 12 ? std::string() : plain(text.substr(at + 12, size));
    }
    if (text.substr(at, 4) != "mluc" || b.size() - at < 28) return {};
    std::size_t const size = number_at(b, at + 20), start = number_at(b, at + 24);
    if (start > b.size() - at || size > b.size() - at - start) return {};
    return plain(text.substr(at + start, size));  // UTF-16: its zero bytes go
  }
  return {};
}

std::string trouble_of(std::string const& b, int components) {
  static std::map<std::string_view, int> const kSpaces{{"GRAY", 1}, {"RGB ", 3}, {"CMYK", 4}, {"Lab ", 3}, {"XYZ ", 3}, {"YCbr", 3}};
  if (b.empty()) return "it cannot be decoded";
  if (b.size() < kHeader + 4 || b.compare(36, 4, "acsp") != 0) return "it is no color profile";
  if (number_at(b, 0) > b.size()) return "it is cut short";
  auto const space = kSpaces.find(std::string_view(b).substr(16, 4));
  if (space != kSpaces.end() && space->second != components)
    return "it is for " + std::to_string(space->second) + " components, and the file uses it for " + std::to_string(components);
  return {};
}

}  // namespace

std::string stream_text(QPDFObjectHandle stream, std::size_t most) {
  try {
    std::string text;
    Pl_String sink("stream", nullptr, text);
    if (!stream.pipeStreamData(&sink, nullptr, 0, qpdf_dl_generalized, true, false)) return {};
    if (text.size() > most) text.resize(most);
    return text;
  } catch (std::bad_alloc const&) {
    throw;
  } catch (std::exception const&) {
    return {};
  }
}

ProfileEntry read_profile(QPDFObjectHandle stream) {
  ProfileEntry entry;
  auto n = stream.getDict().getKey("/N");
  entry.components = n.isInteger() ? n.getIntValueAsInt() : 0;
  auto const bytes = stream_text(stream, 64u << 20);
  entry.trouble = trouble_of(bytes, entry.components);
  if (bytes.size() > kHeader) entry.name = description(bytes);
  return entry;
}

}  // namespace layright
