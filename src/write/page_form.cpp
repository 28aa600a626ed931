#include "write/page_form.h"

#include "document/numbers.h"
#include "document/stream_filters.h"
#include "write/joined_streams.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

std::vector<Object> streams_of(Object contents) {
  std::vector<Object> streams;
  if (contents.isStream()) streams.push_back(contents);
  if (contents.isArray())
    for (auto part : contents.getArrayAsVector())
      if (part.isStream()) streams.push_back(part);
  for (auto& stream : streams) tidy_filters(stream.getDict());
  return streams;
}

/// A page's group is isolated whatever it says (ISO 32000-1, 11.4.7); a form's is so only if it says so.
Object isolated(Object group) {
  auto own = group.shallowCopy();
  own.replaceKey("/I", Object::newBool(true));
  return own;
}

}  // namespace

PageForms::PageForms(QPDF& pdf, PageTree const& tree, std::vector<Object> const& pages)
    : pdf_(pdf), tree_(tree), joined_(std::make_shared<JoinedStreams>()), type_(Object::newName("/XObject")), subtype_(Object::newName("/Form")) {
  for (auto page : pages)
    for (auto const& stream : streams_of(page.getKey("/Contents"))) ++uses_[stream.getObjGen()];
}

Object PageForms::resources(Object page, int number) {
  auto own = page.getKey("/Resources");
  if (own.isDictionary()) return own;
  auto const node = tree_.inherited_from(number, "/Resources");
  auto const known = inherited_.find(node);
  if (node >= 0 && known != inherited_.end()) return known->second;
  auto from_above = tree_.inherited(number, "/Resources");
  if (!from_above.isDictionary()) return Object::newDictionary();
  if (!from_above.isIndirect()) from_above = pdf_.makeIndirectObject(from_above);
  if (node >= 0) inherited_.emplace(node, from_above);
  return from_above;
}

Object PageForms::content_stream(Object page) {
  auto const parts = streams_of(page.getKey("/Contents"));
  if (parts.empty()) return pdf_.newStream("");
  if (parts.size() == 1) {
    auto stream = parts.front();
    // A stream that already is something else (a form that is also drawn as such) must stay that.
    bool const is_ours = uses_[stream.getObjGen()] == 1 && stream.getDict().getKey("/Subtype").isNull();
    return is_ours ? stream : stream.copyStream();
  }
  auto stream = pdf_.newStream();
  joined_->add(stream.getObjGen(), parts);
  stream.replaceStreamData(joined_, Object::newName("/FlateDecode"), Object::newNull());
  return stream;
}

Object PageForms::make(Object page, Page const& described) {
  auto form = content_stream(page);
  auto before = form.getDict();
  auto dictionary = Object::newDictionary();
  for (auto const* key : {"/Filter", "/DecodeParms", "/F", "/FFilter", "/FDecodeParms"})
    if (auto value = before.getKey(key); !value.isNull()) dictionary.replaceKey(key, value);
  dictionary.replaceKey("/Type", type_);
  dictionary.replaceKey("/Subtype", subtype_);
  auto const& seen = described.boxes.crop;
  if (seen != last_seen_) last_box_ = number_array({seen.x0, seen.y0, seen.x1, seen.y1});
  last_seen_ = seen;
  dictionary.replaceKey("/BBox", last_box_);
  dictionary.replaceKey("/Resources", resources(page, described.number));
  if (auto group = page.getKey("/Group"); group.isDictionary()) dictionary.replaceKey("/Group", isolated(group));
  form.replaceDict(dictionary);
  return form;
}

}  // namespace layright
