#include "job/package_conversion.h"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <limits>
#include <utility>

#include "base/module.h"
#include "check/check.h"
#include "check/trouble.h"
#include "convert/join_pages.h"
#include "isolate/input_file.h"
#include "job/check_work.h"
#include "job/file_job.h"

namespace layright {
namespace {

/// Findings of one of the files begin with its name.
void name_findings(std::vector<Finding>& findings, std::string const& name) {
  for (auto& f : findings) {
    f.message = named(name) + ": " + f.message;
    f.measured.emplace_back("member", named(name));
  }
}

/// What is to be told of a PDF in the package that its pages, once joined with others, no longer tell: that they are of different sizes, and
/// which of its layers do not print, is told of all together.
std::vector<Finding> findings_of(Document const& document, std::string const& name, InspectOptions const& options) {
  std::vector<SeenSize> const sizes;
  std::vector<std::string> const losses;
  auto findings = check_source({OriginalFile{Format::pdf, name, {}, {}}, options.target, options.unit}, options.selection);
  auto const more = check_file({document, options.target, sizes, losses, options.unit}, options.selection);
  findings.insert(findings.end(), more.begin(), more.end());
  if (document.claims_pdfx() && options.selection.wants("file.converted"))
    findings.push_back({.check = "file.converted",
                        .level = Level::note,
                        .message = "it says for which press its colors are meant (PDF/X), which is left out where its pages are joined with others"});
  std::erase_if(findings, [](Finding const& f) { return f.check == "page.mixed" || f.check == "layer.hidden"; });
  return findings;
}

struct LoadedReader {
  OpenPackage open = nullptr;
  std::string trouble;
};

LoadedReader load_reader() {
  auto const found = load_from_module("layright-zip", "layright_open");
  if (!found) return {nullptr, found.error().message};
  return {reinterpret_cast<OpenPackage>(*found), {}};
}

Result<Package> unpack(LoadedReader const& loaded, std::span<std::byte const> bytes, Limits const& limits, int descriptor,
                       std::function<void()> const& alive) {
  if (!loaded.open) return Error{ErrorKind::internal, loaded.trouble};
  std::unique_ptr<PackageReader> reader;
  Outcome opened = done();
  loaded.open(bytes, reader, opened);
  if (!opened) return opened.error();
  return unpack_package(*reader, bytes.size(), {limits.most_packed_files, limits.most_unpacked_mb * 1e6}, descriptor, alive);
}

}  // namespace

PackageConversion::PackageConversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options)
    : Conversion(std::move(recognised), bytes, std::move(name), options, nameless_file(std::numeric_limits<std::size_t>::max())),
      unpacked_file_(nameless_file(std::numeric_limits<std::size_t>::max())) {}

PackageConversion::~PackageConversion() {
  parts_.clear();
  if (!unpacked_.empty()) munmap(const_cast<std::byte*>(unpacked_.data()), unpacked_.size());
}

WorkerTask PackageConversion::unpack_task() const {
  WorkerTask task = usual_task(options_);
  auto const loaded = std::make_shared<LoadedReader>();
  task.prepare = [loaded] { *loaded = load_reader(); };
  task.keep = {unpacked_file_.get()};
  task.work = [this, loaded](Sender const& sender) {
    OriginalFile source{Format::zip, name_, {}, {}};
    message::Converted more;
    auto package = unpack(*loaded, bytes_, options_.target.limits, unpacked_file_.get(), [&] { send_message(sender, message::Alive{}); });
    if (package) {
      source.remarks = std::move(package->remarks);
      more.members = std::move(package->members);
      auto const reported = [](ConversionNote const& r) { return r.kind == ConversionNote::Kind::reported; };
      if (more.members.empty() && std::ranges::all_of(source.remarks, reported))
        source.remarks.push_back(
            {ConversionNote::Kind::refused, "there is no file in it that can be taken; ask the customer for the art, as PDF or as the picture file"});
    } else {
      source.remarks.push_back(remark_of(package.error()));
    }
    report_conversion(source, bytes_, options_, false, sender, std::move(more));
  };
  return task;
}

