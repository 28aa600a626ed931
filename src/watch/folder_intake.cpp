#include "watch/folder_intake.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "job/plate_work.h"
#include "report/shell_word.h"
#include "watch/decision.h"
#include "watch/free_name.h"
#include "watch/job_code.h"
#include "watch/wall_clock.h"
#include "write/left_temporaries.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

constexpr std::size_t kMostWaiting = 16;  // taken and not begun: more would only be further from the eyes of the shop
constexpr double kBytesASecond = 10e6;    // what a file's bytes count against its time of arrival
constexpr auto kOriginalsEvery = 10min;
constexpr auto kTheirs = std::chrono::seconds(24h);  // longer than any desk has a temporary file

std::string more_words(Intake const& intake, Configuration const& configuration) {
  bool const one_ledger =
      std::all_of(configuration.intakes.begin(), configuration.intakes.end(), [&](auto const& each) { return each.second.ledger == intake.ledger; });
  return " --config " + quoted_for_shell(configuration.path.native()) + (one_ledger ? "" : " --intake " + quoted_for_shell(intake.name));
}

TonerOfFile toner_of(KnownFile const& known) {
  return known.toner_cost ? TonerOfFile{std::llround(*known.toner_cost * 1e6), known.currency} : TonerOfFile();
}

}  // namespace

FolderIntake::FolderIntake(Intake const& intake, IntakePlace place)
    : place_(std::move(place)),
      settings_(settings_of(intake)),
      custody_(*place_.ledger, intake, more_words(intake, *place_.configuration)),
      arrivals_(intake.in, settings_,
                [this](std::string const& name, std::string const& what) { place_.log->report(LogLevel::warning, this->intake().name, name, what); }),
      digests_(intake.in) {}

Outcome FolderIntake::prepare() {
  auto const& in = intake();
  for (auto const& folder : {in.in, in.ready, in.held, in.originals}) {
    std::error_code error;
    if (fs::is_directory(folder, error)) continue;
    if (!fs::create_directories(folder, error))
      return Error{ErrorKind::cannot_create, folder.string() + ": the folder cannot be made: " + error.message()};
    auto const parent = OpenFolder::open(folder.parent_path());
    if (auto const synced = parent ? parent->sync() : Outcome(parent.error()); !synced) return synced;
    place_.log->report(LogLevel::info, in.name, {}, "made the folder " + folder.string());
  }
  // Where others work too, what has no name yet may be theirs: only what is old is nobody's.
  auto const age = place_.ledger->is_shared() ? kTheirs : 0s;
  for (auto const& folder : {in.ready, in.held, in.originals})
    if (auto const cleared = remove_left_temporaries(folder, age); !cleared) return cleared;
  if (!place_.ledger->is_shared()) clear_watched_folder();
  return done();
}

void FolderIntake::tend(SteadyTime now) {
  if (place_.arrivals) arrivals_.look(now);
  if (pause_until_ && now < *pause_until_) return;
  pause_until_.reset();
  if (more_in_ledger_ && in_hand_.size() < kMostWaiting) look_into_ledger_ = true;
  if (look_into_ledger_) go_on_with_ledger(now);
  if (clearing_ && clearing_->over()) clear_watched_folder();
  if (!pause_until_) go_on_with_resumed(now);
  if (!pause_until_) go_on_with_moves(now);
  if (!pause_until_ && place_.arrivals) take_whole(now);
  if (!pause_until_) look_at_unsettled(now);
  if (!pause_until_) gang_what_waits(now);
  if (!pause_until_) remove_old_originals(now);
}

void FolderIntake::queue(LedgerEntry entry, SteadyTime now) {
  in_hand_.insert(entry.id);
  auto const counts_as =
      std::chrono::duration_cast<SteadyTime::duration>(std::chrono::duration<double>(static_cast<double>(entry.mark.bytes) / kBytesASecond));
  waiting_.push_back({std::move(entry), now, now + counts_as});
}

void FolderIntake::at_rest_now(LedgerEntry const& entry) {
  in_hand_.erase(entry.id);
  switch (entry.state) {
    case LedgerState::ready: ++tally_.ready; break;
    case LedgerState::held: ++tally_.held; break;
    case LedgerState::skipped: ++tally_.skipped; break;
    case LedgerState::discarded: ++tally_.discarded; break;
    default: break;
  }
  bool const well = entry.state == LedgerState::ready || entry.state == LedgerState::discarded || entry.state == LedgerState::skipped ||
                    entry.state == LedgerState::waiting;
  if (entry.state == LedgerState::ready && entry.send == "wanted") to_send_.push_back(entry.id);
  place_.log->entry(well ? LogLevel::info : LogLevel::warning, std::string(word(entry.state)), entry, entry.reason);
}

