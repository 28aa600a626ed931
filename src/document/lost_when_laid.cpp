#include "document/lost_when_laid.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

bool has_items(Object value) {
  if (value.isArray()) return value.getArrayNItems() > 0;
  return value.isDictionary() && !value.getKeys().empty();
}

Object member(Object dictionary, char const* key) { return dictionary.isDictionary() ? dictionary.getKey(key) : Object::newNull(); }

/// A name or number tree with something in it (ISO 32000-1, 7.9.6, 7.9.7).
bool has_leaves(Object tree, char const* leaves) { return has_items(member(tree, "/Kids")) || has_items(member(tree, leaves)); }

bool is_signed(Object form) {
  auto flags = member(form, "/SigFlags");
  return flags.isInteger() && (flags.getIntValue() & 1) != 0;  // Table 219: at least one field is a signature
}

}  // namespace

std::vector<std::string> lost_when_laid(Object catalog, bool has_links) {
  std::vector<std::string> lost;
  auto const note = [&](bool there, char const* what) {
    if (there) lost.emplace_back(what);
  };
  auto form = member(catalog, "/AcroForm");
  auto names = member(catalog, "/Names");
  auto structure = member(catalog, "/StructTreeRoot");
  note(structure.isDictionary(), "tags (the structure tree)");                                                                   // 14.7
  note(has_items(member(member(catalog, "/Outlines"), "/First")), "bookmarks");                                                  // 12.3.3
  note(has_links, "links");                                                                                                      // 12.5.6.5
  note(has_items(member(form, "/Fields")) || member(form, "/XFA").isArray() || member(form, "/XFA").isStream(), "form fields");  // 12.7.2
  note(is_signed(form), "digital signatures");                                                                                   // 12.8
  note(has_leaves(member(catalog, "/PageLabels"), "/Nums"), "page labels");                                                      // 12.4.2
  note(has_items(member(catalog, "/Dests")) || has_leaves(member(names, "/Dests"), "/Names"), "named destinations");             // 12.3.2.3
  note(has_items(member(catalog, "/Threads")), "article threads");                                                               // 12.4.3
  note(has_leaves(member(names, "/EmbeddedFiles"), "/Names"), "attachments");                                                    // 7.11.4
  return lost;
}

}  // namespace layright
