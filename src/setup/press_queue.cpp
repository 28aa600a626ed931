#include "setup/press_queue.h"

#include <cups/cups.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <map>

#include "base/hex.h"
#include "geometry/length.h"

namespace layright {
namespace {

constexpr int kMostNamed = 6;  // of differences, in one message

std::string queue_name(Press const& press) { return press.queue.substr(0, press.queue.find('/')); }

/// "ipp://HOST:PORT" of the user's CUPS server, whatever way libcups writes it.
std::string cups_server() {
  std::string host = cupsServer();
  if (host.empty() || host[0] == '/') return "ipp://localhost:" + std::to_string(ippPort());  // a socket: ipp_line.cpp finds it again
  if (auto const version = host.find("/version="); version != std::string::npos) host.resize(version);
  bool const has_port = host.find(':', host.front() == '[' ? host.find(']') : 0) != std::string::npos;
  return "ipp://" + host + (has_port ? "" : ":" + std::to_string(ippPort()));
}

using Options = std::map<std::string, std::map<std::string, std::string>>;  // of QUEUE/INSTANCE

/// One lpoptions file: "Dest NAME/INSTANCE option=value …" a line, the default one with "Default" in front.
void read_instances(std::string const& path, Options& into) {
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    bool const dest = line.starts_with("Dest ") || line.starts_with("Default ");
    if (!dest) continue;
    line.erase(0, line.find(' ') + 1);
    auto const end = std::min(line.find(' '), line.size());
    std::string const name = line.substr(0, end);
    cups_option_t* options = nullptr;
    int const count = cupsParseOptions(line.c_str() + end, 0, &options);
    auto& kept = into[name];
    for (int i = 0; i < count; ++i) kept[options[i].name] = options[i].value;
    cupsFreeOptions(count, options);
  }
}

/// As lp reads them: the machine's, then the user's own over them.
Options all_instances() {
  Options options;
  char const* root = std::getenv("CUPS_SERVERROOT");
  read_instances(std::string(root ? root : "/etc/cups") + "/lpoptions", options);
  if (char const* home = std::getenv("HOME")) read_instances(std::string(home) + "/.cups/lpoptions", options);
  return options;
}

std::map<std::string, PpdOption> by_name(Ppd const& ppd) {
  std::map<std::string, PpdOption> all;
  for (auto& option : ppd.options()) all.emplace(option.name, option);
  return all;
}

std::string range_words(std::optional<PpdCustomRange> const& range) {
  if (!range) return "no custom sizes";
  return "custom sizes from " + format_number(range->min_across, 0) + " x " + format_number(range->min_along, 0) + " to " +
         format_number(range->max_across, 0) + " x " + format_number(range->max_along, 0) + " points";
}

/// What one of two options offers and the other does not.
void compare_choices(PpdOption const& named, PpdOption const& queue, std::vector<std::string>& differences) {
  auto const lacks = [](PpdOption const& option, std::string const& choice) {
    return std::none_of(option.choices.begin(), option.choices.end(), [&](PpdChoice const& c) { return c.name == choice; });
  };
  for (auto const& choice : named.choices)
    if (lacks(queue, choice.name)) differences.push_back(named.name + "=" + choice.name + " is not in the queue's");
  for (auto const& choice : queue.choices)
    if (lacks(named, choice.name)) differences.push_back(named.name + "=" + choice.name + " is in the queue's only");
}

}  // namespace

std::string queue_address(std::string const& queue) {
  std::string coded;
  for (char const c : queue) {
    bool const plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.' || c == '~';
    coded += plain ? std::string(1, c) : "%" + hexadecimal({&c, 1}, HexDigits::capital);
  }
  return cups_server() + "/printers/" + coded;
}

std::optional<std::string> press_address(Press const& press) {
  if (!press.ipp.empty()) return press.ipp;
  if (!press.queue.empty()) return queue_address(queue_name(press));
  return std::nullopt;
}

Result<std::unique_ptr<PrintService>> connect_press(Press const& press) {
  auto const address = press_address(press);
  if (!address)
    return Error{ErrorKind::usage, press.name.empty() ? "no press is named: name a target with --target whose press has an address or a queue"
                                                      : "the press " + press.name +
                                                            " has no address to send to: give it queue = \"…\" or ipp = \"ipp://…\" in its table"};
  return PrintService::connect(*address, {press.user, press.password_file});
}

Result<std::unique_ptr<PrintService>> connect_cups() { return PrintService::connect(cups_server() + "/"); }

Result<PressAnswer> ask_press(PrintService& service, std::string const& name) {
  PressAnswer answer;
  auto offer = service.offer();
  if (!offer) return offer.error();
  answer.offer = std::move(offer).value();
  if (!answer.offer.is_queue || answer.offer.is_class) return answer;
  auto text = service.ppd();
  if (!text) return text.error();
  if (!*text) return answer;
  answer.ppd_text = std::move(**text);
  auto ppd = Ppd::read(answer.ppd_text, "the PPD of the queue " + name);
  if (!ppd) return ppd.error();
  answer.ppd = std::move(ppd).value();
  return answer;
}

