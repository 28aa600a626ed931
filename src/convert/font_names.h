// The fonts that a PDF made here brings along.
#pragma once
#include <span>
#include <string>
#include <vector>

namespace layright {

/// Their names without the mark of a subset; empty where there are none or it cannot be read.
std::vector<std::string> font_names(std::span<std::byte const> pdf);

/// Whether one of `names` is of the font family `family`, as CSS writes it: blanks, hyphens and letter case apart. Families that name no font
/// (serif, sans-serif and so on) are always there.
bool has_family(std::vector<std::string> const& names, std::string const& family);

}  // namespace layright
