#include "setup/postscript_job.h"

namespace layright {
namespace {

/// The place just behind a comment line such as "%%EndComments", or npos.
std::size_t behind_line(std::string_view text, std::string_view line) {
  auto const at = text.find("\n" + std::string(line) + "\n");
  return at == std::string_view::npos ? at : at + line.size() + 2;
}

// ps2write asks for each page's size by itself unless this says otherwise; it has no option to leave it out.
constexpr std::string_view kAsks = "/SetPageSize true def", kAsksNot = "/SetPageSize false def";

}  // namespace

std::vector<std::string> postscript_words() {
  return {"gs",
          "-q",
          "-dSAFER",
          "-dBATCH",
          "-dNOPAUSE",
          "-dNOPROMPT",
          "-sDEVICE=ps2write",
          "-dLanguageLevel=3",
          "-dAutoRotatePages=/None",
          "-dColorConversionStrategy=/LeaveColorUnchanged",
          "-sOutputFile=%stdout",
          "-"};
}

Result<PostscriptJob> postscript_job(std::string_view pages, PostscriptSetup const& setup) {
  auto const defect = [](char const* what) { return Error{ErrorKind::internal, std::string("the pages as PostScript have no ") + what}; };
  std::string_view const text = setup.text;
  auto const setup_begins = text.find("\n%%BeginSetup\n");
  auto const header_ends = behind_line(text, "%%EndComments");
  if (setup_begins == std::string_view::npos || header_ends == std::string_view::npos) return defect("setup to go with them");
  auto const comments_end = behind_line(pages, "%%EndComments");
  auto const prolog_ends = behind_line(pages, "%%EndProlog");
  if (comments_end == std::string_view::npos || prolog_ends == std::string_view::npos || !pages.starts_with("%!PS-Adobe-")) return defect("prolog");
  auto const asks = pages.find(kAsks);
  if (asks == std::string_view::npos || asks > prolog_ends) return defect("switch for their size");

  // The setup's header without its %%EndComments, then the pages' own header comments (bounding box, number of pages) without their
  // first line and the command that made them.
  auto const first_line = pages.find('\n') + 1;
  auto own = pages.substr(first_line, comments_end - first_line);
  PostscriptJob job;
  job.pieces = {setup.job_language, text.substr(0, header_ends - std::string_view("%%EndComments\n").size())};
  while (!own.empty()) {
    auto const line = own.substr(0, own.find('\n') + 1);
    bool const kept = line.starts_with("%%BoundingBox") || line.starts_with("%%HiResBoundingBox") || line.starts_with("%%Pages") ||
                      line.starts_with("%%EndComments");
    if (kept) job.pieces.push_back(line);
    own.remove_prefix(line.size());
  }
  if (auto const defaults = text.find("%%BeginDefaults\n"), end = behind_line(text, "%%EndDefaults");
      defaults != std::string_view::npos && end != std::string_view::npos)
    job.pieces.push_back(text.substr(defaults, end - defaults));
  job.pieces.push_back(pages.substr(comments_end, asks - comments_end));
  job.pieces.push_back(kAsksNot);
  job.pieces.push_back(pages.substr(asks + kAsks.size(), prolog_ends - asks - kAsks.size()));
  job.pieces.push_back(text.substr(setup_begins + 1));
  if (!text.ends_with('\n')) job.pieces.push_back("\n");
  job.pieces.push_back(pages.substr(prolog_ends));
  job.pieces.push_back(setup.job_language_end);
  return job;
}

}  // namespace layright
