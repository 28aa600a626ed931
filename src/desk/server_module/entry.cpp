#include "desk/server_module/entry.h"

#include <httplib.h>
#include <poll.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <condition_variable>
#include <cstring>
#include <exception>
#include <memory>
#include <mutex>
#include <thread>
#include <utility>

#include "base/lower_case.h"
#include "desk/server.h"
#include "desk/server_module/address_places.h"
#include "desk/server_module/timed_stream.h"

namespace layright {
namespace {

/// Connections beyond the most that are served at once find this set in the thread that took them in.
thread_local bool too_many = false;

/// A thread a connection.
class ThreadEach : public httplib::TaskQueue {
 public:
  explicit ThreadEach(int most) : most_(most) {}
  void enqueue(std::function<void()> work) override {
    {
      std::lock_guard const lock(mutex_);
      too_many = running_ >= most_;
      if (!too_many) ++running_;
    }
    if (too_many) return work();
    std::thread([this, work = std::move(work)] {
      work();
      std::lock_guard const lock(mutex_);
      --running_;
      ended_.notify_all();
    }).detach();
  }
  void shutdown() override {
    std::unique_lock lock(mutex_);
    ended_.wait(lock, [this] { return running_ == 0; });
  }

 private:
  std::mutex mutex_;
  std::condition_variable ended_;
  int running_ = 0, most_;
};

class WebServer : public httplib::Server {
 public:
  WebServer(ServerOptions const& options, Answerer const& answer, TlsContext context)
      : limits_(options.limits), answer_(answer), context_(std::move(context)), places_(options.limits.most_of_address) {
    new_task_queue = [this] { return new ThreadEach(limits_.most_at_once); };
    // GET and HEAD are answered before the library looks for patterns, so that none runs over what a visitor sends.
    set_pre_routing_handler([this](httplib::Request const& request, httplib::Response& response) {
      bool const odd_path = request.path.find_first_of(std::string_view("\0\r\n", 3)) != std::string::npos;
      if (request.method == "POST" && !odd_path) return HandlerResponse::Unhandled;
      WebRequest asked = plain(request);
      if (odd_path) asked.path = "/";
      if (odd_path) asked.method = "none";
      answer_into(response, asked, request.method == "HEAD");
      return HandlerResponse::Handled;
    });
    Post(".*", [this](httplib::Request const& request, httplib::Response& response, httplib::ContentReader const& reader) {
      WebRequest asked = plain(request);
      bool const parts = request.is_multipart_form_data();  // which the library would take apart
      if (!parts)
        asked.body = [&reader](std::function<bool(std::string_view)> const& take) {
          return reader([&take](char const* piece, std::size_t size) { return take({piece, size}); });
        };
      answer_into(response, asked, false);
    });
    // The library's own choice lets a second desk listen at the same port, and each gets some of the requests.
    set_socket_options([](socket_t socket) {
      int const yes = 1;
      ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    set_exception_handler([](httplib::Request const&, httplib::Response& response, std::exception_ptr const&) { response.status = 500; });
  }

  /// Of many who come at once the library lets five wait; the others' systems would knock again only after a second or more.
  void let_many_wait() const { (void)::listen(svr_sock_, SOMAXCONN); }
  bool is_stopping() const { return stopping_; }
  void end() {
    stopping_ = true;
    stop();
  }

 private:
  static WebRequest plain(httplib::Request const& request) {
    WebRequest asked;
    asked.method = request.method == "HEAD" ? "GET" : request.method;
    asked.path = request.path;
    asked.from = request.remote_addr;
    for (auto const& [name, value] : request.params) asked.query.emplace(name, value);
    for (auto const& [name, value] : request.headers) {
      auto const [known, is_new] = asked.headers.emplace(lower_case(name), value);
      if (!is_new) known->second += ", " + value;
    }
    return asked;
  }

  void answer_into(httplib::Response& response, WebRequest const& asked, bool head_only) {
    auto answer = answer_(asked);
    response.status = answer.status;
    for (auto const& [name, value] : answer.headers) response.set_header(name, value);
    if (answer.file) {
      auto const file = std::make_shared<UniqueFd>(std::move(answer.file));
      response.set_content_provider(static_cast<std::size_t>(answer.file_bytes), answer.type,
                                    [file](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
                                      char piece[64 << 10];
                                      auto const got = ::pread(file->get(), piece, std::min(length, sizeof piece), static_cast<off_t>(offset));
                                      return got > 0 && sink.write(piece, static_cast<std::size_t>(got));
                                    });
    } else if (answer.stream && !head_only) {
      response.set_chunked_content_provider(answer.type, [this, next = std::move(answer.stream)](std::size_t, httplib::DataSink& sink) {
        auto const piece = stopping_ ? std::nullopt : next();
        if (!piece) return sink.done(), true;
        return sink.is_writable() && (piece->empty() || sink.write(piece->data(), piece->size()));
      });
    } else {
      response.set_content(answer.text, answer.type);
    }
  }

  bool process_and_close_socket(socket_t socket) override {
    UniqueFd const closes(socket);
    TimedStream stream(socket, limits_);
    std::string address;
    int port = 0;
    stream.get_remote_ip_and_port(address, port);
    AddressPlaces::Place const place(places_, address);
    if (too_many || !place.is_free()) {
      constexpr std::string_view kLater = "HTTP/1.1 503 Service Unavailable\r\nRetry-After: 2\r\nContent-Length: 0\r\nConnection: close\r\n\r\n";
      return ::send(socket, kLater.data(), kLater.size(), MSG_NOSIGNAL | MSG_DONTWAIT) > 0;
    }
    if (context_ && !stream.begin_tls(context_.get())) return false;
    bool closed = false;
    // One request a connection: what is left of a body that was not read is then nobody's next request.
    bool const well = process_request(stream, true, closed, [&stream](httplib::Request& request) {
      request.ranges.clear();
      request.headers.erase("Range");
      if (request.method == "POST") stream.expect_body();
    });
    stream.end_tls();
    ::shutdown(socket, SHUT_WR);
    drain(socket);
    return well;
  }

  /// Closing with bytes unread would take the answer back (RFC 9112, 9.6): a little of what still comes is read and dropped.
  static void drain(socket_t socket) {
    char dropped[16 << 10];
    for (int tries = 0; tries < 64; ++tries) {
      pollfd waiting{socket, POLLIN, 0};
      if (::poll(&waiting, 1, 500) <= 0 || ::recv(socket, dropped, sizeof dropped, MSG_DONTWAIT) <= 0) return;
    }
  }

  ServerLimits const limits_;
  Answerer const& answer_;
  TlsContext const context_;
  AddressPlaces places_;
  std::atomic<bool> stopping_ = false;
};

/// The port that it listens at; below 0: it cannot.
int bound(WebServer& server, ListenAddress const& address) {
  if (!address.unix_socket)
    return address.port == 0 ? server.bind_to_any_port(address.host) : server.bind_to_port(address.host, address.port) ? address.port : -1;
  server.set_address_family(AF_UNIX);
  auto const before = ::umask(0177);  // for this user only
  bool const well = server.bind_to_port(address.host, 80);
  ::umask(before);
  return well ? 0 : -1;
}

}  // namespace
}  // namespace layright

extern "C" __attribute__((visibility("default"))) bool layright_serve(layright::ServerOptions const& options, layright::Answerer const& answer,
                                                                      std::string& trouble) {
  using namespace layright;
  try {
    TlsContext context;
    if (!options.certificate.empty() && !(context = tls_context(options.certificate, options.key, trouble))) return false;
    WebServer server(options, answer, std::move(context));
    errno = 0;
    int const port = bound(server, options.address);
    if (port < 0) {
      trouble = errno ? std::strerror(errno) : "the address is taken or not of this machine";
      return false;
    }
    server.let_many_wait();
    if (options.listening) options.listening(port, [&server] { server.end(); });
    bool const well = server.listen_after_bind() || server.is_stopping();
    if (options.address.unix_socket) ::unlink(options.address.host.c_str());
    if (!well) trouble = "it stopped listening";
    return well;
  } catch (std::exception const& error) {
    trouble = error.what();
    return false;
  }
}
