// The desk: what is asked of it, and what it answers. Pages, their data, and what persons decide, all of it through the ledger.
#pragma once
#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "desk/decision_runner.h"
#include "desk/exchange.h"
#include "desk/proof_cache.h"
#include "isolate/scratch_folder.h"
#include "report/page_json.h"
#include "sheet/configuration.h"
#include "watch/ledger.h"

namespace layright {

/// One page of a file that is to be checked against a target and drawn.
struct CheckOrder {
  std::filesystem::path file, picture;
  std::string target;
  int page = 1;
};

/// What the desk has others do: it parses no customer's file itself.
struct DeskHands {
  /// Checks behind the sandbox; gives the JSON of `layright check`, and leaves the proof at `picture`. Called from several threads at a time.
  std::function<Result<std::string>(CheckOrder const&)> check;
  /// Does what waits in the ledger, while no watcher runs.
  std::function<void()> do_decided;
};

/// Whose desk it is.
struct DeskShop {
  Configuration configuration;
  std::vector<Intake> intakes;  // of the one ledger
  std::filesystem::path ledger;
  std::string who = "desk";  // who decides, as the ledger tells it
};

class Desk {
 public:
  Desk(DeskShop shop, DeskHands hands);
  /// What a Host header may say; without this call nobody is answered.
  void answer_to(std::vector<std::string> hosts) { hosts_ = std::move(hosts); }
  /// May be called from many threads at a time.
  WebAnswer answer(WebRequest const& request);

 private:
  WebAnswer routed(WebRequest const& request);
  WebAnswer job(WebRequest const& request, std::vector<std::string> const& steps);
  WebAnswer decided(WebRequest const& request, long long id, std::string const& what);
  WebAnswer changed(Ledger& ledger, long long id, Json const& said, std::string const& what);
  WebAnswer download(Ledger const& ledger, LedgerEntry const& entry, std::string const& kind);
  WebAnswer look_of_job(WebRequest const& request, Ledger const& ledger, LedgerEntry const& entry);
  /// What was found on a page, and where its picture is.
  WebAnswer look(std::string const& name, std::string const& digest, CheckOrder order);
  WebAnswer proof(std::string const& key);
  WebAnswer checked_upload(WebRequest const& request);
  WebAnswer settings() const;
  WebAnswer events();
  WebAnswer metrics() const;

  DeskShop const shop_;
  DeskHands const hands_;
  std::vector<std::string> hosts_;
  ScratchFolder scratch_;
  ProofCache proofs_;
  DecisionRunner runner_;
  std::atomic<long long> requests_ = 0, refused_ = 0, decisions_ = 0, uploads_ = 0;
  std::shared_ptr<std::atomic<int>> listeners_ = std::make_shared<std::atomic<int>>(0);
  std::atomic<int> uploading_ = 0;
};

}  // namespace layright
