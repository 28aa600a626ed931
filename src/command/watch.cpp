#include "watch/watch.h"

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>

#include "command/command.h"
#include "command/own_program.h"
#include "command/target_options.h"

namespace layright {
namespace {

struct WatchWords {
  std::vector<std::string> names;
  std::string config, log = "text", health, desk;
  bool once = false, decided = false;
};

ExitStatus run_watch(WatchWords const& w) {
  auto const configuration = configuration_of(w.config);
  if (!configuration) return fail(configuration.error());
  if (configuration->path.empty()) return fail({ErrorKind::usage, "no layright.toml here or above. layright init writes one; --config names one"});
  WatchOptions options;
  options.configuration = configuration->path;
  options.names = w.names;
  options.once = w.once || w.decided;
  options.arrivals = !w.decided;
  options.json = w.log == "json";
  options.health = w.health;
  std::optional<OwnChild> desk;
  if (!w.desk.empty()) {
    if (options.once) return fail(usage_error("--desk goes with a watch that goes on"));
    auto begun = begin_own_program({"desk", "--listen", w.desk, "--config", configuration->path.string(), "--with-watcher"});
    if (!begun) return fail(begun.error());
    desk = std::move(*begun);
  }
  auto const end = watch(options);
  desk.reset();
  if (!end) return fail(end.error());
  if (end->trouble) return status_of(end->trouble->kind);
  if (end->interrupted) return options.once ? ExitStatus::try_again : ExitStatus::ready;
  return end->held ? ExitStatus::hold : ExitStatus::ready;
}

}  // namespace

Run add_watch(CLI::App& command) {
  auto words = std::make_shared<WatchWords>();
  command.add_option("NAME", words->names, "intakes of the configuration; else all of them");
  command.add_option("--config", words->config, "the configuration; else the one that is found")->type_name("FILE");
  command.add_flag("--once", words->once, "do what is there, then end: 0 all ready, 2 something held");
  command.add_flag("--decided", words->decided, "do only what was decided, take in nothing new, then end");
  command.add_option("--log", words->log, "text (the default) or json: a line for each file, on standard error")
      ->check(CLI::IsMember({"text", "json"}))
      ->type_name("FORMAT");
  command.add_option("--desk", words->desk, "also open the desk at ADDRESS:PORT or unix:PATH; it ends with the watch")->type_name("ADDRESS");
  command.add_option("--health", words->health, "write every few seconds: alive, how many wait, for how long")->type_name("FILE");
  return [words] { return run_watch(*words); };
}

}  // namespace layright
