// Lines of a model's text, one a value. Inner part of model_text.h.
#pragma once

#include <fmt/format.h>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/services.h"
#include "units/quantity.h"

namespace warmside::project {

class Lines {
public:
    std::vector<std::string> out;
    void text(const std::string& path, std::string_view value) {
        out.push_back(fmt::format("{} = \"{}\"", path, value));
    }
    void number(const std::string& path, double value) { out.push_back(fmt::format("{} = {}", path, value)); }
    void length(const std::string& path, units::Exact value) {
        out.push_back(fmt::format("{} = {}", path, value.count()));
    }
    void flag(const std::string& path, bool value) { out.push_back(fmt::format("{} = {}", path, value)); }
    void count(const std::string& path, int value) { out.push_back(fmt::format("{} = {}", path, value)); }
};

/// [people] to [code], and the blower-door test of [air].
void write(Lines& to, const assembly::Services& services);

}  // namespace warmside::project
