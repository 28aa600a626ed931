#include "write/open_content.h"

#include <algorithm>
#include <exception>
#include <memory>
#include <string>

#include <qpdf/BufferInputSource.hh>
#include <qpdf/Pl_String.hh>
#include <qpdf/QPDFTokenizer.hh>

namespace layright {
namespace {

/// Tokens, not objects: numbers that no program can hold are tokens all the same.
int count(std::string const& content) {
  std::shared_ptr<InputSource> const input = std::make_shared<BufferInputSource>("content", content);
  QPDFTokenizer tokens;
  tokens.allowEOF();
  int open = 0;
  for (;;) {
    auto const token = tokens.readToken(input, "content", true);
    if (token.getType() == QPDFTokenizer::tt_eof) return open;
    if (token.getType() != QPDFTokenizer::tt_word) continue;
    auto const& word = token.getValue();
    if (word == "BMC" || word == "BDC") ++open;
    if (word == "EMC") open = std::max(0, open - 1);
    if (word == "ID") tokens.expectInlineImage(input);
  }
}

}  // namespace

int open_marked_content(QPDFObjectHandle page) {
  std::string content;
  try {
    Pl_String out("content", nullptr, content);
    page.pipePageContents(&out);
  } catch (std::exception const&) {  // damaged; up to there it counts
  }
  try {
    return count(content);
  } catch (std::exception const&) {
    return 0;
  }
}

}  // namespace layright
