// Why a module could make nothing, in words of ours: what its library says is for those who know the library.
#pragma once
#include <new>
#include <stdexcept>
#include <string>

namespace layright {

struct NotMade : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Of the exception in hand.
inline std::string why_not_made() {
  try {
    throw;
  } catch (NotMade const& own) {
    return own.what();
  } catch (std::bad_alloc const&) {
    return "memory ran out";
  } catch (...) {
    return "the library that draws it gave up";
  }
}

}  // namespace layright
