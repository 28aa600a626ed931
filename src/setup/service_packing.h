// What a press said, packed for the way from the child that asked it (talk.h).
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "setup/packing.h"
#include "setup/service.h"

namespace layright {

void pack(Packer& to, std::string const& text);
void pack(Packer& to, int number);
void pack(Packer& to, std::monostate);
void pack(Packer& to, Offer const& offer);
void pack(Packer& to, SendReply const& reply);
void pack(Packer& to, JobStatus const& status);
void pack(Packer& to, FoundJob const& job);

void unpack(Unpacker& from, std::string& text);
void unpack(Unpacker& from, int& number);
void unpack(Unpacker& from, std::monostate&);
void unpack(Unpacker& from, Offer& offer);
void unpack(Unpacker& from, SendReply& reply);
void unpack(Unpacker& from, JobStatus& status);
void unpack(Unpacker& from, FoundJob& job);

template <class A, class B>
void pack(Packer& to, std::pair<A, B> const& both) {
  pack(to, both.first);
  pack(to, both.second);
}
template <class A, class B>
void unpack(Unpacker& from, std::pair<A, B>& both) {
  unpack(from, both.first);
  unpack(from, both.second);
}
template <class T>
void pack(Packer& to, std::vector<T> const& all) {
  to.number(static_cast<long long>(all.size()));
  for (auto const& each : all) pack(to, each);
}
template <class T>
void unpack(Unpacker& from, std::vector<T>& all) {
  for (auto left = from.count(); left > 0 && from.good(); --left) unpack(from, all.emplace_back());
}
template <class T>
void pack(Packer& to, std::optional<T> const& maybe) {
  to.number(maybe.has_value());
  if (maybe) pack(to, *maybe);
}
template <class T>
void unpack(Unpacker& from, std::optional<T>& maybe) {
  if (from.number() != 0) unpack(from, maybe.emplace());
}

}  // namespace layright
