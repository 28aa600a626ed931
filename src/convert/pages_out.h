// Where qpdf writes pages that are made: a descriptor, with a sign of life now and then.
#pragma once
#include <cstddef>
#include <functional>
#include <string>

#include <qpdf/Pipeline.hh>

#include "base/write_all.h"

namespace layright {

class PagesOut : public Pipeline {
 public:
  /// `alive` is called after each piece that was written; it must outlive this.
  PagesOut(int descriptor, std::function<void()> const& alive) : Pipeline("pages", nullptr), descriptor_(descriptor), alive_(alive) {}
  void write(unsigned char const* data, size_t size) override {
    waiting_.append(reinterpret_cast<char const*>(data), size);
    if (waiting_.size() >= kPiece) finish();
  }
  void finish() override {
    if (error_ == 0) error_ = write_all(descriptor_, waiting_);
    waiting_.clear();
    if (alive_) alive_();
  }
  /// 0, or the errno of the first write that failed.
  int error() const { return error_; }

 private:
  static constexpr std::size_t kPiece = 1u << 20;

  int descriptor_, error_ = 0;
  std::function<void()> const& alive_;
  std::string waiting_;
};

}  // namespace layright
