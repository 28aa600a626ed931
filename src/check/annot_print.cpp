// The appearance of an annotation is what prints (ISO 32000-1, 12.5.5).
#include "check/annotation_words.h"
#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

Finding finding(Level level, int count, std::string message) {
  Finding f{.check = "annot.print", .level = level, .message = std::move(message)};
  f.measured = {{"count", static_cast<double>(count)}};
  f.wanted = {{"count", 0.0}};
  return f;
}

std::vector<Finding> annot_print_findings(PageView const& view) {
  std::vector<Finding> reported;
  Page const& page = view.page;
  if (int const n = page.annotations_losing_words; n > 0) reported.push_back(finding(Level::hold, n, lost_words_message(n)));
  if (int const n = page.printing_annotations; n > 0)
    reported.push_back(finding(Level::note, n,
                               counted(n, "annotation prints", "annotations print") + " (notes, stamps, form fields or the like): look whether " +
                                   (n == 1 ? "it belongs" : "they belong") + " to the art; `lay` makes " + (n == 1 ? "it" : "them") +
                                   " part of the page"));
  if (int const n = page.annotations_left_out; n > 0)
    reported.push_back(
        finding(Level::note, n,
                counted(n, "annotation that prints brings no picture of itself", "annotations that print bring no picture of themselves") +
                    " (sticky notes, attachments or the like): each program shows a sign of its own there, and `lay` leaves " +
                    (n == 1 ? "it" : "them") + " out"));
  return reported;
}

}  // namespace

std::string lost_words_message(int count) {
  bool const one = count == 1;
  return counted(count, "annotation that prints", "annotations that print") + (one ? " shows" : " show") +
         " words (free text, a stamp or a form field) and " + (one ? "brings no picture of itself" : "bring no picture of themselves") +
         ", so each program shows " + (one ? "it" : "them") + " in its own way: have " + (one ? "it" : "them") +
         " made part of the page by the program that made " + (one ? "it" : "them") + ", or leave " + (one ? "it" : "them") +
         " out with --accept annot.print";
}

CheckInfo annot_print() {
  return {.id = "annot.print",
          .levels = "note; hold where words would be lost",
          .title = "annotations print",
          .measures = "annotations whose Print flag is set and that are not hidden, counted by what becomes of them",
          .limit = "none; no words may be lost",
          .source = "ISO 32000-1, 12.5.3, Table 165; 12.5.5",
          .does_not_cover = "what they look like (they count as ink like all that prints)",
          .explain =
              "Comments, stamps, highlights, links with a border and form fields lie over the page, and each says by itself whether it prints. "
              "A customer's remark in the corner would be printed onto the film. layright counts what prints as ink; `lay` makes it part of "
              "the page and leaves the other annotations out. If they should not print, delete them in a viewer and save the file. An "
              "annotation brings a picture of itself; where that is missing each program makes one up. `lay` then draws lines, shapes, "
              "highlights, plain fields and the border of links as the standard describes them, and leaves out the signs of sticky notes and "
              "attachments. A page whose text, stamp or field would lose its words is held; --accept annot.print lays it without them.",
          .page = annot_print_findings};
}

}  // namespace layright