std::vector<Finding> unfit_queue(PressAnswer const& answer) {
  std::vector<Finding> findings;
  std::string const model = answer.ppd ? answer.ppd->model() : std::string();
  bool const made_up = model.find("IPP Everywhere") != std::string::npos || model.find("driverless") != std::string::npos;
  if (answer.offer.is_class)
    add_finding(findings, "press.queue", Level::hold,
                "this is a class of queues, and whichever of its presses is free would print the film: name one queue");
  else if (answer.offer.is_queue && !answer.ppd)
    add_finding(
        findings, "press.queue", Level::hold,
        "this queue has no driver, so nothing that is asked for is sure to reach the press: name the printer's own address (ipp = \"ipp://…\"), or "
        "give the queue a driver");
  else if (made_up)
    add_finding(findings, "press.scale", Level::hold,
                "this queue's driver is made up of what the printer says of itself, and such a queue does not pass on that nothing is to be scaled "
                "(print-scaling none): "
                "name the printer's own address (ipp = \"ipp://…\")");
  return findings;
}

Result<std::unique_ptr<Ppd>> driver_of(Press const& press, std::string& reported) {
  if (!press.ppd.empty()) return Ppd::open(press.ppd);
  auto const address = press_address(press);
  if (!address) return std::unique_ptr<Ppd>();
  auto const service = connect_press(press);
  if (!service) return service.error();
  auto const resource = address->find('/', address->find("://") + 3);
  if (resource == std::string::npos || !std::string_view(*address).substr(resource).starts_with("/printers/")) return std::unique_ptr<Ppd>();
  auto const text = (*service)->ppd();
  if (!text) {
    reported = text.error().message;
    return std::unique_ptr<Ppd>();
  }
  if (!*text) return std::unique_ptr<Ppd>();
  return Ppd::read(**text, "the PPD of the queue " + address->substr(resource + 10));
}

std::vector<Finding> queue_mismatches(Press const& press, Ppd const& named, Ppd const& queue, PressSetup const& setup) {
  std::vector<Finding> findings;
  std::string const who = press.queue.empty() ? press.ipp : queue_name(press);
  std::string const fix = ": name the right queue, or take ppd out of the press's table (the queue gives its own)";
  if (named.model() != queue.model()) {
    add_finding(findings, "press.queue", Level::hold,
                "the queue " + who + " is for \"" + queue.model() + "\", and the PPD that the press's table names (" + press.ppd + ") for \"" +
                    named.model() + "\"" + fix);
    return findings;
  }
  std::vector<std::string> differences;
  auto const of_named = by_name(named), of_queue = by_name(queue);
  for (auto const& [name, option] : of_named) {
    auto const other = of_queue.find(name);
    if (other == of_queue.end()) differences.push_back(name + " is not in the queue's");
    else compare_choices(option, other->second, differences);
  }
  for (auto const& [name, option] : of_queue)
    if (!of_named.contains(name)) differences.push_back(name + " is in the queue's only");
  auto const range = range_words(named.custom_range()), range_of_queue = range_words(queue.custom_range());
  if (range != range_of_queue) differences.push_back("it has " + range + ", the queue's " + range_of_queue);
  for (auto const& [name, option] : of_named) {
    bool const is_set = std::any_of(setup.settings.begin(), setup.settings.end(),
                                    [&n = name](Setting const& s) { return s.option == n || (s.option == "PageSize" && n == "PageRegion"); });
    auto const other = of_queue.find(name);
    auto const *ours = option.default_choice(), *theirs = other == of_queue.end() ? nullptr : other->second.default_choice();
    if (!is_set && ours && theirs && ours->name != theirs->name)
      differences.push_back("its default is " + name + "=" + ours->name + ", the queue's " + name + "=" + theirs->name);
  }
  if (differences.empty()) return findings;
  std::string list;
  for (std::size_t i = 0; i < differences.size() && i < kMostNamed; ++i) list += (i ? "; " : "") + differences[i];
  if (differences.size() > kMostNamed) list += "; and " + std::to_string(differences.size() - kMostNamed) + " more";
  add_finding(findings, "press.queue", Level::hold,
              "the PPD that the press's table names (" + press.ppd + ") is not the one of the queue " + who + ": " + list + fix);
  return findings;
}

Outcome add_instance(Press& press, Ppd const* driver, std::vector<Finding>& findings) {
  if (press.queue.find('/') == std::string::npos) return done();
  auto const all = all_instances();
  auto const found = all.find(press.queue);
  if (found == all.end()) {
    std::string known;
    for (auto const& name : known_instances()) known += (known.empty() ? "; known here: " : ", ") + name;
    return Error{ErrorKind::usage,
                 "there is no instance " + press.queue + known + "; make it with: lpoptions -p " + press.queue + " -o OPTION=CHOICE"};
  }
  std::vector<PpdOption> const options = driver ? driver->options() : std::vector<PpdOption>();
  std::string left_out;
  for (auto const& [name, choice] : found->second) {
    bool const own = std::any_of(options.begin(), options.end(), [&n = name](PpdOption const& o) { return o.name == n; });
    if (own && name != "PageSize" && name != "PageRegion") press.options.emplace(name, choice);
    else left_out += (left_out.empty() ? "" : ", ") + name + "=" + choice;
  }
  if (!left_out.empty())
    add_finding(findings, "press.instance", Level::note,
                "of the instance " + press.queue + " these are left out, because the job says them outright: " + left_out);
  return done();
}

std::vector<std::string> known_instances() {
  std::vector<std::string> names;
  for (auto const& [name, options] : all_instances())
    if (name.find('/') != std::string::npos) names.push_back(name);
  return names;
}

}  // namespace layright
