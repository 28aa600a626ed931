#include "report/fix_command.h"

#include "report/shell_word.h"

namespace layright {
namespace {

std::string shown_for_shell(std::string const& word) { return quoted_for_shell(shown_name(word)); }

/// One that starts with a dash would be taken for an option.
std::string quoted_name(std::string const& path) { return shown_for_shell(path.starts_with('-') ? "./" + path : path); }

}  // namespace

std::string laying_command(std::string const& path, std::string const& output, Target const& target, ReportStyle const& style) {
  std::string line =
      (style.command == "tile" ? "layright tile " : "layright lay ") + (path == "-" ? path : quoted_name(path)) + " -o " + quoted_name(output);
  if (!target.name.empty()) line += " --target " + shown_for_shell(target.name);
  for (auto const& word : style.asked) line += " " + shown_for_shell(word);
  return line;
}

std::string accepting_command(std::string const& path, FileTail const& tail, Target const& target, ReportStyle const& style) {
  std::string ids;
  for (auto const& id : tail.accept) ids += (ids.empty() ? "" : ",") + id;
  return laying_command(path, tail.wanted_output, target, style) + " --accept " + ids;
}

std::string fix_command(std::string const& path, Target const& target, ReportStyle const& style) {
  auto const dot = path.rfind('.');
  auto const slash = path.rfind('/');
  bool const has_suffix = dot != std::string::npos && (slash == std::string::npos || dot > slash + 1);
  std::string const stem = has_suffix ? path.substr(0, dot) : path;
  std::string const end = style.command == "tile" ? "tiles.pdf" : "laid.pdf";
  return laying_command(path, path == "-" ? end : stem + "-" + end, target, style);
}

}  // namespace layright
