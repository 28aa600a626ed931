#include "watch/watch_start.h"

#include "isolate/lesser_user.h"
#include "isolate/sandbox.h"

namespace layright {

Outcome demand_sandbox(Configuration const& configuration, std::function<void(std::string const&)> const& warn) {
  auto const gaps = sandbox_gaps(probe_sandbox());
  if (gaps.empty()) return require_whole_sandbox(), done();
  std::string missing;
  for (auto const& gap : gaps) missing += (missing.empty() ? "" : " and ") + gap;
  if (!configuration.partial_sandbox)
    return Error{ErrorKind::usage, "this machine lacks " + missing +
                                       ", so a hostile file could reach more than it may; nothing was begun. Use a kernel that has it, or write "
                                       "sandbox = \"as far as the kernel goes\" in layright.toml where you trust those who send files"};
  warn("this machine lacks " + missing + ": a hostile file could reach more than it may (sandbox = \"as far as the kernel goes\")");
  return done();
}

Outcome give_up_root(Configuration const& configuration, std::function<void(std::string const&)> const& warn) {
  if (!is_root()) return done();
  if (!configuration.user.empty()) return become_user(configuration.user);
  warn("runs as root; better, name a user who may write to its folders, such as user = \"layright\", at the top of layright.toml");
  return done();
}

}  // namespace layright
