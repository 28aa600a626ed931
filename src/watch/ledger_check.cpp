#include "watch/ledger_check.h"

#include <algorithm>

#include "watch/file_mover.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

std::string job(LedgerEntry const& e) { return "job " + std::to_string(e.id) + " (" + e.name + ", " + std::string(word(e.state)) + "): "; }

/// What is wrong with a file that should have these bytes; empty when nothing is.
Result<std::string> fault_of(std::string const& path, std::string const& digest) {
  auto const folder = OpenFolder::open(fs::path(path).parent_path());
  if (!folder) return path + " is gone, with its folder";
  auto const found = digest_at(*folder, fs::path(path).filename().native());
  if (!found) return found.error();
  if (found->empty()) return path + " is gone";
  return *found == digest ? std::string() : path + " has other bytes than the ledger says";
}

bool ends_as_note(std::string const& name) { return name.ends_with(".txt") || name.ends_with(".json"); }

Result<bool> knows(Ledger const& ledger, fs::path const& folder, std::string const& name) {
  auto const known = ledger.names_like(folder, name);
  if (!known) return known.error();
  return std::any_of(known->begin(), known->end(), [&](KnownName const& each) { return each.path == (folder / name).native(); });
}

Outcome check_folder(Ledger const& ledger, fs::path const& folder, bool notes, LedgerCheck& sum,
                     std::function<void(std::string const&)> const& report) {
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    auto const name = it->path().filename().native();
    ++sum.files;
    auto known = knows(ledger, folder, name);
    if (known && !*known && notes && ends_as_note(name)) known = knows(ledger, folder, name.substr(0, name.rfind('.')));
    if (!known) return known.error();
    if (*known) continue;
    ++sum.faults;
    report(it->path().string() + " is not known to the ledger");
  }
  if (error) {
    ++sum.faults;
    report(folder.string() + " cannot be looked into: " + error.message());
  }
  return done();
}

}  // namespace

Result<LedgerCheck> check_ledger(Ledger const& ledger, std::vector<Intake> const& intakes, std::function<void(std::string const&)> const& report) {
  LedgerCheck sum;
  auto const damage = ledger.damage();
  if (!damage) return damage.error();
  for (auto const& each : *damage) {
    ++sum.faults;
    report("the ledger's file: " + each);
  }
  if (!damage->empty()) return sum;
  std::vector<LedgerEntry> entries;
  auto const listed = ledger.list({}, [&](LedgerEntry const& e) { entries.push_back(e); });
  if (!listed) return listed.error();
  auto const look = [&](LedgerEntry const& e, std::string const& path, std::string const& digest) -> Outcome {
    auto const fault = fault_of(path, digest);
    if (!fault) return fault.error();
    if (fault->empty()) return done();
    ++sum.faults;
    report(job(e) + *fault);
    return done();
  };
  for (auto const& e : entries) {
    ++sum.entries;
    bool const on_its_way = e.state == LedgerState::moving || e.state == LedgerState::placing;
    if (e.state == LedgerState::missing) {
      ++sum.faults;
      report(job(e) + "its original was taken away");
      continue;
    }
    if (on_its_way) continue;  // the next start of the watch goes on with it
    if (!e.place.empty())
      if (auto const o = look(e, e.place, e.digest); !o) return o.error();
    auto const outputs = ledger.outputs_of(e.id);
    if (!outputs) return outputs.error();
    for (auto const& out : *outputs)
      if (out.there)
        if (auto const o = look(e, out.path, out.digest); !o) return o.error();
  }
  for (auto const& intake : intakes) {
    for (auto const& folder : {intake.originals, intake.ready})
      if (auto const o = check_folder(ledger, folder, false, sum, report); !o) return o.error();
    if (auto const o = check_folder(ledger, intake.held, true, sum, report); !o) return o.error();
  }
  return sum;
}

}  // namespace layright