bool FolderIntake::has_room() const {
  auto const heavy = static_cast<std::size_t>(std::count_if(waiting_.begin(), waiting_.end(), [](Waiting const& w) { return w.heavy; }));
  return waiting_.size() - heavy + digests_.size() + digesting_.size() + arriving_.size() < kMostWaiting;
}

Outcome FolderIntake::folders_are_there() const {
  for (auto const& folder : {intake().ready, intake().held, intake().originals})
    if (auto const open = OpenFolder::open(folder); !open) return open.error();
  return done();
}

SteadyTime FolderIntake::next(SteadyTime now) const {
  if (pause_until_) return std::min(*pause_until_, place_.arrivals ? arrivals_.next(now) : *pause_until_);
  if (digests_.size() > 0) return now;
  for (auto const& each : digesting_)
    if (each.reading->over()) return now;
  for (auto const& each : arriving_)
    if (each.copy->over()) return now;
  for (auto const& each : moving_)
    if (each.copy->over()) return now;
  for (auto const& each : resuming_)
    if (each.copy->over()) return now;
  if (clearing_ && clearing_->over()) return now;
  auto next = originals_due_.value_or(now + 1h);
  if (place_.arrivals && has_room()) next = std::min(next, arrivals_.next(now));
  if (gang_due_) next = std::min(next, std::max(now, *gang_due_));
  if (send_after_ && !to_send_.empty()) next = std::min(next, *send_after_);
  for (auto const& each : unsettled_)
    if (!each.reading || each.reading->over()) next = std::min(next, std::max(now + 100ms, each.since + settings_.settle));
  return look_into_ledger_ || look_at_waiting_ ? now : next;
}

std::optional<SteadyTime> FolderIntake::urgent() const {
  auto const found = std::min_element(waiting_.begin(), waiting_.end(), before);
  return found == waiting_.end() || found->heavy ? std::nullopt : std::optional(found->due);
}

bool FolderIntake::heavy_waits() const {
  return std::any_of(waiting_.begin(), waiting_.end(), [](Waiting const& w) { return w.heavy; });
}

void FolderIntake::broken_off(ArrivalJob const& job, SteadyTime now) {
  queue(job.options().entry, now);
  waiting_.back().heavy = true;
}

bool FolderIntake::before(Waiting const& a, Waiting const& b) { return a.heavy != b.heavy ? b.heavy : a.due < b.due; }

std::optional<SteadyTime> FolderIntake::oldest() const {
  auto oldest = arrivals_.oldest();
  if (auto const digesting = digests_.oldest(); digesting && (!oldest || *digesting < *oldest)) oldest = digesting;
  for (auto const& each : digesting_)
    if (!oldest || each.since < *oldest) oldest = each.since;
  for (auto const& each : unsettled_)
    if (!oldest || each.since < *oldest) oldest = each.since;
  for (auto const& each : waiting_)
    if (!oldest || each.since < *oldest) oldest = each.since;
  return oldest;
}

Result<std::shared_ptr<InspectOptions const>> FolderIntake::options_for(LedgerEntry const& entry) const {
  auto const found = place_.configuration->targets.find(entry.target);
  if (found == place_.configuration->targets.end()) return Error{ErrorKind::usage, "the configuration has no target " + entry.target + " any more"};
  auto options = std::make_shared<InspectOptions>();
  options->target = found->second;
  options->unit = place_.configuration->unit;
  options->report_images = true;
  if (entry.copies > 0) options->target.copies = entry.copies;
  auto const* const rule = rule_for(intake(), fs::path(entry.name).filename().native());
  auto white = rule && !entry.is_batch() ? rule->white : std::nullopt;
  if (entry.is_batch()) {
    auto const order = parse_gang_order(entry.gang, entry.place);
    if (!order) return order.error();
    white = order->white;
  }
  if (white && options->target.press.prints_white) options->target.white = *white;
  // A target's own size and place are for one piece a sheet.
  if (entry.is_batch() || gangs(entry)) options->target.placement = PlacementOptions{};
  if (entry.decision.empty()) return std::shared_ptr<InspectOptions const>(options);
  auto const decision = parse_decision(entry.decision);
  if (!decision) return decision.error();
  if (!decision->incoming.empty()) options->incoming = decision->incoming == "wrong" ? Reading::wrong : Reading::right;
  if (!decision->scale.empty()) {
    auto& placement = options->target.placement;
    placement.width = placement.height = std::nullopt;
    placement.asked.size = true;
    if (auto const scaled = parse_scale(decision->scale, placement); !scaled) return scaled.error();
  }
  if (!decision->width.empty()) {
    auto const width = parse_length(decision->width);
    if (!width) return width.error();
    auto& placement = options->target.placement;
    placement.scale = PlacementOptions::Scale::keep;
    placement.width = *width;
    placement.height.reset();
    placement.asked.size = true;
  }
  if (decision->copies > 0) options->target.copies = decision->copies;
  if (auto const page = PageChoice::parse(std::to_string(decision->sheet)); decision->sheet > 0 && !entry.is_batch() && page) options->pages = *page;
  options->selection.accept.insert(decision->accept.begin(), decision->accept.end());
  return std::shared_ptr<InspectOptions const>(options);
}

