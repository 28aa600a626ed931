#include "job/lay_work.h"

#include <cerrno>
#include <cmath>
#include <cstring>
#include <functional>

#include "isolate/input_file.h"
#include "job/file_sink.h"
#include "verify/mark_trace.h"
#include "verify/trace_recorder.h"
#include "write/gang_sheets.h"
#include "write/write_laid.h"

namespace layright {
namespace {

std::uint64_t trouble_number(Marks const& marks) { return marks.whole ? 0 : std::hash<std::string>{}(marks.trouble) | 1; }

/// "page 2", and which file in a package it is.
std::string page_words(CheckWork const& work, int number) {
  auto const member = work.before && work.before->member_of ? work.before->member_of(number) : std::string();
  return "page " + std::to_string(number) + (member.empty() ? "" : " (" + member + ")");
}

/// Why the file as a whole may not be laid, whatever the selection leaves out; empty when it may.
std::string file_refusal(OpenedFile const& file, std::vector<Finding> const& findings, Selection const& selection) {
  for (auto const& f : findings)
    if (f.level == Level::hold && !f.accepted && !f.suppressed) return f.message;
  if (!file.document) return "the file cannot be read";
  if (!file.document->printing_allowed() && !selection.accept.contains("file.permission"))
    return "its owner forbids printing; ask the customer for a file without this restriction, or use --accept file.permission";
  if (file.document->lost_something() && !selection.accept.contains("file.damaged"))
    return "part of the file is lost; have it saved again, or look at it and use --accept file.damaged";
  return {};
}

/// What is accepted of the file is kept with each of its pages.
void record_accepted(std::vector<LaidPage>& pages, std::vector<Finding> const& findings) {
  for (auto const& f : findings) {
    if (!f.accepted) continue;
    for (auto& page : pages)
      if (!accepted_in(page.record, f.check)) page.record.accepted.push_back(f.check);
  }
}

struct ToWrite {
  std::vector<LaidPage> const& pages;
  Sheet const& sheet;
  KeptClaims claims;
};

void write_pages(OpenedFile& file, std::span<std::byte const> source, ToWrite const& wanted, int output, Sender const& sender) {
  FileSink sink(output, source, sender);
  auto const promise = promised_press(*file.document);
  auto const written = write_laid(
      *file.document, wanted.pages, wanted.sheet, [&](std::span<std::byte const> bytes) { return sink.take(bytes); }, wanted.claims);
  if (written && sink.flush()) send_message(sender, message::Written{promise});
  else if (!written && written.error().kind == ErrorKind::data)  // the file's fault, not the disk's
    send_message(sender, message::Refused{written.error().message});
  else send_message(sender, message::NotWritten{sink.error() ? std::strerror(sink.error()) : written.error().message});
}

}  // namespace

bool is_the_sheet(Page const& page, Rect<SheetSpace> const& sheet) {
  auto const same = [](double a, double b) { return std::abs(a - b) <= kPlaceTolerance; };
  return page.usable && page.clockwise == Turn::none && page.user_unit == 1 && same(page.seen.width, sheet.width()) &&
         same(page.seen.height, sheet.height()) && page.record && page.record->holds;
}

void lay_file(CheckWork const& given, std::optional<Tiling> const& tiling, std::FILE* tape_file, int output, Sender const& sender) {
  CheckWork work = given;
  work.claims_tested = work.from == 1;                  // of earlier pages nothing is known here
  auto& file = *new OpenedFile(open_file(work, true));  // never freed: the process ends with the file
  if (file.document) expect_to_lay(*file.document);
  if (work.from == 1) report_head(file, sender);
  std::optional<TraceWriter> tape;
  std::optional<TraceRecorder> trace;
  if (tape_file) trace.emplace(tape.emplace(tape_file));
  std::vector<LaidPage> pages;
  InspectOptions const options = tiling ? without_sheet(*work.options) : *work.options;
  int asked = 0, laid = 0, plates = 0;
  for (int n = work.from; file.document && n <= file.document->page_count(); ++n) {
    if (!work.options->pages.has(n)) continue;
    if (n == work.from && work.lost) {
      ++asked;
      report_lost_page(work, *file.document, sender);
      send_message(sender, message::Refused{work.lost->message});
      continue;
    }
    long const tape_offset = tape_file ? std::ftell(tape_file) : 0;
    auto page = inspect_page(*file.document, {file.reader.get(), work.letters, trace ? &*trace : nullptr, file.art ? &*file.art : nullptr, 0, {}}, n,
                             options, true);
    if (page.asks_letters) return send_message(sender, message::AsksLetters{});
    if (page.report.page.is_plate()) {  // it is made anew
      ++plates;
      continue;
    }
    ++asked;
    note_claims(work, page);
    auto const& r = page.report;
    if (r.page.usable && r.page.clockwise) note_size(work.sizes, r.page.seen, work.options->target.limits.size_tolerance);
    auto& record = page.plan.record;
    if (record && tape_file && std::ftell(tape_file) == tape_offset) {  // not a mark of it could be read: nothing would prove it, accepted or not
      record.reset();
      page.plan.refusal = r.marks && !r.marks->trouble.empty() ? r.marks->trouble : "the page cannot be read";
    }
    if (record && record->source_sha256.empty()) record->source_sha256 = file.sha256;
    auto const trouble = r.marks ? trouble_number(*r.marks) : 0;
    if (record && tiling) {
      auto tiled = tile_page(page, *file.reader, *work.options, *tiling);
      if (auto const* parted = std::get_if<TiledPage>(&tiled)) {
        ++laid;
        pages.insert(pages.end(), parted->pages.begin(), parted->pages.end());
        message::TiledPage report{parted->proofs, parted->tiles, page_summary(r)};
        for (auto& proof : report.proofs) proof.tape_offset = tape_offset, proof.trouble = trouble;
        send_message(sender, report);
        continue;
      }
      record.reset();
      page.plan.refusal = std::get<std::string>(tiled);
    }
    if (record) {
      ++laid;
      pages.push_back({r.page, record->placement, *record});
      send_message(sender, message::LaidPage{{page.plan.placement->matrix, tape_offset, trouble}, page_summary(r)});
    } else {
      send_message(sender, message::Refused{page_words(work, n) + ": " + page.plan.refusal});
      send_message(sender, message::Page{page_summary(r)});
    }
  }
  auto const findings = findings_of_file(work, file);
  send_message(sender, message::End{reported_findings(findings)});
  std::string const refusal = file_refusal(file, findings, work.options->selection);
  if (!refusal.empty()) send_message(sender, message::Refused{refusal});
  record_accepted(pages, findings);
  if (output >= 0 && refusal.empty() && work.from == 1 && asked > 0 && laid == asked) {
    if (tape_file && (tape->failed() || std::fflush(tape_file) != 0)) {
      send_message(sender, message::NotWritten{"the temporary file for the proof cannot be written"});
      return;
    }
    KeptClaims claims = file.document ? claims_of_laid(file.document->art(), work.claims_tested && work.claims_hold) : KeptClaims{};
    if (file.document && wants_plate(work.options->target, PlateAs::spot)) claims = claims_with_plate(file.document->art(), claims);
    write_pages(file, work.bytes, {pages, work.options->target.sheet, claims}, output, sender);
  } else if (asked == 0 && file.document) {
    send_message(sender, message::Refused{plates > 0 ? "it is a white plate by itself; lay the file of its art, and the plate is made anew"
                                                     : "none of the pages asked for is there"});
  }
}

void verify_laid(ProofPart const& part, InspectOptions const& options, Sender const& sender) {
  auto const differs = [&](std::string const& how) { send_message(sender, message::Differs{how}); };
  auto const bytes = map_whole(part.output);
  auto opened = Document::open(bytes, "the laid file", {}, [bytes] { drop_cached_pages(bytes); });
  auto* const document = std::get_if<std::unique_ptr<Document>>(&opened);
  auto reader = MarksReader::open(bytes, {}, [bytes] { drop_cached_pages(bytes); });
  if (!document || !reader) return differs("the laid file cannot be opened again");
  int const count = static_cast<int>(part.pages->size());
  if ((*document)->page_count() != count || (*reader)->page_count() != count) return differs("the laid file has another number of pages");
  // The tape is mapped, since parts that are read side by side must not share a place in one file.
  auto const tape_bytes = map_whole(part.tape);
  std::FILE* const tape_file = fmemopen(const_cast<std::byte*>(tape_bytes.data()), tape_bytes.size(), "rb");
  if (!tape_file) return differs("the tape of the source's marks cannot be read");
  TraceComparer tape(tape_file);
  MarksWanted wanted;
  wanted.ink = wanted.images = wanted.frames = wanted.cut = false;
  wanted.seconds = options.target.limits.seconds_a_page;
  TraceRecorder trace(tape);
  wanted.also = &trace;
  for (int n = part.first; n <= part.last; ++n) {
    Page const page = (*document)->page(n);
    if (!is_the_sheet(page, options.target.sheet.page()))
      return differs("page " + std::to_string(n) + " is not the sheet, or its record does not hold");
    auto const& expected = (*part.pages)[static_cast<std::size_t>(n - 1)];
    if (expected.tape_offset < 0 || static_cast<std::size_t>(expected.tape_offset) >= tape_bytes.size() ||
        std::fseek(tape_file, expected.tape_offset, SEEK_SET) != 0)
      return differs("the tape of the source's marks is cut short");
    tape.expect(expected.placement, expected.cut, expected.beside);
    auto const marks = (*reader)->read(page, wanted);
    // Where the source itself could not be read wholly, and a person has accepted that, the same may be said of the laid page. Of instructions
    // that were passed over the tape tells all there is; in annotations the library does not even count them.
    if (!marks.whole && marks.trouble != kPassedOver && trouble_number(marks) != expected.trouble)
      return differs("page " + std::to_string(n) + ": " + marks.trouble);
    // Where the source could not be read wholly either, what differs may be how.
    if (auto const difference = tape.difference()) return send_message(sender, message::Differs{*difference, expected.trouble != 0});
    send_message(sender, message::Alive{});
  }
  send_message(sender, message::Proved{});
}

}  // namespace layright
