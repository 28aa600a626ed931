#include "document/lay_record.h"

#include <array>

#include <qpdf/QPDF.hh>

#include "document/numbers.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

Object name_of(std::string const& text) { return Object::newName("/" + text); }
Object text_of(std::string const& text) { return Object::newUnicodeString(text); }
template <class Space>
Object array_of(Rect<Space> const& r) {
  return number_array({r.x0, r.y0, r.x1, r.y1});
}
template <class A, class B>
Object array_of(Matrix<A, B> const& m) {
  return number_array({m.a, m.b, m.c, m.d, m.e, m.f});
}

/// Reads values of one dictionary and remembers whether any was missing or of the wrong kind.
class Reader {
 public:
  explicit Reader(Object dictionary) : dictionary_(dictionary) {}
  bool whole() const { return whole_; }

  std::string text(char const* key) {
    auto value = dictionary_.getKey(key);
    return check(value.isString()) ? value.getUTF8Value() : "";
  }
  std::string word(char const* key) {
    auto value = dictionary_.getKey(key);
    return check(value.isName()) ? value.getName().substr(1) : "";
  }
  bool flag(char const* key) {
    auto value = dictionary_.getKey(key);
    return check(value.isBool()) && value.getBoolValue();
  }
  double number(char const* key) {
    auto const value = number_of(dictionary_.getKey(key));
    return check(value.has_value()) ? *value : 0;
  }
  template <class Space>
  Rect<Space> rect(char const* key) {
    auto const n = numbers<4>(key);
    return {n[0], n[1], n[2], n[3]};
  }
  template <class A, class B>
  Matrix<A, B> matrix(char const* key) {
    auto const n = numbers<6>(key);
    check(n[0] * n[3] != n[1] * n[2]);
    return {n[0], n[1], n[2], n[3], n[4], n[5]};
  }
  template <std::size_t N>
  std::array<double, N> numbers(char const* key) {
    auto const n = numbers_of<N>(dictionary_.getKey(key));
    return check(n.has_value()) ? *n : std::array<double, N>{};
  }
  Object any(char const* key) { return dictionary_.getKey(key); }
  bool check(bool good) {
    whole_ = whole_ && good;
    return good;
  }

 private:
  Object dictionary_;
  bool whole_ = true;
};

struct ReadingWord {
  Reading reading;
  char const* word;
};
constexpr std::array<ReadingWord, 4> kReadings{
    {{Reading::unknown, "Unknown"}, {Reading::right, "Right"}, {Reading::wrong, "Wrong"}, {Reading::mixed, "Mixed"}}};

Reading read_reading(Reader& reader) {
  auto const word = reader.word("/Reading");
  for (auto const& known : kReadings)
    if (word == known.word) return known.reading;
  reader.check(false);
  return Reading::unknown;
}

std::vector<std::string> read_accepted(Reader& reader) {
  std::vector<std::string> ids;
  auto list = reader.any("/Accepted");
  if (!reader.check(list.isArray() && list.getArrayNItems() < 1000)) return ids;
  for (auto item : list.getArrayAsVector())
    if (reader.check(item.isString())) ids.push_back(item.getUTF8Value());
  return ids;
}

LayRecord read_values(Reader& reader) {
  LayRecord record;
  record.layright = reader.text("/Version");
  record.source_sha256 = reader.text("/SourceSHA256");
  record.target = reader.text("/Target");
  record.sheet = reader.rect<SheetSpace>("/Sheet");
  record.placement = reader.matrix<SeenSpace, SheetSpace>("/Placement");
  record.scale = reader.number("/Scale");
  if (auto const turn = turn_of(static_cast<long long>(reader.number("/Turn"))); reader.check(turn.has_value())) record.turn = *turn;
  record.reversed = reader.flag("/Reversed");
  record.reading = read_reading(reader);
  record.reading_from = reader.word("/ReadingFrom");
  auto const seen = reader.numbers<2>("/SourceSeen");
  record.source_seen = {seen[0], seen[1]};
  if (!reader.any("/SourceInk").isNull()) record.source_ink = reader.rect<SeenSpace>("/SourceInk");
  record.source_trim = reader.rect<SeenSpace>("/SourceTrim");
  record.white_prints = reader.flag("/WhitePrints");
  record.accepted = read_accepted(reader);
  record.source_to_seen = reader.matrix<PageSpace, SeenSpace>("/SourceToSeen");
  return record;
}

