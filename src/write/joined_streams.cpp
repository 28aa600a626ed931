#include "write/joined_streams.h"

#include <qpdf/Pl_Flate.hh>
#include <qpdf/Pl_String.hh>

#include "write/not_laid.h"

namespace layright {
namespace {

constexpr std::size_t kMostKept = std::size_t{16} << 20;
constexpr qpdf_stream_decode_level_e kUnpacked = qpdf_dl_specialized;  // also RunLength; the filters of pictures are left

std::string pack(std::vector<QPDFObjectHandle>& parts) {
  std::string packed;
  Pl_String out("packed", nullptr, packed);
  Pl_Flate flate("joined content", &out, Pl_Flate::a_deflate);
  for (auto& part : parts) {
    // A part that is damaged leaves what came before the damage, as it does for readers.
    std::string data;
    Pl_String decoded("part", nullptr, data);
    part.pipeStreamData(&decoded, 0, kUnpacked, true);
    flate.writeString(data);
    // Parts are divided between tokens, never within (7.8.2). Where a file does it all the same, in the middle of a string or of a
    // comment, this is what the reader of marks takes to stand between them; a line feed would end a comment and change a string.
    flate.writeCStr(" ");
  }
  flate.finish();
  return packed;
}

}  // namespace

void JoinedStreams::add(QPDFObjGen const& stream, std::vector<QPDFObjectHandle> parts) {
  for (auto& part : parts)
    if (!part.pipeStreamData(nullptr, 0, kUnpacked, true))
      throw NotLaid("its content comes in several pieces, and one of them is packed as only pictures are");
  parts_[stream] = std::move(parts);
}

bool JoinedStreams::provideStreamData(QPDFObjGen const& stream, Pipeline* pipeline, bool, bool) {
  auto kept = packed_.find(stream);
  auto const data = kept != packed_.end() ? std::move(kept->second) : pack(parts_.at(stream));
  if (kept != packed_.end()) {  // asked for the second time: that is the writing, which comes last
    kept_ -= data.size();
    packed_.erase(kept);
  } else if (kept_ + data.size() <= kMostKept) {
    kept_ += data.size();
    packed_.emplace(stream, data);
  }
  pipeline->writeString(data);
  pipeline->finish();
  return true;
}

}  // namespace layright
