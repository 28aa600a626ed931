// The page setup as PostScript: a fragment that stands before a job, with the comments of the Document Structuring Conventions.
#pragma once
#include <string>

#include "base/result.h"
#include "setup/ppd.h"
#include "setup/setting.h"
#include "sheet/target.h"

namespace layright {

/// PLRM 3, 6.2.1 and 6.2.7: what a device does when no medium has the size that was asked for. 3 and 4 scale without a word, 5 and 6
/// may clip or centre, 1 prints on whatever is there; those are never sent.
enum class SizePolicy { refuse = 0, ask_operator = 2, no_selection = 7 };

struct PostscriptSetup {
  std::string job_language, job_language_end;  // what the PPD puts around the PostScript, or empty
  std::string text;                            // from %!PS-Adobe-3.0 to %%EndSetup
  std::vector<Finding> findings;
};

/// For any PostScript printer, from the target alone.
PostscriptSetup postscript_setup(Target const& target, std::string const& title);
/// The PPD's own code for `setup` (which it gave last), and what that leaves unsaid.
PostscriptSetup postscript_setup(Target const& target, std::string const& title, Ppd const& ppd, PressSetup const& setup);

/// A PostScript string literal (PLRM 3, 3.2.2) of ASCII bytes only; other bytes as octal escapes.
std::string postscript_string(std::string_view text);
/// The PageSize policies that a piece of PostScript sets, in order.
std::vector<int> page_size_policies(std::string_view code);

}  // namespace layright
