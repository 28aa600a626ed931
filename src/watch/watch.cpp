#include "watch/watch.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "sheet/ledger_address.h"
#include "watch/folder_intake.h"
#include "watch/folder_lock.h"
#include "watch/locked_ledger.h"
#include "watch/service_notice.h"
#include "watch/watch_health.h"
#include "watch/watch_signals.h"
#include "watch/watch_start.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

constexpr int kWhilePutAway = 1;      // jobs beyond the cores: while the watcher waits for the disk, no core does
constexpr double kMoment = 1.5;       // seconds after which a job gives its place to others
constexpr int kMostSendings = 64;     // at a time: each mostly waits for its press
constexpr int kMostCopies = 2;        // to another disk at a time
constexpr auto kToFinish = 3s;        // for jobs in hand after a signal; the whole end takes less than 5 s
constexpr auto kLedgerEvery = 500ms;  // how often to see whether a person has decided something
constexpr auto kHealthEvery = 2s;
constexpr int kRenewals = 4;  // of a lease, while it lasts

class Watch {
 public:
  explicit Watch(WatchOptions const& options)
      : options_(options),
        log_(options.json, &line_),
        pool_(usual_parallel() + kWhilePutAway, kMoment),
        sending_pool_(std::in_place, kMostSendings) {}

  Outcome begin();
  WatchEnd run();

 private:
  Outcome set_up(std::shared_ptr<Configuration const> const& configuration);
  void reload();
  void start_jobs();
  void put_back_broken_off(SteadyTime now);
  void finish_jobs(SteadyTime now);
  void send(SteadyTime now);
  void copy();
  /// Whether all ledgers are still what they were; else the watch has told, and ends without touching any of them.
  bool ledgers_hold();
  Outcome lock_folders(Intake const& intake);
  void look_for_decisions(SteadyTime now);
  void renew_leases(SteadyTime now);
  void report_health(SteadyTime now);
  void show_progress();
  void wait(SteadyTime now);
  void end_soon();
  bool all_done(SteadyTime now);
  WatchEnd sum() const;
  WatchEnd stopped() const;

  WatchOptions const& options_;
  StatusLine line_;
  WatchLog log_;
  Signals signals_;
  FolderLocks folders_;
  std::map<fs::path, std::unique_ptr<LockedLedger>> ledgers_;
  std::vector<std::unique_ptr<FolderIntake>> desks_;
  std::vector<std::pair<std::shared_ptr<ArrivalJob>, FolderIntake*>> running_;
  std::vector<std::pair<std::shared_ptr<SendJob>, FolderIntake*>> sendings_;
  WorkerPool pool_;
  std::optional<WorkerPool> sending_pool_;
  WorkerPool copy_pool_{kMostCopies};
  std::vector<std::shared_ptr<CopyAhead>> copies_;
  std::optional<Error> broken_;  // a ledger was taken away
  long long sheets_ = 0;         // jobs begun that make a job sheet
  long long pages_ = 0;          // of jobs that are over
  bool draining_ = false;        // a new configuration waits for the jobs in hand
  SteadyTime ledger_due_{}, renew_due_{}, health_due_{}, watchdog_due_{};
  std::chrono::milliseconds lease_{};  // of what this desk has in hand in a shared ledger
  std::chrono::milliseconds watchdog_ = watchdog_interval();
  IntakeTally before_;  // of desks that a new configuration replaced
};

Outcome Watch::set_up(std::shared_ptr<Configuration const> const& configuration) {
  auto const wanted = wanted_intakes(*configuration, options_.names);
  if (!wanted) return wanted.error();
  std::map<fs::path, std::unique_ptr<LockedLedger>> fresh;
  std::vector<std::unique_ptr<FolderIntake>> desks;
  for (auto const* const intake : *wanted) {
    auto const& path = intake->ledger;
    if (!ledgers_.contains(path) && !fresh.contains(path)) {
      auto locked = lock_ledger(path);
      if (!locked) return locked.error();
      fresh[path] = std::move(*locked);
    }
    auto& locked = fresh.contains(path) ? fresh[path] : ledgers_[path];
    if (auto const alone = lock_folders(*intake); !alone) return alone;
    auto const lease = settings_of(*intake).lease;
    lease_ = desks.empty() ? lease : std::min(lease, lease_);
    if (auto const at_work = locked->ledger.work_as_desk(lease_); !at_work) return at_work;
    desks.push_back(std::make_unique<FolderIntake>(*intake, IntakePlace{configuration, &locked->ledger, &log_, options_.once, options_.arrivals}));
    if (auto const prepared = desks.back()->prepare(); !prepared) return prepared;
    if (auto const alone = lock_folders(*intake); !alone) return alone;  // those that were made now
  }
  for (auto const& desk : desks_) {
    before_.ready += desk->tally().ready;
    before_.held += desk->tally().held;
  }
  desks_ = std::move(desks);
  for (auto& [path, locked] : fresh) ledgers_[path] = std::move(locked);
  std::erase_if(ledgers_, [&](auto const& each) {
    return std::none_of(desks_.begin(), desks_.end(), [&](auto const& desk) { return desk->intake().ledger == each.first; });
  });
  return done();
}

