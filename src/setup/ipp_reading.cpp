#include "setup/ipp_reading.h"

#include <algorithm>
#include <cstring>
#include <string_view>

#include "setup/state_words.h"

namespace layright {
namespace {

std::vector<std::string> values_of(ipp_attribute_t* attribute) {
  std::vector<std::string> values;
  auto const tag = ippGetValueTag(attribute);
  bool const strings = tag == IPP_TAG_KEYWORD || tag == IPP_TAG_NAME || tag == IPP_TAG_NAMELANG || tag == IPP_TAG_TEXT || tag == IPP_TAG_TEXTLANG ||
                       tag == IPP_TAG_MIMETYPE || tag == IPP_TAG_URI || tag == IPP_TAG_URISCHEME || tag == IPP_TAG_CHARSET || tag == IPP_TAG_LANGUAGE;
  for (int i = 0; i < ippGetCount(attribute); ++i) {
    int a = 0, b = 0;
    ipp_res_t units = IPP_RES_PER_INCH;
    if (strings) {
      char const* text = ippGetString(attribute, i, nullptr);
      values.emplace_back(text ? text : "");
    } else if (tag == IPP_TAG_INTEGER || tag == IPP_TAG_ENUM) {
      values.push_back(std::to_string(ippGetInteger(attribute, i)));
    } else if (tag == IPP_TAG_BOOLEAN) {
      values.emplace_back(ippGetBoolean(attribute, i) ? "true" : "false");
    } else if (tag == IPP_TAG_RESOLUTION) {
      a = ippGetResolution(attribute, i, &b, &units);
      // The library passes on whatever byte the press sent, which need not be a value of its enumeration.
      unsigned unit = 0;
      static_assert(sizeof unit == sizeof units);
      std::memcpy(&unit, &units, sizeof unit);
      if (unit == IPP_RES_PER_INCH || unit == IPP_RES_PER_CM)
        values.push_back(std::to_string(a) + "x" + std::to_string(b) + (unit == IPP_RES_PER_INCH ? "dpi" : "dpcm"));
    } else if (tag == IPP_TAG_RANGE) {
      a = ippGetRange(attribute, i, &b);
      values.push_back(std::to_string(a) + "-" + std::to_string(b));
    }
  }
  return values;
}

ipp_attribute_t* member(ipp_t* collection, char const* name) { return ippFindAttribute(collection, name, IPP_TAG_ZERO); }

std::optional<OfferedSize> size_from(ipp_t* size) {
  OfferedSize offered;
  auto const read = [&](char const* name, int& low, int& high) {
    ipp_attribute_t* side = size ? member(size, name) : nullptr;
    if (!side) return false;
    if (ippGetValueTag(side) == IPP_TAG_RANGE) low = ippGetRange(side, 0, &high);
    else low = high = ippGetInteger(side, 0);
    return low > 0 || high > 0;
  };
  if (read("x-dimension", offered.min_x, offered.max_x) && read("y-dimension", offered.min_y, offered.max_y)) return offered;
  return std::nullopt;
}

std::string text_of(ipp_attribute_t* attribute) {
  if (!attribute) return {};
  auto const values = values_of(attribute);
  return values.empty() ? std::string() : values.front();
}

OfferedMedia media_from(ipp_t* media) {
  OfferedMedia offered;
  ipp_attribute_t* size = member(media, "media-size");
  if (size && ippGetValueTag(size) == IPP_TAG_BEGIN_COLLECTION) offered.size = size_from(ippGetCollection(size, 0)).value_or(OfferedSize{});
  offered.source = text_of(member(media, "media-source"));
  offered.type = text_of(member(media, "media-type"));
  ipp_attribute_t* properties = member(media, "media-source-properties");
  if (properties && ippGetValueTag(properties) == IPP_TAG_BEGIN_COLLECTION)
    offered.feed_direction = text_of(member(ippGetCollection(properties, 0), "media-source-feed-direction"));
  return offered;
}

std::vector<OfferedMedia> read_media(ipp_t* reply, char const* name) {
  std::vector<OfferedMedia> all;
  ipp_attribute_t* list = ippFindAttribute(reply, name, IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; list && i < ippGetCount(list); ++i) all.push_back(media_from(ippGetCollection(list, i)));
  return all;
}

/// "{cover-type=no-cover media=na_letter_8.5x11in}".
std::string collection_text(ipp_t* collection) {
  std::string text;
  for (ipp_attribute_t* a = ippFirstAttribute(collection); a; a = ippNextAttribute(collection)) {
    if (!ippGetName(a)) continue;
    text += (text.empty() ? "" : " ") + std::string(ippGetName(a)) + "=" + (ippGetValueTag(a) == IPP_TAG_BEGIN_COLLECTION ? "{…}" : text_of(a));
  }
  return "{" + text + "}";
}

void read_attribute(ipp_attribute_t* a, Offer& offer) {
  std::string_view const name = ippGetName(a);
  auto values = values_of(a);
  // What the defaults of collections ask for; the job says its media-col itself, and the others are read as what they are.
  if (ippGetValueTag(a) == IPP_TAG_BEGIN_COLLECTION && name.ends_with("-default") && name != "media-col-default")
    for (int i = 0; i < ippGetCount(a); ++i) values.push_back(collection_text(ippGetCollection(a, i)));
  offer.attributes.emplace(name, std::move(values));
  char const* syntax = ippTagString(ippGetValueTag(a));
  offer.syntaxes.emplace(ippGetName(a), syntax ? syntax : "");
}

JobState state_from(int value) {  // RFC 8011, 5.3.7
  switch (value) {
    case IPP_JSTATE_PENDING: return JobState::pending;
    case IPP_JSTATE_HELD: return JobState::held;
    case IPP_JSTATE_PROCESSING: return JobState::processing;
    case IPP_JSTATE_STOPPED: return JobState::stopped;
    case IPP_JSTATE_CANCELED: return JobState::cancelled;
    case IPP_JSTATE_ABORTED: return JobState::aborted;
    case IPP_JSTATE_COMPLETED: return JobState::completed;
    default: return JobState::unknown;
  }
}

}  // namespace

Offer offer_from(ipp_t* reply) {
  Offer offer;
  for (ipp_attribute_t* a = ippFirstAttribute(reply); a; a = ippNextAttribute(reply))
    if (ippGetName(a) && ippGetGroupTag(a) == IPP_TAG_PRINTER) read_attribute(a, offer);
  ipp_attribute_t* sizes = ippFindAttribute(reply, "media-size-supported", IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; sizes && i < ippGetCount(sizes); ++i)
    if (auto const size = size_from(ippGetCollection(sizes, i))) offer.sizes.push_back(*size);
  offer.database = read_media(reply, "media-col-database");
  offer.ready = read_media(reply, "media-col-ready");
  return offer;
}

std::vector<std::pair<std::string, Offer>> queues_from(ipp_t* reply) {
  std::vector<std::pair<std::string, Offer>> queues;
  bool inside = false;
  for (ipp_attribute_t* a = ippFirstAttribute(reply); a; a = ippNextAttribute(reply)) {
    bool const printer = ippGetName(a) && ippGetGroupTag(a) == IPP_TAG_PRINTER;
    if (printer && !inside) queues.emplace_back();
    inside = printer;
    if (!printer) continue;
    read_attribute(a, queues.back().second);
    if (std::strcmp(ippGetName(a), "printer-name") == 0) queues.back().first = text_of(a);
  }
  std::erase_if(queues, [](auto const& queue) { return queue.first.empty(); });
  return queues;
}

SendReply send_reply_from(ipp_t* reply) {
  SendReply result;
  for (ipp_attribute_t* a = ippFirstAttribute(reply); a; a = ippNextAttribute(reply))
    if (ippGetGroupTag(a) == IPP_TAG_UNSUPPORTED_GROUP && ippGetName(a)) result.unsupported.emplace_back(ippGetName(a));
  ipp_attribute_t* id = ippFindAttribute(reply, "job-id", IPP_TAG_INTEGER);
  result.job = id ? ippGetInteger(id, 0) : 0;
  return result;
}

std::vector<FoundJob> jobs_from(ipp_t* reply) {
  std::vector<FoundJob> jobs;
  // Jobs come as groups of attributes in any order, with a nameless separator between them.
  FoundJob now;
  auto const end_group = [&] {
    if (now.id > 0) jobs.push_back(now);
    now = {};
  };
  for (ipp_attribute_t* a = ippFirstAttribute(reply); a; a = ippNextAttribute(reply)) {
    char const* name = ippGetName(a);
    if (!name || ippGetGroupTag(a) != IPP_TAG_JOB) {
      end_group();
      continue;
    }
    if (std::strcmp(name, "job-id") == 0) now.id = ippGetInteger(a, 0);
    if (std::strcmp(name, "job-name") == 0) now.name = text_of(a);
  }
  end_group();
  return jobs;
}

JobStatus job_status_from(ipp_t* reply) {
  JobStatus status;
  if (auto* a = ippFindAttribute(reply, "job-state", IPP_TAG_ENUM)) status.state = state_from(ippGetInteger(a, 0));
  if (auto* a = ippFindAttribute(reply, "job-state-reasons", IPP_TAG_ZERO))
    for (auto const& reason : values_of(a))
      if (reason != "none") status.reasons.push_back(reason);
  for (char const* name : {"job-state-message", "job-printer-state-message"})
    if (auto* a = ippFindAttribute(reply, name, IPP_TAG_ZERO); a && status.message.empty())
      if (auto const text = values_of(a); !text.empty()) status.message = text[0];
  for (char const* name : {"job-media-sheets-completed", "job-impressions-completed"})
    if (auto* a = ippFindAttribute(reply, name, IPP_TAG_INTEGER); a && ippGetInteger(a, 0) >= 0)  // some presses count only one of the two
      status.sheets = std::max(status.sheets.value_or(0), ippGetInteger(a, 0));
  return status;
}

std::vector<std::string> troubles_from(ipp_t* reply) {
  std::vector<std::string> words;
  if (auto* a = ippFindAttribute(reply, "printer-state-reasons", IPP_TAG_ZERO))
    for (auto const& reason : values_of(a))
      if (reason != "none" && !reason.ends_with("-report")) words.push_back(state_reason_words(reason));
  return words;
}

}  // namespace layright
