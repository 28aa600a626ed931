#include "watch/watch_start.h"

#include "base/in_quotes.h"
#include "isolate/lesser_user.h"
#include "isolate/sandbox.h"
#include "sheet/sizes.h"

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

Result<std::vector<Intake const*>> wanted_intakes(Configuration const& configuration, std::vector<std::string> names) {
  std::vector<std::string> known;
  for (auto const& [name, intake] : configuration.intakes) known.push_back(name);
  if (names.empty()) names = known;
  if (names.empty())
    return Error{ErrorKind::usage, configuration.path.string() + ": no intake to watch. Put one in: [intake.NAME]. layright init shows how"};
  std::vector<Intake const*> intakes;
  for (auto const& name : names) {
    auto const found = configuration.intakes.find(name);
    if (found == configuration.intakes.end()) {
      auto const near = nearest_name(name, known);
      return Error{ErrorKind::usage, "there is no intake " + in_quotes(name) + " in " + configuration.path.string() +
                                         (near.empty() ? "" : "; did you mean " + in_quotes(near) + "?")};
    }
    intakes.push_back(&found->second);
  }
  return intakes;
}

Outcome give_up_root(Configuration const& configuration, std::function<void(std::string const&)> const& warn) {
  if (!is_root()) return done();
  if (!configuration.user.empty()) return become_user(configuration.user);
  warn("runs as root; better, name a user who may write to its folders, such as user = \"layright\", at the top of layright.toml");
  return done();
}

}  // namespace layright
