#include "document/open_file.h"

#include <algorithm>

#include <qpdf/QPDFExc.hh>

namespace layright {

OpenFile::OpenFile(std::span<std::byte const> bytes, std::string name, std::string password)
    : bytes_(bytes), name_(std::move(name)), password_(std::move(password)) {
  open();
}

void OpenFile::open() {
  pdf_.reset();
  pdf_ = std::make_unique<QPDF>();
  pdf_->setSuppressWarnings(true);
  pdf_->setAttemptRecovery(true);
  try {
    pdf_->processMemoryFile(name_.c_str(), reinterpret_cast<char const*>(bytes_.data()), bytes_.size(), password_.c_str());
  } catch (QPDFExc const& error) {
    // A password is for several files, of which some open without one.
    if (error.getErrorCode() != qpdf_e_password || password_.empty()) throw;
    password_.clear();
    open();
  }
}

void OpenFile::expect_pages(long long count) { between_ = std::max(between_, count / 8); }

void OpenFile::page_was_read() {
  // Where something had to be repaired, opening is slow, and what was repaired would be told twice.
  if (++since_ < between_ || pinned_ || pdf_->anyWarnings()) return;
  since_ = 0;
  open();
}

}  // namespace layright
