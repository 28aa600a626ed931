#include "marks/tape.h"

#include <algorithm>

#include "marks/tape_format.h"

namespace layright {

TapeWriter::TapeWriter(std::FILE* file) : file_(file) {}

void TapeWriter::put(void const* bytes, std::size_t size) {
  if (!failed_ && size > 0 && std::fwrite(bytes, 1, size, file_) != size) failed_ = true;
}

void TapeWriter::begin_page(PageFrame const& frame) {
  last_ = {};
  section_ = depth_ = 0;
  note_.clear();
  free_ = frame.free;
  TapePage page;
  page.number = frame.number;
  page.laid_before = frame.laid_before;
  page.blends = frame.blends;
  page.has_group = frame.has_group;
  page.crop = frame.crop;
  page.to_seen = frame.to_seen;
  page.free = frame.free.size();
  put(&page, sizeof page);
  put(frame.free.data(), frame.free.size() * sizeof(Rect<SeenSpace>));
}

void TapeWriter::mark(MarkEntry const& entry) {
  if (section_ == 0 || entry.kind == MarkEntry::Kind::section) {
    section_ += entry.kind == MarkEntry::Kind::section;
    return write(entry);
  }
  note_.push_back(entry);
  depth_ += opens(entry.kind);
  if (depth_ > 0) return;
  auto const where = note_extents<SeenSpace>(note_);
  bool const free = where && std::any_of(free_.begin(), free_.end(), [&](auto const& r) { return r.contains(*where, kNoteSlack); });
  if (!free)
    for (auto const& e : note_) write(e);
  note_.clear();
}

void TapeWriter::write(MarkEntry const& entry) {
  bool const placed = has_place(entry.kind) && entry.matrix != last_;
  auto const head = static_cast<unsigned char>(static_cast<unsigned>(entry.kind) | (placed ? kPlaced : 0U));
  put(&head, 1);
  if (entry.kind != MarkEntry::Kind::section) put(&entry.digest, sizeof entry.digest);
  if (!placed) return;
  put(entry.matrix.data(), sizeof entry.matrix);
  last_ = entry.matrix;
}

void TapeWriter::end_page() {
  unsigned char const end = kPageEnd;
  put(&end, 1);
}

}  // namespace layright
