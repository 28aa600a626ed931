#include "intake/copy_ahead.h"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <utility>

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
    for (ssize_t done = 0; done < n;) {
      ssize_t const written = pwrite(to, buffer.data() + done, static_cast<std::size_t>(n - done), at + done);
      if (written < 0 && errno == EINTR) continue;
      if (written <= 0) return false;
      done += written;
    }
    if (at / kPiece != (at + n) / kPiece) sender.send('k', {});
    at += n;
  }
}

}  // namespace

bool worth_copying_ahead(long long bytes) { return bytes >= kLarge; }

CopyAhead::CopyAhead(int source, std::optional<std::filesystem::path> const& folder) : source_(fcntl(source, F_DUPFD_CLOEXEC, 3)) {
  if (!folder) return;
  auto made = OutputFile::create(*folder / temporary_output_name(), false, {});
  if (made) copy_.emplace(std::move(*made));
}

CopyAhead::~CopyAhead() {
  if (source_ >= 0) close(source_);
}

std::optional<WorkerTask> CopyAhead::next() {
  if (std::exchange(started_, true) || source_ < 0) return over_ = true, std::nullopt;
  WorkerTask task;
  task.shut_in = false;
  task.seconds = kSecondsAPiece;
  task.keep = {source_};
  if (copy_) task.keep.push_back(copy_->descriptor());
  task.work = [this](Sender const& sender) { work(sender); };
  return task;
}

void CopyAhead::work(Sender const& sender) const {
  if (fsync(source_) != 0 || !copy_) return;
  sender.send('k', {});
  if (!copy_bytes(source_, copy_->descriptor(), sender) || fsync(copy_->descriptor()) != 0) return;
  FileDigest digest(copy_->descriptor(), "the copy");
  for (;;) {
    auto const read = digest.go_on(kPiece);
    if (!read) return;
    if (*read) return sender.send('d', **read);
    sender.send('k', {});
  }
}

void CopyAhead::message(Message const& message) {
  if (message.kind == 'd') digest_ = message.bytes;
}

OutputFile* CopyAhead::copy_of(std::string const& digest) { return copy_ && !digest_.empty() && digest_ == digest ? &*copy_ : nullptr; }

}  // namespace layright
