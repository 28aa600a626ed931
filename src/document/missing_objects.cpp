#include "document/missing_objects.h"

#include <set>
#include <stdexcept>

#include <qpdf/Pl_Discard.hh>

namespace layright {
namespace {

// Keys that lead away from what a page paints: up the tree, to other pages, to the structure of the text.
bool leads_away(std::string const& key) {
  return key == "/Parent" || key == "/P" || key == "/Dest" || key == "/A" || key == "/AA" || key == "/StructParent" || key == "/Popup" ||
         key == "/IRT" || key == "/PieceInfo" || key == "/B" || key == "/Thumb" || key == "/Metadata";
}

/// Throws once a stream has grown beyond reason, so that a bomb costs no more than that.
class Bounded : public Pl_Discard {
 public:
  void write(unsigned char const*, std::size_t count) override {
    static constexpr std::size_t kMost = std::size_t{64} << 20;
    seen_ += count;
    if (seen_ > kMost) throw std::length_error("stream beyond reason");
  }

 private:
  std::size_t seen_ = 0;
};

/// Troubles of decoding come out as warnings of the library; a bomb is no loss.
void decode(QPDFObjectHandle stream) {
  try {
    Bounded sink;
    stream.pipeStreamData(&sink, 0, qpdf_dl_generalized);
  } catch (std::length_error const&) {
  }
}

}  // namespace

void find_missing_objects(PageTree const& tree, Repairs& repairs) {
  std::set<QPDFObjGen> seen;
  std::vector<QPDFObjectHandle> waiting;
  long missing = 0;
  auto const push = [&](QPDFObjectHandle value) {
    if (value.isIndirect()) {
      if (value.isNull()) ++missing;
      if (!seen.insert(value.getObjGen()).second) return;
    }
    if (value.isArray() || value.isDictionary() || value.isStream()) waiting.push_back(value);
  };
  for (int number = 1; number <= tree.count(); ++number) {
    push(tree.page(number));
    push(tree.inherited(number, "/Resources"));
  }
  while (!waiting.empty()) {
    auto object = waiting.back();
    waiting.pop_back();
    if (object.isArray()) {
      for (auto const& item : object.getArrayAsVector()) push(item);
      continue;
    }
    if (object.isStream()) decode(object);
    auto dictionary = object.isStream() ? object.getDict() : object;
    for (auto const& [key, value] : QPDFObjectHandle(dictionary).getDictAsMap())
      if (!leads_away(key)) push(value);
  }
  // A reference to nothing is sound (ISO 32000-1, 7.3.10) where the table of what is where is the file's own.
  if (missing > 0 && repairs.rebuilt()) repairs.add("something that a page uses is not in the file", true);
}

}  // namespace layright
