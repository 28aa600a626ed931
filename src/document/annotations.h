// Which annotations print (ISO 32000-1, 12.5.3), and which actions run, launch or send something (12.6.4).
#pragma once
#include <qpdf/QPDFObjectHandle.hh>

#include "document/page.h"

namespace layright {

/// A border as wide as it is drawn (ISO 32000-1, 12.5.4, and Table 164): 0 where none is drawn.
double border_width(QPDFObjectHandle annotation);
/// A colour of no components: what it would colour is not drawn (Table 164).
bool border_is_clear(QPDFObjectHandle annotation);
/// The normal appearance in its present state (12.5.5), or null.
QPDFObjectHandle normal_appearance(QPDFObjectHandle annotation);
/// Print flag set, not hidden, no pop-up: whether or not it would leave a mark.
bool has_print_flag(QPDFObjectHandle annotation);
/// The action, or one that follows it, runs a script, starts a program, or sends or fetches data.
bool is_active_action(QPDFObjectHandle action);
/// Any active action of a page or an annotation: its A or its AA.
bool has_active_action(QPDFObjectHandle owner);
/// Fills in what `page` tells of its annotations and actions. Whether one of them is a link that leads somewhere.
bool read_annotations(QPDFObjectHandle dictionary, Page& page);

}  // namespace layright
