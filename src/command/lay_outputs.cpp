#include "command/lay_outputs.h"

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <utility>

#include "base/lower_case.h"
#include "report/report.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

Error usage(std::string const& message) { return {ErrorKind::usage, message}; }

bool is_folder(fs::path const& path) {
  std::error_code ignored;
  return fs::is_directory(path, ignored);
}

fs::path whole(fs::path const& path) {
  std::error_code error;
  auto const absolute = fs::absolute(path, error);
  return (error ? path : absolute).lexically_normal();
}

std::string ending_of(fs::path const& path) {
  auto const ending = lower_case(path.extension().native());
  return ending.empty() ? ending : ending.substr(1);
}

/// A name that ends as a file of another format does would deceive whoever opens it.
Outcome check_ending(std::string const& output, std::string const& suffix) {
  constexpr std::array<std::string_view, 24> kEndings{"pdf", "ps",  "eps",  "ai",   "svg",  "png", "jpg", "jpeg", "tif",  "tiff", "psd", "webp",
                                                      "gif", "bmp", "heic", "heif", "avif", "zip", "txt", "html", "json", "toml", "doc", "docx"};
  auto const ending = ending_of(output);
  if ("." + ending == suffix || std::ranges::find(kEndings, ending) == kEndings.end()) return done();
  return usage("-o " + shown_name(output) + " ends in ." + ending + ", but a " + (suffix == ".pdf" ? "PDF" : "PostScript file") +
               " is written: let it end in " + suffix);
}

/// The folder that outputs keep their inputs' folders from.
fs::path common_folder(std::vector<std::string> const& words, std::vector<fs::path> const& files) {
  if (words.size() == 1 && is_folder(words[0])) return whole(fs::path(words[0]) / "");
  fs::path common;
  bool first = true;
  for (auto const& file : files) {
    if (file == "-") continue;
    auto const folder = whole(file).parent_path();
    if (std::exchange(first, false)) {
      common = folder;
      continue;
    }
    auto const [mine, theirs] = std::mismatch(common.begin(), common.end(), folder.begin(), folder.end());
    fs::path shared;
    for (auto part = common.begin(); part != mine; ++part) shared /= *part;
    common = shared;
  }
  return common;
}

/// The first of "logo.pdf", "logo-eps.pdf", "logo-eps-2.pdf" … that nobody has yet.
fs::path free_output(fs::path const& base, fs::path const& input, std::string const& end, std::set<fs::path> const& taken) {
  auto const named = [&](std::string const& more) { return fs::path(base.native() + more + end); };
  if (auto const plain = named(""); !taken.contains(plain)) return plain;
  std::string const ending = input.extension().empty() ? "" : "-" + input.extension().native().substr(1);
  auto path = named(ending);
  for (int n = 2; taken.contains(path); ++n) path = named(ending + "-" + std::to_string(n));
  return path;
}

}  // namespace

Result<LayOutputs> lay_outputs(std::vector<std::string> const& words, std::vector<fs::path> const& files, std::string const& output,
                               std::string const& suffix) {
  if (output == "-") return usage("-o needs the name of a file: what is written is read back before it appears under its name");
  bool const folder_named = std::ranges::any_of(words, [](auto const& word) { return word != "-" && is_folder(word); });
  bool const many = files.size() > 1 || folder_named;
  if (output.empty() && folder_named) return usage("say which folder the laid files go to, for instance -o laid/");
  bool const to_folder = !output.empty() && (output.ends_with('/') || is_folder(output) || many);
  std::error_code ignored;
  if (to_folder && !output.ends_with('/') && !is_folder(output) && (fs::path(output).has_extension() || fs::exists(output, ignored)))
    return usage("several files need a folder to go to: -o " + shown_name(fs::path(output).replace_extension().native()) + "/");
  if (!output.empty() && !to_folder)
    if (auto const good = check_ending(output, suffix); !good) return good.error();

  LayOutputs out;
  out.in_folder = to_folder;
  std::string const end = output.empty() ? "-laid" + suffix : suffix;
  auto const root = common_folder(words, files);
  auto order = files;  // the PDF of several with one name goes first, and keeps it
  std::ranges::stable_sort(order, [](auto const& a, auto const& b) { return (ending_of(a) == "pdf") > (ending_of(b) == "pdf"); });
  std::set<fs::path> taken;
  for (auto const& file : order) {
    if (out.of.contains(file)) continue;
    if (!output.empty() && !to_folder) {
      out.of[file] = output;
      continue;
    }
    fs::path const stem = file == "-" ? fs::path("standard-input") : file.stem();
    fs::path base = file == "-" ? stem : file.parent_path() / stem;
    if (to_folder) base = file == "-" ? fs::path(output) / stem : (fs::path(output) / whole(file).parent_path().lexically_relative(root) / stem);
    auto const path = free_output(base.lexically_normal(), file, end, taken);
    out.of[file] = path;
    if (!is_folder(file)) taken.insert(path);  // a folder without a PDF is reported, and nothing is written for it
  }
  return out;
}

}  // namespace layright
