#include "document/lay_record.h"

#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <stdexcept>

#include <qpdf/QPDF.hh>

#include "document/numbers.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

// The values are kept as lines of text, "key value value", in one string: an array of reals would cost the PDF library some
// 200 bytes of memory a number, for every page.

template <class Space>
std::vector<double> figures(Rect<Space> const& r) {
  return {r.x0, r.y0, r.x1, r.y1};
}
template <class A, class B>
std::vector<double> figures(Matrix<A, B> const& m) {
  return {m.a, m.b, m.c, m.d, m.e, m.f};
}

class LineWriter {
 public:
  void text(char const* key, std::string value) {
    for (char& c : value)
      if (c == '\n' || c == '\r') c = ' ';
    lines_ += std::string(key) + " " + value + "\n";
  }
  void numbers(char const* key, std::vector<double> const& values) {
    lines_ += key;
    for (double const value : values) lines_ += " " + exact_number(value);
    lines_ += "\n";
  }
  std::string const& lines() const { return lines_; }

 private:
  std::string lines_;
};

/// Reads the lines back and remembers whether any was missing or malformed.
class LineReader {
 public:
  explicit LineReader(std::string const& text) {
    for (std::size_t at = 0; at < text.size();) {
      auto const end = std::min(text.find('\n', at), text.size());
      auto const gap = std::min(text.find(' ', at), end);
      values_.emplace(text.substr(at, gap - at), gap < end ? text.substr(gap + 1, end - gap - 1) : "");
      at = end + 1;
    }
  }
  bool whole() const { return whole_; }
  bool has(char const* key) const { return values_.count(key) > 0; }
  bool check(bool good) {
    whole_ = whole_ && good;
    return good;
  }

