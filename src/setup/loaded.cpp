#include "setup/loaded.h"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <set>

#include "setup/ipp.h"
#include "setup/setting.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

// PWG 5100.13's unit is 1/100 mm; anything within 0.05 mm is the same size.
constexpr int kSizeNoise = 5;
// Percent; for a press that does not say what it calls low. Common practice, no published source.
constexpr int kLow = 10;

/// Wider than what is compared: a press may send any number.
long long off(long long value, long long low, long long high) { return value < low ? low - value : value > high ? value - high : 0; }

long long distance(OfferedSize const& size, int x, int y) { return off(x, size.min_x, size.max_x) + off(y, size.min_y, size.max_y); }

bool takes(OfferedSize const& size, int x, int y) {
  return off(x, size.min_x, size.max_x) <= kSizeNoise && off(y, size.min_y, size.max_y) <= kSizeNoise;
}

bool reported(OfferedSize const& size) { return size.max_x > 0 && size.max_y > 0; }

std::string size_words(OfferedSize const& s, Unit unit) {
  auto const length = [](int hundredths) { return Length::millimetres(hundredths / 100.0); };
  if (s.min_x == s.max_x && s.min_y == s.max_y) return format_size(length(s.min_x), length(s.min_y), unit);
  return format_size(length(s.min_x), length(s.min_y), unit) + " to " + format_size(length(s.max_x), length(s.max_y), unit);
}

struct Asked {
  int x, y;
  std::string size, source, type;  // in words; source and type may be empty
};

/// An entry that does not name a tray or a type stands for any.
bool fits_source(OfferedMedia const& media, Asked const& asked) {
  return asked.source.empty() || media.source.empty() || media.source == asked.source;
}
bool fits_type(OfferedMedia const& media, Asked const& asked) { return asked.type.empty() || media.type.empty() || media.type == asked.type; }

