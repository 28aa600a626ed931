// The desk: what is asked of it, and what it answers. Pages, their data, and what persons decide, all of it through the ledger.
#pragma once
#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "desk/current_shop.h"
#include "desk/decision_runner.h"
#include "desk/exchange.h"
#include "desk/press_watch.h"
#include "desk/proof_cache.h"
#include "desk/sessions.h"
#include "isolate/scratch_folder.h"
#include "report/page_json.h"
#include "watch/ledger.h"

namespace layright {

/// One page of a file that is to be checked against a target and drawn.
struct CheckOrder {
  /// As it will lie on the sheet; as it came; as it will be worn; and, for lists, small and without a word, the sheet, or the art as worn.
  enum class View { lies, came, worn, sheet, art };
  std::filesystem::path file, picture;
  std::string target;
  int page = 1;
  View view = View::lies;
  std::vector<std::string> decided = {};  // what a person would say, as `check` takes it
};

/// What the desk has others do: it parses no customer's file itself.
struct DeskHands {
  /// Checks behind the sandbox; gives the JSON of `layright check`, and leaves the proof at `picture`. Called from several threads at a time.
  std::function<Result<std::string>(CheckOrder const&)> check;
  PressHands presses = {};
  /// Does what waits in the ledger, while no watcher runs.
  std::function<void()> do_decided;
  PasswordHands passwords = {};  // absent: nobody can log in
};

class Desk {
 public:
  /// `read`: the shop, by its configuration as it is when asked.
  Desk(DeskShop shop, DeskHands hands, CurrentShop::Read read = {});
  /// What a Host header may say; without this call nobody is answered. `by_users_alone`: others than this machine can reach it, so with no users, also
  /// when the last one is removed while it runs, nobody gets in.
  void answer_to(std::vector<std::string> hosts, bool tls = false, bool by_users_alone = false) {
    hosts_ = std::move(hosts);
    tls_ = tls;
    by_users_alone_ = by_users_alone;
  }
  /// Who was logged in when a desk at this address ended still is. Without this call nobody is.
  void keep_sessions(std::string const& address) { sessions_.keep_in(sessions_beside(kept_, address)); }
  /// Where a file lands that a customer hands in.
  std::filesystem::path door_folder() const { return shop_.now()->door; }
  /// Whether there is anybody to log in.
  bool has_users() { return sessions_.has_users(); }
  /// May be called from many threads at a time.
  WebAnswer answer(WebRequest const& request);

 private:
  /// What anybody may have; else who asks is looked at first.
  WebAnswer admitted(WebRequest const& request);
  WebAnswer login(WebRequest const& request);
  WebAnswer logout(WebRequest const& request);
  WebAnswer me(Visitor const& visitor);
  std::optional<Visitor> visitor_of(WebRequest const& request);
  std::string cookie_name(WebRequest const& request) const;
  WebAnswer routed(WebRequest const& request, Visitor const& visitor);
  WebAnswer job(WebRequest const& request, std::vector<std::string> const& steps, Visitor const& visitor);
  WebAnswer decided(WebRequest const& request, long long id, std::string const& what, Visitor const& visitor);
  /// All that waits for sheets, or what is said of it, waits no more: as "gang now".
  WebAnswer laid_now(WebRequest const& request, Visitor const& visitor);
  /// Under which order each of these rows was handed in.
  void add_orders(Json& jobs) const;
  WebAnswer changed(Ledger& ledger, long long id, Json const& said, std::string const& what, std::string const& who);
  WebAnswer download(Ledger const& ledger, LedgerEntry const& entry, std::string const& kind);
  WebAnswer look_of_job(WebRequest const& request, Ledger const& ledger, LedgerEntry const& entry);
  /// What was found on a page, and where its picture is.
  WebAnswer look(std::string const& name, std::string const& digest, CheckOrder order);
  WebAnswer proof(std::string const& key);
  WebAnswer picture_of_job(Ledger const& ledger, LedgerEntry const& entry);
  WebAnswer presses();
  WebAnswer checked_upload(WebRequest const& request);
  /// A file for the day's work, by who is at the desk.
  WebAnswer handed_in(WebRequest const& request, Visitor const& visitor);
  WebAnswer settings() const;
  WebAnswer events();
  WebAnswer metrics();

  std::filesystem::path const ledger_, kept_;
  CurrentShop const shop_;
  DeskHands const hands_;
  std::vector<std::string> hosts_;
  bool tls_ = false, by_users_alone_ = false;
  Sessions sessions_;
  std::string const token_;  // of all visitors where nobody logs in
  ScratchFolder scratch_;
  ProofCache proofs_;
  DecisionRunner runner_;
  std::atomic<long long> requests_ = 0, refused_ = 0, decisions_ = 0, uploads_ = 0;
  std::shared_ptr<std::atomic<int>> listeners_ = std::make_shared<std::atomic<int>>(0);
  std::atomic<int> uploading_ = 0;
  PressWatch presses_;
};

}  // namespace layright
