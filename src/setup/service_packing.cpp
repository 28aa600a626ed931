#include "setup/service_packing.h"

namespace layright {
namespace {

template <class Map>
void pack_map(Packer& to, Map const& map) {
  to.number(static_cast<long long>(map.size()));
  for (auto const& [name, value] : map) {
    to.text(name);
    pack(to, value);
  }
}

template <class Map>
void unpack_map(Unpacker& from, Map& map) {
  for (auto left = from.count(); left > 0 && from.good(); --left) {
    auto const name = from.text();
    unpack(from, map[name]);
  }
}

void pack(Packer& to, OfferedSize const& size) {
  for (int const side : {size.min_x, size.max_x, size.min_y, size.max_y}) to.number(side);
}
void unpack(Unpacker& from, OfferedSize& size) {
  for (int* const side : {&size.min_x, &size.max_x, &size.min_y, &size.max_y}) *side = from.small();
}

void pack(Packer& to, OfferedMedia const& media) {
  pack(to, media.size);
  for (auto const* text : {&media.source, &media.type, &media.feed_direction}) to.text(*text);
}
void unpack(Unpacker& from, OfferedMedia& media) {
  unpack(from, media.size);
  for (auto* text : {&media.source, &media.type, &media.feed_direction}) *text = from.text();
}

template <class T>
void pack_all(Packer& to, std::vector<T> const& all) {
  to.number(static_cast<long long>(all.size()));
  for (auto const& each : all) pack(to, each);
}
template <class T>
void unpack_all(Unpacker& from, std::vector<T>& all) {
  for (auto left = from.count(); left > 0 && from.good(); --left) unpack(from, all.emplace_back());
}

}  // namespace

void pack(Packer& to, std::string const& text) { to.text(text); }
void pack(Packer& to, int number) { to.number(number); }
void pack(Packer&, std::monostate) {}
void unpack(Unpacker& from, std::string& text) { text = from.text(); }
void unpack(Unpacker& from, int& number) { number = from.small(); }
void unpack(Unpacker&, std::monostate&) {}

void pack(Packer& to, Offer const& offer) {
  pack_map(to, offer.attributes);
  pack_map(to, offer.syntaxes);
  pack_all(to, offer.sizes);
  pack_all(to, offer.database);
  pack_all(to, offer.ready);
  to.number(offer.is_queue);
  to.number(offer.is_class);
}
void unpack(Unpacker& from, Offer& offer) {
  unpack_map(from, offer.attributes);
  unpack_map(from, offer.syntaxes);
  unpack_all(from, offer.sizes);
  unpack_all(from, offer.database);
  unpack_all(from, offer.ready);
  offer.is_queue = from.number() != 0;
  offer.is_class = from.number() != 0;
}

void pack(Packer& to, SendReply const& reply) {
  to.number(reply.job);
  pack(to, reply.unsupported);
}
void unpack(Unpacker& from, SendReply& reply) {
  reply.job = from.small();
  unpack(from, reply.unsupported);
}

void pack(Packer& to, JobStatus const& status) {
  to.number(status.id);
  to.number(static_cast<int>(status.state));
  pack(to, status.reasons);
  to.text(status.message);
  pack(to, status.sheets);
}
void unpack(Unpacker& from, JobStatus& status) {
  status.id = from.small();
  auto const state = from.number();
  bool const known = state >= 0 && state <= static_cast<int>(JobState::completed);
  status.state = known ? static_cast<JobState>(state) : JobState::unknown;
  unpack(from, status.reasons);
  status.message = from.text();
  unpack(from, status.sheets);
}

void pack(Packer& to, FoundJob const& job) {
  to.number(job.id);
  to.text(job.name);
}
void unpack(Unpacker& from, FoundJob& job) {
  job.id = from.small();
  job.name = from.text();
}

}  // namespace layright
