#include "document/art_walk.h"

#include <algorithm>
#include <set>

#include "document/annotations.h"
#include "document/icc_profile.h"

namespace layright {
namespace {

QPDFObjectHandle member(QPDFObjectHandle dictionary, std::string const& key) {
  if (dictionary.isStream()) dictionary = dictionary.getDict();
  return dictionary.isDictionary() ? dictionary.getKey(key) : QPDFObjectHandle::newNull();
}

std::string without_subset_mark(std::string name) {
  if (name.starts_with('/')) name.erase(0, 1);
  auto const capital = [](char c) { return c >= 'A' && c <= 'Z'; };
  if (name.size() > 7 && name[6] == '+' && std::all_of(name.begin(), name.begin() + 6, capital)) name.erase(0, 7);
  return name;
}

std::string name_of(QPDFObjectHandle object) { return object.isName() ? object.getName() : std::string(); }

FontEntry font_entry(QPDFObjectHandle font) {
  FontEntry entry;
  auto described = font;
  if (name_of(member(font, "/Subtype")) == "/Type0") {
    auto descendants = member(font, "/DescendantFonts");
    if (descendants.isArray() && descendants.getArrayNItems() > 0) described = descendants.getArrayItem(0);
  }
  entry.type3 = name_of(member(font, "/Subtype")) == "/Type3";
  entry.name = without_subset_mark(name_of(member(described, entry.type3 ? "/Name" : "/BaseFont")));
  if (entry.name.empty()) entry.name = without_subset_mark(name_of(member(font, "/BaseFont")));
  auto const descriptor = member(described, "/FontDescriptor");
  for (auto const* key : {"/FontFile", "/FontFile2", "/FontFile3"}) entry.embedded = entry.embedded || member(descriptor, key).isStream();
  entry.embedded = entry.embedded || entry.type3;
  return entry;
}

/// "NAME" of NAME="1" or NAME>1< in XMP (ISO 16684-1): the value as written.
std::string xmp_value(std::string const& text, std::string const& name) {
  auto at = text.find(name);
  while (at != std::string::npos) {
    auto start = text.find_first_not_of(" \t\r\n=", at + name.size());
    if (start != std::string::npos && (text[start] == '"' || text[start] == '\'' || text[start] == '>')) {
      auto const end = text.find_first_of("\"'<", start + 1);
      if (end != std::string::npos && end - start < 40) return text.substr(start + 1, end - start - 1);
    }
    at = text.find(name, at + 1);
  }
  return {};
}

}  // namespace

struct ArtWalk::Walk {
  ArtWalk& owner;
  ArtStructure found{};
  std::set<QPDFObjGen> visited{};
  std::vector<QPDFObjectHandle> resources{};
  int left = kMostObjects;

  bool first_time(QPDFObjectHandle object) {
    if (left-- <= 0) return false;
    return !object.isIndirect() || visited.insert(object.getObjGen()).second;
  }

  template <class Each>
  void each(QPDFObjectHandle dictionary, Each&& each) {
    if (!dictionary.isDictionary()) return;
    for (auto const& key : dictionary.getKeys()) {
      if (left <= 0) return;
      auto item = dictionary.getKey(key);
      if (first_time(item)) each(item);
    }
  }

  void font(QPDFObjectHandle object) {
    if (!object.isDictionary()) return;
    auto entry = font_entry(object);
    if (entry.type3) resources.push_back(member(object, "/Resources"));
    if (std::find(found.fonts.begin(), found.fonts.end(), entry) == found.fonts.end()) found.fonts.push_back(std::move(entry));
  }

  void space(QPDFObjectHandle object, int depth = 0) {
    if (!object.isArray() || object.getArrayNItems() < 2 || depth > 4) return;
    auto const family = name_of(object.getArrayItem(0));
    if (family == "/ICCBased") {
      auto const profile = owner.profile(object.getArrayItem(1));
      if (std::find(found.profiles.begin(), found.profiles.end(), profile) == found.profiles.end()) found.profiles.push_back(profile);
    } else if (family == "/Indexed" || family == "/Pattern") {
      space(object.getArrayItem(1), depth + 1);
    } else if ((family == "/Separation" || family == "/DeviceN") && object.getArrayNItems() > 2) {
      space(object.getArrayItem(2), depth + 1);
    }
  }

  void form(QPDFObjectHandle object) {
    if (!object.isStream()) return;
    space(member(member(object, "/Group"), "/CS"));
    resources.push_back(member(object, "/Resources"));
  }

