// A file that somebody drops on a page: checked, and gone again.
#include <algorithm>
#include <atomic>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/hex.h"
#include "base/sha256.h"
#include "desk/desk.h"
#include "desk/drop.h"
#include "desk/guard.h"
#include "desk/job_steps.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr long long kMostUpload = 256LL << 20;
constexpr int kUploadsAtOnce = 4;

/// The last part of a name that is none of another folder, and short enough for any disk.
std::string safe_name(std::string name) {
  if (auto const slash = name.find_last_of("/\\"); slash != std::string::npos) name.erase(0, slash + 1);
  std::erase(name, '\0');
  if (name.size() > 200) name.erase(0, name.size() - 200);
  return name.empty() || name == "." || name == ".." ? "file" : name;
}

/// Counts those who are at it, as long as it lives.
class Place {
 public:
  explicit Place(std::atomic<int>& count) : count_(count), number_(++count) {}
  ~Place() { --count_; }
  Place(Place const&) = delete;
  Place& operator=(Place const&) = delete;
  bool is_free() const { return number_ <= kUploadsAtOnce; }

 private:
  std::atomic<int>& count_;
  int number_;
};

class RemovedFolder {
 public:
  explicit RemovedFolder(fs::path path) : path_(std::move(path)) {}
  ~RemovedFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  RemovedFolder(RemovedFolder const&) = delete;
  RemovedFolder& operator=(RemovedFolder const&) = delete;

 private:
  fs::path path_;
};

}  // namespace

WebAnswer Desk::checked_upload(WebRequest const& request) {
  Place const place(uploading_);
  if (!place.is_free()) return error_answer(503, "Too many files are being checked; try again in a moment.");
  if (request.header("content-type") != "application/octet-stream" || !request.body)
    return error_answer(400, "The file's bytes are sent as they are.");
  auto const target = request.asked("target");
  if (!shop_.now()->configuration.targets.contains(target)) return error_answer(422, "Choose a target.");
  auto const folder = fs::path(scratch_.path()) / ("dropped-" + std::to_string(++uploads_));
  RemovedFolder const goes(folder);
  std::error_code trouble;
  fs::create_directory(folder, trouble);
  auto const name = safe_name(request.asked("name"));
  auto const path = folder / name;
  Sha256 sum;
  long long bytes = 0;
  {
    std::ofstream out(path, std::ios::binary);
    bool const whole = request.body([&](std::string_view piece) {
      bytes += static_cast<long long>(piece.size());
      if (bytes > kMostUpload) return false;
      sum.add(piece);
      out.write(piece.data(), static_cast<std::streamsize>(piece.size()));
      return out.good();
    });
    if (bytes > kMostUpload) return error_answer(413, "It is larger than 256 MB; put it into the watched folder instead.");
    if (!whole || !out.flush()) return error_answer(whole ? 507 : 400, whole ? "There is no room for it." : "The file did not come whole.");
  }
  if (bytes == 0) return error_answer(422, "The file is empty.");
  return look(name, hexadecimal(sum.finish()) + " " + path.extension().string(), CheckOrder{path, {}, target, 1});
}

WebAnswer Desk::handed_in(WebRequest const& request, Visitor const& visitor) {
  Place const place(uploading_);
  if (!place.is_free()) return error_answer(503, "Too many files are coming in; try again in a moment.");
  if (request.header("content-type") != "application/octet-stream" || !request.body)
    return error_answer(400, "The file's bytes are sent as they are.");
  auto const shop = shop_.now();
  auto const wanted = request.asked("intake");
  auto const intake = std::ranges::find(shop->intakes, wanted, &Intake::name);
  if (intake == shop->intakes.end()) return error_answer(422, "Choose a watched folder.");
  HandedIn note;
  note.name = name_part(request.asked("name"), 200);
  note.who = visitor.name.empty() ? shop->who : visitor.name;
  note.door = "desk";
  if (note.name.empty()) return error_answer(422, "The file has no name.");
  if (auto const done = drop_into(intake->in, notes_beside(kept_), request.body, kMostUpload, note); !done) return error_of(done.error());
  ++uploads_;
  return json_answer({{"taken", true}, {"name", note.name}});
}

}  // namespace layright
