#include "setup/send.h"

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <thread>

#include "setup/ppd_words.h"

namespace layright {
namespace {

using Clock = std::chrono::steady_clock;
constexpr auto kPoll = std::chrono::milliseconds(300);
constexpr int kMostFaults = 20;       // in a row, while waiting
constexpr std::size_t kLongestName = 255;  // RFC 8011, 5.1.3

bool over(JobState state) {
  return state == JobState::completed || state == JobState::cancelled || state == JobState::aborted || state == JobState::held;
}

/// Waits a little longer each time: 0.3, 0.6, 1.2 … at most 5 seconds.
void pause(int try_number) {
  auto const wait = kPoll * (1 << std::min(try_number, 4));
  std::this_thread::sleep_for(std::min<Clock::duration>(wait, std::chrono::seconds(5)));
}

Error refused_substitutes(PrintService& service, SendReply const& reply) {
  std::string list;
  for (auto const& name : reply.unsupported) list += (list.empty() ? "" : ", ") + name;
  auto const cancelled = service.cancel(reply.job);
  return Error{ErrorKind::hold, "the press took job " + std::to_string(reply.job) + " but would not honour " + list +
                                    (cancelled ? "; the job was cancelled" : "; it could not be cancelled: stop it at the press")};
}

/// Sends until the press has the job, and never while it may have it already.
Result<int> deliver(SendWish const& wish) {
  Error last{ErrorKind::try_again, "nothing was tried"};
  bool may_be_there = wish.may_be_there;
  for (int n = 0; n < wish.tries; ++n) {
    if (n > 0) pause(n - 1);
    auto service = PrintService::connect(wish.address);
    if (!service) {
      if (service.error().kind != ErrorKind::try_again) return service.error();
      last = service.error();
      continue;
    }
    if (may_be_there) {
      auto const found = (*service)->find_job(wish.request.job_name);
      if (!found) {
        last = found.error();
        continue;
      }
      if (*found) return **found;
    }
    auto const reply = (*service)->send(wish.request);
    if (reply && reply->unsupported.empty()) return reply->job;
    if (reply) return refused_substitutes(**service, *reply);
    if (reply.error().kind != ErrorKind::try_again) return reply.error();
    last = reply.error();
    may_be_there = true;
  }
  if (may_be_there) last.message += "; the press may have the job (" + wish.request.job_name + "): look before you send it again";
  return last;
}

Result<JobStatus> follow(SendWish const& wish, int id) {
  auto const end = Clock::now() + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(wish.wait_seconds));
  std::unique_ptr<PrintService> service;
  JobStatus last;
  last.id = id;
  std::vector<std::string> last_troubles;
  int faults = 0;
  bool told = false;
  while (true) {
    if (!service)
      if (auto connected = PrintService::connect(wish.address)) service = std::move(connected).value();
    auto const now = service ? service->job(id) : Result<JobStatus>(Error{ErrorKind::try_again, wish.address + " cannot be reached"});
    if (now) {
      faults = 0;
      auto const troubles = over(now->state) ? std::vector<std::string>() : service->troubles().value_or({});
      if (wish.progress && (!told || now->state != last.state || now->reasons != last.reasons || troubles != last_troubles)) wish.progress(*now, troubles);
      told = true;
      last = *now;
      last_troubles = troubles;
      if (over(now->state)) return last;
    } else if (now.error().kind != ErrorKind::try_again || ++faults > kMostFaults) {
      return Error{ErrorKind::try_again, "job " + std::to_string(id) + " was sent, but its end is not known: " + now.error().message + "; look at the press"};
    } else {
      service.reset();
    }
    if (Clock::now() >= end) return last;
    std::this_thread::sleep_for(kPoll);
  }
}

}  // namespace

std::vector<IppMember> fitted_attributes(Target const& asked, Offer const& offer) {
  Target target = asked;
  if (target.press.printer_resolution == kFinest) target.press.printer_resolution = finest_offered(offer);
  auto job = ipp_job_attributes(target);
  auto const has = [&](std::string const& name) { return offer.attributes.count(name) > 0; };
  std::erase_if(job, [&](IppMember const& each) {
    if (each.name == "print-rendering-intent") {
      auto const found = offer.attributes.find("print-rendering-intent-supported");
      auto const* intent = std::get_if<IppKeyword>(&each.value);
      return found == offer.attributes.end() || !intent || std::find(found->second.begin(), found->second.end(), intent->word) == found->second.end();
    }
    return (each.name == "sides" || each.name == "copies") && !has(each.name + "-supported");
  });
  for (auto& each : job) {
    if (each.name != "media-col") continue;
    for (auto& member : std::get<IppCollection>(each.value)) {
      auto const found = offer.attributes.find(member.name + "-supported");
      if (!member.name.ends_with("-margin") || found == offer.attributes.end()) continue;
      int best = -1;
      for (auto const& text : found->second)
        if (int const margin = std::atoi(text.c_str()); margin <= std::get<int>(member.value) && margin > best) best = margin;
      if (best >= 0) member.value = best;
    }
  }
  return job;
}

std::vector<std::pair<std::string, std::string>> queue_options(Target const& target, PressSetup const& setup) {
  std::vector<std::pair<std::string, std::string>> options;
  for (auto const& setting : setup.settings) options.emplace_back(setting.option, setting.choice);
  // What a queue's own defaults would do to the page otherwise (measured: a landscape default turns it upside down).
  options.emplace_back("print-scaling", "none");
  options.emplace_back("orientation-requested", "3");
  options.emplace_back("number-up", "1");
  if (target.reverse_at != ReverseAt::printer) options.emplace_back("mirror", "false");
  options.emplace_back("copies", std::to_string(target.copies));
  return options;
}

std::string job_name(std::string const& file_name, std::string const& mark) {
  std::string const ending = " [" + mark + "]";
  std::string name = file_name.substr(0, std::min(file_name.size(), kLongestName - std::min(kLongestName, ending.size())));
  while (!name.empty() && name.size() < file_name.size() && (static_cast<unsigned char>(file_name[name.size()]) & 0xC0) == 0x80) name.pop_back();
  return name + ending;
}

Result<JobStatus> send_job(SendWish const& wish) {
  auto const id = deliver(wish);
  if (!id) return id.error();
  return follow(wish, *id);
}

}  // namespace layright
