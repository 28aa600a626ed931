#include "command/named_files.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <fstream>
#include <set>
#include <span>

#include "convert/format.h"
#include "document/document.h"
#include "report/report.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostNamed = 3;

bool named_as_pdf(fs::path const& path) {
  auto suffix = path.extension().native();
  std::ranges::transform(suffix, suffix.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return suffix == ".pdf";
}

/// By its first bytes: a PDF, or of another format that is taken.
bool starts_as_taken(fs::path const& path) {
  constexpr std::size_t kPdfStartsWithin = 1024;
  std::array<char, 8192> start{};
  std::ifstream file(path, std::ios::binary);
  file.read(start.data(), start.size());
  auto const bytes = std::as_bytes(std::span(start.data(), static_cast<std::size_t>(file.gcount())));
  if (looks_like_pdf(bytes.first(std::min(bytes.size(), kPdfStartsWithin)))) return true;
  auto const format = recognise(bytes).format;
  return format != Format::none && format != Format::refused;
}

struct Found {
  std::vector<fs::path> taken, passed_over;

  void gather(fs::path const& folder) {
    std::error_code error, ignored;
    for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
      auto const& path = it->path();
      if (path.filename().native().starts_with('.')) continue;
      if (it->symlink_status(ignored).type() == fs::file_type::directory) gather(path);
      else if (it->is_regular_file(ignored)) (named_as_pdf(path) || starts_as_taken(path) ? taken : passed_over).push_back(path);
    }
    if (error) taken.push_back(folder);  // opening it will fail, and be reported
  }
};

std::string remark_of(std::string const& folder, Found const& found) {
  std::string text;
  std::size_t const more = found.passed_over.size();
  if (more > 0) {
    text = std::to_string(more) + (more == 1 ? " file is no art and was skipped: " : " files are no art and were skipped: ");
    std::size_t const reported = std::min(more, kMostNamed);
    for (std::size_t i = 0; i < reported; ++i) text += (i == 0 ? "" : ", ") + shown_name(found.passed_over[i].lexically_relative(folder).native());
    if (more > reported) text += " and " + std::to_string(more - reported) + " more";
  }
  if (found.taken.empty()) text = "there is no art in this folder" + (text.empty() ? text : "; " + text);
  return text.empty() ? text : shown_name(folder) + ": " + text;
}

}  // namespace

NamedFiles files_named(std::vector<std::string> const& words) {
  NamedFiles named;
  for (auto const& word : words) {
    std::error_code error;
    if (word == "-" || !fs::is_directory(word, error)) {
      named.files.emplace_back(word);
      continue;
    }
    Found found;
    found.gather(word);
    std::ranges::sort(found.taken);
    std::ranges::sort(found.passed_over);
    if (auto const remark = remark_of(word, found); !remark.empty()) named.remarks.push_back(remark);
    if (found.taken.empty()) found.taken.emplace_back(word);
    named.files.insert(named.files.end(), found.taken.begin(), found.taken.end());
  }
  std::set<fs::path> seen;
  std::erase_if(named.files, [&](auto const& file) { return !seen.insert(file).second; });
  return named;
}

}  // namespace layright
