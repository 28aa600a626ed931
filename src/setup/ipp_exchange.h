// One request and its answer over a connection of libcups, the answer within bounds (ipp_bounds.h).
#pragma once
#include <cups/cups.h>

#include <memory>
#include <string>

namespace layright {

struct IppDelete {
  void operator()(ipp_t* ipp) const { ippDelete(ipp); }
};
using Ipp = std::unique_ptr<ipp_t, IppDelete>;

struct IppAnswer {
  Ipp ipp;  // null: none came that could be read
  ipp_status_t status = IPP_STATUS_OK;
  std::string said;    // the press's own words, else why there is none
  std::string behind;  // what came behind it
};

/// `file` goes behind the request; null: none. Of what comes behind the answer at most `most_behind` bytes are kept.
IppAnswer exchange(http_t* http, Ipp request, std::string const& resource, char const* file, std::size_t most_behind);

}  // namespace layright
