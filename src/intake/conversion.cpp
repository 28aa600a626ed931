#include "intake/conversion.h"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>

#include "check/check.h"
#include "check/trouble.h"
#include "document/document.h"
#include "document/to_pdf/pictures.h"
#include "intake/check_work.h"
#include "intake/file_job.h"
#include "intake/input_file.h"

namespace layright {
namespace {

// A page made from a larger file goes to the disk instead of memory.
constexpr std::size_t kLargeFile = 32u << 20;
constexpr double kPixelsInUsualTime = 100e6;
constexpr double kMostPatience = 20;

int nameless_file(std::size_t for_bytes) {
  if (for_bytes < kLargeFile) return memfd_create("page", MFD_CLOEXEC);
  std::FILE* const file = std::tmpfile();
  if (!file) return -1;
  int const kept = dup(fileno(file));
  std::fclose(file);
  return kept;
}

/// An error of a reader as what a person should know; a full disk is none of the file's.
Remark remark_of(Error const& error) {
  using Kind = Remark::Kind;
  auto const kind = error.kind == ErrorKind::usage ? Kind::refused : error.kind == ErrorKind::hold ? Kind::limit : Kind::damaged;
  return {kind, "the file cannot be taken: " + error.message};
}

PictureWish picture_wish(Target const& target) {
  return {target.pixels_per_inch, target.limits.least_density, target.limits.most_density, target.limits.most_megapixels * 1e6};
}

bool is_drawing(Format format) { return format == Format::eps || format == Format::postscript || format == Format::svg; }

/// The child's last word: what the file was, and whether a page came of it.
void tell(Source const& source, std::span<std::byte const> bytes, InspectWish const& wish, bool made, Sender const& sender) {
  double pixels = 0;
  for (auto const& p : source.pictures) pixels = std::max(pixels, static_cast<double>(p.width) * static_cast<double>(p.height));
  auto findings = check_source({source, wish.target, wish.unit}, wish.selection);
  bool refused = false;
  for (auto const& remark : source.remarks) {
    refused = refused || remark.kind == Remark::Kind::refused;
    if (remark.kind == Remark::Kind::damaged) findings.push_back(damaged_finding(remark.text));
    if (remark.kind == Remark::Kind::limit) findings.push_back({.check = "file.limit", .level = Level::hold, .message = remark.text});
  }
  apply_selection(findings, wish);
  sender.send('c', json_text(Json{{"sha256", sha256_hex(bytes)}, {"made", made}, {"refused", refused}, {"pixels", pixels}, {"findings", Json::parse(findings_text(findings))}}));
}

}  // namespace

Conversion::Conversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectWish const& wish)
    : recognised_(std::move(recognised)), bytes_(bytes), name_(std::move(name)), wish_(wish), output_(nameless_file(bytes.size())) {
  if (!is_drawing(recognised_.format)) return;
  drawing_ = {nameless_file(bytes.size()), nameless_file(bytes.size()), nameless_file(0)};
}

Conversion::~Conversion() {
  for (int descriptor : {output_, drawing_.source, drawing_.made, drawing_.said})
    if (descriptor >= 0) close(descriptor);
  if (!pdf_.empty()) munmap(const_cast<std::byte*>(pdf_.data()), pdf_.size());
}

std::unique_ptr<Conversion> conversion_of(std::span<std::byte const> bytes, std::string const& name, InspectWish const& wish) {
  auto is = recognise(bytes);
  if (is.format == Format::pdf || is.format == Format::none) return nullptr;
  return std::make_unique<Conversion>(std::move(is), bytes, name, wish);
}

void Conversion::fail(Finding finding) {
  findings_.push_back(std::move(finding));
  step_ = Step::over;
}

WorkerTask Conversion::refusal_task() const {
  WorkerTask task = usual_task(wish_);
  task.work = [this](Sender const& sender) {
    Source const source{Format::refused, name_, {}, {{Remark::Kind::refused, "it is " + recognised_.what + ", which is not taken: " + recognised_.ask}}};
    tell(source, bytes_, wish_, false, sender);
  };
  return task;
}

