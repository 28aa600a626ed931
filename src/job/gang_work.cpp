#include "job/gang_work.h"

#include <cstring>
#include <map>
#include <set>

#include "convert/join_pages.h"
#include "isolate/input_file.h"
#include "job/file_sink.h"
#include "job/lay_work.h"
#include "place/correction.h"
#include "verify/sheet_comparer.h"
#include "verify/trace_recorder.h"

namespace layright {
namespace {

std::unique_ptr<Document> opened_pdf(std::span<std::byte const> bytes, std::string const& name) {
  auto opened = Document::open(bytes, name, {}, [bytes] { drop_cached_pages(bytes); });
  auto* const document = std::get_if<std::unique_ptr<Document>>(&opened);
  return document ? std::move(*document) : nullptr;
}

MarksWanted only_traced(MarkListener& trace, InspectOptions const& options) {
  MarksWanted wanted;
  wanted.ink = wanted.images = wanted.frames = wanted.cut = false;
  wanted.seconds = options.target.limits.seconds_a_page;
  wanted.also = &trace;
  return wanted;
}

/// What of the laid files cannot stand in one: two that say for which press their colors are meant, and not the same.
class PromisedPress {
 public:
  /// Empty where it goes with those before it.
  std::string conflict(Document& document, std::string const& name) {
    auto promise = promised_press(document);
    if (promise.empty()) return {};
    if (promise_.empty()) {
      promise_ = std::move(promise);
      name_ = name;
    } else if (promise != promise_) {
      return name_ + " and " + name +
             " say that their colors are meant for different presses (output intents), so they cannot share a sheet; put them in orders of their own";
    }
    return {};
  }

 private:
  std::string promise_, name_;
};

/// Laid pages that some sheet shows.
std::set<int> wanted_pages(GangPlan const& plan) {
  std::set<int> pages;
  for (auto const& sheet : plan.sheets)
    for (auto const& piece : sheet.sheet.pieces) pages.insert(piece.page);
  return pages;
}

/// Traces the marks of the wanted pages; nothing where one cannot be read, or the tape cannot be written.
std::optional<std::vector<Verification>> traced_pages(MarksReader& reader, Document const& document, GangPlan const& plan, std::FILE* tape,
                                                      InspectOptions const& options, Sender const& sender) {
  TraceWriter writer(tape);
  TraceRecorder trace(writer);
  auto const wanted = only_traced(trace, options);
  std::vector<Verification> pages(static_cast<std::size_t>(document.page_count()));
  for (int const number : wanted_pages(plan)) {
    auto& page = pages.at(static_cast<std::size_t>(number - 1));
    page.tape_offset = std::ftell(tape);
    auto const marks = reader.read(document.page(number), wanted);
    page.trouble = marks.whole || marks.trouble == kPassedOver ? 0 : 1;
    send_message(sender, message::Alive{});
  }
  if (writer.failed() || std::fflush(tape) != 0) return std::nullopt;
  return pages;
}

}  // namespace

void write_gang_sheets(GangWork const& work, InspectOptions const& options, Sender const& sender) {
  auto const refused = [&](std::string why) { send_message(sender, message::Refused{std::move(why)}); };
  PageJoiner& joiner = *new PageJoiner;  // never freed: the process ends with the sheets
  joiner.keep_output_intents();
  PromisedPress press;
  for (auto const& file : work.files) {
    auto document = opened_pdf(file.pdf, file.name);
    if (!document) return refused("what was laid of " + file.name + " cannot be opened again");
    if (auto const conflict = press.conflict(*document, file.name); !conflict.empty()) return refused(conflict);
    if (auto const added = joiner.add(std::move(document)); !added) return refused(file.name + ": " + added.error().message);
    send_message(sender, message::Alive{});
  }
  if (auto const joined = joiner.write(work.joined, [&] { send_message(sender, message::Alive{}); }); !joined)
    return send_message(sender, message::NotWritten{joined.error().message});
  auto const bytes = map_whole(work.joined);
  auto const document = opened_pdf(bytes, "the laid pieces");
  auto const reader = MarksReader::open(bytes, {}, [bytes] { drop_cached_pages(bytes); });
  if (!document || !reader || document->page_count() != joiner.page_count()) return refused("the laid pieces cannot be opened again");
  expect_to_lay(*document);
  auto traced = traced_pages(**reader, *document, *work.plan, work.tape, options, sender);
  if (!traced) return send_message(sender, message::NotWritten{"the temporary file for the proof cannot be written"});
  std::vector<GangedSheet> sheets;
  for (auto const& sheet : work.plan->sheets) sheets.push_back(sheet.sheet);
  FileSink sink(work.output, bytes, sender);
  auto const written = write_gang(*document, sheets, options.target.sheet, correction_of(options.target),
                                  [&](std::span<std::byte const> piece) { return sink.take(piece); });
  if (!written && written.error().kind == ErrorKind::data) return refused(written.error().message);
  if (!written || !sink.flush())
    return send_message(sender, message::NotWritten{sink.error() ? std::strerror(sink.error()) : written.error().message});
  send_message(sender, message::Ganged{std::move(*traced)});
}

void verify_gang_sheets(GangProof const& proof, InspectOptions const& options, Sender const& sender) {
  auto const differs = [&](std::string const& how, bool damaged = false) { send_message(sender, message::Differs{how, damaged}); };
  auto const bytes = map_whole(proof.output);
  auto const document = opened_pdf(bytes, "the sheets");
  auto const reader = MarksReader::open(bytes, {}, [bytes] { drop_cached_pages(bytes); });
  int const count = static_cast<int>(proof.plan->sheets.size());
  if (!document || !reader || document->page_count() != count || (*reader)->page_count() != count)
    return differs("the sheets cannot be opened again, or are of another number");
  auto const tape_bytes = map_whole(proof.tape);
  std::FILE* const tape = tape_bytes.empty() ? nullptr : fmemopen(const_cast<std::byte*>(tape_bytes.data()), tape_bytes.size(), "rb");
  if (!tape) return differs("the tape of the pieces' marks cannot be read");
  auto const correction = correction_of(options.target);
  SheetComparer comparer(tape);
  TraceRecorder trace(comparer);
  auto const wanted = only_traced(trace, options);
  for (int n = 1; n <= count; ++n) {
    auto const& plan = proof.plan->sheets[static_cast<std::size_t>(n - 1)];
    auto const page = document->page(n);
    if (!is_the_sheet(page, options.target.sheet.page()))
      return differs("page " + std::to_string(n) + " is not the sheet, or its record does not hold");
    TracedSheet expected{{}, static_cast<long>(plan.sheet.marks.size()), proof.plan->live, plan.cut_boxes};
    bool damaged = false;
    for (auto const& piece : plan.sheet.pieces) {
      auto const& traced = proof.traced->at(static_cast<std::size_t>(piece.page - 1));
      auto const m = then(piece.movement, correction);
      expected.pieces.push_back({traced.tape_offset, {m.a, m.b, m.c, m.d, m.e, m.f}});
      damaged = damaged || traced.trouble != 0;
    }
    comparer.expect(std::move(expected));
    auto const marks = (*reader)->read(page, wanted);
    if (!marks.whole && marks.trouble != kPassedOver && !damaged) return differs("sheet " + std::to_string(n) + ": " + marks.trouble);
    if (auto const difference = comparer.difference()) return differs(*difference, damaged);
    send_message(sender, message::Alive{});
  }
  send_message(sender, message::Proved{});
}

}  // namespace layright
