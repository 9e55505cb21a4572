// Reads one table of a data file of this room: its figures, and source, evidence and reason that each must
// state.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/embedded.h"
#include "base/origin.h"
#include "units/reader.h"

namespace warmside::leakage {

template <class Read>
void read_part(units::TableReader& file, std::string_view key, Origin& origin, Problems& problems,
               Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return;
    }
    units::TableReader r(*table, "[" + std::string(key) + "]", problems);
    read(r);
    origin.kind = Origin::Kind::assumed;
    origin.where = r.place();
    origin.source = r.required(r.text("source"), "source").value_or("");
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    origin.evidence = evidence_of(word.value_or(""));
    (void)r.required(r.text("why"), "why");
    r.finish();
}

inline double read_one(units::TableReader& r, std::string_view key, const units::Dimension& dimension,
                       units::Limits limits) {
    return r.required(r.quantity(key, dimension, limits), key).value_or(0.0);
}

inline std::vector<double> read_list(units::TableReader& r, std::string_view key,
                                     const units::Dimension& dimension,
                                     units::Limits limits = {.least = 0.0}) {
    return r.required(r.quantities(key, dimension, limits), key).value_or(std::vector<double>{});
}

/// The file of this name, read by `read(name, text)`.
template <class T>
Result<T> read_embedded(std::string_view path, Result<T> (*read)(std::string_view, std::string_view)) {
    const auto text = embedded::find(path);
    if (!text) return fail(Code::missing, std::string(path) + " is not embedded");
    return read(path, *text);
}

}  // namespace warmside::leakage
