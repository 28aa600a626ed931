#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_feed_findings(PageView const& view) {
  Page const& page = view.page;
  if (!can_be_seen(page) || sheet_match(page.seen, view.target) != SheetMatch::other_way) return {};
  auto const sheet = view.target.sheet.page();
  bool const short_edge = view.target.sheet.feed == Feed::short_edge;
  return {size_finding("page.feed",
                       "the page lies the other way: it is " + size_text(page.seen.width, page.seen.height, view.unit) +
                           " as seen, and the sheet feeds " + (short_edge ? "short" : "long") + " edge first, so it must be " +
                           size_text(sheet.width(), sheet.height(), view.unit) + "; `lay` writes a page that lies right",
                       view)};
}

}  // namespace

CheckInfo page_feed() {
  return {.id = "page.feed",
          .levels = "fix",
          .title = "the size is right but the other edge would feed first",
          .measures = "width and height of what is seen of the page, in points",
          .limit = "the sheet as a page: short edge across for a short-edge feed, long edge across for a long-edge feed (sheet, feed)",
          .source = "PWG 5100.13, media-source-feed-direction; feeding film by its short edge is common practice, no published source",
          .does_not_cover = "pages of other sizes (page.size); a square sheet, which has one way only",
          .explain =
              "The page has the sheet's two sides, but the wrong way round: 17 x 8.5 in where the sheet goes in with its short edge first. "
              "Printers and their drivers then turn the art by themselves, clockwise or counterclockwise as they please, or ask for a sheet "
              "that does not exist. `lay` writes the page so that it lies as the sheet feeds, turned by a quarter turn where the art needs "
              "it (--turn decides which). A square sheet cannot lie the wrong way.",
          .page = page_feed_findings};
}

}  // namespace layright
