#include "mupdf/library_objects.h"

namespace layright {

pdf_obj* LibraryLayerObjects::get(pdf_obj* dictionary, char const* key) const {
  return tried<pdf_obj*>(ctx, nullptr, [&] { return pdf_dict_gets(ctx, dictionary, key); });
}
bool LibraryLayerObjects::is_dictionary(pdf_obj* object) const {
  return tried<int>(ctx, 0, [&] { return pdf_is_dict(ctx, object); }) != 0;
}
bool LibraryLayerObjects::is_array(pdf_obj* object) const {
  return tried<int>(ctx, 0, [&] { return pdf_is_array(ctx, object); }) != 0;
}
int LibraryLayerObjects::size(pdf_obj* array) const {
  return tried<int>(ctx, 0, [&] { return pdf_array_len(ctx, array); });
}
pdf_obj* LibraryLayerObjects::at(pdf_obj* array, int i) const {
  return tried<pdf_obj*>(ctx, nullptr, [&] { return pdf_array_get(ctx, array, i); });
}
std::string LibraryLayerObjects::name(pdf_obj* object) const {
  char const* const text = tried<char const*>(ctx, nullptr, [&] { return pdf_is_name(ctx, object) ? pdf_to_name(ctx, object) : nullptr; });
  return text ? text : "";
}
std::string LibraryLayerObjects::text(pdf_obj* object) const {
  char const* const text = tried<char const*>(ctx, nullptr, [&] { return pdf_is_string(ctx, object) ? pdf_to_text_string(ctx, object) : nullptr; });
  return text ? text : "";
}
int LibraryLayerObjects::number(pdf_obj* object) const {
  return tried<int>(ctx, 0, [&] { return pdf_is_indirect(ctx, object) ? pdf_to_num(ctx, object) : pdf_obj_parent_num(ctx, object); });
}

}  // namespace layright
