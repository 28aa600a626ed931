// toml++ as this folder uses it: results instead of exceptions, compiled once (toml_library.cpp), shallow nesting only.
#pragma once
#define TOML_HEADER_ONLY 0
#define TOML_EXCEPTIONS 0
#define TOML_ENABLE_FORMATTERS 0
#define TOML_MAX_NESTED_VALUES 16  // layright.toml needs four; a hostile file shall not reach the end of the stack
#include <toml++/toml.h>
