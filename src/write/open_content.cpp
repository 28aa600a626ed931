#include "write/open_content.h"

#include <algorithm>
#include <exception>

namespace layright {
namespace {

class Depth : public QPDFObjectHandle::ParserCallbacks {
 public:
  void handleObject(QPDFObjectHandle object) override {
    if (!object.isOperator()) return;
    auto const name = object.getOperatorValue();
    if (name == "BMC" || name == "BDC") ++open;
    if (name == "EMC") open = std::max(0, open - 1);
  }
  void handleEOF() override {}
  int open = 0;
};

}  // namespace

int open_marked_content(QPDFObjectHandle contents) {
  Depth depth;
  try {
    QPDFObjectHandle::parseContentStream(contents, &depth);
  } catch (std::exception const&) {  // damaged; up to there it counts
  }
  return depth.open;
}

}  // namespace layright
