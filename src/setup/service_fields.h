// What a press said, for the way from the child that asked it (talk.h, base/byte_fields.h).
#pragma once
#include <tuple>

#include "base/byte_fields.h"
#include "setup/service.h"

namespace layright {

constexpr JobState last(JobState) { return JobState::completed; }

inline auto fields(OfferedSize& s) { return std::tie(s.min_x, s.max_x, s.min_y, s.max_y); }
inline auto fields(OfferedMedia& m) { return std::tie(m.size, m.source, m.type, m.feed_direction); }
inline auto fields(Offer& o) { return std::tie(o.attributes, o.syntaxes, o.sizes, o.database, o.ready, o.is_queue, o.is_class); }
inline auto fields(SendReply& r) { return std::tie(r.job, r.unsupported); }
inline auto fields(JobStatus& s) { return std::tie(s.id, s.state, s.reasons, s.message, s.sheets); }
inline auto fields(FoundJob& j) { return std::tie(j.id, j.name); }

}  // namespace layright
