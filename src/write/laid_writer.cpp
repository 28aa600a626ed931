#include "write/laid_writer.h"

#include <cstddef>
#include <span>
#include <vector>

#include <qpdf/Pipeline.hh>
#include <qpdf/QPDFWriter.hh>

namespace layright {
namespace {

/// Hands what the library writes in small pieces on in large ones. Once the sink wants no more, the rest goes nowhere: throwing
/// through the library would end in one of its destructors.
class SinkPipeline : public Pipeline {
 public:
  explicit SinkPipeline(ByteSink const& sink) : Pipeline("output", nullptr), sink_(sink) { waiting_.reserve(kPiece); }
  void write(unsigned char const* data, std::size_t count) override {
    if (waiting_.size() + count > kPiece) flush();
    if (count >= kPiece) {
      hand_on({reinterpret_cast<std::byte const*>(data), count});
    } else {
      auto const* bytes = reinterpret_cast<std::byte const*>(data);
      waiting_.insert(waiting_.end(), bytes, bytes + count);
    }
  }
  void finish() override { flush(); }
  bool gave_up() const { return gave_up_; }

 private:
  static constexpr std::size_t kPiece = std::size_t{256} << 10;
  void flush() {
    if (!waiting_.empty()) hand_on(waiting_);
    waiting_.clear();
  }
  void hand_on(std::span<std::byte const> bytes) {
    if (!gave_up_) gave_up_ = !sink_(bytes);
  }

  ByteSink const& sink_;
  bool gave_up_ = false;
  std::vector<std::byte> waiting_;
};

}  // namespace

Outcome write_laid_file(QPDF& pdf, bool keep_version, ByteSink const& sink) {
  SinkPipeline output(sink);
  QPDFWriter writer(pdf);
  writer.setOutputPipeline(&output);
  writer.setStreamDataMode(qpdf_s_preserve);
  writer.setDecodeLevel(qpdf_dl_none);
  writer.setObjectStreamMode(qpdf_o_disable);
  writer.setPreserveEncryption(false);
  writer.setDeterministicID(true);
  writer.setMinimumPDFVersion(keep_version ? "1.3" : "1.7");
  writer.write();
  return output.gave_up() ? Outcome(Error{ErrorKind::io, "writing the laid file was broken off"}) : done();
}

}  // namespace layright