Object values_of(LayRecord const& record) {
  auto d = Object::newDictionary();
  d.replaceKey("/Version", text_of(record.layright));
  d.replaceKey("/SourceSHA256", text_of(record.source_sha256));
  d.replaceKey("/Target", text_of(record.target));
  d.replaceKey("/Sheet", array_of(record.sheet));
  d.replaceKey("/Placement", array_of(record.placement));
  d.replaceKey("/Scale", Object::newReal(exact_number(record.scale)));
  d.replaceKey("/Turn", Object::newInteger(degrees(record.turn)));
  d.replaceKey("/Reversed", Object::newBool(record.reversed));
  for (auto const& known : kReadings)
    if (known.reading == record.reading) d.replaceKey("/Reading", name_of(known.word));
  d.replaceKey("/ReadingFrom", name_of(record.reading_from.empty() ? "none" : record.reading_from));
  d.replaceKey("/SourceSeen", number_array({record.source_seen.width, record.source_seen.height}));
  if (record.source_ink) d.replaceKey("/SourceInk", array_of(*record.source_ink));
  d.replaceKey("/SourceTrim", array_of(record.source_trim));
  d.replaceKey("/WhitePrints", Object::newBool(record.white_prints));
  auto accepted = Object::newArray();
  for (auto const& id : record.accepted) accepted.appendItem(text_of(id));
  d.replaceKey("/Accepted", accepted);
  d.replaceKey("/SourceToSeen", array_of(record.source_to_seen));
  return d;
}

bool still_matches(PageTree const& tree, int number, Reader& reader, std::optional<PageDigests>& digests) {
  auto const wanted = reader.text("/Digest");
  auto decoded = reader.any("/Decoded");
  if (!decoded.isArray() || decoded.getArrayNItems() > 10'000) return false;
  auto streams = decoded.getArrayAsVector();
  for (auto stream : streams)
    if (!stream.isStream()) return false;
  auto page = Object(tree.page(number)).shallowCopy();
  for (auto const* key : {"/Resources", "/MediaBox", "/CropBox", "/Rotate"}) page.replaceKey(key, tree.inherited(number, key));
  if (!digests) digests.emplace();
  try {
    return wanted == digests->of(page, streams);
  } catch (std::length_error const&) {
    return false;
  }
}

}  // namespace

std::optional<LayRecord> read_record(PageTree const& tree, int number, std::optional<PageDigests>& digests) {
  auto pieces = Object(tree.page(number)).getKey("/PieceInfo");
  auto own = pieces.isDictionary() ? pieces.getKey("/layright") : Object::newNull();
  auto values = own.isDictionary() ? own.getKey("/Private") : Object::newNull();
  if (!values.isDictionary()) return std::nullopt;
  Reader reader(values);
  auto record = read_values(reader);
  if (!reader.whole()) return std::nullopt;
  record.holds = still_matches(tree, number, reader, digests);
  return record;
}

void write_record(QPDFObjectHandle page, LayRecord const& record, std::string const& date, PageDigests& digests) {
  StreamList decoded;
  auto values = values_of(record);
  values.replaceKey("/Digest", text_of(digests.of_new(page, decoded)));
  values.replaceKey("/Decoded", Object::newArray(decoded));
  auto own = Object::newDictionary();
  own.replaceKey("/LastModified", Object::newString(date));
  own.replaceKey("/Private", values);
  auto pieces = Object::newDictionary();
  pieces.replaceKey("/layright", own);
  page.replaceKey("/PieceInfo", pieces);
  page.replaceKey("/LastModified", Object::newString(date));
}

}  // namespace layright
