#define TOML_IMPLEMENTATION
#include "units/toml.h"
