// Result<T>: a value, or the reason why there is none. Member names follow std::expected, which g++ 12 offers in C++23 only.
#pragma once
#include <string>
#include <utility>
#include <variant>

namespace layright {

/// Why a job could not be done. Each kind maps to one exit status (command/exit_status.h).
enum class ErrorKind {
  usage,          // the words on the command line or in the configuration are off
  data,           // the file is not one that can be used
  no_input,       // there is no such file
  internal,       // a defect of this program
  cannot_create,  // an output cannot be made under that name
  io,             // reading or writing failed
  try_again,      // a passing trouble: somebody else holds the lock, the printer is away
  hold,           // a person must decide
};

struct Error {
  ErrorKind kind = ErrorKind::internal;
  std::string message;  // names the thing, what is wrong, and what to do; no trailing full stop needed
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}

  bool has_value() const { return state_.index() == 0; }
  explicit operator bool() const { return has_value(); }
  /// Requires has_value(); throws std::bad_variant_access otherwise.
  T& value() & { return std::get<0>(state_); }
  T const& value() const& { return std::get<0>(state_); }
  T&& value() && { return std::get<0>(std::move(state_)); }
  T& operator*() & { return value(); }
  T const& operator*() const& { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  T* operator->() { return &value(); }
  T const* operator->() const { return &value(); }
  /// Requires !has_value().
  Error const& error() const { return std::get<1>(state_); }
  T value_or(T other) const { return has_value() ? value() : std::move(other); }

 private:
  std::variant<T, Error> state_;
};

/// The words on the command line or in a configuration cannot be used.
inline Error usage_error(std::string message) { return {ErrorKind::usage, std::move(message)}; }

/// The result of something that gives nothing back but may fail.
using Outcome = Result<std::monostate>;
inline Outcome done() { return std::monostate{}; }

}  // namespace layright
