#include "command/command.h"

#include <CLI/CLI.hpp>

namespace layright {
namespace {

std::vector<CLI::App const*> subcommands(CLI::App const& program) {
  return program.get_subcommands([](CLI::App const*) { return true; });
}

std::vector<CLI::Option const*> named_options(CLI::App const& app) {
  std::vector<CLI::Option const*> found;
  for (auto const* o : app.get_options())
    if (!o->get_lnames().empty() && !o->get_group().empty()) found.push_back(o);
  return found;
}

std::string long_names(CLI::App const& app) {
  std::string names;
  for (auto const* o : named_options(app)) names += (names.empty() ? "--" : " --") + o->get_lnames().front();
  return names;
}

/// Between single quotes of a shell.
std::string quoted(std::string const& text) {
  std::string out = "'";
  for (char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string bash(CLI::App const& program) {
  std::string names, cases;
  for (auto const* sub : subcommands(program)) {
    names += (names.empty() ? "" : " ") + sub->get_name();
    cases += "    " + sub->get_name() + ") words='" + long_names(*sub) + "' ;;\n";
  }
  return "_layright() {\n  local current=${COMP_WORDS[COMP_CWORD]} words\n  COMPREPLY=()\n  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    words='" + names +
         " " + long_names(program) + "'\n  else\n    case ${COMP_WORDS[1]} in\n" + cases +
         "    *) words= ;;\n    esac\n  fi\n  if [[ $current == -* || $COMP_CWORD -eq 1 ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$words\" -- \"$current\"))\n  else\n    compopt -o default\n  fi\n}\ncomplete -F _layright layright\n";
}

std::string zsh(CLI::App const& program) {
  std::string list, cases;
  for (auto const* sub : subcommands(program)) {
    list += "    " + quoted(sub->get_name() + ":" + sub->get_description()) + "\n";
    cases += "    " + sub->get_name() + ")\n      _arguments \\\n";
    for (auto const* o : named_options(*sub)) {
      std::string text = o->get_description();
      for (auto& c : text)
        if (c == '[' || c == ']' || c == ':') c = ' ';
      cases += "        " +
               quoted("--" + o->get_lnames().front() + (o->get_type_size() == 0 ? "" : "=") + "[" + text + "]" +
                      (o->get_type_size() == 0 ? "" : ":" + o->get_type_name() + ":_files")) +
               " \\\n";
    }
    cases += "        '*:file:_files' ;;\n";
  }
  return "#compdef layright\n_layright() {\n  local -a names\n  names=(\n" + list +
         "  )\n  if (( CURRENT == 2 )); then\n    _describe command names\n    return\n  fi\n  local name=$words[2]\n  shift words\n  (( CURRENT-- "
         "))\n"
         "  case $name in\n" +
         cases + "  esac\n}\n_layright \"$@\"\n";
}

std::string fish(CLI::App const& program) {
  std::string out;
  for (auto const* o : named_options(program))
    out += "complete -c layright -n __fish_use_subcommand -l " + o->get_lnames().front() + " -d " + quoted(o->get_description()) + "\n";
  for (auto const* sub : subcommands(program)) {
    out += "complete -c layright -n __fish_use_subcommand -f -a " + sub->get_name() + " -d " + quoted(sub->get_description()) + "\n";
    for (auto const* o : named_options(*sub))
      out += "complete -c layright -n '__fish_seen_subcommand_from " + sub->get_name() + "' -l " + o->get_lnames().front() +
             (o->get_type_size() == 0 ? "" : " -r") + " -d " + quoted(o->get_description()) + "\n";
  }
  return out;
}

}  // namespace

Result<std::string> completion_script(CLI::App const& program, std::string_view shell) {
  if (shell == "bash") return bash(program);
  if (shell == "zsh") return zsh(program);
  if (shell == "fish") return fish(program);
  return Error{ErrorKind::usage, "--completion: '" + std::string(shell) + "' is not bash, zsh or fish"};
}

}  // namespace layright
