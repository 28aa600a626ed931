#include "watch/digest_queue.h"

#include <utility>

namespace layright {
namespace {

constexpr long long kDigestPiece = 16 << 20;  // bytes: a hundredth of a second or so

}  // namespace

struct DigestQueue::Waiting {
  Arrival arrival;
  SteadyTime since;
  FileDigest digest;
};

DigestQueue::DigestQueue(std::filesystem::path in) : in_(std::move(in)) {}
DigestQueue::~DigestQueue() = default;

void DigestQueue::add(Arrival arrival, SteadyTime now) {
  int const descriptor = arrival.descriptor();
  auto path = in_ / arrival.name();
  waiting_.push_back(std::unique_ptr<Waiting>(new Waiting{std::move(arrival), now, FileDigest(descriptor, std::move(path))}));
}

std::vector<DigestedArrival> DigestQueue::go_on() {
  std::vector<DigestedArrival> ready;
  bool large_had_its_piece = false;
  for (auto& each : waiting_) {
    bool const large = each->arrival.mark().bytes > kDigestPiece;
    if (large && std::exchange(large_had_its_piece, true)) continue;
    auto digest = each->digest.go_on(kDigestPiece);
    if (!digest) ready.push_back({std::move(each->arrival), digest.error()});
    else if (*digest) ready.push_back({std::move(each->arrival), std::move(**digest)});
    else continue;
    each.reset();
  }
  std::erase(waiting_, nullptr);
  return ready;
}

std::optional<SteadyTime> DigestQueue::oldest() const { return waiting_.empty() ? std::nullopt : std::optional(waiting_.front()->since); }

}  // namespace layright
