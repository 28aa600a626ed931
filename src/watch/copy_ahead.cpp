#include "watch/copy_ahead.h"

#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <string_view>
#include <utility>

#include "base/write_all.h"
#include "job/messages.h"
#include "watch/arrivals.h"
#include "write/move_file.h"

namespace layright {
namespace {

constexpr long long kLarge = 64 << 20, kPiece = 64 << 20;
constexpr double kSecondsAPiece = 60;

bool copy_bytes(int from, int to, Sender const& sender) {
  std::array<char, 1 << 18> buffer;
  for (long long at = 0;;) {
    ssize_t const n = pread(from, buffer.data(), buffer.size(), at);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return n == 0;
    if (write_all(to, std::string_view(buffer.data(), static_cast<std::size_t>(n))) != 0) return false;
    bool const piece = at / kPiece != (at + n) / kPiece;
    at += n;
    if (!piece) continue;
    // Else the ledger's next few bytes would wait on this disk until all of these have got there.
    if (fdatasync(to) != 0) return false;
    send_message(sender, message::Alive{});
  }
}

/// Of the whole file; empty where it cannot be read.
std::string digest_alive(int descriptor, Sender const& sender) {
  FileDigest digest(descriptor, "a copy");
  for (;;) {
    auto const read = digest.go_on(kPiece);
    if (!read) return {};
    if (*read) return **read;
    send_message(sender, message::Alive{});
  }
}

}  // namespace

bool worth_copying_ahead(long long bytes) { return bytes >= kLarge; }

CopyAhead::CopyAhead(int source, std::optional<std::filesystem::path> const& folder) : source_(duplicate(source)) {
  if (!folder) return;
  auto made = OutputFile::create(*folder / temporary_output_name(), false, {});
  if (made) copy_.emplace(std::move(*made));
}

std::shared_ptr<CopyAhead> CopyAhead::reading(int there) {
  auto reading = std::make_shared<CopyAhead>(-1, std::nullopt);
  reading->look_first_at(there, {});
  return reading;
}

void CopyAhead::look_first_at(int there, std::string const& digest) {
  struct stat about {};
  if (there < 0 || fstat(there, &about) != 0 || !S_ISREG(about.st_mode)) return;
  there_ = duplicate(there);
  mark_there_ = mark_of(about);
  wanted_ = digest;
}

std::optional<WorkerTask> CopyAhead::next() {
  if (std::exchange(started_, true) || (!source_ && !there_)) return over_ = true, std::nullopt;
  WorkerTask task;
  task.shut_in = false;
  task.seconds = kSecondsAPiece;
  for (int const descriptor : {source_.get(), there_.get(), copy_ ? copy_->descriptor() : -1})
    if (descriptor >= 0) task.keep.push_back(descriptor);
  task.work = [this](Sender const& sender) { work(sender); };
  return task;
}

bool CopyAhead::is_there(Sender const& sender) const {
  if (!there_) return false;
  auto const digest = digest_alive(there_.get(), sender);
  send_message(sender, message::WasThere{digest});
  return digest == wanted_;
}

void CopyAhead::work(Sender const& sender) const {
  if (is_there(sender) || !source_ || fsync(source_.get()) != 0 || !copy_) return;
  send_message(sender, message::Alive{});
  if (!copy_bytes(source_.get(), copy_->descriptor(), sender) || fsync(copy_->descriptor()) != 0) return;
  send_message(sender, message::Copied{digest_alive(copy_->descriptor(), sender)});
}

void CopyAhead::message(Message const& message) {
  if (auto copied = received<message::Copied>(message)) digest_ = std::move(copied->text);
  if (auto there = received<message::WasThere>(message)) digest_there_ = std::move(there->text);
}

OutputFile* CopyAhead::copy_of(std::string const& digest) { return copy_ && !digest_.empty() && digest_ == digest ? &*copy_ : nullptr; }

}  // namespace layright
