#include "watch/watch_health.h"

#include <unistd.h>

#include <nlohmann/json.hpp>
#include <span>
#include <string>

#include "base/version.h"
#include "report/page_json.h"
#include "watch/wall_clock.h"
#include "write/output_file.h"

namespace layright {

Outcome write_health(std::filesystem::path const& path, WatchHealth const& h) {
  Json const health{{"layright", program_version()},      {"time", utc_text(now_ms())}, {"process", getpid()}, {"queue", h.queue},
                    {"oldest_waiting_s", h.oldest_waits}, {"working", h.working},       {"ready", h.ready},    {"held", h.held}};
  std::string const text = json_text(health) + "\n";
  auto out = OutputFile::create(path, true, {});
  if (!out) return out.error();
  if (auto const written = out->write(std::as_bytes(std::span(text))); !written) return written;
  return out->commit();
}

}  // namespace layright
