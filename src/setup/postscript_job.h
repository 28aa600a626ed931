// A whole job as PostScript: the page setup, and the pages as Ghostscript writes them, in one file by the Document Structuring
// Conventions.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "setup/postscript.h"

namespace layright {

/// What turns a laid PDF on standard input into PostScript on standard output (Ghostscript, by its own manual: ps2write).
std::vector<std::string> postscript_words();

/// Puts the setup into the pages' file where the conventions want it: the setup's header comments, the pages' prolog, the setup's
/// features, the pages. The pieces are views into `pages` and `setup`, to be written one after another. The pages' own request for a page
/// size is taken out: the setup asks once, with policies that refuse. Error (internal) when `pages` is not of the expected form.
struct PostscriptJob {
  std::vector<std::string_view> pieces;
};
Result<PostscriptJob> postscript_job(std::string_view pages, PostscriptSetup const& setup);

}  // namespace layright
