#include "verify/mark_trace.h"

#include <algorithm>

#include "verify/trace_format.h"

namespace layright {

TraceWriter::TraceWriter(std::FILE* file) : file_(file) {}

void TraceWriter::put(void const* bytes, std::size_t size) {
  if (!failed_ && size > 0 && std::fwrite(bytes, 1, size, file_) != size) failed_ = true;
}

void TraceWriter::begin_page(PageFrame const& frame) {
  last_ = {};
  section_ = 0;
  depth_ = 0;
  notes_.clear();
  frame_ = frame;
  TracePage page;
  page.number = frame.number;
  page.laid_before = frame.laid_before;
  page.blends = frame.blends;
  page.has_group = frame.has_group;
  page.knocks_out = frame.knocks_out;
  page.crop = frame.crop;
  page.to_seen = frame.to_seen;
  page.free = frame.free.size();
  put(&page, sizeof page);
  put(frame.free.data(), frame.free.size() * sizeof(Rect<SeenSpace>));
}

void TraceWriter::mark(MarkEntry const& entry) {
  if (entry.kind == MarkEntry::Kind::section) {
    write_notes();
    ++section_;
    depth_ = 0;
    return write(entry);
  }
  if (section_ == 0) return write(entry);
  if (depth_ == 0) notes_.emplace_back();
  notes_.back().push_back(entry);
  depth_ += opens(entry.kind);
}

/// Annotations that bring no appearance are not written: what the library draws for them is its own. They are told by their order, or
/// where that does not tell (the library drew more or fewer), by their place.
void TraceWriter::write_notes() {
  bool const by_order = (section_ == 1 || section_ == 2) && frame_.own[section_ - 1].size() == notes_.size();
  for (std::size_t i = 0; i < notes_.size(); ++i) {
    auto const where = note_extents<SeenSpace>(notes_[i]);
    bool const placed_free =
        where && std::any_of(frame_.free.begin(), frame_.free.end(), [&](auto const& r) { return r.contains(*where, kNoteSlack); });
    if (by_order ? !frame_.own[section_ - 1][i] : placed_free) continue;
    for (auto const& e : notes_[i]) write(e);
  }
  notes_.clear();
}

void TraceWriter::write(MarkEntry const& entry) {
  bool const placed = has_place(entry.kind) && entry.matrix != last_;
  auto const head = static_cast<unsigned char>(static_cast<unsigned>(entry.kind) | (placed ? kPlaced : 0U));
  put(&head, 1);
  if (entry.kind != MarkEntry::Kind::section) put(&entry.digest, sizeof entry.digest);
  if (!placed) return;
  put(entry.matrix.data(), sizeof entry.matrix);
  last_ = entry.matrix;
}

void TraceWriter::end_page() {
  unsigned char const end = kPageEnd;
  put(&end, 1);
}

}  // namespace layright
