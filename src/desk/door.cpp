#include "desk/door.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "desk/drop.h"
#include "desk/guard.h"
#include "desk/job_steps.h"
#include "desk/pages.h"

namespace layright {
namespace {

constexpr std::size_t kMostWho = 60, kMostOrder = 30, kMostFileName = 80, kMostAddresses = 10'000;
constexpr std::string_view kDoorParts[] = {"door.js", "style.css", "mark.svg"};

}  // namespace

Result<std::filesystem::path> door_folder(std::vector<Intake> const& intakes) {
  std::string all, marked;
  std::filesystem::path folder;
  int count = 0;
  for (auto const& intake : intakes) {
    all += (all.empty() ? "" : ", ") + intake.name;
    auto const said = intake.settings.find("customers-door");
    if (said == intake.settings.end() || said->second != "true") continue;
    marked += (marked.empty() ? "" : ", ") + intake.name;
    folder = intake.in;
    ++count;
  }
  if (count == 1) return folder;
  if (count == 0 && intakes.size() == 1) return intakes.front().in;
  if (count == 0)
    return usage_error("--door: there are several watched folders (" + all + "): write customers-door = true into the table of one of them");
  return usage_error("--door: customers-door = true is in several tables (" + marked + "): leave it in one of them");
}

class CustomerDoor::Coming {
 public:
  Coming(CustomerDoor& door, std::string address) : door_(door), address_(std::move(address)) {
    std::lock_guard const lock(door_.mutex_);
    bool const room = ++door_.coming_ <= door_.limits_.at_once;
    may_ = ++door_.coming_from_[address_] <= door_.limits_.at_once_of_address && room;
  }
  ~Coming() {
    std::lock_guard const lock(door_.mutex_);
    --door_.coming_;
    if (auto const mine = door_.coming_from_.find(address_); --mine->second == 0) door_.coming_from_.erase(mine);
  }
  Coming(Coming const&) = delete;
  Coming& operator=(Coming const&) = delete;
  bool may() const { return may_; }

 private:
  CustomerDoor& door_;
  std::string const address_;
  bool may_ = false;
};

CustomerDoor::CustomerDoor(std::function<std::filesystem::path()> drop, std::filesystem::path notes, DoorLimits limits, Now now)
    : drop_(std::move(drop)), notes_(std::move(notes)), limits_(limits), now_(std::move(now)) {}

WebAnswer CustomerDoor::answer(WebRequest const& request) {
  auto refused = refusal(request, hosts_, tls_);
  auto answer = refused ? std::move(*refused) : admitted(request);
  if (answer.status >= 400) ++refused_;
  add_safe_headers(answer, tls_);
  return answer;
}

WebAnswer CustomerDoor::admitted(WebRequest const& request) {
  if (request.method == "POST") return request.path == "/api/files" ? taken(request) : error_answer(404, "There is nothing of that name.");
  if (request.path == "/") return page_named("door.html");
  for (auto const part : kDoorParts)
    if (request.path == "/pages/" + std::string(part)) return page_named(part);
  return error_answer(404, "There is nothing of that name.");
}

bool CustomerDoor::may_send(std::string const& address) {
  std::lock_guard const lock(mutex_);
  auto const now = now_();
  auto const is_old = [&](Clock::time_point at) { return now - at >= std::chrono::hours(1); };
  if (sent_.size() > kMostAddresses) std::erase_if(sent_, [&](auto const& each) { return each.second.empty() || is_old(each.second.back()); });
  if (sent_.size() > kMostAddresses) return false;
  auto& times = sent_[address];
  while (!times.empty() && is_old(times.front())) times.pop_front();
  if (std::ssize(times) >= limits_.files_an_hour) return false;
  times.push_back(now);
  return true;
}

/// Counts them; false where the day, or its share of one address, has had enough before.
bool CustomerDoor::add_bytes(std::string const& address, long long bytes) {
  std::lock_guard const lock(mutex_);
  auto const now = now_();
  while (!came_.empty() && now - came_.front().at >= std::chrono::hours(24)) came_.pop_front();
  long long all = 0, of_address = 0;
  for (auto const& each : came_) {
    all += each.bytes;
    if (each.address == address) of_address += each.bytes;
  }
  if (bytes > 0) came_.push_back({now, address, bytes});
  return all < limits_.day_bytes && of_address < limits_.day_bytes_of_address;
}

WebAnswer CustomerDoor::taken(WebRequest const& request) {
  Coming const coming(*this, request.from);
  if (!coming.may()) return error_answer(503, "Many files are coming in. Try again in a minute.");
  if (request.header("content-type") != "application/octet-stream" || !request.body)
    return error_answer(400, "The file's bytes are sent as they are.");
  HandedIn note;
  note.who = name_part(request.asked("who"), kMostWho);
  note.order = name_part(request.asked("order"), kMostOrder);
  note.door = "customer";
  auto const file = name_part(request.asked("name"), kMostFileName);
  if (note.who.empty() || note.order.empty()) return error_answer(422, "Tell your name and the order's number.");
  if (file.empty()) return error_answer(422, "Choose a file.");
  if (!may_send(request.from) || !add_bytes(request.from, 0)) return error_answer(429, "That were many files. Try again in an hour, or bring them.");
  note.name = note.order + "-" + note.who + "-" + file;
  if (auto const done = drop_into(drop_(), notes_, request.body, limits_.file_bytes, note); !done) {
    bool const own = done.error().kind == ErrorKind::usage || done.error().kind == ErrorKind::data;
    (void)add_bytes(request.from, std::min(note.bytes, limits_.file_bytes));
    return error_answer(own ? 422 : 507, own ? done.error().message : "It could not be kept. Try again later.");
  }
  (void)add_bytes(request.from, note.bytes);
  ++files_;
  return json_answer({{"taken", true}, {"bytes", note.bytes}});
}

}  // namespace layright
