// What a file was before it became a PDF, made up for a test of the checks that look at it.
#pragma once
#include "check/check.h"
#include "check/rows.h"

namespace layright::test {

struct MadeSource {
  OriginalFile source;
  Target target;
  std::vector<Finding> reported(CheckInfo const& info) const { return info.source_check({source, target, Unit::inch}); }
};

inline SourcePicture picture_of(double stated, double used) {
  SourcePicture p;
  p.width = 1200;
  p.height = 600;
  p.along = p.down = stated;
  p.used_along = p.used_down = used;
  return p;
}

}  // namespace layright::test
