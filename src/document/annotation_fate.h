// What becomes of an annotation when its page is laid.
#pragma once
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

enum class AnnotationFate {
  stays_away,   // it does not print, or leaves no mark
  joins_page,   // its appearance, its shape or its border is drawn on the laid page
  left_out,     // it prints, but each program makes up what it looks like, and no words are lost: a note's sign, an attachment's pin
  loses_words,  // the same, and it shows words: free text, a stamp, a field that cannot be drawn as it was meant
};
AnnotationFate fate_of(QPDFObjectHandle annotation);

/// The value of a form field's key, which may stand on a field above (ISO 32000-1, 12.7.3.1), or null.
QPDFObjectHandle field_value(QPDFObjectHandle field, std::string const& key);

}  // namespace layright
