#include "report/told_page.h"

#include <nlohmann/json.hpp>

#include "report/page_json.h"

namespace layright {
namespace {

Verdict verdict_from(std::string_view word) { return word == "ready" ? Verdict::ready : word == "fix" ? Verdict::fix : Verdict::hold; }

/// Is called with each value as the text is read. `key_` is the page's own, `inner_` that of an object inside.
class Picker : public nlohmann::json_sax<Json> {
 public:
  explicit Picker(ToldPage& page) : page_(page) {}
  bool is_page() const { return named_ && (sides_ == 0 || sides_ == 2); }

  bool key(string_t& key) override {
    (depth_ == 1 ? key_ : inner_).swap(key);
    return true;
  }
  bool string(string_t& text) override {
    if (depth_ == 1) {
      if (key_ == "verdict") page_.verdict = verdict_from(text);
      else if (key_ == "reading") page_.reading.swap(text);
      else if (key_ == "reading_from") page_.reading_from.swap(text);
      else if (key_ == "reading_sentence") page_.reading_sentence.swap(text);
    } else if (depth_ == 2) {
      if (key_ == "reading_words") page_.reading_words.push_back(std::move(text));
      else if (key_ == "toner" && inner_ == "words") page_.toner_words.swap(text);
    } else if (auto* finding = this->finding()) {
      if (inner_ == "check") finding->check.swap(text);
      else if (inner_ == "level") finding->level.swap(text);
      else if (inner_ == "message") finding->message.swap(text);
    }
    return true;
  }
  bool boolean(bool value) override {
    if (auto* finding = this->finding(); finding && inner_ == "accepted") finding->accepted = value;
    if (auto* place = this->place()) {
      if (inner_ == "reversed") place->reversed = value;
      else if (inner_ == "reversed_later") place->reversed_later = value;
      else if (inner_ == "outside_live_area") place->outside = value;
    }
    return depth_ > 0;
  }
  bool null() override {
    if (depth_ == 1 && key_ == "placement") page_.tells_placement = true;
    return depth_ > 0;
  }
  bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
  bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
  bool number_float(number_float_t value, string_t const&) override { return number(value); }
  bool start_object(std::size_t) override {
    ++depth_;
    if (depth_ == 2 && key_ == "placement") {
      page_.tells_placement = true;
      page_.placement.emplace();
    }
    if (depth_ == 3 && key_ == "findings") page_.findings.emplace_back();
    return true;
  }
  bool end_object() override { return --depth_ >= 0; }
  bool start_array(std::size_t) override {
    if (auto* place = this->place(); place && inner_ == "correction") place->corrected = true;
    return ++depth_ > 1;  // a page is no array
  }
  bool end_array() override { return --depth_ >= 0; }
  bool binary(binary_t&) override { return false; }
  bool parse_error(std::size_t, std::string const&, Json::exception const&) override { return false; }

 private:
  ToldFinding* finding() { return depth_ == 3 && key_ == "findings" && !page_.findings.empty() ? &page_.findings.back() : nullptr; }
  ToldPlacement* place() { return depth_ == 2 && key_ == "placement" && page_.placement ? &*page_.placement : nullptr; }
  bool number(double value) {
    if (depth_ == 1 && key_ == "number") {
      named_ = value >= 1 && value <= 1e9;
      page_.number = named_ ? static_cast<int>(value) : 0;
    } else if (depth_ == 2 && key_ == "seen_size_pt") {
      if (++sides_ == 1) page_.size.emplace();
      (sides_ == 1 ? page_.size->width : page_.size->height) = value;
    } else if (auto* place = this->place()) {
      if (inner_ == "scale") place->scale = value;
      else if (inner_ == "scale_of_original") place->of_original = value;
      else if (inner_ == "printed_turn" && value >= 0 && value < 360) place->printed_turn = static_cast<int>(value);
      else if (inner_ == "turn" && value >= 0 && value < 360) place->turn = static_cast<int>(value);
    }
    return depth_ > 0;
  }

  ToldPage& page_;
  std::string key_, inner_;
  int depth_ = 0, sides_ = 0;
  bool named_ = false;
};

}  // namespace

std::optional<ToldPage> read_told_page(std::string json) {
  ToldPage page;
  Picker picker(page);
  if (!Json::sax_parse(json, &picker) || !picker.is_page()) return std::nullopt;
  page.json = std::move(json);
  return page;
}

void name_member(ToldPage& page, std::string member) {
  auto const begins = page.json.find('{');
  if (member.empty() || begins == std::string::npos) return;
  page.json.insert(begins + 1, "\"member\":" + json_text(member) + ",");
  page.member = std::move(member);
}

}  // namespace layright
