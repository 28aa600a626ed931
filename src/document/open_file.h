// The file as the PDF library holds it. The library keeps every object that was ever looked at, some seven kilobytes for a page; so
// while pages are only read it is opened anew now and then, which bounds what reading many pages keeps in memory.
#pragma once
#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <string>

#include <qpdf/QPDF.hh>

namespace layright {

class OpenFile {
 public:
  /// Throws what the library throws. `bytes` must outlive this. `read_on`, which may be empty: see Document::open.
  OpenFile(std::span<std::byte const> bytes, std::string name, std::string password, std::function<void()> read_on);

  QPDF& pdf() const { return *pdf_; }
  /// From now on objects stay what they are: they are about to be changed, or somebody holds on to one.
  void pin() { pinned_ = true; }
  /// How many pages there may be; so many pages are read between two openings that the cost stays linear.
  void expect_pages(long long count);
  /// To be called for each page read, while no object of the library is held.
  void page_was_read();

 private:
  void open();

  std::span<std::byte const> bytes_;
  std::string name_, password_;
  std::function<void()> read_on_;
  std::unique_ptr<QPDF> pdf_;
  bool pinned_ = false;
  long long since_ = 0, between_ = 2000;
};

}  // namespace layright
