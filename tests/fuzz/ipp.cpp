// What a press answers over its line, whatever its bytes: read into plain values, held against a target, listed.
#include <cups/ipp.h>

#include <algorithm>
#include <cstdint>
#include <cstring>

#include "fuzz/require.h"
#include "setup/fitted_job.h"
#include "setup/ipp_bounds.h"
#include "setup/ipp_reading.h"
#include "setup/offer_list.h"
#include "setup/service_fields.h"
#include "setup/state_words.h"
#include "support/press_target.h"

using namespace layright;
using test::require;

namespace {

struct Bytes {
  std::uint8_t const* at;
  std::size_t left;
  IppBounds bounds = {};
};

ssize_t take(void* context, ipp_uchar_t* into, std::size_t wanted) {
  auto& bytes = *static_cast<Bytes*>(context);
  std::size_t const n = std::min(wanted, bytes.left);
  if (n > 0) std::memcpy(into, bytes.at, n);
  bytes.at += n;
  bytes.left -= n;
  return n < wanted || bytes.bounds.take(into, n) ? static_cast<ssize_t>(n) : -1;
}

void check_offer(Offer const& offer) {
  auto target = film_target(8.5, 17);
  for (auto const& finding : unsupported_settings(target, offer, Unit::millimetre))
    require(!finding.message.empty(), "an unsupported setting says what it is");
  auto const attributes = fitted_attributes(target, offer);
  require(!attributes.empty() && attributes[0].name == "media-col", "a job asks for its medium");
  require(ipptool_request(attributes, "fuzzed", "application/pdf").ends_with("}\n"), "a request is whole");
  offer_list(offer, Unit::inch);
  Offer sent = offer, again;
  ByteWriter writer;
  part(writer, sent);
  std::string const bytes = writer.take();
  ByteReader reader(bytes);
  part(reader, again);
  require(reader.whole() && again.attributes == offer.attributes && again.database.size() == offer.database.size(),
          "an answer comes through the packing whole");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  Bytes bytes{data, size};
  ipp_t* const reply = ippNew();
  if (ippReadIO(&bytes, take, 1, nullptr, reply) == IPP_STATE_DATA) {
    check_offer(offer_from(reply));
    send_reply_from(reply);
    queues_from(reply);
    for (auto const& job : jobs_from(reply)) require(job.id > 0, "a job that was found has a number");
    require(job_words(job_status_from(reply), troubles_from(reply)).starts_with("job "), "a job's state is told");
  }
  ippDelete(reply);
  return 0;
}
