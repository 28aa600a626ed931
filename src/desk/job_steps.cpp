#include "desk/job_steps.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <nlohmann/json.hpp>
#include <span>
#include <utility>

#include "base/sha256.h"
#include "desk/decision_words.h"
#include "desk/guard.h"
#include "desk/pages.h"
#include "report/plain_words.h"
#include "report/report.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

constexpr std::size_t kMostSaid = 16 << 10, kMostText = 500;

int status_for(ErrorKind kind) {
  switch (kind) {
    case ErrorKind::usage: return 422;
    case ErrorKind::no_input: return 404;
    case ErrorKind::try_again: return 409;
    case ErrorKind::data: return 400;
    default: return 500;
  }
}

std::string without_stop(std::string text) {
  if (text.ends_with('.')) text.pop_back();
  return text;
}

bool is_short_text(Json const& value) { return value.is_string() && value.get_ref<std::string const&>().size() <= kMostText; }

/// Texts, and lists of them; the rest are numbers.
bool has_good_form(Json const& said) {
  if (!said.is_object() || said.size() > 12) return false;
  for (auto const& [name, value] : said.items()) {
    bool const number = name == "history" || name == "sheets";
    bool const list = name == "accept" && value.is_array() && value.size() <= 100 && std::ranges::all_of(value, is_short_text);
    if (number ? !value.is_number_integer() : !list && (name == "accept" || !is_short_text(value))) return false;
  }
  return true;
}

std::string_view type_of(std::string_view name) {
  if (name.ends_with(".html")) return "text/html; charset=utf-8";
  if (name.ends_with(".css")) return "text/css; charset=utf-8";
  if (name.ends_with(".js")) return "text/javascript; charset=utf-8";
  return "image/svg+xml";
}

}  // namespace

WebAnswer page_named(std::string_view name) {
  for (auto const& page : embedded_pages())
    if (page.name == name) {
      WebAnswer answer;
      answer.type = type_of(name);
      answer.text = page.text;
      return answer;
    }
  return error_answer(404, "There is nothing of that name.");
}

std::optional<long long> whole_number(std::string_view text, long long most) {
  if (text.empty() || text.size() > 15 || text.find_first_not_of("0123456789") != std::string_view::npos) return std::nullopt;
  auto const value = std::stoll(std::string(text));
  return value <= most ? std::optional(value) : std::nullopt;
}

WebAnswer json_answer(Json const& json) {
  WebAnswer answer;
  answer.type = "application/json";
  answer.text = json_text(json);
  return answer;
}

WebAnswer error_of(Error const& error) { return error_answer(status_for(error.kind), shown_name(error.message)); }

std::string disposition(std::string const& name) {
  constexpr std::string_view kPlain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._~";
  std::string text = "attachment; filename*=UTF-8''";
  for (char const c : name) {
    std::array<char, 4> escaped{};
    if (kPlain.find(c) != std::string_view::npos) text += c;
    else std::snprintf(escaped.data(), escaped.size(), "%%%02X", static_cast<unsigned char>(c)), text += escaped.data();
  }
  return text;
}

WebAnswer file_answer(std::string const& path, std::string const& type) {
  WebAnswer answer;
  answer.file = UniqueFd(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK));
  struct stat about {};
  if (path.empty() || !answer.file || ::fstat(answer.file.get(), &about) != 0 || !S_ISREG(about.st_mode))
    return error_answer(404, "That file is not there any more.");
  answer.file_bytes = about.st_size;
  answer.type = type;
  answer.headers.emplace_back("Content-Disposition", disposition(std::filesystem::path(path).filename().native()));
  return answer;
}

Result<Json> said_in(WebRequest const& request) {
  std::string text;
  if (!request.header("content-type").starts_with("application/json") || !request.body) return Error{ErrorKind::data, "A decision is sent as JSON."};
  bool const whole = request.body([&](std::string_view piece) {
    if (text.size() + piece.size() > kMostSaid) return false;
    text += piece;
    return true;
  });
  auto said = Json::parse(whole ? text : "", nullptr, false);
  if (!has_good_form(said)) return Error{ErrorKind::data, "That is no decision: too long, or not in the form that is asked for."};
  return said;
}

Outcome is_as_seen(Story const& story, long long history) {
  if (std::ssize(story) == history) return done();
  if (story.empty()) return Error{ErrorKind::data, "The job has no such history."};
  auto const& last = story.back();
  return Error{ErrorKind::try_again,
               "Somebody was faster. At " + local_text(last.at).substr(11) + " " + last.who + ": " + without_stop(event_words(last)) + "."};
}

