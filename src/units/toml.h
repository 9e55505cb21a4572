// toml++ as this project uses it: no exceptions, compiled once in toml.cpp.
#pragma once

#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 0
#define TOML_ENABLE_UNRELEASED_FEATURES 1
// toml++ 3.3 asserts on some malformed input where it should report an error.
#define TOML_ASSERT(x) static_cast<void>(0)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wold-style-cast"
#pragma GCC diagnostic ignored "-Wshadow"
#include <toml++/toml.h>
#pragma GCC diagnostic pop
