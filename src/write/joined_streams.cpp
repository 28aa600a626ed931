#include "write/joined_streams.h"

#include <qpdf/Pl_Flate.hh>
#include <qpdf/Pl_String.hh>

namespace layright {
namespace {

constexpr std::size_t kMostKept = std::size_t{16} << 20;

std::string pack(std::vector<QPDFObjectHandle>& parts) {
  std::string packed;
  Pl_String out("packed", nullptr, packed);
  Pl_Flate flate("joined content", &out, Pl_Flate::a_deflate);
  for (auto& part : parts) {
    // A part that cannot be decoded leaves what came before it, as it does for readers.
    std::string data;
    Pl_String decoded("part", nullptr, data);
    part.pipeStreamData(&decoded, 0, qpdf_dl_generalized, true);
    flate.writeString(data);
    flate.writeCStr("\n");  // parts are divided between tokens, never within (7.8.2)
  }
  flate.finish();
  return packed;
}

}  // namespace

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
