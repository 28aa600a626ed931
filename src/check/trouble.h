// Findings that arise while a file is read, before there is a page or a document that a check could look at.
#pragma once
#include <string>

#include "check/finding.h"
#include "document/document.h"
#include "sheet/target.h"

namespace layright {

/// The finding of a file that could not be opened: file.password where it is locked (by a password or a certificate), else file.damaged.
Finding cannot_open(OpenError const& trouble);

/// file.password: `trouble.message` says what is missing.
Finding password_finding(OpenError const& trouble);

/// file.damaged, hold: something was lost. `what` in plain words, such as "page 3 cannot be read: its content ends in the middle".
Finding damaged_finding(std::string const& what);

/// file.missing: `why` names the file and the trouble.
Finding missing_file_finding(std::string const& why);

/// page.missing: a page that was asked for and is not there.
Finding missing_page_finding(int number, int page_count);

/// What ran out while a file was read.
enum class RanOut { time, file_time, memory, size };
/// file.limit. `page`: where it was then, 0 where nobody knows; for file_time the first one that was not looked at. `limits`: what was allowed.
Finding limit_finding(RanOut what, int page, Limits const& limits);

}  // namespace layright
