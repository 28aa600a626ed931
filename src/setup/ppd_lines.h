// The lines of a PPD as its maker wrote them, so that a refusal can quote the one that forces it.
#pragma once
#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

class PpdLines {
 public:
  /// Plain or gzip-compressed; CR, LF or both as line ends. At most kMostPpdBytes are read; no lines when the file cannot be read.
  static PpdLines read(std::filesystem::path const& path);

  /// The first line of a main keyword ("*HWMargins") and, where given, an option keyword ("Width"), in one line and quoted with its
  /// number: `line 12: *HWMargins: "12 12 12 12"`. Empty when there is none.
  std::string quote(std::string_view keyword, std::string_view option = {}) const;
  /// The line of a constraint between two options, whichever stands first. A choice that the line leaves out stands for any but
  /// None and False (PPD specification 4.3, UIConstraints).
  std::string quote_constraint(std::string_view option1, std::string_view choice1, std::string_view option2, std::string_view choice2) const;
  /// The English labels of its translation tables (CUPS' PPD extensions; libcups keeps none of them): "InputSlot MF1" and, for an option,
  /// "Translation InputSlot", each with its label.
  std::map<std::string, std::string> english() const;
  /// Why the file cannot be the whole PPD, or empty: it ends inside an option or a quoted value, its compressed bytes are cut short, or
  /// it has no end within kMostPpdBytes.
  std::string const& broken_off() const { return broken_off_; }

 private:
  std::vector<std::string> lines_;
  std::string broken_off_;
};
inline constexpr std::size_t kMostPpdBytes = 16u << 20;  // the largest that Debian packages has a few hundred kB

}  // namespace layright
