#include "document/annotations.h"

#include <algorithm>
#include <array>
#include <exception>
#include <set>
#include <string_view>

#include "document/annotation_fate.h"
#include "document/numbers.h"

namespace layright {
namespace {

// ISO 32000-1, Table 165.
constexpr long long kHidden = 1 << 1, kPrint = 1 << 2;

/// Nothing but white space; false where it cannot be unpacked.
bool is_blank(QPDFObjectHandle stream) {
  try {
    auto const data = stream.getStreamData(qpdf_dl_generalized);
    auto const* begin = data->getBuffer();
    return std::all_of(begin, begin + data->getSize(), [](unsigned char c) { return c <= ' '; });
  } catch (std::exception const&) {
    return false;
  }
}

}  // namespace

double border_width(QPDFObjectHandle annotation) {
  if (auto style = annotation.getKey("/BS"); style.isDictionary()) {
    auto const width = number_of(style.getKey("/W"));
    return width ? std::max(0.0, *width) : 1;
  }
  if (auto border = annotation.getKey("/Border"); border.isArray()) {
    auto const width = border.getArrayNItems() < 3 ? std::nullopt : number_of(border.getArrayItem(2));
    return width ? std::max(0.0, *width) : 0;
  }
  return 1;
}

bool border_is_clear(QPDFObjectHandle annotation) {
  auto colour = annotation.getKey("/C");
  return colour.isArray() && colour.getArrayNItems() == 0;
}

QPDFObjectHandle normal_appearance(QPDFObjectHandle annotation) {
  auto appearances = annotation.getKey("/AP");
  if (!appearances.isDictionary()) return QPDFObjectHandle::newNull();
  auto normal = appearances.getKey("/N");
  if (normal.isStream()) {
    // Some programs give every link an appearance with nothing in it, and readers draw the border all the same.
    bool const none = annotation.getKey("/Subtype").isNameAndEquals("/Link") && is_blank(normal);
    return none ? QPDFObjectHandle::newNull() : normal;
  }
  auto state = annotation.getKey("/AS");
  if (!normal.isDictionary() || !state.isName()) return QPDFObjectHandle::newNull();
  auto chosen = normal.getKey(state.getName());
  return chosen.isStream() ? chosen : QPDFObjectHandle::newNull();
}

bool has_print_flag(QPDFObjectHandle annotation) {
  if (!annotation.isDictionary()) return false;
  auto flags = annotation.getKey("/F");
  auto const bits = flags.isInteger() ? flags.getIntValue() : 0;
  return (bits & kPrint) && !(bits & kHidden) && !annotation.getKey("/Subtype").isNameAndEquals("/Popup");
}

bool is_active_action(QPDFObjectHandle action) {
  constexpr std::array<std::string_view, 7> active{"/JavaScript", "/Launch", "/SubmitForm",      "/ImportData",
                                                   "/Rendition",  "/GoToE",  "/RichMediaExecute"};
  std::set<QPDFObjGen> seen;
  for (int steps = 0; steps < 100 && action.isDictionary(); ++steps) {
    auto kind = action.getKey("/S");
    if (kind.isName() && std::find(active.begin(), active.end(), kind.getName()) != active.end()) return true;
    auto next = action.getKey("/Next");
    if (next.isArray()) {
      int const count = std::min(next.getArrayNItems(), 100);
      for (int i = 0; i < count; ++i) {
        auto one = next.getArrayItem(i);
        auto one_kind = one.isDictionary() ? one.getKey("/S") : QPDFObjectHandle::newNull();
        if (one_kind.isName() && std::find(active.begin(), active.end(), one_kind.getName()) != active.end()) return true;
      }
      return false;
    }
    if (next.isIndirect() && !seen.insert(next.getObjGen()).second) return false;
    action = next;
  }
  return false;
}

bool has_active_action(QPDFObjectHandle owner) {
  if (owner.hasKey("/A") && is_active_action(owner.getKey("/A"))) return true;
  auto triggers = owner.hasKey("/AA") ? owner.getKey("/AA") : QPDFObjectHandle::newNull();
  if (!triggers.isDictionary()) return false;
  for (auto const& key : triggers.getKeys())
    if (is_active_action(triggers.getKey(key))) return true;
  return false;
}

bool read_annotations(QPDFObjectHandle dictionary, Page& page) {
  page.active_content = has_active_action(dictionary);
  auto annotations = dictionary.hasKey("/Annots") ? dictionary.getKey("/Annots") : QPDFObjectHandle::newNull();
  if (!annotations.isArray()) return false;
  bool link = false;
  for (auto annotation : annotations.getArrayAsVector()) {
    if (!annotation.isDictionary()) continue;
    link = link || (annotation.getKey("/Subtype").isNameAndEquals("/Link") && (annotation.hasKey("/A") || annotation.hasKey("/Dest")));
    auto const fate = fate_of(annotation);
    if (fate == AnnotationFate::joins_page) ++page.printing_annotations;
    if (fate == AnnotationFate::left_out) ++page.annotations_left_out;
    if (fate == AnnotationFate::loses_words) ++page.annotations_losing_words;
    page.active_content = page.active_content || has_active_action(annotation);
  }
  return link;
}

}  // namespace layright
