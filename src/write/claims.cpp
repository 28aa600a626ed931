#include "write/claims.h"

#include <array>
#include <string>
#include <vector>

#include <qpdf/Pl_String.hh>

namespace layright {
namespace {

using Object = QPDFObjectHandle;

// A packet of metadata larger than this is not edited; our own.

// What names a claim in XMP, by local name and the namespaces of the standards: ISO 19005-1, 6.7.11; ISO 14289-1, 5; ISO 15930-7, 6.17. From memory.
constexpr std::array<char const*, 1> kPdfUa{"http://www.aiim.org/pdfua/ns/id/"};
constexpr std::array<char const*, 1> kPdfA{"http://www.aiim.org/pdfa/ns/id/"};
constexpr std::array<char const*, 2> kPdfX{"http://www.npes.org/pdfx/ns/id/", "http://ns.adobe.com/pdfx/1.3/"};

/// The prefixes that the packet binds to a namespace.
std::vector<std::string> prefixes_of(std::string const& packet, char const* space) {
  std::vector<std::string> prefixes;
  std::string const uri = space;
  for (auto at = packet.find(uri); at != std::string::npos; at = packet.find(uri, at + 1)) {
    auto const end = packet.find_last_not_of(" \t\r\n=", at < 2 ? 0 : at - 2);
    auto const start = packet.rfind("xmlns:", end);
    if (end == std::string::npos || start == std::string::npos || end - start > 60) continue;
    auto const name = packet.substr(start + 6, end - start - 5);
    if (!name.empty() && name.find_first_of(" \t\r\n\"'<>=") == std::string::npos) prefixes.push_back(name + ":");
  }
  return prefixes;
}

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }
bool is_name(char c) { return !is_space(c) && c != '=' && c != '>' && c != '/' && c != '<' && c != '"' && c != '\''; }

/// Takes out the element that begins at `at` ("<name"), with what is in it; false where its end is not found.
bool erase_element(std::string& packet, std::size_t at, std::string const& name) {
  auto const open_end = packet.find('>', at);
  if (open_end == std::string::npos) return false;
  auto end = open_end + 1;
  if (packet[open_end - 1] != '/') {
    auto const close = packet.find("</" + name, open_end);
    end = close == std::string::npos ? close : packet.find('>', close);
    if (end == std::string::npos) return false;
    ++end;
  }
  packet.erase(at, end - at);
  return true;
}

/// Takes out the attribute whose name begins at `at` and ends at `end`; false where it is none.
bool erase_attribute(std::string& packet, std::size_t at, std::size_t end) {
  while (end < packet.size() && is_space(packet[end])) ++end;
  if (end >= packet.size() || packet[end] != '=') return false;
  ++end;
  while (end < packet.size() && is_space(packet[end])) ++end;
  if (end >= packet.size() || (packet[end] != '"' && packet[end] != '\'')) return false;
  auto const close = packet.find(packet[end], end + 1);
  if (close == std::string::npos) return false;
  packet.erase(at, close + 1 - at);
  return true;
}

/// Every property whose name begins with `prefix` ("pdfaid:"), as an element or as an attribute. False where one stays.
bool erase_properties(std::string& packet, std::string const& prefix, std::string const& of_name) {
  std::string const begins = prefix + of_name;
  for (auto at = packet.find(begins); at != std::string::npos; at = packet.find(begins, at)) {
    auto end = at;
    while (end < packet.size() && (is_name(packet[end]) || packet[end] == ':')) ++end;
    auto const name = packet.substr(at, end - at);
    bool const element = at > 0 && packet[at - 1] == '<';
    bool const attribute = at > 0 && is_space(packet[at - 1]);
    if (!element && !attribute) {
      ++at;
      continue;
    }
    if (!(element ? erase_element(packet, at - 1, name) : erase_attribute(packet, at, end))) return false;
    at = at > 0 ? at - 1 : 0;
  }
  return true;
}

template <std::size_t N>
bool erase_claim(std::string& packet, std::array<char const*, N> const& spaces, std::string const& of_name) {
  bool done = true;
  for (auto const* space : spaces)
    for (auto const& prefix : prefixes_of(packet, space)) done = erase_properties(packet, prefix, of_name) && done;
  return done;
}

/// Whether the packet names a claim at all, also in a way that is not understood.
bool names(std::string const& packet, char const* what) { return packet.find(what) != std::string::npos; }

}  // namespace

void take_out_claims(QPDF& pdf, KeptClaims const& kept) {
  auto info = pdf.getTrailer().getKey("/Info");
  if (!kept.pdfx && info.isDictionary())
    for (auto const* key : {"/GTS_PDFXVersion", "/GTS_PDFXConformance"}) info.removeKey(key);
  auto metadata = pdf.getRoot().getKey("/Metadata");
  if (!metadata.isStream()) return;
  std::string packet;
  Pl_String out("metadata", nullptr, packet);
  bool const read = metadata.pipeStreamData(&out, 0, qpdf_dl_generalized, true) && packet.size() <= kMostMetadata;
  auto const before = packet;
  bool edited = read && erase_claim(packet, kPdfUa, "");
  if (!kept.pdfa) edited = edited && erase_claim(packet, kPdfA, "");
  if (!kept.pdfx) edited = edited && erase_claim(packet, kPdfX, "GTS_PDFX");
  // What is left, in another encoding or under a name without its namespace, would still be read by many as a claim.
  bool const left =
      names(packet, "pdfuaid:part") || (!kept.pdfa && names(packet, "pdfaid:part")) || (!kept.pdfx && names(packet, ":GTS_PDFXVersion"));
  bool const odd = read && packet.find('\0') != std::string::npos &&
                   (packet.find("<\0", 0, 2) != std::string::npos || packet.find("\0<", 0, 2) != std::string::npos);
  if (!edited || left || odd) {
    pdf.getRoot().removeKey("/Metadata");
  } else if (packet != before) {
    metadata.replaceStreamData(packet, Object::newNull(), Object::newNull());
  }
}

}  // namespace layright
