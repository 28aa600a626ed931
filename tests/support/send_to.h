// Sends to an address, as send does after it asked the press.
#pragma once
#include <catch2/catch.hpp>
#include <string>

#include "setup/send.h"

inline layright::Result<layright::SentJob> send_to(std::string const& address, layright::SendOptions const& options,
                                                   double talk_seconds = layright::PrintService::kTalkSeconds) {
  auto const service = layright::PrintService::connect(address, {}, talk_seconds);
  REQUIRE(service);
  return layright::send_job(**service, options);
}
