#include "setup/approval.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <span>
#include <sstream>

#include "base/in_quotes.h"
#include "base/sha256.h"
#include "setup/ppd.h"
#include "setup/service.h"
#include "sheet/toml_reader.h"

namespace layright {
namespace {

/// As the file keeps it: without control characters.
std::string plain(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  return text;
}

std::string joined(std::vector<std::string> const& values) {
  std::string text;
  for (auto const& value : values) text += (text.empty() ? "" : ", ") + value;
  return text;
}

/// What of a printer's answer is worth noticing: defaults and what is offered; not its state, counters or clock.
bool matters(std::string const& name) {
  return name.ends_with("-default") || name == "media-source-supported" || name == "media-type-supported" || name == "output-bin-supported" ||
         name == "printer-resolution-supported" || name == "print-scaling-supported" || name == "printer-make-and-model" ||
         name == "printer-firmware-string-version";
}

void add_driver(Ppd const& ppd, std::string const& text, PressState& state) {
  for (auto const& option : ppd.options())
    for (auto const& choice : option.choices)
      if (choice.is_default) state.emplace_back(option.name, choice.name);
  state.emplace_back("PPD digest", sha256_hex(std::as_bytes(std::span(text))));
}

Outcome add_driver_file(std::string const& path, PressState& state) {
  auto const ppd = Ppd::open(path);
  if (!ppd) return ppd.error();
  std::ifstream file(path, std::ios::binary);
  std::stringstream bytes;
  bytes << file.rdbuf();
  add_driver(**ppd, bytes.str(), state);
  return done();
}

PressState in_order(PressState state) {
  for (auto& [name, value] : state) name = plain(name), value = plain(value);
  std::sort(state.begin(), state.end());
  return state;
}

using Approvals = std::vector<std::pair<std::string, PressState>>;

Result<Approvals> read_approvals(std::filesystem::path const& path) {
  Approvals approvals;
  std::ifstream file(path, std::ios::binary);
  if (!file) return approvals;
  std::stringstream text;
  text << file.rdbuf();
  auto const parsed = toml::parse(text.str(), path.string());
  if (!parsed)
    return Error{ErrorKind::data, path.string() + ", line " + std::to_string(parsed.error().source().begin.line) + ": " +
                                      std::string(parsed.error().description()) + "; remove it and approve the setups again"};
  for (auto const& [press, node] : parsed.table()) {
    PressState state;
    auto const* table = node.as_table();
    if (!table) return Error{ErrorKind::data, path.string() + ": " + in_quotes(press.str()) + " is no table of a press; remove it and approve again"};
    for (auto const& [name, value] : *table)
      if (auto const* written = value.as_string()) state.emplace_back(std::string(name.str()), written->get());
    approvals.emplace_back(std::string(press.str()), std::move(state));
  }
  return approvals;
}

}  // namespace

Result<PressState> press_state(Press const& press, PressAnswer const& answer) {
  PressState state;
  if (answer.ppd) {
    add_driver(*answer.ppd, answer.ppd_text, state);
  } else if (!press.ppd.empty()) {
    if (auto const added = add_driver_file(press.ppd, state); !added) return added.error();
    return in_order(std::move(state));
  }
  for (auto const& [name, values] : answer.offer.attributes)
    if (matters(name)) state.emplace_back(name, joined(values));
  return in_order(std::move(state));
}

Result<PressState> press_state(Press const& press) {
  if (press_address(press)) {
    auto const service = connect_press(press);
    if (!service) return service.error();
    auto const answer = ask_press(**service, press.name);
    if (!answer) return answer.error();
    return press_state(press, *answer);
  }
  if (press.ppd.empty()) return Error{ErrorKind::usage, "the press has neither a PPD nor an address, so there is nothing to approve"};
  PressState state;
  if (auto const added = add_driver_file(press.ppd, state); !added) return added.error();
  return in_order(std::move(state));
}

std::filesystem::path approval_file(std::filesystem::path const& configuration) { return configuration.parent_path() / "layright.approved.toml"; }

Result<std::string> with_approval(std::filesystem::path const& configuration, std::string const& press, PressState const& state) {
  auto approvals = read_approvals(approval_file(configuration));
  if (!approvals) return approvals.error();
  auto all = std::move(approvals).value();
  auto at = std::find_if(all.begin(), all.end(), [&](auto const& a) { return a.first == press; });
  if (at == all.end()) at = all.insert(all.end(), {press, {}});
  at->second = state;
  std::string text = "# What each press was when a person approved its setup. Written by: layright setup --approve\n";
  for (auto const& [name, each] : all) {
    text += "\n[" + toml_text(name) + "]\n";
    for (auto const& [key, value] : each) text += toml_text(key) + " = " + toml_text(value) + "\n";
  }
  return text;
}

Result<std::vector<std::string>> changes_since_approval(std::filesystem::path const& configuration, std::string const& press,
                                                        PressState const& state) {
  std::vector<std::string> changes;
  auto const approvals = read_approvals(approval_file(configuration));
  if (!approvals) return approvals.error();
  for (auto const& [name, approved] : *approvals) {
    if (name != press) continue;
    std::map<std::string, std::string> const then(approved.begin(), approved.end()), now(state.begin(), state.end());
    for (auto const& [key, value] : then) {
      auto const found = now.find(key);
      if (found == now.end()) changes.push_back(key + " was " + value + ", and is gone");
      else if (found->second != value) changes.push_back(key + " was " + value + ", and is " + found->second);
    }
    for (auto const& [key, value] : now)
      if (!then.contains(key)) changes.push_back(key + " is new: " + value);
  }
  return changes;
}

}  // namespace layright
