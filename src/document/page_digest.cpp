#include "document/page_digest.h"

#include <array>
#include <stdexcept>

#include <qpdf/Pipeline.hh>
#include <qpdf/Pl_Discard.hh>
#include <qpdf/QPDF.hh>

#include "document/stream_filters.h"

namespace layright {
namespace {

// Deeper nesting of resources is no page but an attack; our own.
constexpr std::size_t kMostDepth = 400;
// A laid page's own content is a few hundred bytes; our own.
constexpr long long kMostContent = 1 << 20;

bool is_container(QPDFObjectHandle object) { return object.isArray() || object.isDictionary() || object.isStream(); }

/// Keys that are about the object's place or history, not about what it shows.
bool is_left_out(std::string const& key) {
  return key == "/Parent" || key == "/PieceInfo" || key == "/LastModified" || key == "/StructParent" || key == "/StructParents";
}

class HashPipeline : public Pipeline {
 public:
  explicit HashPipeline(Sha256& hash) : Pipeline("digest", nullptr), hash_(hash) {}
  void write(unsigned char const* data, std::size_t count) override { hash_.add(data, count); }
  void finish() override {}

 private:
  Sha256& hash_;
};

template <class Each>
void each_child(QPDFObjectHandle object, Each&& each) {
  if (object.isArray()) {
    for (auto const& item : object.getArrayAsVector()) each(item);
  } else if (object.isDictionary() || object.isStream()) {
    auto dictionary = object.isStream() ? object.getDict() : object;
    for (auto const& [key, value] : dictionary.getDictAsMap())
      if (!is_left_out(key)) each(value);
  }
}

struct LoopFound {};

/// In the order of the walk, which is the same whatever numbers the objects have.
std::vector<QPDFObjGen> each_once(std::vector<QPDFObjGen> const& ids) {
  std::vector<QPDFObjGen> kept;
  std::set<QPDFObjGen> seen;
  for (auto const& id : ids)
    if (seen.insert(id).second) kept.push_back(id);
  return kept;
}

/// Rewriting unpacks metadata, whatever packs them, so that other programs can find them.
constexpr qpdf_stream_decode_level_e kLevelOfMetadata = qpdf_dl_all;

bool can_be_unpacked(QPDFObjectHandle stream, qpdf_stream_decode_level_e level) {
  Pl_Discard nowhere;
  return stream.pipeStreamData(&nowhere, 0, level, true);
}

/// The filters that rewriting leaves alone: see StreamList.
bool is_kept_by_rewriting(QPDFObjectHandle stream) {
  if (is_metadata(stream.getDict())) return !can_be_unpacked(stream, kLevelOfMetadata);
  auto filter = stream.getDict().getKey("/Filter");
  if (filter.isNameAndEquals("/FlateDecode") || filter.isNameAndEquals("/Fl")) return true;
  return !can_be_unpacked(stream, qpdf_dl_generalized);
}

}  // namespace

bool PageDigests::counts_decoded(QPDFObjectHandle stream) {
  auto const id = stream.getObjGen();
  auto const known = decoded_.find(id);
  bool const decoded = known != decoded_.end() ? known->second : choosing_ && !is_kept_by_rewriting(stream);
  if (known == decoded_.end() && choosing_) decoded_[id] = decoded;
  if (decoded) used_.push_back(id);
  return decoded;
}

bool PageDigests::leads_to_loop(QPDFObjectHandle object, std::size_t depth) {
  if (!is_container(object)) return false;
  if (depth > kMostDepth) throw std::length_error("resources nested too deep");
  if (object.isIndirect()) {
    auto const [at, is_new] = shapes_.emplace(object.getObjGen(), Shape::open);
    if (!is_new) return at->second != Shape::tree;
  }
  bool loop = false;
  each_child(object, [&](QPDFObjectHandle child) { loop = leads_to_loop(child, depth + 1) || loop; });
  if (object.isIndirect()) shapes_[object.getObjGen()] = loop ? Shape::loop : Shape::tree;
  return loop;
}

void PageDigests::feed(Sha256& hash, QPDFObjectHandle object) {
  if (!object.isIndirect() || !is_container(object)) return feed_value(hash, object);
  auto const id = object.getObjGen();
  if (has_loops_ && leads_to_loop(object, 0)) {
    auto const [at, is_new] = visits_.emplace(id, visits_.size());
    if (!is_new) return hash.add("again " + std::to_string(at->second) + "\n");
    return feed_value(hash, object);
  }
  auto known = known_.find(id);
  if (known == known_.end()) {
    if (open_.size() > kMostDepth) throw std::length_error("resources nested too deep");
    if (!open_.insert(id).second) throw LoopFound{};
    Sha256 own;
    auto const used_before = used_.size();
    feed_value(own, object);
    open_.erase(id);
    Known fresh{own.finish(), each_once({used_.begin() + static_cast<std::ptrdiff_t>(used_before), used_.end()})};
    known = known_.emplace(id, std::move(fresh)).first;
  } else {
    used_.insert(used_.end(), known->second.decoded.begin(), known->second.decoded.end());
  }
  hash.add("object ");
  hash.add(known->second.digest.data(), known->second.digest.size());
}

void PageDigests::feed_dictionary(Sha256& hash, QPDFObjectHandle dictionary, bool of_stream, bool by_decoded) {
  hash.add("<<");
  auto const written = of_stream && !by_decoded ? without_crypt(dictionary) : dictionary;
  for (auto const& [key, value] : QPDFObjectHandle(written).getDictAsMap()) {
    if (is_left_out(key) || QPDFObjectHandle(value).isNull()) continue;
    if (of_stream && key == "/Length") continue;
    if (by_decoded && (key == "/Filter" || key == "/DecodeParms")) continue;
    hash.add(key);
    hash.add(" ");
    feed(hash, value);
  }
  hash.add(">>");
}

void PageDigests::feed_stream(Sha256& hash, QPDFObjectHandle stream) {
  if (choosing_) tidy_filters(stream.getDict());
  bool const by_decoded = counts_decoded(stream);
  hash.add("stream ");
  feed_dictionary(hash, stream.getDict(), true, by_decoded);
  HashPipeline data(hash);
  stream.pipeStreamData(&data, 0, by_decoded ? (is_metadata(stream.getDict()) ? kLevelOfMetadata : qpdf_dl_generalized) : qpdf_dl_none, true);
}

void PageDigests::feed_value(Sha256& hash, QPDFObjectHandle object) {
  switch (object.getTypeCode()) {
    case ::ot_stream: return feed_stream(hash, object);
    case ::ot_dictionary: return feed_dictionary(hash, object, false, false);
    case ::ot_array:
      hash.add("[");
      for (auto const& item : object.getArrayAsVector()) feed(hash, item);
      return hash.add("]");
    case ::ot_string: {  // its value: how it is escaped may change
      auto const text = object.getStringValue();
      return hash.add("(" + std::to_string(text.size()) + " " + text + ")");
    }
    default: break;
  }
  hash.add(object.isNull() ? "null" : object.unparseResolved());
  hash.add(" ");
}

std::string PageDigests::digest(QPDFObjectHandle page) {
  has_loops_ = false;  // hardly any page has one: so it is hashed as if it had none, and only where one is met, once more
  try {
    return walk(page);
  } catch (LoopFound const&) {
    has_loops_ = true;
    return walk(page);
  }
}

std::string PageDigests::walk(QPDFObjectHandle page) {
  constexpr std::array<char const*, 9> kKeys{"/MediaBox", "/CropBox",  "/BleedBox", "/TrimBox",  "/ArtBox",
                                             "/Rotate",   "/UserUnit", "/Group",    "/Resources"};
  visits_.clear();
  open_.clear();
  used_.clear();
  Sha256 hash;
  hash.add("layright page\n");
  for (auto const* key : kKeys) {
    hash.add(std::string(key) + " ");
    if (page.hasKey(key)) feed(hash, page.getKey(key));
    else hash.add("null ");
  }
  auto annotations = page.getKey("/Annots");
  hash.add(annotations.isArray() && annotations.getArrayNItems() > 0 ? "annotated " : "plain ");
  auto contents = page.getKey("/Contents");
  auto const parts = contents.isArray() ? contents.getArrayAsVector() : std::vector<QPDFObjectHandle>{contents};
  for (auto part : parts) {
    if (!part.isStream()) continue;
    auto length = part.getDict().getKey("/Length");
    if (length.isInteger() && length.getIntValue() > kMostContent) throw std::length_error("no laid page has so much content");
    HashPipeline data(hash);
    part.pipeStreamData(&data, 0, qpdf_dl_generalized, true);
    hash.add("\n");
  }
  return hexadecimal(hash.finish());
}

std::string PageDigests::of(QPDFObjectHandle page, StreamList const& decoded) {
  choosing_ = false;
  for (auto const& stream : decoded) decoded_[stream.getObjGen()] = true;
  return digest(page);
}

std::string PageDigests::of_new(QPDFObjectHandle page, StreamList& decoded) {
  choosing_ = true;
  auto const result = digest(page);
  decoded.clear();
  for (auto const& id : each_once(used_)) decoded.push_back(page.getOwningQPDF()->getObjectByObjGen(id));
  return result;
}

}  // namespace layright