/// Another watcher there, with another ledger, would take the same files. What is ready may be another's to take in.
Outcome Watch::lock_folders(Intake const& intake) {
  for (auto const& folder : {intake.in, intake.held, intake.originals})
    if (auto const locked = folders_.take(folder, is_server_address(intake.ledger.native())); !locked) return locked;
  return done();
}

Outcome Watch::begin() {
  auto configuration = load_configuration(options_.configuration);
  if (!configuration) return configuration.error();
  auto const warn = [&](std::string const& what) {
    if (options_.arrivals) log_.report(LogLevel::warning, {}, {}, what);
  };
  if (auto const shut_in = demand_sandbox(*configuration, warn); !shut_in) return shut_in;
  if (auto const lesser = give_up_root(*configuration, warn); !lesser) return lesser;
  if (auto const good = set_up(std::make_shared<Configuration const>(std::move(*configuration))); !good) return good;
  for (auto const& desk : desks_)
    log_.report(LogLevel::info, desk->intake().name, {}, (options_.once ? "looking in " : "watching ") + desk->intake().in.string());
  return done();
}

/// Between two jobs: whatever is wrong with the new one, the old one stays.
void Watch::reload() {
  draining_ = false;
  notify_service_manager("RELOADING=1");
  // A sending that is broken off is looked for at the press before it is tried again.
  sendings_.clear();
  sending_pool_.emplace(kMostSendings);
  auto configuration = load_configuration(options_.configuration);
  auto const good = configuration ? set_up(std::make_shared<Configuration const>(std::move(*configuration))) : Outcome(configuration.error());
  if (good) log_.report(LogLevel::info, {}, {}, "read the configuration again");
  else log_.report(LogLevel::error, {}, {}, good.error().message + "; going on with the configuration as it was");
  notify_service_manager("READY=1");
}

void Watch::start_jobs() {
  while (!draining_) {
    FolderIntake* most = nullptr;
    for (auto const& desk : desks_)
      if (auto const due = desk->urgent(); due && (!most || *due < *most->urgent())) most = desk.get();
    pool_.others_wait(most != nullptr);
    bool const heavy = !most;
    for (auto const& desk : desks_)
      if (!most && desk->heavy_waits()) most = desk.get();
    if (!most || !(heavy ? pool_.has_room_for_heavy() && pool_.has_room() : pool_.has_room())) return;
    auto job = most->next_job();
    // The first sheet is made by a child that loads what it takes itself; from the second on that is worth doing once for all.
    if (job->options().job_sheet && ++sheets_ == 2) prepare_job_sheets();
    running_.emplace_back(job, most);
    pool_.start(std::move(job), heavy);
  }
}

/// They begin anew when nobody else waits.
void Watch::put_back_broken_off(SteadyTime now) {
  for (auto const& job : pool_.take_broken_off()) {
    auto const found = std::find_if(running_.begin(), running_.end(), [&](auto const& each) { return each.first == job; });
    if (found == running_.end()) continue;
    found->second->broken_off(*found->first, now);
    running_.erase(found);
  }
}

bool Watch::ledgers_hold() {
  for (auto& [path, locked] : ledgers_) {
    auto const what = broken_ || !locked->seal ? std::nullopt : locked->seal->broken();
    if (!what) continue;
    broken_ = Error{ErrorKind::data, path.string() + ": the ledger " + *what +
                                         " while the watcher ran, which stopped at once: what it knew since then is not kept. Put the ledger, or its "
                                         "last backup, in its place, and prove it with layright ledger check before the next start"};
    log_.report(LogLevel::error, {}, {}, broken_->message);
  }
  if (broken_)
    for (auto& [path, locked] : ledgers_) locked->ledger.abandon();
  return !broken_;
}