std::shared_ptr<ArrivalJob> FolderIntake::next_job() {
  auto const found = std::min_element(waiting_.begin(), waiting_.end(), before);
  ArrivalOptions options;
  options.entry = std::move(found->entry);
  waiting_.erase(found);
  if (auto inspect = options_for(options.entry)) {
    options.inspect = *inspect;
  } else {
    options.refused = inspect.error().message;
  }
  options.ready = intake().ready;
  options.waits = gangs(options.entry);
  if (options.entry.is_batch())
    if (auto const ordered = order_of_batch(options); !ordered) options.refused = ordered.error().message;
  options.job_sheet = settings_.job_sheet && !options.waits;
  options.output_stem = promised_stem(options.entry, options.inspect && wants_plate(options.inspect->target, PlateAs::file));
  options.job = job_code(options.entry, *place_.configuration);
  if (auto const events = place_.ledger->events_of(options.entry.id)) options.released = release_words_of(*events);
  for (auto const& member : options.members)
    if (auto const events = place_.ledger->events_of(member.id))
      for (auto const& line : release_words_of(*events)) options.released.push_back(piece_words(member) + ", " + line);
  return std::make_shared<ArrivalJob>(std::move(options));
}

std::vector<std::string> FolderIntake::output_endings(bool plate_apart) const {
  std::vector<std::string> endings{".pdf"};
  if (plate_apart) endings.emplace_back(kPlateEnding);
  if (settings_.job_sheet) endings.emplace_back(".job.pdf");
  return endings;
}

std::string FolderIntake::promised_stem(LedgerEntry const& entry, bool plate_apart) {
  Promised all;
  for (auto const& [id, promised] : promised_)
    if (id != entry.id) all.insert(promised.begin(), promised.end());
  Promised const others = all;
  auto const stem = free_stem(*place_.ledger, intake().ready, fs::path(entry.name).stem().native(), output_endings(plate_apart), all);
  if (!stem) return {};
  std::erase_if(all, [&](auto const& name) { return others.contains(name); });
  promised_[entry.id] = std::move(all);
  return *stem;
}

Outcome FolderIntake::hold(LedgerEntry& entry, std::string const& reason) {
  entry.verdict = "hold";
  entry.reason = reason;
  entry.decision.clear();
  entry.tries = entry.interrupted = 0;
  auto const moved = move_on(entry, LedgerState::held, {entry.id, 0, "watch", "held", reason});
  if (!moved) return moved.error();
  if (*moved) at_rest_now(entry);
  return done();
}

bool FolderIntake::arrives(LedgerEntry const& entry) { return entry.run == 0 && entry.decision.empty(); }

Outcome FolderIntake::give_up_original(LedgerEntry& entry, OriginalNow found) {
  if (auto const given_up = custody_.give_up_original(entry, found); !given_up) return given_up;
  auto const written = place_.ledger->change([&](LedgerChange& change) {
    change.update(entry);
    custody_.settle_members(change, entry);
    change.report({entry.id, entry.changed, "watch", std::string(word(entry.state)), entry.reason});
  });
  if (entry.is_batch()) look_at_waiting_ = true;
  if (written) at_rest_now(entry);
  return written;
}

Outcome FolderIntake::settle(ArrivalJob& job, LedgerEntry& entry, SteadyTime now) {
  if (!job.options().refused.empty()) return hold(entry, job.options().refused);
  entry.findings = job.findings();
  if (job.disk_failed()) return Error{ErrorKind::io, job.laid() ? job.sheet_trouble() : job.refusal()};
  auto const original = custody_.look_at_original(entry);
  bool const reads_long = !original && custody_.take_unread();
  if (!original && !reads_long) return original.error();
  if (reads_long || (original->now == OriginalNow::rewritten && arrives(entry))) return wait_until_settled(entry, now), done();
  if (original->now != OriginalNow::itself)
    return give_up_original(entry, original->now == OriginalNow::gone ? OriginalNow::gone : OriginalNow::replaced);
  if (!job.digest().empty() && job.digest() != entry.digest)
    return hold(entry, "the bytes that were read are not the ones that came: the disk, or somebody, changed them for a moment");
  if (job.worker_failed() && ++entry.tries < settings_.tries) {
    auto const written = place_.ledger->change([&](LedgerChange& change) { change.update(entry); });
    if (written) queue(entry, now);
    return written;
  }
  if (!job.held_members().empty() && entry.run == 0) return take_apart(job, entry);
  if (!job.laid()) return hold(entry, job.refusal() + (job.worker_failed() ? " (tried " + std::to_string(entry.tries) + " times)" : ""));
  return job.options().waits ? wait_for_others(job, entry) : place_later(job, entry, now);
}