std::string list(std::set<std::string> const& words) {
  std::string text;
  for (auto const& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

/// "by-pass-tray (transparency): 8.5 x 11 in".
std::string entry_words(OfferedMedia const& media, Unit unit) {
  std::string text = media.source.empty() ? "" : media.source;
  if (!media.type.empty()) text += (text.empty() ? "" : " ") + ("(" + media.type + ")");
  if (reported(media.size)) text += (text.empty() ? "" : ": ") + size_words(media.size, unit);
  return text;
}

void report_nearest(Asked const& asked, std::vector<OfferedSize> const& sizes, Unit unit, std::vector<Finding>& findings) {
  OfferedSize const* nearest = nullptr;
  for (auto const& size : sizes)
    if (!nearest || distance(size, asked.x, asked.y) < distance(*nearest, asked.x, asked.y)) nearest = &size;
  add_finding(findings, "press.size", Level::hold,
              "the press does not take " + asked.size + (nearest ? "; the nearest that it offers is " + size_words(*nearest, unit) : ""));
}

void check_size(Asked const& asked, Offer const& offer, Unit unit, std::vector<Finding>& findings) {
  std::vector<OfferedSize> sizes = offer.sizes;
  std::vector<OfferedMedia> of_this_size;
  bool any_reported = false;
  for (auto const& media : offer.database) {
    if (!reported(media.size)) continue;
    any_reported = true;
    sizes.push_back(media.size);
    if (takes(media.size, asked.x, asked.y)) of_this_size.push_back(media);
  }
  for (auto const& media : offer.ready)
    if (reported(media.size)) sizes.push_back(media.size);
  if (sizes.empty())
    return add_finding(findings, "press.size", Level::note, "the press does not tell which sizes it takes; it may refuse " + asked.size);
  if (std::none_of(sizes.begin(), sizes.end(), [&](OfferedSize const& s) { return takes(s, asked.x, asked.y); }))
    return report_nearest(asked, sizes, unit, findings);
  if (std::any_of(of_this_size.begin(), of_this_size.end(), [&](OfferedMedia const& m) { return fits_source(m, asked) && fits_type(m, asked); }))
    return;
  std::string const together = asked.size + (asked.source.empty() ? "" : " from " + asked.source) + (asked.type.empty() ? "" : " as " + asked.type);
  if (!of_this_size.empty()) {
    std::set<std::string> that_size, that_tray;
    for (auto const& media : of_this_size) that_size.insert(entry_words(media, unit));
    for (auto const& media : offer.database)
      if (!asked.source.empty() && media.source == asked.source) that_tray.insert(entry_words(media, unit));
    return add_finding(findings, "press.size", Level::hold,
                       "the press does not take " + together + ": it takes this size only as " + list(that_size) +
                           (that_tray.empty() ? "" : ", and its " + asked.source + " takes only " + list(that_tray)));
  }
  if (any_reported)
    add_finding(findings, "press.size", Level::note, "the press takes " + asked.size + ", but does not tell from which tray and as which type");
}

void check_feed(Target const& target, Offer const& offer, std::vector<Finding>& findings) {
  std::string const wanted = target.sheet.feed == Feed::short_edge ? "short-edge-first" : "long-edge-first";
  std::string other;
  for (auto const* all : {&offer.database, &offer.ready})
    for (auto const& media : *all) {
      if (media.feed_direction.empty() || (!target.press.media_source.empty() && media.source != target.press.media_source)) continue;
      if (media.feed_direction == wanted) return;
      if (other.empty()) other = media.source.empty() ? "tray" : "tray " + media.source;
    }
  if (other.empty()) return;
  add_finding(findings, "press.feed", Level::hold,
              "the press says that its " + other + " takes sheets " + (wanted == "short-edge-first" ? "long edge first" : "short edge first") +
                  ", but the sheet must go in " + feed_words(target.sheet.feed) +
                  ": turn the tray's setting at the press, or lay the file for the other edge");
}

void check_loaded(Asked const& asked, Offer const& offer, Unit unit, std::vector<Finding>& findings) {
  std::string const tray = asked.source.empty() ? "its trays" : "its " + asked.source;
  std::set<std::string> others;
  for (auto const& media : offer.ready) {
    if (!asked.source.empty() && media.source != asked.source) continue;
    if (!reported(media.size) && media.type.empty()) continue;
    if ((!reported(media.size) || takes(media.size, asked.x, asked.y)) && fits_type(media, asked)) return;
    others.insert(entry_words(media, unit));
  }
  std::string const wanted = asked.size + (asked.type.empty() ? "" : ", " + asked.type);
  if (others.empty())
    return add_finding(findings, "press.loaded", Level::note, "the press does not tell what lies in " + tray + ": see that it is " + wanted);
  add_finding(findings, "press.loaded", Level::hold,
              "the press says that there lies in " + tray + " something else than " + wanted + ": " + list(others) +
                  "; load the sheet, and set its size and type at the press");
}

int number_at(Offer const& offer, char const* attribute, std::size_t i, int otherwise) {
  auto const found = offer.attributes.find(attribute);
  return found == offer.attributes.end() || i >= found->second.size() ? otherwise : std::atoi(found->second[i].c_str());
}

std::string text_at(Offer const& offer, char const* attribute, std::size_t i) {
  auto const found = offer.attributes.find(attribute);
  return found == offer.attributes.end() || i >= found->second.size() ? "" : found->second[i];
}

std::string small(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

}  // namespace

void report_media(Target const& target, Offer const& offer, Unit unit, std::vector<Finding>& findings) {
  Asked const asked{hundredths_of_mm(target.sheet.width), hundredths_of_mm(target.sheet.length),
                    format_size(target.sheet.width, target.sheet.length, unit), target.press.media_source, target.press.media_type};
  check_size(asked, offer, unit, findings);
  check_feed(target, offer, findings);
  check_loaded(asked, offer, unit, findings);
}

void report_supplies(Offer const& offer, std::vector<Finding>& findings) {
  auto const levels = offer.attributes.find("marker-levels");
  if (levels == offer.attributes.end()) return;
  for (std::size_t i = 0; i < levels->second.size(); ++i) {
    // Percent; below 0: the press does not know (RFC 3805, prtMarkerSuppliesLevel).
    int const level = number_at(offer, "marker-levels", i, -1);
    if (level < 0) continue;
    std::string const type = small(text_at(offer, "marker-types", i));
    std::string name = small(text_at(offer, "marker-names", i));
    if (name.empty()) name = type.empty() ? "supply " + std::to_string(i + 1) : type;
    std::string const words = name + " " + std::to_string(level) + " %";
    if (type.find("waste") != std::string::npos) {
      if (level >= number_at(offer, "marker-high-levels", i, 100))
        add_finding(findings, "press.supply", Level::note, words + " full: the press will stop when it is");
    } else if (level == 0) {
      add_finding(findings, "press.supply", Level::hold, words + ": it is used up; put a new one in before a sheet is spent");
    } else if (level <= number_at(offer, "marker-low-levels", i, kLow)) {
      add_finding(findings, "press.supply", Level::note, words + ": it may not last for this job");
    }
  }
}

}  // namespace layright