Result<std::vector<std::string>> decided_words(WebRequest const& request, LedgerEntry const& entry, Story const& story) {
  Decision said;
  said.incoming = request.asked("incoming");
  said.scale = request.asked("scale");
  said.width = request.asked("width");
  auto const is_length = [](std::string const& text) {
    return !text.empty() && text.size() <= 16 && text.front() >= '0' && text.front() <= '9' &&
           text.find_first_not_of("0123456789. inmpt\"%") == std::string::npos;
  };
  if (!said.incoming.empty() && said.incoming != "right" && said.incoming != "wrong") return usage_error("Art reads right or wrong.");
  if (!said.scale.empty() && !said.width.empty()) return usage_error("Say a scale or a width, not both.");
  if (!said.scale.empty() && said.scale != "shrink" && !is_length(said.scale)) return usage_error("Write a scale such as 80%.");
  if (!said.width.empty() && !is_length(said.width)) return usage_error("Write a width such as 4in.");
  auto const holds = holding_checks(entry);
  std::string const accept = request.asked("accept");
  for (std::size_t at = 0; at < accept.size();) {
    auto const end = std::min(accept.find(',', at), accept.size());
    auto const check = accept.substr(at, end - at);
    if (std::ranges::find(holds, check) == holds.end()) return usage_error("It is not held for " + shown_name(check) + ".");
    said.accept.push_back(check);
    at = end + 1;
  }
  said = with_said_before(std::move(said), said_before(story), entry.target);
  std::vector<std::string> words;
  if (!said.incoming.empty()) words.insert(words.end(), {"--incoming", said.incoming});
  if (!said.scale.empty()) words.insert(words.end(), {"--scale", said.scale});
  if (!said.width.empty()) words.insert(words.end(), {"--width", said.width});
  for (auto const& check : said.accept) words.insert(words.end(), {"--accept", check});
  return words;
}

Result<LedgerEvent> release_as_said(LedgerEntry& entry, Story const& story, Json const& said, Configuration const& configuration) {
  Decision d;
  auto const text = [&](char const* name) { return said.value(name, std::string()); };
  d.incoming = text("incoming");
  d.scale = text("scale");
  d.width = text("width");
  d.target = text("target");
  d.why = text("why");
  d.accept = said.value("accept", std::vector<std::string>());
  if (!d.incoming.empty() && d.incoming != "right" && d.incoming != "wrong") return usage_error("Art reads right or wrong.");
  if (!d.scale.empty() && !d.width.empty()) return usage_error("Say a scale or a width, not both.");
  auto const holds = holding_checks(entry);
  for (auto const& check : d.accept)
    if (std::ranges::find(holds, check) == holds.end()) return usage_error("It is not held for " + shown_name(check) + ".");
  return release(entry, story, std::move(d), configuration);
}

std::string proof_key(std::string const& digest, CheckOrder const& order) {
  std::string text = digest + "\n" + order.target + "\n" + std::to_string(order.page) + "\n" + std::to_string(static_cast<int>(order.view));
  for (auto const& word : order.decided) text += "\n" + word;
  return sha256_hex(std::as_bytes(std::span(text)));
}

Json look_json(LookedAtPage const& page, std::string const& name, int number, std::string const& key) {
  Json look{{"name", shown_name(std::filesystem::path(name).filename().native())},
            {"page", number},
            {"page_count", 0},
            {"verdict", "hold"},
            {"picture", page.bytes > 0 ? Json("/api/proofs/" + key + ".png") : Json()},
            {"findings", Json::array()},
            {"scale_pct", Json()},
            {"toner", ""}};
  auto const told = Json::parse(page.told, nullptr, false);
  if (!told.is_object() || !told.contains("files") || told["files"].empty()) return look;
  auto const& file = told["files"][0];
  look["page_count"] = file.value("page_count", 0);
  look["verdict"] = file.value("verdict", "hold");
  int count = 0;
  auto const add = [&](Json const& findings) {
    for (auto const& f : findings)
      if (f.is_object())
        look["findings"].push_back({{"number", ++count},
                                    {"level", f.value("level", "")},
                                    {"check", f.value("check", "")},
                                    {"message", plain_words(shown_name(f.value("message", "")))},
                                    {"accepted", f.value("accepted", false)}});
  };
  if (file.contains("pages"))
    for (auto const& each : file["pages"]) {
      if (each.contains("placement") && each["placement"].is_object()) look["scale_pct"] = each["placement"].value("scale", 1.0) * 100;
      if (each.contains("toner") && each["toner"].is_object()) look["toner"] = each["toner"].value("words", "");
      if (each.contains("findings")) add(each["findings"]);
    }
  if (file.contains("findings")) add(file["findings"]);
  return look;
}

}  // namespace layright
