// What `checks` and `check --explain` say of a check in short.
#pragma once
#include "check/check.h"

namespace layright {

void print_facts(CheckInfo const& info);

}  // namespace layright
