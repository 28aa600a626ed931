#include "write/laid_document.h"

#include <algorithm>
#include <array>

#include <qpdf/Pl_String.hh>

#include "base/version.h"
#include "document/stream_filters.h"
#include "write/claims.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

// So many pages a node of the page tree: readers find page 10,000 in two steps.
constexpr std::size_t kPagesANode = 100;
// A packet of metadata larger than this is left as it is; our own.

Object viewer_preferences() {  // ISO 32000-1, Table 150
  auto preferences = Object::newDictionary();
  preferences.replaceKey("/PrintScaling", Object::newName("/None"));
  preferences.replaceKey("/PickTrayByPDFSize", Object::newBool(true));
  preferences.replaceKey("/Duplex", Object::newName("/Simplex"));
  return preferences;
}

std::string escaped_for_xml(std::string const& text) {
  std::string out;
  for (char const c : text) out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '"' ? "&quot;" : std::string(1, c);
  return out;
}

/// Replaces what stands between `before` and `after`; false where they are not both there, exactly once.
bool replace_between(std::string& text, std::string const& before, std::string const& after, std::string const& value) {
  auto const at = text.find(before);
  if (at == std::string::npos || text.find(before, at + 1) != std::string::npos) return false;
  auto const from = at + before.size();
  auto const to = text.find(after, from);
  if (to == std::string::npos || text.find('<', from) < to) return false;
  text.replace(from, to - from, value);
  return true;
}

Object node_of(QPDF& pdf, std::vector<Object> const& kids, int count) {
  auto node = pdf.makeIndirectObject(Object::newDictionary());
  node.replaceKey("/Type", Object::newName("/Pages"));
  node.replaceKey("/Kids", Object::newArray(kids));
  node.replaceKey("/Count", Object::newInteger(count));
  for (auto kid : kids) kid.replaceKey("/Parent", node);
  return node;
}

/// Levels of nodes until one is left.
Object nodes_of(QPDF& pdf, std::vector<Object> const& kids, std::vector<int> const& counts) {
  std::vector<Object> nodes;
  std::vector<int> node_counts;
  for (std::size_t at = 0; at < kids.size() || nodes.empty(); at += kPagesANode) {
    auto const end = std::min(at + kPagesANode, kids.size());
    int count = 0;
    for (auto i = at; i < end; ++i) count += counts[i];
    nodes.push_back(node_of(pdf, {kids.begin() + static_cast<std::ptrdiff_t>(at), kids.begin() + static_cast<std::ptrdiff_t>(end)}, count));
    node_counts.push_back(count);
  }
  return nodes.size() == 1 ? nodes.front() : nodes_of(pdf, nodes, node_counts);
}

}  // namespace

std::string producer() { return std::string("layright ") + program_version(); }

std::string date_of(QPDF& pdf) {
  auto info = pdf.getTrailer().getKey("/Info");
  for (auto const* key : {"/ModDate", "/CreationDate"}) {
    auto date = info.isDictionary() ? info.getKey(key) : Object::newNull();
    if (date.isString() && date.getStringValue().substr(0, 2) == "D:" && date.getStringValue().size() < 32) return date.getStringValue();
  }
  return "D:20000101000000Z";
}

void clear_catalog(QPDF& pdf) {
  constexpr std::array<std::string_view, 7> kKept{"/Type", "/Version", "/Extensions", "/Metadata", "/Lang", "/OutputIntents", "/OCProperties"};
  auto catalog = pdf.getRoot();
  for (auto const& key : catalog.getKeys())
    if (std::find(kKept.begin(), kKept.end(), key) == kKept.end()) catalog.removeKey(key);
  if (auto metadata = catalog.getKey("/Metadata"); metadata.isStream()) tidy_filters(metadata.getDict());
  auto intents = catalog.getKey("/OutputIntents");
  for (int i = 0; intents.isArray() && i < intents.getArrayNItems(); ++i) {
    auto intent = intents.getArrayItem(i);
    auto profile = intent.isDictionary() ? intent.getKey("/DestOutputProfile") : Object::newNull();
    if (profile.isStream()) tidy_filters(profile.getDict());
  }
  catalog.replaceKey("/Type", Object::newName("/Catalog"));
  catalog.replaceKey("/ViewerPreferences", viewer_preferences());
  auto trailer = pdf.getTrailer();
  for (auto const& key : trailer.getKeys())
    if (key != "/Root" && key != "/Info" && key != "/ID" && key != "/Size" && key != "/Encrypt") trailer.removeKey(key);
}

void name_producer(QPDF& pdf) {
  auto trailer = pdf.getTrailer();
  auto info = trailer.getKey("/Info");
  if (!info.isDictionary()) {
    info = pdf.makeIndirectObject(Object::newDictionary());
    trailer.replaceKey("/Info", info);
  }
  info.replaceKey("/Producer", Object::newUnicodeString(producer()));

  auto metadata = pdf.getRoot().getKey("/Metadata");
  if (!metadata.isStream()) return;
  std::string packet;
  Pl_String out("metadata", nullptr, packet);
  if (!metadata.pipeStreamData(&out, 0, qpdf_dl_generalized, true) || packet.size() > kMostMetadata) return;
  auto const before = packet;
  auto const name = escaped_for_xml(producer());
  bool const reported = replace_between(packet, "<pdf:Producer>", "</pdf:Producer>", name) || replace_between(packet, "pdf:Producer=\"", "\"", name);
  if (reported && packet != before) metadata.replaceStreamData(packet, Object::newNull(), Object::newNull());
}

void set_pages(QPDF& pdf, std::vector<Object> const& pages) {
  pdf.getRoot().replaceKey("/Pages", nodes_of(pdf, pages, std::vector<int>(pages.size(), 1)));
}

}  // namespace layright
