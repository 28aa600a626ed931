#include <signal.h>
#include <sys/prctl.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>
#include <thread>

#include "command/command.h"
#include "command/desk_door.h"
#include "command/desk_users.h"
#include "command/ledger_options.h"
#include "command/own_program.h"
#include "desk/desk.h"
#include "desk/door.h"
#include "desk/drop.h"
#include "desk/guard.h"
#include "desk/server.h"
#include "report/report.h"
#include "watch/watch_start.h"

namespace layright {
namespace {

constexpr double kPressesSeconds = 45;  // the talk with presses has shorter limits of its own

struct DeskWords {
  LedgerWords ledger;
  std::vector<std::string> task, names;
  std::string listen = "127.0.0.1:8642", certificate, key, door;
  bool with_parent = false;
};

/// `check` of one page, which draws its proof; by the program itself, so that it is what the command line would say and draw.
Result<std::string> check_by_program(std::string const& configuration, CheckOrder const& order) {
  std::vector<std::string> words{"check",   order.file.string(),        "--config", configuration, "--target", order.target,
                                 "--pages", std::to_string(order.page), "--format", "json",        "--proof",  order.picture.string()};
  words.insert(words.end(), order.decided.begin(), order.decided.end());
  if (order.view == CheckOrder::View::lies || order.view == CheckOrder::View::came) words.emplace_back("--proof-plain");
  if (order.view == CheckOrder::View::sheet) words.insert(words.end(), {"--proof-for", "sheet", "--proof-dpi", "120"});
  if (order.view == CheckOrder::View::art) words.insert(words.end(), {"--proof-for", "art", "--proof-dpi", "100"});
  if (order.view == CheckOrder::View::worn) words.insert(words.end(), {"--proof-for", "customer", "--proof-dpi", "100"});
  if (order.view == CheckOrder::View::came) words.insert(words.end(), {"--reading", "as-is", "--scale", "keep", "--turn", "0"});
  auto const run = run_own_program(words);
  if (!run) return run.error();
  bool const told = run->status == 0 || run->status == 1 || run->status == 2 || run->status == 65;
  if (!told && run->status == static_cast<int>(ExitStatus::usage)) return usage_error("It cannot be laid so. Say it in another way.");
  if (!told) return Error{ErrorKind::internal, "The file could not be checked (" + std::to_string(run->status) + ")."};
  return run->output;
}

/// Waits for what ends the desk, with those signals held back from all threads.
class EndSignals {
 public:
  EndSignals() {
    sigemptyset(&ends_);
    for (int const each : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ends_, each);
    pthread_sigmask(SIG_BLOCK, &ends_, nullptr);
    signal(SIGPIPE, SIG_IGN);
  }
  ~EndSignals() {
    if (!waiting_.joinable()) return;
    pthread_kill(waiting_.native_handle(), SIGINT);  // where the server ended by itself
    waiting_.join();
  }
  EndSignals(EndSignals const&) = delete;
  EndSignals& operator=(EndSignals const&) = delete;
  void then(std::function<void()> stop) {
    waiting_ = std::thread([this, stop = std::move(stop)] {
      int which = 0;
      sigwait(&ends_, &which);
      stop();
    });
  }

