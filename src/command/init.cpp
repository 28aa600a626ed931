#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "report/report.h"
#include "sheet/configuration.h"
#include "write/output_file.h"

namespace layright {
namespace {

ExitStatus write_starting_configuration(std::string const& path, bool force) {
  auto file = OutputFile::create(path, force, {});
  if (!file) return fail(file.error());
  auto const text = starting_configuration();
  if (auto const o = file->write(std::as_bytes(std::span(text))); !o) return fail(o.error());
  if (auto const o = file->commit(); !o) return fail(o.error());
  std::fprintf(stdout, "written: %s. Open it and put in your sheets and presses.\n", shown_name(path).c_str());
  return ExitStatus::ready;
}

ExitStatus write_user_configuration(bool force) {
  auto const path = user_configuration();
  if (!path) return fail({ErrorKind::usage, "--user: neither HOME nor XDG_CONFIG_HOME is set. Use -o"});
  std::error_code reported_below;
  std::filesystem::create_directories(path->parent_path(), reported_below);
  return write_starting_configuration(path->string(), force);
}

}  // namespace

Run add_init(CLI::App& command) {
  struct Words {
    std::string output = "layright.toml";
    bool force = false, user = false;
  };
  auto words = std::make_shared<Words>();
  command.add_option("-o,--output", words->output, "where to write it")->type_name("FILE")->capture_default_str();
  command.add_flag("--user", words->user, "write it where it is found from any folder")->excludes("--output");
  command.add_flag("--force", words->force, "replace the one that is there");
  return [words] { return words->user ? write_user_configuration(words->force) : write_starting_configuration(words->output, words->force); };
}

}  // namespace layright
