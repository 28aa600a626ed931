// A press that is hostile or slow: what it says goes to a child, which may die of it. This process lives, soon, and tells.
#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <functional>
#include <thread>
#include <vector>

#include "setup/ipp_bounds.h"
#include "setup/send.h"
#include "setup/talk.h"
#include "support/send_to.h"

using namespace layright;

namespace {

using Clock = std::chrono::steady_clock;

/// Gives every caller the same answer, for ever where `answer` does not come to an end by itself.
class HostilePress {
 public:
  using Pour = std::function<bool(std::string const&)>;  // false: the caller is gone, or the test is over
  explicit HostilePress(std::function<void(Pour const&)> answer) : answer_(std::move(answer)) {
    listener_ = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    REQUIRE(bind(listener_, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0);
    socklen_t size = sizeof address;
    getsockname(listener_, reinterpret_cast<sockaddr*>(&address), &size);
    port_ = ntohs(address.sin_port);
    listen(listener_, 8);
    thread_ = std::thread([this] { run(); });
  }
  ~HostilePress() {
    over_ = true;
    thread_.join();
    close(listener_);
  }
  std::string address() const { return "ipp://127.0.0.1:" + std::to_string(port_) + "/ipp/print"; }

 private:
  void run() {
    while (!over_) {
      pollfd waiting{listener_, POLLIN, 0};
      if (poll(&waiting, 1, 50) <= 0) continue;
      int const client = accept(listener_, nullptr, nullptr);
      timeval const patience{0, 100000};
      setsockopt(client, SOL_SOCKET, SO_SNDTIMEO, &patience, sizeof patience);
      setsockopt(client, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
      char request[65536];
      (void)!recv(client, request, sizeof request, 0);
      send(client, "HTTP/1.1 100 Continue\r\n\r\n", 25, MSG_NOSIGNAL);
      (void)!recv(client, request, sizeof request, 0);
      answer_([&](std::string const& bytes) {
        std::size_t at = 0;
        while (at < bytes.size()) {
          if (over_) return false;
          auto const n = send(client, bytes.data() + at, bytes.size() - at, MSG_NOSIGNAL);
          if (n > 0) at += static_cast<std::size_t>(n);
          else if (errno != EAGAIN && errno != EWOULDBLOCK) return false;
        }
        return !over_;
      });
      for (int i = 0; i < 50 && !over_ && recv(client, request, sizeof request, 0) != 0; ++i) {
      }
      close(client);  // not before the caller has read it all
    }
  }
  std::function<void(Pour const&)> answer_;
  int listener_ = -1, port_ = 0;
  std::atomic<bool> over_{false};
  std::thread thread_;
};

std::string head(std::size_t length) {
  return "HTTP/1.1 200 OK\r\nContent-Type: application/ipp\r\nContent-Length: " + std::to_string(length) + "\r\n\r\n";
}

std::string attribute(char tag, std::string const& name, std::string const& value) {
  auto const size = [](std::string const& text) { return std::string{static_cast<char>(text.size() >> 8), static_cast<char>(text.size())}; };
  return std::string(1, tag) + size(name) + name + size(value) + value;
}

std::string answer_begins() {
  return std::string("\x02\x00\x00\x00\x00\x00\x00\x01\x01", 9) + attribute(0x47, "attributes-charset", "utf-8") +
         attribute(0x48, "attributes-natural-language", "en") + "\x04";
}

/// What comes of asking it, and that it does not take long: `seconds` for all that is asked.
Error asked(std::string const& address, double seconds) {
  auto const service = PrintService::connect(address, {}, seconds);
  REQUIRE(service);
  auto const begun = Clock::now();
  auto const offer = (*service)->offer();
  CHECK(std::chrono::duration<double>(Clock::now() - begun).count() < seconds + 20);  // a machine with much else to do
  REQUIRE_FALSE(offer);
  return offer.error();
}

}  // namespace

TEST_CASE("collections nested thousands of times are reported, not suffered") {
  for (int const levels : {20, 7000, 200000}) {
    INFO(levels);
    std::string body = answer_begins() + attribute(0x34, "media-col-database", "");
    for (int i = 0; i < levels; ++i) body += attribute(0x4a, "", "media-size") + attribute(0x34, "", "");
    HostilePress const press([&](auto const& pour) { pour(head(body.size()) + body); });
    auto const error = asked(press.address(), 3);
    CHECK(error.kind == ErrorKind::try_again);
    CHECK_THAT(error.message, Catch::Contains("nests its collections more than 16 deep"));
  }
}

TEST_CASE("the depth of an answer is counted as libcups' parser takes it") {
  // RFC 8010, 3.1: pieces as the parser asks for them. By hand.
  auto const tag = [](unsigned char t) { return std::string(1, static_cast<char>(t)); };
  std::string const none("\0\0", 2), begin = tag(0x34), end = tag(0x37);
  using Pieces = std::vector<std::string>;
  auto const within = [](Pieces const& pieces, int times) {
    IppBounds bounds;
    bool well = bounds.take(reinterpret_cast<unsigned char const*>("\2\0\0\0\0\0\0\1"), 8);
    for (int i = 0; i < times && well; ++i)
      for (auto const& piece : pieces) well = well && bounds.take(reinterpret_cast<unsigned char const*>(piece.data()), piece.size());
    CHECK(well == !bounds.broken());
    return well;
  };
  CHECK(within({begin, none, none}, 16));
  CHECK_FALSE(within({begin, none, none}, 17));
  CHECK(within({begin, none, none, end, none, none}, 1000));                                       // beside each other
  CHECK(within({tag(0x22), none, std::string("\0\1", 2), begin}, 1000));                           // a value that looks like a tag
  CHECK(within({tag(0x41), std::string("\0\1", 2), begin, std::string("\0\1", 2), begin}, 1000));  // a name that does
  CHECK_FALSE(within({begin, none, none, tag(0x22), none, std::string("\0\1", 2), end}, 17));      // a value does not end one
  CHECK_FALSE(within({begin, none, none, tag(0x41), none, std::string("\0\2", 2), std::string("\0\1", 2)},
                     17));  // nor does a value that looks like a length hide one
  CHECK(within({tag(0x44), none, std::string("\7\0", 2), std::string(1792, 'm')}, 9000));
  CHECK_FALSE(within({tag(0x44), none, std::string("\7\0", 2), std::string(1792, 'm')}, 10000));  // 16 MB
}

TEST_CASE("a body without end does not eat the memory") {
  HostilePress const press([](auto const& pour) {
    pour(head(std::size_t{1} << 40) + answer_begins() + attribute(0x44, "media-supported", "iso"));
    std::string values;
    for (int i = 0; i < 500; ++i) values += attribute(0x44, "", std::string(1000, 'm'));
    while (pour(values)) {
    }
  });
  CHECK(asked(press.address(), 3).kind == ErrorKind::try_again);
}

TEST_CASE("headers without end, and answers that drip, end with the time") {
  HostilePress const headers([](auto const& pour) {
    pour("HTTP/1.1 200 OK\r\n");
    while (pour("X-A: " + std::string(1000, 'a') + "\r\n")) {
    }
  });
  CHECK(asked(headers.address(), 0.3).kind == ErrorKind::try_again);
  HostilePress const drips([](auto const& pour) {
    pour(head(1000000000) + answer_begins());
    while (pour(attribute(0x44, "media-supported", "x"))) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  });
  auto const error = asked(drips.address(), 0.3);
  CHECK_THAT(error.message, Catch::Contains("no whole answer in time"));
}

TEST_CASE("the time is for all questions together, and a sending that broke off may have got there") {
  HostilePress const silent([](auto const& pour) {
    while (pour("")) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  });
  auto const service = PrintService::connect(silent.address(), {}, 0.3);
  REQUIRE(service);
  CHECK_FALSE((*service)->offer());
  auto const begun = Clock::now();
  CHECK_FALSE((*service)->job(1));  // nothing is left of it
  CHECK(std::chrono::duration<double>(Clock::now() - begun).count() < 10);
}

TEST_CASE("all tries of a sending have one time") {
  HostilePress const silent([](auto const& pour) {
    while (pour("")) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  });
  SendOptions options;
  options.request.file = "/dev/null";
  auto const begun = Clock::now();
  auto const end = send_to(silent.address(), options, 0.6);
  REQUIRE_FALSE(end);
  CHECK(end.error().kind == ErrorKind::try_again);  // nothing was accepted: it was asked first
  CHECK(std::chrono::duration<double>(Clock::now() - begun).count() < 10);
  auto const service = PrintService::connect(silent.address(), {}, 0.5);
  CHECK((*service)->wait(0.1));
  CHECK_FALSE((*service)->wait(0.4));
}

TEST_CASE("a child that reports, one that dies, one that is quiet") {
  std::vector<std::string> heard;
  auto const hear = [&](std::string const& report) { return heard.push_back(report), true; };
  CHECK(talk([](ReportToParent const& report) { report("one"), report(std::string(300000, 'x')), report(""); }, {}, hear) == TalkEnd::finished);
  REQUIRE(heard.size() == 3);
  CHECK(heard[1].size() == 300000);
  CHECK(talk([](ReportToParent const& report) { report("first"), abort(); }, {}, hear) == TalkEnd::broken);
  CHECK(heard.back() == "first");
  CHECK(talk([](ReportToParent const&) { throw std::bad_alloc(); }, {}, hear) == TalkEnd::broken);
  CHECK(talk([](ReportToParent const&) { pause(); }, {.seconds = 0.2}, hear) == TalkEnd::out_of_time);
  CHECK(talk(
            [](ReportToParent const& report) {
              while (true) report("again");
            },
            {}, [](std::string const&) { return false; }) == TalkEnd::stopped);
}
