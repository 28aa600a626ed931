// A digest of all that a page shows. It stays the same when the file is rewritten without changing the page (objects renumbered,
// packed, linearised, encrypted), and changes with the content, the boxes, Rotate, or anything the page's resources lead to.
#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

#include "base/sha256.h"

namespace layright {

/// Rewriting keeps the data of streams whose one filter is Flate, or that it cannot decode; all others may come out packed anew. So
/// those are digested by their decoded data, and the record names them: after a rewriting they could not be told from the rest.
using StreamList = std::vector<QPDFObjectHandle>;

/// Digests pages of one file; what pages share is read once. Throws what the library throws, and std::length_error for what is too
/// deep or too large to be a page that layright laid.
class PageDigests {
 public:
  /// `page` with its inherited values resolved. Streams in `decoded` count by their decoded data.
  std::string of(QPDFObjectHandle page, StreamList const& decoded);
  /// The same for a page that is about to be written, choosing by itself which streams count by their decoded data: these come out in
  /// `decoded`. The parameters of filters are tidied on the way (stream_filters.h): rewriting would change odd ones.
  std::string of_new(QPDFObjectHandle page, StreamList& decoded);

 private:
  enum class Shape { open, tree, loop };  // being looked at; leads to no loop; leads to one
  struct Known {
    Digest digest;
    std::vector<QPDFObjGen> decoded;
  };
  std::string digest(QPDFObjectHandle page);
  std::string walk(QPDFObjectHandle page);
  bool leads_to_loop(QPDFObjectHandle object, std::size_t depth);
  void feed(Sha256& hash, QPDFObjectHandle object);
  void feed_value(Sha256& hash, QPDFObjectHandle object);
  void feed_dictionary(Sha256& hash, QPDFObjectHandle dictionary, bool of_stream, bool by_decoded);
  void feed_stream(Sha256& hash, QPDFObjectHandle stream);
  bool counts_decoded(QPDFObjectHandle stream);

  bool choosing_ = false, has_loops_ = false;
  std::set<QPDFObjGen> open_;           // being hashed just now
  std::map<QPDFObjGen, bool> decoded_;  // whether a stream counts by its decoded data
  std::map<QPDFObjGen, Shape> shapes_;
  std::map<QPDFObjGen, Known> known_;         // of objects that lead to no loop
  std::map<QPDFObjGen, std::size_t> visits_;  // within one page, of objects that lead to a loop
  std::vector<QPDFObjGen> used_;              // streams that counted decoded so far
};

}  // namespace layright
