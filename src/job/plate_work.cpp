#include "job/plate_work.h"

#include <cstring>
#include <utility>

#include "check/art.h"
#include "isolate/input_file.h"
#include "job/file_sink.h"
#include "place/correction.h"
#include "place/register_marks.h"
#include "report/page_summary.h"
#include "write/plate_proof.h"
#include "write/white_plate.h"

namespace layright {
namespace {

constexpr double kSecondsAt600 = 10, kUsualDpi = 600;  // for a sheet that is hard to draw. Our own

std::unique_ptr<Document> opened(std::span<std::byte const> bytes) {
  auto document = Document::open(bytes, "the laid file", {}, [bytes] { drop_cached_pages(bytes); });
  auto* const good = std::get_if<std::unique_ptr<Document>>(&document);
  return good ? std::move(*good) : nullptr;
}

char const* words(NoPlate why) {
  switch (why) {
    case NoPlate::out_of_time: return "drawing it as the press will took longer than allowed";
    case NoPlate::out_of_memory: return "drawing it as the press will took more memory than allowed";
    case NoPlate::failed: break;
  }
  return "it cannot be drawn as the press will";
}

/// What it is made by, for the record: two plates of one page differ only if this does.
std::string made_text(PlateOptions const& options, double dpi, std::string const& ink) {
  return settings_text(options) + " " + format_number(dpi, 2) + "dpi " + ink;
}

/// The page that the plate of a laid page lies on.
int place_of_plate(int number, PlateOptions const& plate) { return plate.as != PlateAs::page ? number : 2 * number - (plate.first ? 1 : 0); }

std::string page_words(int number, int count) { return count > 1 ? "page " + std::to_string(number) + ": " : ""; }

/// Where the art of a laid page lies.
Rect<SheetSpace> ink_on_sheet(Page const& page) {
  LayRecord const& record = *page.record;
  return record.placement.apply(record.ink_known && record.source_ink ? *record.source_ink : record.source_seen.rect());
}

std::optional<WhitePlate> made_of(MarksReader& reader, Page const& page, int count, InspectOptions const& options, Sender const& sender,
                                  message::Plated& reported) {
  auto wanted = plate_wanted(options.target, nullptr);
  wanted.seconds = seconds_for_plate(options.target);
  NoPlate why{};
  auto plate = reader.plate(page, wanted, why);
  if (!plate) {
    send_message(sender, message::NotPlated{page_words(page.number, count) + "no white plate can be made: " + words(why) +
                                            "; have the art made simpler, or lay it with plate = \"off\""});
    return std::nullopt;
  }
  PageReading const unread;
  PageView view{page, nullptr, unread, nullptr, options.target, options.unit};
  view.plate = &plate->notes;
  for (auto& finding : check_plate(view, options.selection)) {
    finding.message = page_words(page.number, count) + finding.message;
    reported.findings.push_back(std::move(finding));
  }
  reported.plates.push_back({place_of_plate(page.number, options.target.plate), plate->notes.dpi, plate->notes.ink_pt2, plate->notes.white_pt2});
  auto const& w = plate->where;
  WhitePlate made{std::move(plate->picture), {w.x0, w.y0, w.x1, w.y1}, made_text(options.target.plate, wanted.dpi, options.target.press.white_ink)};
  if (options.target.plate.register_marks) made.marks = register_marks(live_area_of_file(options.target), ink_on_sheet(page));
  return made;
}

/// One of the files that come of it, written whole; false where it was told why not.
template <class Write>
bool written(int output, std::span<std::byte const> laid, Sender const& sender, Write const& write) {
  FileSink sink(output, laid, sender);
  auto const outcome = write([&](std::span<std::byte const> piece) { return sink.take(piece); });
  if (!outcome && outcome.error().kind == ErrorKind::data) return send_message(sender, message::NotPlated{outcome.error().message}), false;
  if (outcome && sink.flush()) return true;
  send_message(sender, message::NotWritten{sink.error() ? std::strerror(sink.error()) : outcome.error().message});
  return false;
}

}  // namespace

std::filesystem::path plate_file_of(std::filesystem::path const& laid) {
  auto name = laid.stem();
  name += kPlateEnding;
  return laid.parent_path() / name;
}

double seconds_for_plate(Target const& target) {
  double const finer = press_dpi(target.press) / kUsualDpi;
  return target.limits.seconds_a_page + kSecondsAt600 * std::max(1.0, finer * finer);
}

void plate_laid(PlateWork const& work, InspectOptions const& options, Sender const& sender) {
  auto const defect = [&](std::string why) { send_message(sender, message::NotPlated{std::move(why), true}); };
  auto const bytes = map_whole(work.laid);
  auto document = opened(bytes);
  auto reader = MarksReader::open(bytes, {}, [bytes] { drop_cached_pages(bytes); });
  int const count = static_cast<int>(work.pages->size());
  if (!document || !reader || document->page_count() != count) return defect("the laid file cannot be opened again");
  expect_to_lay(*document);
  std::vector<WhitePlate> plates;
  message::Plated reported;
  for (int n = 1; n <= count; ++n) {
    if ((*work.pages)[static_cast<std::size_t>(n - 1)].trouble != 0)
      return send_message(sender, message::NotPlated{page_words(n, count) +
                                                     "not all of it could be read, so no white plate can be made from it; ask for a sound file"});
    auto const page = document->page(n);
    if (!page.record || !page.record->holds) return defect("the record of a laid page does not hold");
    auto plate = made_of(**reader, page, count, options, sender, reported);
    if (!plate) return;
    if (options.target.plate.register_marks && plate->marks.size() < kLeastRegisterMarks)
      return send_message(sender,
                          message::NotPlated{page_words(n, count) + "the art leaves no room for register marks inside the margin; lay it smaller, or "
                                                                    "with register-marks = false"});
    plates.push_back(std::move(*plate));
    send_message(sender, message::Alive{});
  }
  PlateForm const form{options.target.press.white_ink, options.target.plate.as, options.target.plate.first};
  if (!written(work.output, bytes, sender, [&](ByteSink const& sink) { return write_plates(*document, plates, form, sink); })) return;
  document.reset();
  auto const before = opened(bytes), after = opened(map_whole(work.output));
  if (!before || !after) return defect("the file with its white plate cannot be opened again");
  if (form.as == PlateAs::file) {
    if (!written(work.apart, bytes, sender, [&](ByteSink const& sink) { return write_plate_file(*before, plates, form, sink); })) return;
    auto const apart = opened(map_whole(work.apart));
    if (!apart) return defect("the file of the plate cannot be opened again");
    if (auto const proved = prove_plate_file(*apart, plates, form); !proved) return defect(proved.error().message);
  }
  if (auto const proved = prove_plates(*before, *after, plates, form); !proved) return defect(proved.error().message);
  send_message(sender, std::move(reported));
}

}  // namespace layright
