// Turns a page's own content into one form XObject that paints the same: ISO 32000-1, 8.10.
#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <vector>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

#include "document/page.h"
#include "document/page_tree.h"

namespace layright {

class JoinedStreams;

class PageForms {
 public:
  /// `pages`: the pages that will be made into forms; streams that several of them share are copied.
  PageForms(QPDF& pdf, PageTree const& tree, std::vector<QPDFObjectHandle> const& pages);

  /// The form of `page`, which must still be as it came. Its stream becomes the form where that is possible: only its dictionary
  /// changes, its data are not looked at.
  QPDFObjectHandle make(QPDFObjectHandle page, Page const& described);
  /// What the page's content names, its own or inherited; shared by pages that inherit it. A dictionary, empty if there is none.
  QPDFObjectHandle resources(QPDFObjectHandle page, int number);

 private:
  QPDFObjectHandle content_stream(QPDFObjectHandle page);

  QPDF& pdf_;
  PageTree const& tree_;
  std::map<QPDFObjGen, int> uses_;                      // of content streams
  std::map<std::int32_t, QPDFObjectHandle> inherited_;  // resources by the node they come from
  std::shared_ptr<JoinedStreams> joined_;
  QPDFObjectHandle type_, subtype_;  // one object each for all forms, and for a run of pages of one size: less memory
  Rect<PageSpace> last_seen_;
  QPDFObjectHandle last_box_;
};

}  // namespace layright