void Watch::copy() {
  std::erase_if(copies_, [](auto const& each) { return each->over(); });
  for (auto const& desk : desks_)
    while (copy_pool_.has_room()) {
      auto job = desk->next_copy();
      if (!job) break;
      copies_.push_back(job);
      copy_pool_.start(std::move(job));
    }
}

void Watch::finish_jobs(SteadyTime now) {
  std::vector<std::pair<std::shared_ptr<ArrivalJob>, FolderIntake*>> over;
  for (auto& each : running_)
    if (each.first->over()) over.push_back(std::move(each));
  if (over.empty() || !ledgers_hold()) return;
  std::erase_if(running_, [](auto const& each) { return !each.first; });
  start_jobs();  // the cores go on while what is done is put away
  for (auto& [job, desk] : over) {
    pages_ += job->pages_done();
    desk->finished(*job, now);
  }
  for (auto const& desk : desks_) desk->put_away(now);
}

void Watch::send(SteadyTime now) {
  for (auto& [job, desk] : sendings_)
    if (job->over()) desk->sent(*job, now);
  std::erase_if(sendings_, [](auto const& each) { return each.first->over(); });
  for (auto const& desk : desks_) {
    if (draining_ || !sending_pool_->has_room()) return;
    auto job = desk->next_sending(now);
    if (!job) continue;
    if (!ledgers_hold()) return;  // else the press would have what no ledger knows of
    sendings_.emplace_back(job, desk.get());
    sending_pool_->start(std::move(job));
  }
}

void Watch::look_for_decisions(SteadyTime now) {
  if (now < ledger_due_) return;
  ledger_due_ = now + kLedgerEvery;
  for (auto const& desk : desks_)
    if (desk->ledger().is_shared()) desk->look_for_work(now);
  for (auto& [path, locked] : ledgers_) {
    if (locked->ledger.is_shared()) continue;
    auto const version = locked->ledger.version_of_data();
    if (!version || *version == std::exchange(locked->version, *version)) continue;
    for (auto const& desk : desks_)
      if (&desk->ledger() == &locked->ledger) desk->ledger_changed();
  }
}

/// What is in hand stays this desk's. Where that cannot be written, others go on with it in time.
void Watch::renew_leases(SteadyTime now) {
  if (now < renew_due_) return;
  renew_due_ = now + lease_ / kRenewals;
  for (auto& [path, locked] : ledgers_)
    if (auto const renewed = locked->ledger.renew(); !renewed) log_.report(LogLevel::warning, {}, {}, renewed.error().message);
}

void Watch::report_health(SteadyTime now) {
  if (watchdog_.count() > 0 && now >= watchdog_due_) {
    notify_service_manager("WATCHDOG=1");
    watchdog_due_ = now + watchdog_;
  }
  if (now < health_due_) return;
  health_due_ = now + kHealthEvery;
  std::size_t queue = 0;
  std::optional<SteadyTime> oldest;
  auto tally = before_;
  for (auto const& desk : desks_) {
    queue += desk->queue_length();
    if (auto const since = desk->oldest(); since && (!oldest || *since < *oldest)) oldest = since;
    tally.ready += desk->tally().ready;
    tally.held += desk->tally().held;
  }
  double const waits = oldest ? std::chrono::duration<double>(now - *oldest).count() : 0;
  notify_service_manager("STATUS=" + std::to_string(queue) + " waiting, " + std::to_string(tally.ready) + " ready and " + std::to_string(tally.held) +
                         " held since the start");
  if (options_.health.empty()) return;
  auto const kept = write_health(options_.health, {queue, std::max(0.0, waits), running_.size(), tally.ready, tally.held});
  if (!kept) log_.report(LogLevel::warning, {}, {}, kept.error().message);
}

