#include "job/check_work.h"

#include <algorithm>
#include <cmath>

#include "check/trouble.h"
#include "isolate/input_file.h"
#include "job/messages.h"
#include "report/picture_data.h"

namespace layright {
namespace {

constexpr std::size_t kMostSizes = 10;

bool damaged(OpenError const& trouble) {
  using Kind = OpenError::Kind;
  return trouble.kind != Kind::password && trouble.kind != Kind::certificate && trouble.kind != Kind::limit;
}

/// For the HTML report, which shows each page.
constexpr double kReadingPicture = 520;  // pixels of its longer side

void add_picture(PageReport& report, OpenedFile const& file, int longest) {
  Page const& page = report.page;
  if (!file.reader || !page.usable || !page.clockwise) return;
  double const dpi = longest * 72 / std::max(page.seen.width, page.seen.height);
  auto const picture = file.reader->picture(page, page.seen.rect(), dpi);
  if (!picture) return;
  report.picture_area = picture->area;
  report.picture_data = picture_data(*picture);
  if (!report.reading || report.reading->lines.empty()) return;
  bool const settled = (report.reading->reading == Reading::right || report.reading->reading == Reading::wrong) && report.reading->from != "assumed";
  if (settled) return;
  // The lines, large enough to be read: so a person decides at a glance.
  Rect<SeenSpace> lines = report.reading->lines.front().where;
  for (auto const& line : report.reading->lines) lines = united(lines, line.where);
  if (auto const part = intersection(lines.grown(6), page.seen.rect())) {
    auto const cut = file.reader->picture(page, *part, std::min(300.0, kReadingPicture * 72 / std::max({part->width(), part->height(), 1.0})));
    if (!cut) return;
    report.reading_picture_area = cut->area;
    report.reading_picture_data = picture_data(*cut);
  }
}

/// What the records of all its pages say that a person has accepted counts for the file. Only looked at where something is held.
void accept_by_records(std::vector<Finding>& findings, Document const& document, PageChoice const& pages) {
  auto const open = [](Finding const& f) { return f.level == Level::hold && !f.accepted && !f.suppressed; };
  if (std::ranges::none_of(findings, open)) return;
  std::optional<std::set<std::string>> accepted;
  for (int n = 1; n <= document.page_count(); ++n) {
    if (!pages.has(n)) continue;
    auto const record = document.page(n).record;
    if (!record || !record->holds) return;
    if (!accepted) accepted.emplace(record->accepted.begin(), record->accepted.end());
    std::erase_if(*accepted, [&](std::string const& id) { return !accepted_in(*record, id); });
    if (accepted->empty()) return;
  }
  for (Finding& f : findings) {
    if (!open(f) || !accepted || !accepted->contains(f.check)) continue;
    f.accepted = true;
    f.message += kAcceptedBefore;
  }
}

}  // namespace

void apply_selection(std::vector<Finding>& findings, InspectOptions const& options) {
  Selection const& selection = options.selection;
  apply_levels(findings, options.target.levels);
  std::erase_if(findings, [&](Finding const& f) { return f.level != Level::hold && !selection.wants(f.check); });
  for (auto& f : findings)
    if (f.level == Level::hold && selection.accept.contains(f.check)) f.accepted = true;
}

void note_claims(CheckWork& work, InspectedPage const& page) {
  work.claims_tested = work.claims_tested && page.claims_hold.has_value();
  work.claims_hold = work.claims_hold && page.claims_hold.value_or(false);
}

void note_size(std::vector<SeenSize>& sizes, SeenSize size, Length tolerance) {
  double const t = tolerance.in_points();
  for (auto const& s : sizes)
    if (std::abs(s.width - size.width) <= t && std::abs(s.height - size.height) <= t) return;
  if (sizes.size() < kMostSizes) sizes.push_back(size);
}

std::unique_ptr<MarksReader> second_reader(std::span<std::byte const> bytes, std::string const& password, Document const& document,
                                           std::vector<Finding>& findings) {
  auto reader = MarksReader::open(bytes, password, [bytes] { drop_cached_pages(bytes); });
  if (!reader) {
    findings.push_back(damaged_finding(reader.error().message));
    return nullptr;
  }
  int const ours = document.page_count(), theirs = (*reader)->page_count();
  if (ours != theirs)
    findings.push_back(damaged_finding("two ways of repairing the file find " + std::to_string(ours) + " and " + std::to_string(theirs) +
                                       " pages; have it saved again by the program that made it"));
  return std::move(*reader);
}

OpenedFile open_file(CheckWork const& work, bool marks) {
  OpenedFile file;
  file.sha256 = work.before ? work.before->sha256 : digest_of_mapped(work.bytes);
  if (work.before) {
    file.format = work.before->format;
    file.findings = work.before->findings;
  } else {
    file.findings = check_source({OriginalFile{recognise(work.bytes).format, work.name, {}, {}}, work.options->target, work.options->unit},
                                 work.options->selection);
  }
  auto opened = Document::open(work.bytes, work.name, work.options->password, [bytes = work.bytes] { drop_cached_pages(bytes); });
  if (auto const* trouble = std::get_if<OpenError>(&opened)) {
    file.findings.push_back(cannot_open(*trouble));
    file.usable = !damaged(*trouble);
    return file;
  }
  file.document = std::move(std::get<std::unique_ptr<Document>>(opened));
  if (file.document->page_count() < 1) {
    file.findings.push_back(damaged_finding("the file has no pages"));
    file.usable = false;
    file.document.reset();
    return file;
  }
  if (!marks) return file;
  if (work.options->selection.wants_art()) file.art = file.document->art();
  file.reader = second_reader(work.bytes, work.options->password, *file.document, file.findings);
  return file;
}

void report_head(OpenedFile const& file, Sender const& sender) {
  bool const pdf = file.document || file.usable;
  send_message(sender, message::Head{file.sha256, pdf ? file.format : "", file.document ? file.document->page_count() : 0, file.usable});
}

std::vector<Finding> findings_of_file(CheckWork const& work, OpenedFile const& file) {
  auto findings = file.findings;
  if (file.document) {
    std::vector<std::string> const none;  // what a page lost is reported with it
    FileView const view{
        *file.document, work.options->target, work.sizes, none, work.options->unit, work.claims_tested, work.claims_tested && work.claims_hold};
    auto more = check_file(view, work.options->selection);
    findings.insert(findings.end(), more.begin(), more.end());
    for (int number : work.options->pages.beyond(file.document->page_count()))
      findings.push_back(missing_page_finding(number, file.document->page_count()));
  }
  apply_selection(findings, *work.options);
  if (file.document) accept_by_records(findings, *file.document, work.options->pages);
  return findings;
}

void report_lost_page(CheckWork const& work, Document const& document, Sender const& sender) {
  PageReport report;
  report.page = document.page(work.from);
  report.findings = {*work.lost};
  apply_selection(report.findings, *work.options);
  report.verdict = verdict_of(report.findings);
  send_message(sender, message::Page{page_summary(report)});
}

void check_file_pages(CheckWork const& given, Sender const& sender) {
  CheckWork work = given;
  work.claims_tested = work.from == 1;  // of earlier pages nothing is known here
  // Never freed: the process ends with the file, and taking thousands of objects apart one by one would cost time for nothing.
  auto const& file = *new OpenedFile(open_file(work, work.options->selection.wants_marks()));
  if (work.from == 1) report_head(file, sender);
  for (int n = work.from; file.document && n <= file.document->page_count(); ++n) {
    if (!work.options->pages.has(n)) continue;
    if (n == work.from && work.lost) {
      report_lost_page(work, *file.document, sender);
      continue;
    }
    auto page = inspect_page(*file.document,
                             {file.reader.get(), work.letters, nullptr, file.art ? &*file.art : nullptr, work.not_to_weed,
                              [&] { send_message(sender, message::DrawsUnasked{n}); }},
                             n, *work.options, false);
    if (page.asks_letters) return send_message(sender, message::AsksLetters{});
    auto& r = page.report;
    if (!r.page.is_plate()) note_claims(work, page);
    if (r.page.usable && r.page.clockwise) note_size(work.sizes, r.page.seen, work.options->target.limits.size_tolerance);
    if (work.options->picture_side > 0) add_picture(r, file, work.options->picture_side);
    send_message(sender, message::Page{page_summary(r)});
  }
  send_message(sender, message::End{reported_findings(findings_of_file(work, file))});
}

}  // namespace layright