  void drawn(QPDFObjectHandle object) {
    if (!object.isStream()) return;
    if (name_of(member(object, "/Subtype")) == "/Form") return form(object);
    space(member(object, "/ColorSpace"));
    auto alternates = member(object, "/Alternates");
    if (alternates.isArray() && alternates.getArrayNItems() > 0) ++found.alternates;
  }

  void run() {
    while (!resources.empty() && left > 0) {
      auto r = resources.back();
      resources.pop_back();
      if (!r.isDictionary() || !first_time(r)) continue;
      each(member(r, "/Font"), [&](QPDFObjectHandle o) { font(o); });
      each(member(r, "/ColorSpace"), [&](QPDFObjectHandle o) { space(o); });
      each(member(r, "/XObject"), [&](QPDFObjectHandle o) { drawn(o); });
      each(member(r, "/Shading"), [&](QPDFObjectHandle o) { space(member(o, "/ColorSpace")); });
      each(member(r, "/Pattern"), [&](QPDFObjectHandle o) {
        if (o.isStream()) resources.push_back(member(o, "/Resources"));
        else space(member(member(o, "/Shading"), "/ColorSpace"));
      });
      each(member(r, "/ExtGState"), [&](QPDFObjectHandle o) {
        if (auto list = member(o, "/Font"); list.isArray() && list.getArrayNItems() > 0) font(list.getArrayItem(0));
        if (auto group = member(member(o, "/SMask"), "/G"); group.isStream() && first_time(group)) form(group);
      });
    }
  }
};

ProfileEntry ArtWalk::profile(QPDFObjectHandle stream) {
  if (!stream.isStream()) return {{}, 0, "there is none"};
  auto const known = stream.isIndirect() ? profiles_.find(stream.getObjGen()) : profiles_.end();
  if (known != profiles_.end()) return known->second;
  auto entry = read_profile(stream);
  if (stream.isIndirect()) profiles_[stream.getObjGen()] = entry;
  return entry;
}

ArtStructure ArtWalk::page(QPDFObjectHandle dictionary, QPDFObjectHandle resources) {
  Walk walk{*this};
  walk.resources.push_back(resources);
  if (auto annotations = member(dictionary, "/Annots"); annotations.isArray()) {
    int const count = std::min(annotations.getArrayNItems(), kMostObjects);
    for (int i = 0; i < count; ++i) {
      auto annotation = annotations.getArrayItem(i);
      if (!annotation.isDictionary() || !has_print_flag(annotation)) continue;
      auto appearance = normal_appearance(annotation);
      if (appearance.isStream() && walk.first_time(appearance)) walk.form(appearance);
    }
  }
  walk.run();
  return std::move(walk.found);
}

FileArt ArtWalk::file(QPDFObjectHandle catalog, QPDFObjectHandle info) {
  FileArt art;
  if (auto version = member(info, "/GTS_PDFXVersion"); version.isString()) art.pdfx = version.getUTF8Value();
  if (auto metadata = member(catalog, "/Metadata"); metadata.isStream()) {
    auto const xmp = stream_text(metadata, 1 << 20);
    if (art.pdfx.empty()) art.pdfx = xmp_value(xmp, "pdfxid:GTS_PDFXVersion");
    if (art.pdfx.empty()) art.pdfx = xmp_value(xmp, "pdfx:GTS_PDFXVersion");
    art.pdfa = xmp_value(xmp, "pdfaid:part");
    art.pdfa_level = xmp_value(xmp, "pdfaid:conformance");
    art.pdfua = xmp_value(xmp, "pdfuaid:part");
  }
  auto intents = member(catalog, "/OutputIntents");
  int const count = intents.isArray() ? std::min(intents.getArrayNItems(), 100) : 0;
  for (int i = 0; i < count; ++i) {
    auto intent = intents.getArrayItem(i);
    if (!intent.isDictionary()) continue;
    OutputIntent one;
    one.kind = name_of(member(intent, "/S"));
    if (one.kind.starts_with('/')) one.kind.erase(0, 1);
    for (auto const* key : {"/OutputConditionIdentifier", "/OutputCondition"})
      if (auto text = member(intent, key); one.condition.empty() && text.isString()) one.condition = text.getUTF8Value();
    if (auto stream = member(intent, "/DestOutputProfile"); stream.isStream()) one.profile = profile(stream);
    art.intents.push_back(std::move(one));
  }
  return art;
}

}  // namespace layright