/// Of a watch that ends; one that goes on has its log.
void Watch::show_progress() {
  if (!options_.once || !line_.due()) return;
  FilesDone so_far;
  for (auto const& desk : desks_) {
    auto const& tally = desk->tally();
    so_far.files += static_cast<std::size_t>(tally.ready + tally.held + tally.skipped + tally.discarded);
    so_far.of_files += desk->queue_length();
  }
  so_far.of_files += so_far.files;
  if (so_far.of_files == 0) return;
  so_far.pages = pages_;
  auto share = static_cast<double>(so_far.files);
  for (auto const& [job, desk] : running_) {
    so_far.pages += job->pages_done();
    if (so_far.of_files == 1) so_far.of_pages = job->pages_of();
    if (job->pages_of() > 0) share += std::min(1.0, static_cast<double>(job->pages_done()) / job->pages_of());
  }
  so_far.share = share / static_cast<double>(so_far.of_files);
  line_.put(words_of(so_far, line_.seconds()));
}

void Watch::wait(SteadyTime now) {
  std::vector<int> descriptors{signals_.descriptor()};
  show_progress();
  auto until = std::min({now + 60s, health_due_, ledger_due_, renew_due_});
  if (options_.once && line_.shown()) until = std::min<SteadyTime>(until, now + StatusLine::kEvery);
  if (watchdog_.count() > 0) until = std::min(until, watchdog_due_);
  std::vector<FolderIntake*> reported;
  for (auto const& desk : desks_) {
    until = std::min(until, desk->next(now));
    if (desk->descriptor() < 0) continue;
    descriptors.push_back(desk->descriptor());
    reported.push_back(desk.get());
  }
  for (int descriptor : sending_pool_->descriptors()) descriptors.push_back(descriptor);
  for (int descriptor : copy_pool_.descriptors()) descriptors.push_back(descriptor);
  auto const readable = pool_.wait(descriptors, until);
  if (!sendings_.empty()) sending_pool_->wait({}, now);
  if (!copies_.empty()) copy_pool_.wait({}, now);
  if (readable[0]) signals_.take();
  for (std::size_t i = 0; i < reported.size(); ++i)
    if (readable[i + 1]) reported[i]->take_events(Clock::now());
}

bool Watch::all_done(SteadyTime now) {
  return options_.once && running_.empty() && std::all_of(desks_.begin(), desks_.end(), [&](auto const& desk) { return desk->at_rest(now); });
}

/// After a signal: what is in hand may come to its end for a moment; what does not is laid again at the next start.
void Watch::end_soon() {
  notify_service_manager("STOPPING=1");
  draining_ = true;
  auto const end = Clock::now() + kToFinish;
  while (!running_.empty() && !broken_ && Clock::now() < end) {
    pool_.wait({}, end);
    finish_jobs(Clock::now());
  }
  log_.report(LogLevel::info, {}, {},
              running_.empty() ? "ended" : "ended; " + std::to_string(running_.size()) + " in hand will be laid at the next start");
}

WatchEnd Watch::sum() const {
  WatchEnd end;
  end.trouble = broken_;
  end.held = before_.held > 0;
  for (auto const& desk : desks_) {
    end.held = end.held || desk->tally().held > 0 || desk->tally().not_sent > 0 || desk->left_lying() > 0;
    if (desk->lasting_trouble()) end.trouble = desk->lasting_trouble();
  }
  return end;
}

WatchEnd Watch::stopped() const {
  WatchEnd end;
  end.trouble = broken_;
  return end;
}

WatchEnd Watch::run() {
  notify_service_manager("READY=1");
  for (;;) {
    auto const now = Clock::now();
    if (signals_.stop) break;
    if (std::exchange(signals_.reload, false)) draining_ = true;
    if (draining_ && running_.empty()) reload();
    if (!ledgers_hold()) return stopped();
    put_back_broken_off(now);
    finish_jobs(now);
    if (broken_) return stopped();
    copy();
    send(now);
    if (broken_) return stopped();
    if (!draining_) {
      look_for_decisions(now);
      for (auto const& desk : desks_) desk->tend(now);
      start_jobs();
    }
    renew_leases(now);
    report_health(now);
    if (all_done(now)) return sum();
    wait(now);
  }
  end_soon();
  auto end = sum();
  end.interrupted = true;
  return end;
}

}  // namespace

Result<WatchEnd> watch(WatchOptions const& options) {
  Watch watch(options);
  if (auto const begun = watch.begin(); !begun) return begun.error();
  return watch.run();
}

}  // namespace layright
