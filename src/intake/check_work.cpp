#include "intake/check_work.h"

#include <cmath>

namespace layright {
namespace {

Finding held(std::string check, std::string message) {
  Finding f;
  f.check = std::move(check);
  f.level = Level::hold;
  f.message = std::move(message);
  return f;
}

Finding trouble_finding(OpenTrouble const& trouble) {
  using Kind = OpenTrouble::Kind;
  bool const locked = trouble.kind == Kind::password || trouble.kind == Kind::certificate;
  return held(locked ? "file.password" : "file.damaged", trouble.message);
}

constexpr std::size_t kMostSizes = 10;

}  // namespace

void apply_selection(std::vector<Finding>& findings, Selection const& selection) {
  std::erase_if(findings, [&](Finding const& f) { return f.level != Level::hold && !selection.wants(f.check); });
  for (auto& f : findings)
    if (f.level == Level::hold && selection.accept.contains(f.check)) f.accepted = true;
}

void note_size(std::vector<SeenSize>& sizes, SeenSize size, Length tolerance) {
  double const t = tolerance.in_points();
  for (auto const& s : sizes)
    if (std::abs(s.width - size.width) <= t && std::abs(s.height - size.height) <= t) return;
  if (sizes.size() < kMostSizes) sizes.push_back(size);
}

OpenedFile open_file(CheckWork const& work, bool marks) {
  OpenedFile file;
  auto opened = Document::open(work.bytes, work.name, work.wish->password);
  if (auto const* trouble = std::get_if<OpenTrouble>(&opened)) {
    file.findings.push_back(trouble_finding(*trouble));
    file.usable = trouble->kind == OpenTrouble::Kind::password || trouble->kind == OpenTrouble::Kind::certificate;
    return file;
  }
  file.document = std::move(std::get<std::unique_ptr<Document>>(opened));
  if (file.document->page_count() < 1) {
    file.findings.push_back(held("file.damaged", "the file has no pages"));
    file.usable = false;
    file.document.reset();
    return file;
  }
  if (!marks) return file;
  auto reader = MarksReader::open(work.bytes, work.wish->password);
  if (reader)
    file.reader = std::move(*reader);
  else
    file.findings.push_back(held("file.damaged", reader.error().message));
  if (file.reader && file.reader->page_count() != file.document->page_count())
    file.findings.push_back(held("file.damaged", "two ways of repairing the file find " + std::to_string(file.document->page_count()) +
                                                     " and " + std::to_string(file.reader->page_count()) +
                                                     " pages; have it saved anew by the program that made it"));
  return file;
}

void tell_head(CheckWork const& work, OpenedFile const& file, Sender const& sender) {
  Json head{{"sha256", sha256_hex(work.bytes)}, {"page_count", file.document ? file.document->page_count() : 0}, {"usable", file.usable}};
  bool const pdf = file.document || file.usable;
  head["format"] = pdf ? "pdf" : "";
  sender.send('h', json_text(head));
}

void tell_end(CheckWork const& work, OpenedFile const& file, std::vector<std::string> const& losses, Sender const& sender) {
  auto findings = file.findings;
  if (file.document) {
    FileView const view{*file.document, work.wish->target, work.sizes, losses, work.wish->unit};
    auto more = check_file(view, work.wish->selection);
    findings.insert(findings.end(), more.begin(), more.end());
    for (int number : work.wish->pages.beyond(file.document->page_count()))
      findings.push_back(held("page.missing", "there is no page " + std::to_string(number) + "; the file has " +
                                                  std::to_string(file.document->page_count()) +
                                                  (file.document->page_count() == 1 ? " page" : " pages")));
  }
  apply_selection(findings, work.wish->selection);
  sender.send('e', json_text(findings_json(findings)));
}

void check_file_pages(CheckWork const& given, Sender const& sender) {
  CheckWork work = given;
  auto const file = open_file(work, work.wish->selection.wants_marks());
  if (work.from == 1) tell_head(work, file, sender);
  std::vector<std::string> losses;
  for (int n = work.from; file.document && n <= file.document->page_count(); ++n) {
    if (!work.wish->pages.has(n)) continue;
    auto const page = inspect_page(*file.document, file.reader.get(), n, *work.wish, false);
    auto const& r = page.report;
    if (r.page.usable && r.page.clockwise) note_size(work.sizes, r.page.seen, work.wish->target.limits.size_tolerance);
    if (r.marks && !r.marks->whole && !r.marks->out_of_time && losses.size() < 5)
      losses.push_back("page " + std::to_string(n) + ": " + r.marks->trouble);
    sender.send('p', json_text(page_json(r)));
  }
  tell_end(work, file, losses, sender);
}

}  // namespace layright