void PackageConversion::join(Sender const& sender) const {
  OriginalFile source{Format::zip, {}, {}, {}};
  std::vector<Finding> findings;
  message::Converted more;
  PageJoiner joiner;
  bool made = true;
  for (auto const& part : parts_) {
    send_message(sender, message::Alive{});
    std::vector<Finding> reported;
    int const before = joiner.page_count();
    auto opened = Document::open(part.pdf, part.name, options_.password, [pdf = part.pdf] { drop_cached_pages(pdf); });
    if (auto const* trouble = std::get_if<OpenError>(&opened)) {
      reported.push_back(cannot_open(*trouble));
    } else {
      auto& document = std::get<std::unique_ptr<Document>>(opened);
      if (!part.made) {
        reported = findings_of(*document, part.name, options_);
        // Joined, its pages are sound for every reader: only here it shows that readers see different files in it.
        second_reader(part.pdf, options_.password, *document, reported);
      }
      if (auto const added = joiner.add(std::move(document)); !added) {
        reported.push_back(added.error().kind == ErrorKind::hold
                               ? Finding{.check = "file.limit", .level = Level::hold, .message = added.error().message}
                               : damaged_finding(added.error().message));
        made = false;
      }
    }
    name_findings(reported, part.name);
    findings.insert(findings.end(), reported.begin(), reported.end());
    more.pages.push_back(joiner.page_count() - before);
  }
  made = made && joiner.page_count() > 0;
  if (made)
    if (auto const written = joiner.write(output_.get(), [&] { send_message(sender, message::Alive{}); }); !written) {
      source.remarks.push_back(remark_of(written.error()));
      made = false;
    }
  apply_selection(findings, options_);
  more.of_parts = reported_findings(std::move(findings));
  report_conversion(source, bytes_, options_, made, sender, std::move(more));
}

WorkerTask PackageConversion::join_task() const {
  WorkerTask task = usual_task(options_);
  task.keep = {output_.get()};
  task.work = [this](Sender const& sender) { join(sender); };
  return task;
}

std::span<std::byte const> PackageConversion::bytes_of(PackageMember const& member) const {
  if (member.offset > unpacked_.size() || member.size > unpacked_.size() - member.offset) return {};
  return unpacked_.subspan(member.offset, member.size);
}

void PackageConversion::take_converted() {
  auto const& name = members_[at_].name;
  auto findings = converting_->findings();
  name_findings(findings, name);
  findings_.insert(findings_.end(), findings.begin(), findings.end());
  patience_ = std::max(patience_, converting_->patience());
  made_bytes_ += static_cast<double>(converting_->pdf().size());
  if (auto const pdf = converting_->pdf(); !pdf.empty()) parts_.push_back({name, pdf, std::move(converting_), 0});
  converting_.reset();
  ++at_;
}

void PackageConversion::take_no_more() {
  auto const most = format_number(options_.target.limits.most_unpacked_mb, 0);
  fail({.check = "file.limit",
        .level = Level::hold,
        .message = "what is in it becomes more than " + most + " MB of pages (most-unpacked-mb); ask for it in several files"});
  step_ = Step::over;
}

std::optional<WorkerTask> PackageConversion::next() {
  if (step_ == Step::over || !has_room()) return std::nullopt;
  if (step_ == Step::unpack && !unpacked_file_) {
    fail(damaged_finding(std::string("no room for what is in it: ") + std::strerror(errno)));
    return std::nullopt;
  }
  if (step_ == Step::unpack) return unpack_task();
  while (step_ == Step::convert && at_ < members_.size()) {
    auto const bytes = bytes_of(members_[at_]);
    if (made_bytes_ > options_.target.limits.most_unpacked_mb * 1e6) return take_no_more(), std::nullopt;
    if (!converting_) converting_ = conversion_of(recognise(bytes), bytes, members_[at_].name, options_, true);
    if (converting_) {
      converting_->set_seconds_left(seconds_left_);
      if (auto task = converting_->next()) return task;
      take_converted();
    } else {
      parts_.push_back({members_[at_].name, bytes, nullptr, 0});
      ++at_;
    }
  }
  step_ = parts_.empty() ? Step::over : Step::join;
  if (step_ == Step::over) return std::nullopt;
  reported_ = made_ = false;
  return join_task();
}

void PackageConversion::message(Message const& message) {
  if (step_ == Step::convert && converting_) return converting_->message(message);
  auto word = received<message::Converted>(message);
  if (!word) return;
  bool const refused = refused_;
  take_last_word(*word);
  refused_ = refused_ || refused;
  if (step_ == Step::unpack) members_ = std::move(word->members);
  if (step_ != Step::join) return;
  for (std::size_t i = 0; i < std::min(word->pages.size(), parts_.size()); ++i) parts_[i].pages = word->pages[i];
  findings_.insert(findings_.end(), word->of_parts.begin(), word->of_parts.end());
}

void PackageConversion::ended(WorkerEnd const& end) {
  if (step_ == Step::convert && converting_) return converting_->ended(end);
  if (step_ == Step::unpack && end.how == WorkerEnd::How::finished && reported_) {
    unpacked_ = map_whole(unpacked_file_.get());
    unpacked_file_.reset();
    step_ = members_.empty() ? Step::over : Step::convert;
    return;
  }
  step_ = Step::over;
  take_page(end);
}

std::string PackageConversion::member_of(int number) const {
  for (auto const& part : parts_) {
    if (number <= part.pages) return part.name;
    number -= part.pages;
  }
  return {};
}

}  // namespace layright
