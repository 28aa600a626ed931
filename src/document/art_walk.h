// Walks what a page names, for its fonts, colour profiles and alternates.
#pragma once
#include <map>

#include <qpdf/QPDFObjectHandle.hh>

#include "document/art_structure.h"

namespace layright {

/// Keeps what it has learnt of profiles, since pages share them and they are large.
class ArtWalk {
 public:
  /// Of a page with these resources. Looks at no more than kMostObjects. May throw what the library throws.
  ArtStructure page(QPDFObjectHandle dictionary, QPDFObjectHandle resources);
  /// Of the catalog and the information dictionary.
  FileArt file(QPDFObjectHandle catalog, QPDFObjectHandle info);

 private:
  static constexpr int kMostObjects = 5000;
  struct Walk;
  ProfileEntry profile(QPDFObjectHandle stream);
  std::map<QPDFObjGen, ProfileEntry> profiles_;
};

}  // namespace layright