  std::string text(char const* key) {
    auto const found = values_.find(key);
    return check(found != values_.end()) ? found->second : "";
  }
  std::vector<std::string> texts(char const* key) const {
    std::vector<std::string> all;
    for (auto [at, end] = values_.equal_range(key); at != end; ++at) all.push_back(at->second);
    return all;
  }
  template <std::size_t N>
  std::array<double, N> numbers(char const* key) {
    std::array<double, N> out{};
    auto const line = text(key);
    auto const* at = line.data();
    auto const* const end = at + line.size();
    for (auto& value : out) {
      while (at < end && *at == ' ') ++at;
      auto const read = std::from_chars(at, end, value, std::chars_format::fixed);
      if (!check(read.ec == std::errc{} && std::isfinite(value))) return {};
      at = read.ptr;
    }
    return out;
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
  bool flag(char const* key) {
    auto const value = text(key);
    check(value == "yes" || value == "no");
    return value == "yes";
  }

 private:
  std::multimap<std::string, std::string, std::less<>> values_;
  bool whole_ = true;
};

struct ReadingWord {
  Reading reading;
  char const* word;
};
constexpr std::array<ReadingWord, 4> kReadings{
    {{Reading::unknown, "unknown"}, {Reading::right, "right"}, {Reading::wrong, "wrong"}, {Reading::mixed, "mixed"}}};

Reading read_reading(LineReader& lines) {
  auto const word = lines.text("reading");
  for (auto const& known : kReadings)
    if (word == known.word) return known.reading;
  lines.check(false);
  return Reading::unknown;
}

LayRecord read_values(LineReader& lines) {
  LayRecord record;
  record.layright = lines.text("layright");
  record.source_sha256 = lines.text("source-sha256");
  record.target = lines.text("target");
  record.sheet = lines.rect<SheetSpace>("sheet");
  record.placement = lines.matrix<SeenSpace, SheetSpace>("placement");
  if (lines.has("correction")) record.correction = lines.matrix<SheetSpace, SheetSpace>("correction");
  record.scale = lines.numbers<1>("scale")[0];
  auto const turn = lines.numbers<1>("turn")[0];
  if (lines.check(turn == 0 || turn == 90 || turn == 180 || turn == 270)) record.turn = static_cast<Turn>(static_cast<int>(turn));
  record.reversed = lines.flag("reversed");
  record.reversed_later = lines.has("reversed-later");
  record.reading = read_reading(lines);
  record.reading_from = lines.text("reading-from");
  auto const seen = lines.numbers<2>("source-seen");
  record.source_seen = {seen[0], seen[1]};
  record.ink_known = !lines.has("source-ink-unknown");
  if (lines.has("source-ink")) record.source_ink = lines.rect<SeenSpace>("source-ink");
  record.source_trim = lines.rect<SeenSpace>("source-trim");
  record.white_prints = lines.flag("white-prints");
  record.other_ink_known = lines.has("other-ink") || lines.has("other-ink-none");
  if (lines.has("other-ink")) record.other_ink = lines.rect<SeenSpace>("other-ink");
  if (lines.has("plate")) record.plate = lines.text("plate");
  record.is_plate = lines.has("is-plate");
  record.accepted = lines.texts("accepted");
  record.source_to_seen = lines.matrix<PageSpace, SeenSpace>("source-to-seen");
  return record;
}

std::string lines_of(LayRecord const& record) {
  LineWriter lines;
  lines.text("layright", record.layright);
  lines.text("source-sha256", record.source_sha256);
  lines.text("target", record.target);
  lines.numbers("sheet", figures(record.sheet));
  lines.numbers("placement", figures(record.placement));
  if (record.correction != Matrix<SheetSpace, SheetSpace>{}) lines.numbers("correction", figures(record.correction));
  lines.numbers("scale", {record.scale});
  lines.numbers("turn", {static_cast<double>(degrees(record.turn))});
  lines.text("reversed", record.reversed ? "yes" : "no");
  if (record.reversed_later) lines.text("reversed-later", "yes");
  for (auto const& known : kReadings)
    if (known.reading == record.reading) lines.text("reading", known.word);
  lines.text("reading-from", record.reading_from);
  lines.numbers("source-seen", {record.source_seen.width, record.source_seen.height});
  if (!record.ink_known) lines.text("source-ink-unknown", "yes");
  if (record.source_ink) lines.numbers("source-ink", figures(*record.source_ink));
  lines.numbers("source-trim", figures(record.source_trim));
  lines.text("white-prints", record.white_prints ? "yes" : "no");
  if (record.other_ink) lines.numbers("other-ink", figures(*record.other_ink));
  else if (record.other_ink_known) lines.text("other-ink-none", "yes");
  if (!record.plate.empty()) lines.text("plate", record.plate);
  if (record.is_plate) lines.text("is-plate", "yes");
  for (auto const& id : record.accepted) lines.text("accepted", id);
  lines.numbers("source-to-seen", figures(record.source_to_seen));
  return lines.lines();
}

bool still_matches(PageTree const& tree, int number, Object values, std::optional<PageDigests>& digests) {
  auto wanted = values.getKey("/Digest");
  auto decoded = values.getKey("/Decoded");
  if (!wanted.isString()) return false;
  if (!decoded.isArray() || decoded.getArrayNItems() > 10'000) return false;
  auto streams = decoded.getArrayAsVector();
  for (auto stream : streams)
    if (!stream.isStream()) return false;
  auto page = Object(tree.page(number)).shallowCopy();
  for (auto const* key : {"/Resources", "/MediaBox", "/CropBox", "/Rotate"}) page.replaceKey(key, tree.inherited(number, key));
  if (!digests) digests.emplace();
  try {
    return wanted.getStringValue() == digests->of(page, streams);
  } catch (std::length_error const&) {
    return false;
  }
}

}  // namespace

std::optional<LayRecord> read_record(PageTree const& tree, int number, std::optional<PageDigests>& digests) {
  auto page = tree.page(number);
  if (!page.hasKey("/PieceInfo")) return std::nullopt;
  auto pieces = page.getKey("/PieceInfo");
  auto own = pieces.isDictionary() ? pieces.getKey("/layright") : Object::newNull();
  auto values = own.isDictionary() ? own.getKey("/Private") : Object::newNull();
  if (!values.isDictionary() || !values.getKey("/Record").isString()) return std::nullopt;
  LineReader lines(values.getKey("/Record").getStringValue());
  auto record = read_values(lines);
  if (!lines.whole()) return std::nullopt;
  record.holds = still_matches(tree, number, values, digests);
  return record;
}

void write_record(QPDFObjectHandle page, LayRecord const& record, QPDFObjectHandle date, PageDigests& digests) {
  StreamList decoded;
  auto values = Object::newDictionary();
  values.replaceKey("/Record", Object::newString(lines_of(record)));
  values.replaceKey("/Digest", Object::newString(digests.of_new(page, decoded)));
  values.replaceKey("/Decoded", Object::newArray(decoded));
  auto own = Object::newDictionary();
  own.replaceKey("/LastModified", date);
  own.replaceKey("/Private", values);
  auto pieces = Object::newDictionary();
  pieces.replaceKey("/layright", own);
  page.replaceKey("/PieceInfo", pieces);
  page.replaceKey("/LastModified", date);
}

}  // namespace layright
