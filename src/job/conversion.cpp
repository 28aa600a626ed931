#include "job/conversion.h"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <utility>

#include "check/check.h"
#include "check/trouble.h"
#include "document/document.h"
#include "isolate/input_file.h"
#include "job/check_work.h"
#include "job/file_conversion.h"
#include "job/file_job.h"
#include "job/package_conversion.h"

namespace layright {
namespace {

// A page made from a larger file goes to the disk instead of memory.
constexpr std::size_t kLargeFile = 32u << 20;
constexpr double kPixelsInUsualTime = 100e6;
constexpr double kMostPatience = 20;

}  // namespace

UniqueFd nameless_file(std::size_t for_bytes) {
  if (for_bytes < kLargeFile) return UniqueFd(memfd_create("page", MFD_CLOEXEC));
  std::FILE* const file = std::tmpfile();
  if (!file) return {};
  UniqueFd kept(dup(fileno(file)));
  std::fclose(file);
  return kept;
}

ConversionNote remark_of(Error const& error) {
  using Kind = ConversionNote::Kind;
  auto const kind = error.kind == ErrorKind::usage ? Kind::refused : error.kind == ErrorKind::hold ? Kind::limit : Kind::damaged;
  return {kind, "the file cannot be taken: " + error.message};
}

void report_conversion(OriginalFile const& source, std::span<std::byte const> bytes, InspectOptions const& options, bool made, Sender const& sender,
                       message::Converted more) {
  double pixels = 0;
  for (auto const& p : source.pictures) pixels = std::max(pixels, static_cast<double>(p.width) * static_cast<double>(p.height));
  auto findings = check_source({source, options.target, options.unit}, options.selection);
  bool refused = false;
  for (auto const& remark : source.remarks) {
    using Kind = ConversionNote::Kind;
    refused = refused || remark.kind == Kind::refused;
    if (remark.kind == Kind::damaged) findings.push_back(damaged_finding(remark.text));
    if (remark.kind == Kind::limit) findings.push_back({.check = "file.limit", .level = Level::hold, .message = remark.text});
    if (remark.kind == Kind::locked) findings.push_back({.check = "file.password", .level = Level::hold, .message = remark.text});
  }
  apply_selection(findings, options);
  more.sha256 = digest_of_mapped(bytes);
  more.made = made;
  more.refused = refused;
  more.pixels = pixels;
  more.findings = reported_findings(std::move(findings));
  send_message(sender, std::move(more));
}

Conversion::Conversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options, UniqueFd output)
    : recognised_(std::move(recognised)), bytes_(bytes), name_(std::move(name)), options_(options), output_(std::move(output)) {}

Conversion::~Conversion() {
  if (!pdf_.empty()) munmap(const_cast<std::byte*>(pdf_.data()), pdf_.size());
}

std::unique_ptr<Conversion> conversion_of(Recognised is, std::span<std::byte const> bytes, std::string const& name, InspectOptions const& options,
                                          bool one_of_many) {
  if (is.format == Format::pdf || is.format == Format::none) return nullptr;
  if (is.format == Format::zip) return std::make_unique<PackageConversion>(std::move(is), bytes, name, options);
  return std::make_unique<FileConversion>(std::move(is), bytes, name, options, one_of_many ? kLargeFile : bytes.size());
}

bool Conversion::has_room() {
  if (output_) return true;
  fail(damaged_finding(std::string("no room for the page that it becomes: ") + std::strerror(errno)));
  return false;
}

void Conversion::take_last_word(message::Converted const& word) {
  sha256_ = word.sha256;
  made_ = word.made;
  refused_ = word.refused;
  patience_ = std::max(patience_, std::clamp(word.pixels / kPixelsInUsualTime, 1.0, kMostPatience));
  findings_.insert(findings_.end(), word.findings.begin(), word.findings.end());
  reported_ = true;
}

void Conversion::take_page(WorkerEnd const& end) {
  if (end.how != WorkerEnd::How::finished || !reported_) {
    made_ = false;
    fail(death_finding(end, options_, 0));
    return;
  }
  if (!made_) return;
  pdf_ = map_whole(output_.get());
  output_.reset();
  if (pdf_.empty()) fail(damaged_finding("the page that was made from it cannot be read back; try again"));
}

}  // namespace layright