 private:
  sigset_t ends_{};
  std::thread waiting_;
};

/// What must hold before others than this machine can reach an address. Error (usage).
Outcome may_listen(DeskWords const& w, std::string const& option, ListenAddress const& address) {
  if (w.certificate.empty() != w.key.empty()) return usage_error("--certificate and --key go together");
  if (is_of_this_machine(address)) return done();
  std::string const others = option + ": other machines can reach " + shown_address(address) + ", so ";
  if (w.certificate.empty()) return usage_error(others + "it needs TLS: --certificate and --key");
  if (is_any_address(address) && w.names.empty()) return usage_error(others + "say by which name they do: --name");
  return done();
}

ExitStatus run_desk(DeskWords const& w) {
  auto const address = parse_listen_address(w.listen);
  if (!address) return fail(address.error());
  if (auto const may = may_listen(w, "--listen", *address); !may) return fail(may.error());
  auto const door_address = w.door.empty() ? Result<ListenAddress>(ListenAddress()) : parse_listen_address(w.door, "--door");
  if (!door_address) return fail(door_address.error());
  if (auto const may = may_listen(w, "--door", *door_address); !may) return fail(may.error());
  // Started by the watcher, it ends with it, however that ends.
  if (w.with_parent && ::prctl(PR_SET_PDEATHSIG, SIGTERM) != 0) return fail({ErrorKind::internal, "the desk cannot be bound to its watcher"});
  auto const found = find_ledger(w.ledger);
  if (!found) return fail(found.error());
  auto const& configuration = found->configuration;
  auto const warn = [](std::string const& text) { complain("warning: " + text); };
  auto const shop_of = [by = w.ledger.by.empty() ? "desk" : w.ledger.by, &w](FoundLedger const& ledger) -> Result<DeskShop> {
    DeskShop shop{ledger.configuration, ledger.intakes, ledger.path, {}, by};
    auto door = w.door.empty() ? Result<std::filesystem::path>(std::filesystem::path()) : door_folder(shop.intakes);
    if (!door) return door.error();
    shop.door = std::move(*door);
    return shop;
  };
  auto shop = shop_of(*found);
  if (!shop) return fail(shop.error());
  auto const kept = shop->kept_beside();
  if (!w.task.empty()) {
    if (auto const lesser = give_up_root(configuration, warn); !lesser) return fail(lesser.error());
    return run_desk_users(w.task, users_beside(kept));
  }
  if (auto const shut = demand_sandbox(configuration, warn); !shut) return fail(shut.error());
  if (auto const lesser = give_up_root(configuration, warn); !lesser) return fail(lesser.error());
  auto const users = read_users(users_beside(kept));
  if (!users) return fail(users.error());
  if (users->empty() && !is_of_this_machine(*address))
    return fail(
        usage_error("--listen: other machines can reach " + shown_address(*address) + ", and the desk has no users: layright desk user add NAME"));
  auto const passwords = password_hands();
  if (!passwords) return fail(passwords.error());
  EndSignals signals;
  auto const path = configuration.path.string();
  std::vector<std::string> run_decided{"watch", "--decided", "--config", path};
  for (auto const& intake : found->intakes) run_decided.push_back(intake.name);
  DeskHands hands;
  hands.check = [path](CheckOrder const& order) { return check_by_program(path, order); };
  auto const presses = [path](char const* option, std::string const& name, PressHands::Stop const& stop) {
    auto run = run_own_program({"presses", "--config", path, option, name, "--format", "json"}, {kPressesSeconds, stop});
    return run ? std::move(run->output) : std::string();
  };
  hands.presses.press = [presses](std::string const& press, PressHands::Stop const& stop) { return presses("--press", press, stop); };
  hands.presses.queues = [presses](std::string const& target, PressHands::Stop const& stop) { return presses("--target", target, stop); };
  hands.do_decided = [run_decided] { (void)run_own_program(run_decided); };
  hands.passwords = *passwords;
  auto again = w.ledger;
  again.config = path;
  Desk desk(std::move(*shop), hands, [shop_of, again]() -> Result<DeskShop> {
    auto const now = find_ledger(again);
    return now ? shop_of(*now) : Result<DeskShop>(now.error());
  });
  CustomerDoor door([&desk] { return desk.door_folder(); }, notes_beside(kept));
  DoorThread door_thread(door, {*door_address, {}, w.certificate, w.key, {}}, w.names);
  ServerOptions options{*address, {}, w.certificate, w.key, {}};
  bool const tls = !w.certificate.empty();
  options.listening = [&](int port, std::function<void()> stop) {
    auto at = *address;
    if (!at.unix_socket) at.port = port;
    desk.answer_to(own_hosts(at, at.port, w.names), tls, !is_of_this_machine(at));
    if (at.unix_socket || address->port != 0) desk.keep_sessions(shown_address(at, tls));  // no browser finds a desk of another port again
    std::printf("layright desk: %s\n", shown_address(at, tls).c_str());
    std::fflush(stdout);
    if (!w.door.empty()) door_thread.begin(stop);
    signals.then(std::move(stop));
  };
  auto const end = serve(options, [&desk](WebRequest const& request) { return desk.answer(request); });
  auto const door_end = door_thread.end();
  if (!end) return fail(end.error());
  if (!door_end) return fail(door_end.error());
  return ExitStatus::ready;
}

}  // namespace

Run add_desk(CLI::App& command) {
  auto words = std::make_shared<DeskWords>();
  command.add_option("TASK", words->task, "user add NAME, user remove NAME or user list: who may log in; without it the desk is opened");
  command
      .add_option(
          "--listen", words->listen,
          "where: ADDRESS:PORT, port 0 for any that is free, or unix:PATH; the first line tells it. Others than this machine need users and TLS")
      ->type_name("ADDRESS")
      ->capture_default_str();
  add_ledger_options(command, words->ledger);
  command.add_option("--certificate", words->certificate, "TLS: the certificate with its chain (PEM)")->type_name("FILE");
  command.add_option("--key", words->key, "TLS: the certificate's key (PEM)")->type_name("FILE");
  command.add_option("--name", words->names, "a name by which browsers reach it, beside the address; may be said again")->type_name("HOST");
  command.add_option("--door", words->door, "also a page at ADDRESS:PORT where customers hand in files; it shows nothing else")->type_name("ADDRESS");
  command.add_flag("--with-watcher", words->with_parent, "end with the watcher that started it")->group("");
  command.add_option("--by", words->ledger.by, "who decides, as the ledger is to tell it; else \"desk\"")->type_name("NAME");
  return [words] { return run_desk(*words); };
}

}  // namespace layright
