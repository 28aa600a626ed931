#include "mupdf/read_on_stream.h"

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <new>
#include <utility>

namespace layright {
namespace {

constexpr std::size_t kWindow = 1u << 20, kBetween = 32u << 20;

struct Windows {
  std::span<unsigned char const> bytes;
  std::function<void()> read_on;
  std::size_t next = 0, since = 0;
};

void point_at(fz_stream* stream, Windows& w, std::size_t from, std::size_t length) {
  // The library never writes through these.
  stream->rp = const_cast<unsigned char*>(w.bytes.data()) + from;
  stream->wp = stream->rp + length;
  w.next = from + length;
  stream->pos = static_cast<std::int64_t>(w.next);
}

int next_window(fz_context*, fz_stream* stream, std::size_t) {
  auto& w = *static_cast<Windows*>(stream->state);
  if (w.next >= w.bytes.size()) return EOF;
  if (w.since >= kBetween) {
    w.since = 0;
    w.read_on();
  }
  auto const length = std::min(kWindow, w.bytes.size() - w.next);
  w.since += length;
  point_at(stream, w, w.next, length);
  return *stream->rp++;
}

void seek_window(fz_context*, fz_stream* stream, std::int64_t offset, int whence) {
  auto& w = *static_cast<Windows*>(stream->state);
  auto const size = static_cast<std::int64_t>(w.bytes.size());
  auto const here = static_cast<std::int64_t>(w.next) - (stream->wp - stream->rp);
  auto const to = std::clamp<std::int64_t>(whence == SEEK_CUR ? here + offset : whence == SEEK_END ? size + offset : offset, 0, size);
  // What was given out and not read does not count.
  w.since -= std::min(w.since, static_cast<std::size_t>(stream->wp - stream->rp));
  point_at(stream, w, static_cast<std::size_t>(to), 0);
}

void drop_windows(fz_context*, void* state) { delete static_cast<Windows*>(state); }

}  // namespace

fz_stream* read_on_stream(fz_context* ctx, std::span<unsigned char const> bytes, std::function<void()> read_on) {
  auto* const windows = new (std::nothrow) Windows{bytes, std::move(read_on)};
  if (!windows) return nullptr;
  fz_stream* stream = nullptr;
  fz_var(stream);
  fz_try(ctx) stream = fz_new_stream(ctx, windows, next_window, drop_windows);  // drops its state where it fails
  fz_catch(ctx) stream = nullptr;
  if (stream) stream->seek = seek_window;
  return stream;
}

}  // namespace layright
