#include "job/plate_work.h"

#include <cstring>
#include <utility>

#include "check/art.h"
#include "isolate/input_file.h"
#include "job/file_sink.h"
#include "report/page_summary.h"
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

struct Made {
  std::vector<WhitePlate> plates;
  message::Plated reported;
};

std::string page_words(int number, int count) { return count > 1 ? "page " + std::to_string(number) + ": " : ""; }

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
  reported.plates.push_back({page.number, plate->notes.dpi, plate->notes.ink_pt2, plate->notes.white_pt2});
  auto const& w = plate->where;
  return WhitePlate{std::move(plate->picture), {w.x0, w.y0, w.x1, w.y1}, made_text(options.target.plate, wanted.dpi, options.target.press.white_ink)};
}

}  // namespace

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
    auto plate = made_of(**reader, document->page(n), count, options, sender, reported);
    if (!plate) return;
    plates.push_back(std::move(*plate));
    send_message(sender, message::Alive{});
  }
  FileSink sink(work.output, bytes, sender);
  auto const& ink = options.target.press.white_ink;
  auto const written = write_plates(*document, plates, ink, [&](std::span<std::byte const> piece) { return sink.take(piece); });
  if (!written && written.error().kind == ErrorKind::data) return send_message(sender, message::NotPlated{written.error().message});
  if (!written || !sink.flush())
    return send_message(sender, message::NotWritten{sink.error() ? std::strerror(sink.error()) : written.error().message});
  document.reset();
  auto const before = opened(bytes), after = opened(map_whole(work.output));
  if (!before || !after) return defect("the file with its white plate cannot be opened again");
  if (auto const proved = prove_plates(*before, *after, plates, ink); !proved) return defect(proved.error().message);
  send_message(sender, std::move(reported));
}

}  // namespace layright
