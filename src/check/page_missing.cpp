// A person who asks for page 5 of 3 has another file in mind.
#include "check/rows.h"
#include "check/trouble.h"

namespace layright {

Finding missing_page_finding(int number, int page_count) {
  Finding f{.check = "page.missing", .level = Level::hold};
  f.message = "there is no page " + std::to_string(number) + ": the file has " + std::to_string(page_count) + (page_count == 1 ? " page" : " pages") +
              "; look whether it is the right file, or change --pages";
  f.measured = {{"page_count", static_cast<double>(page_count)}};
  f.wanted = {{"page_number", static_cast<double>(number)}};
  return f;
}

CheckInfo page_missing() {
  return {.id = "page.missing",
          .levels = "hold",
          .title = "a page that was asked for is not in the file",
          .measures = "the page numbers that were asked for (--pages)",
          .limit = "the number of pages in the file",
          .source = "our own",
          .does_not_cover = "pages that are there and cannot be read (file.damaged, page.boxes)",
          .explain =
              "Pages can be chosen with --pages. If the file has no page of that number, something is wrong with the order or with the file: it "
              "may be the wrong one, or a shorter version. The other pages are checked all the same, but the file is held until a "
              "person has looked."};
}

}  // namespace layright
