#include "convert/font_names.h"

#include <algorithm>
#include <array>

#include <qpdf/QPDF.hh>

namespace layright {
namespace {

std::string plain(std::string const& name) {
  std::string out;
  for (char c : name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80) out += c;
  }
  return out;
}

}  // namespace

std::vector<std::string> font_names(std::span<std::byte const> bytes) {
  std::vector<std::string> names;
  try {
    QPDF pdf;
    pdf.setSuppressWarnings(true);
    pdf.processMemoryFile("pages", reinterpret_cast<char const*>(bytes.data()), bytes.size());
    for (auto& object : pdf.getAllObjects()) {
      if (!object.isDictionaryOfType("/Font")) continue;
      auto base = object.getKey("/BaseFont");
      if (!base.isName()) continue;
      std::string name = base.getName().substr(1);
      if (name.size() > 7 && name[6] == '+') name.erase(0, 7);
      names.push_back(name);
    }
  } catch (std::exception const&) {
  }
  return names;
}

bool has_family(std::vector<std::string> const& names, std::string const& family) {
  constexpr std::array kGeneric{"serif", "sansserif", "sans", "monospace", "mono", "cursive", "fantasy", "systemui", "inherit", "initial"};
  std::string const wanted = plain(family);
  if (wanted.empty() || std::ranges::find(kGeneric, wanted) != kGeneric.end()) return true;
  return std::ranges::any_of(names, [&](std::string const& name) { return plain(name).starts_with(wanted); });
}

}  // namespace layright
