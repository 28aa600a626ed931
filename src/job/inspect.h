// What is done with one file behind the sandbox: page after page is read, checked, and told to the parent.
#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "check/check.h"
#include "document/document.h"
#include "job/plan_page.h"
#include "marks/reader.h"
#include "reading/letters.h"
#include "reading/shared_letters.h"
#include "report/page_report.h"

namespace layright {

/// Some of a document's pages, as the person wrote them: "1-3,7". Empty: all.
class PageChoice {
 public:
  /// Error (usage) for anything but numbers from 1 and ranges of them.
  static Result<PageChoice> parse(std::string_view text);
  bool all() const { return ranges_.empty(); }
  bool has(int number) const;
  /// The chosen numbers above `page_count`, first of each range only.
  std::vector<int> beyond(int page_count) const;

 private:
  std::vector<std::pair<int, int>> ranges_;
};

struct InspectOptions {
  Target target;
  Unit unit = Unit::inch;
  Selection selection;
  std::optional<Reading> incoming;  // a person's word: right or wrong
  PageChoice pages;
  std::string password;
  bool report_images = false;                       // for `lay` too, which does not ask by itself
  bool weed_unasked = false;                        // look for what does not weed in short files, though no check that does is named
  bool inks = false;                                // tell how much of each ink a page takes, whatever checks ask for it
  int picture_side = 0;                             // draw each page, its longer side so many pixels; 0: do not
  bool check_letters = false;                       // look for letters even where a person has said how the page reads
  std::shared_ptr<SharedLetters> shared_letters{};  // absent: each child loads its own engine
};

/// A page, with what `lay` makes of it.
struct InspectedPage {
  PageReport report;
  PagePlan plan;
  std::optional<bool> claims_hold;  // whether the page keeps what its file claims; nothing where that was not looked at
  bool asks_letters = false;        // nothing cheaper told how it reads, and no engine was there to read its letters
};

/// What a page is read with.
struct PageTools {
  MarksReader* marks = nullptr;     // absent where the selection wants no marks
  LetterEngine* letters = nullptr;  // absent until a page asks for it
  MarkListener* trace = nullptr;
  FileArt const* file_art = nullptr;          // absent where no check of the art asks
  int not_to_weed = 0;                        // the page whose drawing, which nobody had asked for, has broken a process
  std::function<void()> before_weeding = {};  // is called before a drawing that nobody has asked for; may be empty
};

/// Reads and checks one page. With `for_lay` all that a placement needs is looked at, whatever the selection.
InspectedPage inspect_page(Document const& document, PageTools const& tools, int number, InspectOptions const& options, bool for_lay);

}  // namespace layright
