// Which format a file's bytes are, never by its name, and what the name says about it.
#pragma once
#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// `none`: nothing that is known; it is tried as a PDF, for some have lost their beginning. `refused`: known, and not taken.
enum class Format { none, refused, pdf, eps, postscript, svg, jpeg, png, tiff, psd, webp, heif, avif, zip };

struct Recognised {
  Format format = Format::none;
  std::string what{};       // of what is refused: "an office document", in words that a customer understands, never a product's name
  std::string ask{};        // and what to ask for instead
  bool beside_art = false;  // of what is refused: it comes along with art in a package, and is no page by itself
};

inline constexpr std::size_t kFormatHead = 4096;  // bytes at a file's start by which its format is known

/// Looks at the first kFormatHead bytes only.
Recognised recognise(std::span<std::byte const> bytes);

/// One format that is taken, for `layright formats` and for the name of a file.
struct FormatInfo {
  Format format = Format::none;
  std::string_view word{};     // in JSON
  std::string_view title{};    // "a PNG picture"
  std::string_view endings{};  // that its names usually have, with blanks around each: " jpg jpeg "
  std::string_view reader{};   // the library or program that reads it
  std::string_view size{};     // where the size on the goods comes from
  std::string_view kept{};     // what is carried over, and how
  std::string_view not_taken{};
};
std::span<FormatInfo const> formats_taken();
/// The row of a format that is taken; of the row of PDF for the others.
FormatInfo const& info_of(Format format);
std::string_view word(Format format);

/// What the ending of `name` promises, where that is another format than `format`: its ending, in lower case; empty where they agree, there
/// is none, or it says nothing.
std::string misleading_ending(std::string_view name, Format format);

/// The ending of `name`, in lower case, where a format that is taken has it; else empty.
std::string ending_of_taken(std::string_view name);

}  // namespace layright