Outcome FolderIntake::place_later(ArrivalJob& job, LedgerEntry& entry, SteadyTime now) {
  auto const& stem = job.options().output_stem;
  auto const free =
      stem.empty() ? Result<bool>(false) : is_free_stem(*place_.ledger, intake().ready, stem, output_endings(job.plate_output().has_value()));
  if (!free) return free.error();
  if (!*free) return queue(entry, now), done();  // its job sheet names a file that somebody else has put there: once more, under another name
  if (!job.sheet_trouble().empty()) place_.log->entry(LogLevel::warning, "laid", entry, "without a job sheet: " + job.sheet_trouble());
  std::vector<FreshOutput> outputs{
      {"pdf", ".pdf", &job.output(), job.page_count(), job.options().inspect->target.copies, job.output_digest(), toner_of(job.known())}};
  if (job.plate_output()) outputs.push_back({"plate", kPlateEnding, &*job.plate_output(), 0, 0, {}});  // the same sheets, once more
  if (job.sheet()) outputs.push_back({"sheet", ".job.pdf", &*job.sheet(), 0, 0, {}});
  entry.verdict = "ready";
  entry.decision.clear();
  entry.render = word(job.known().render);
  entry.send = settings_.send ? "wanted" : "";
  entry.send_name.clear();
  entry.send_reported.clear();
  entry.press_job = 0;
  placing_.push_back({std::move(entry), std::move(outputs), stem});
  return done();
}

void FolderIntake::finished(ArrivalJob& job, SteadyTime now) {
  LedgerEntry entry = job.options().entry;
  long long const id = entry.id;
  auto const waiting = placing_.size();
  auto const settled = settle(job, entry, now);
  if (placing_.size() > waiting) return;
  promised_.erase(id);
  ended(entry, settled, place_.ledger->overtaken() != Overtaken::no, now);
}

void FolderIntake::ended(LedgerEntry const& entry, Outcome const& how, bool overtaken, SteadyTime now) {
  if (how) {
    troubles_ = 0;
    return;
  }
  in_hand_.erase(entry.id);  // the ledger knows how far it got
  if (!reads_beside(entry, false)) trouble(how.error(), now, overtaken);
}

void FolderIntake::put_away(SteadyTime now) {
  auto placing = std::exchange(placing_, {});
  custody_.place(placing);
  for (auto const& each : placing) {
    promised_.erase(each.entry.id);
    if (each.end) at_rest_now(each.entry);
    ended(each.entry, each.end, each.overtaken, now);
  }
}

bool FolderIntake::at_rest(SteadyTime now) {
  if (lasting_ && troubles_ >= kTroublesInOneRun) return waiting_.size() == in_hand_.size();
  if (pause_until_ || look_into_ledger_ || look_at_waiting_ || more_in_ledger_ || !in_hand_.empty() || digests_.size() > 0 || !digesting_.empty() ||
      !arriving_.empty() || clearing_ || sending_ || !to_send_.empty())
    return false;
  if (place_.arrivals) arrivals_.give_up_unfinished(now);
  return !place_.arrivals || arrivals_.waiting() == 0;
}

void FolderIntake::remove_old_originals(SteadyTime now) {
  if (originals_due_ && now < *originals_due_) return;
  originals_due_ = now + kOriginalsEvery;
  if (settings_.keep_originals.count() == 0) return;
  auto const old = place_.ledger->originals_before(intake().name, now_ms() - settings_.keep_originals.count());
  if (!old) return trouble(old.error(), now);
  for (auto entry : *old) {
    if (entry.send == "wanted" || entry.send == "sending") continue;
    if (auto const gone = remove_file(fs::path(entry.place)); !gone) return trouble(gone.error(), now);
    LedgerEvent const event{entry.id, now_ms(), "watch", "original removed", entry.place};
    entry.place.clear();
    auto const written = place_.ledger->change([&](LedgerChange& change) {
      change.update(entry);
      change.report(event);
    });
    if (!written) return trouble(written.error(), now);
  }
  if (!old->empty()) originals_due_ = now;
}

}  // namespace layright
