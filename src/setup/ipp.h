// What a print job asks for in IPP (RFC 8011 and the PWG's extensions), as plain values; and written as an ipptool request.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "check/finding.h"
#include "sheet/target.h"

namespace layright {

struct IppMember;
/// RFC 8011, 5.1: the syntaxes that a job needs.
struct IppKeyword {
  std::string word;
};
struct IppName {
  std::string text;
};
struct IppResolution {
  int across = 0, along = 0;  // dots to the inch, cross-feed first
  bool metric = false;        // to the centimetre
};
struct IppEnum {
  int value = 0;
};
struct IppRange {
  int from = 1, to = 1;
};
using IppCollection = std::vector<IppMember>;
/// Several values of one syntax (1setOf); their own names are empty.
struct IppSeveral {
  std::vector<IppMember> values;
};
using IppValue = std::variant<IppKeyword, IppName, IppResolution, IppEnum, IppRange, int, bool, IppCollection, IppSeveral>;
struct IppMember {
  std::string name;
  IppValue value;
};

/// The job attributes for a target, in the order told: media-col (size in 1/100 mm, short side first, margins of the sheet), sides,
/// copies, print-scaling none and the rest as keywords. No orientation-requested: the page already lies right. The press's own
/// options follow in the syntax that the press, or else the standard, has for them (ipp_values.h).
std::vector<IppMember> ipp_job_attributes(Target const& target, std::map<std::string, std::string> const& syntaxes = {});

/// press.resolution, a note: the finest resolution is asked for, and without a driver or an answer nobody knows which one that is.
std::optional<Finding> unknown_resolution(Target const& target);

/// 1/100 mm, rounded.
int hundredths_of_mm(Length length);

/// A request in the file syntax of CUPS' ipptool (ipptoolfile(5)): Print-Job with `ipp-attribute-fidelity`, so that a printer refuses
/// rather than substitutes. `document_format` is its MIME type. Run by: ipptool -f FILE PRINTER-URI THIS
std::string ipptool_request(Target const& target, std::string const& job_name, std::string const& document_format);
/// The same for attributes that were already fitted to a press.
std::string ipptool_request(std::vector<IppMember> const& attributes, std::string const& job_name, std::string const& document_format);

}  // namespace layright
