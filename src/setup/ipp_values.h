// Words of a press's table as IPP's typed values.
#pragma once
#include <string>

#include "base/result.h"
#include "setup/ipp.h"
#include "setup/service.h"

namespace layright {

/// "true", "3", "3-5", "600x1200dpi", "staple" (of finishings), "a,b" in the syntax that the press has for this attribute (RFC 8011, 5.1);
/// where it tells none, in that of the standards, else in the one that it looks like. Error (hold): it is no value of that syntax.
Result<IppValue> ipp_value(std::string const& attribute, std::string const& written, OfferedSyntaxes const& syntaxes = {});

}  // namespace layright
