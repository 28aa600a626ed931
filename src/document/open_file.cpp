#include "document/open_file.h"

#include <algorithm>

#include <qpdf/Buffer.hh>
#include <qpdf/BufferInputSource.hh>
#include <qpdf/QPDFExc.hh>

namespace layright {
namespace {

constexpr std::size_t kBetween = 32u << 20;

/// Bytes in memory, that tells when many have been read.
class ReadOnSource : public BufferInputSource {
 public:
  ReadOnSource(std::string const& name, std::span<std::byte const> bytes, std::function<void()> const& read_on)
      : BufferInputSource(name, new Buffer(reinterpret_cast<unsigned char*>(const_cast<std::byte*>(bytes.data())), bytes.size()), true),
        read_on_(read_on) {}
  size_t read(char* into, size_t length) override {
    auto const got = BufferInputSource::read(into, length);
    since_ += got;
    if (since_ >= kBetween && read_on_) read_on_(), since_ = 0;
    return got;
  }

 private:
  std::function<void()> const& read_on_;
  std::size_t since_ = 0;
};

}  // namespace

OpenFile::OpenFile(std::span<std::byte const> bytes, std::string name, std::string password, std::function<void()> read_on)
    : bytes_(bytes), name_(std::move(name)), password_(std::move(password)), read_on_(std::move(read_on)) {
  open();
}

void OpenFile::open() {
  pdf_.reset();
  pdf_ = std::make_unique<QPDF>();
  pdf_->setSuppressWarnings(true);
  pdf_->setAttemptRecovery(true);
  try {
    pdf_->processInputSource(std::make_shared<ReadOnSource>(name_, bytes_, read_on_), password_.c_str());
  } catch (QPDFExc const& error) {
    // A password is for several files, of which some open without one.
    if (error.getErrorCode() != qpdf_e_password || password_.empty()) throw;
    password_.clear();
    open();
  }
}

void OpenFile::expect_pages(long long count) { between_ = std::max(between_, count / 8); }

void OpenFile::page_was_read() {
  // Where something had to be repaired, opening is slow, and what was repaired would be reported twice.
  if (++since_ < between_ || pinned_ || pdf_->anyWarnings()) return;
  since_ = 0;
  open();
}

}  // namespace layright
