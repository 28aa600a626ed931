#include "watch/watch_log.h"

#include <cstdio>
#include <nlohmann/json.hpp>

#include "report/page_json.h"
#include "report/report.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {
constexpr char const* kLevels[] = {"info", "warning", "error"};
}

void WatchLog::entry(LogLevel level, std::string const& what, LedgerEntry const& e, std::string const& message) const {
  put(level, what, e.intake, e.id, e.name, message);
}

void WatchLog::report(LogLevel level, std::string const& intake, std::string const& name, std::string const& message) const {
  put(level, {}, intake, 0, name, message);
}

void WatchLog::put(LogLevel level, std::string const& what, std::string const& intake, long long job, std::string const& name,
                   std::string const& message) const {
  std::string line;
  if (json_) {
    Json object{{"time", utc_text(now_ms())}, {"level", kLevels[static_cast<int>(level)]}};
    if (!what.empty()) object["event"] = what;
    if (!intake.empty()) object["intake"] = intake;
    if (job > 0) object["job"] = job;
    if (!name.empty()) object["name"] = name;
    if (!message.empty()) object["message"] = message;
    line = json_text(object);
  } else {
    line = utc_text(now_ms());
    if (level != LogLevel::info) line += std::string(" ") + kLevels[static_cast<int>(level)] + ":";
    if (!intake.empty()) line += " " + shown_name(intake);
    if (job > 0) line += " job " + std::to_string(job);
    if (!name.empty()) line += " " + shown_name(name);
    if (!what.empty()) line += ": " + what;
    if (!message.empty()) line += (what.empty() ? ": " : "; ") + shown_name(message);
  }
  line += "\n";
  if (line_) line_->wipe();
  std::fwrite(line.data(), 1, line.size(), stderr);
}

}  // namespace layright