WorkerTask Conversion::picture_task() const {
  WorkerTask task = usual_task(wish_);
  auto const reader = std::make_shared<PictureReader>();
  task.prepare = [reader, format = recognised_.format] { *reader = prepare_picture_reader(format); };
  task.keep = {output_};
  task.work = [this, reader](Sender const& sender) {
    Source source{recognised_.format, name_, {}, {}};
    auto const alive = [&] { sender.send('k', {}); };
    auto const made = pictures_to_pdf(*reader, bytes_, picture_wish(wish_.target), output_, source, alive);
    if (!made) source.remarks.insert(source.remarks.begin(), remark_of(made.error()));
    tell(source, bytes_, wish_, made.has_value(), sender);
  };
  return task;
}

WorkerTask Conversion::plan_task() const {
  WorkerTask task = usual_task(wish_);
  task.keep = {drawing_.source};
  task.work = [this](Sender const& sender) {
    Source source{recognised_.format, name_, {}, {}};
    auto const plan = plan_drawing(recognised_.format, bytes_, drawing_, wish_.target.limits, source);
    if (plan) return sender.send('n', json_text(*plan));
    source.remarks.insert(source.remarks.begin(), remark_of(plan.error()));
    tell(source, bytes_, wish_, false, sender);
  };
  return task;
}

WorkerTask Conversion::drawing_task() const {
  WorkerTask task = usual_task(wish_);
  task.keep = {output_, drawing_.source, drawing_.made, drawing_.said};
  auto const program = drawing_program(recognised_.format, *plan_, drawing_, wish_.target.limits);
  task.seconds = std::max(task.seconds, program.seconds / 5);  // waiting for the program is counted by the clock, ten times as long
  auto const ran = std::make_shared<Outcome>(done());
  task.prepare = [program, ran] {
    lseek(program.input, 0, SEEK_SET);
    *ran = run_shut_in(program);
  };
  task.work = [this, ran](Sender const& sender) {
    Source source{recognised_.format, name_, {}, {}};
    auto const made = finish_drawing(recognised_.format, *plan_, *ran, drawing_, wish_.target, output_, source);
    if (!made) source.remarks.insert(source.remarks.begin(), remark_of(made.error()));
    tell(source, bytes_, wish_, made.has_value(), sender);
  };
  return task;
}

std::optional<WorkerTask> Conversion::next() {
  if (step_ == Step::over) return std::nullopt;
  if (output_ < 0) {
    fail(damaged_finding(std::string("no room for the page that it becomes: ") + std::strerror(errno)));
    return std::nullopt;
  }
  if (recognised_.format == Format::refused) return refusal_task();
  if (!is_drawing(recognised_.format)) return picture_task();
  if (step_ == Step::look) return plan_task();
  try {
    return drawing_task();
  } catch (Json::exception const&) {  // a plan of another form: the child that made it was not itself any more
    fail(damaged_finding("the file cannot be read: it broke the reading process; ask for the file again"));
    return std::nullopt;
  }
}

// What a child says is not trusted: words of another form are passed over, and the missing last word is told as a death.
void Conversion::message(Message const& message) {
  try {
    if (message.kind == 'n' && step_ == Step::look) plan_ = Json::parse(message.bytes);
    if (message.kind != 'c') return;
    Json const json = Json::parse(message.bytes);
    sha256_ = json.value("sha256", "");
    made_ = json.value("made", false);
    refused_ = json.value("refused", false);
    patience_ = std::clamp(json.value("pixels", 0.0) / kPixelsInUsualTime, 1.0, kMostPatience);
    findings_ = findings_from(json.value("findings", Json::array()));
    told_ = true;
  } catch (Json::exception const&) {
  }
}

void Conversion::ended(WorkerEnd const& end) {
  if (end.how == WorkerEnd::How::finished && step_ == Step::look && plan_ && !told_) {
    step_ = Step::make;
    return;
  }
  step_ = Step::over;
  if (end.how != WorkerEnd::How::finished || !told_) {
    made_ = false;
    findings_.push_back(death_finding(end, wish_, 0));
    return;
  }
  if (!made_) return;
  pdf_ = map_whole(output_);
  if (pdf_.empty()) findings_.push_back(damaged_finding("the page that was made from it cannot be read back; try again"));
}

}  // namespace layright
