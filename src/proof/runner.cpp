#include "proof/runner.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <optional>

#include "base/embedded.h"
#include "base/parallel.h"
#include "proof/sources.h"
#include "units/reader.h"

namespace warmside::proof {

namespace {
constexpr std::string_view transcribed = "transcribed";
}

const char* evidence_word(const Check& check) {
    return check.transcribed ? transcribed.data() : name_of(check.evidence);
}

const char* name_of(Standing standing) {
    switch (standing) {
        case Standing::pass: return "pass";
        case Standing::fail: return "fail";
        case Standing::known_gap: return "known_gap";
    }
    return "fail";
}

namespace {

std::string slug(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (std::isalnum(static_cast<unsigned char>(c))) {
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        } else if (c == '.' || ((c == '-' || c == '+') && (out.empty() || out.back() == '-'))) {
            out += c == '+' ? "plus" : c == '-' ? "minus" : "_";
        } else if (!out.empty() && out.back() != '-') {
            out += '-';
        }
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out;
}

/// A number with the unit it is written in: expected values are compared in their own unit's dimension.
struct Amount {
    double written = 0.0;  ///< as in the file
    double factor = 1.0;   ///< SI = written * factor + offset
    double offset = 0.0;
    std::string unit;
};

const units::Spelling* spelling_of(std::string_view unit) {
    for (const auto* dimension : units::dimensions()) {
        for (const auto& spelling : dimension->spellings) {
            // "5 g/m3" and the like mean the same wherever they stand; a temperature's offset must win over
            // a difference, and a difference is written with "K".
            if (spelling.text == unit) return &spelling;
        }
    }
    return nullptr;
}

Result<Amount> amount_of(const toml::node& node, std::string_view unit_of_list = {}) {
    Amount amount;
    std::string unit(unit_of_list);
    if (const auto number = node.value<double>(); number && node.is_number()) {
        amount.written = *number;
    } else if (const auto* text = node.as_string()) {
        const std::string& words = text->get();
        char* end = nullptr;
        amount.written = std::strtod(words.c_str(), &end);
        if (end == words.c_str())
            return fail(Code::syntax, fmt::format("\"{}\" is not a number with a unit", words),
                        units::place_of(node));
        unit = words.substr(static_cast<std::size_t>(end - words.c_str()));
        unit.erase(
            0, unit.find_first_not_of(' ') == std::string::npos ? unit.size() : unit.find_first_not_of(' '));
    } else {
        return fail(Code::wrong_type, "an expected value is a number or a text with a unit",
                    units::place_of(node));
    }
    if (unit.empty() || unit == "-") return amount;
    const auto* spelling = spelling_of(unit);
    if (!spelling)
        return fail(Code::wrong_unit, fmt::format("unit \"{}\" is not known", unit), units::place_of(node));
    amount.factor = spelling->factor;
    amount.offset = spelling->offset;
    amount.unit = unit;
    return amount;
}

/// Half-width of the accepted band, in the unit of the expected value.
struct Within {
    bool relative = false;
    double value = 0.0;  ///< share, or SI difference
    [[nodiscard]] double width(const Amount& expected) const {
        return relative ? value * std::abs(expected.written) : value / expected.factor;
    }
};

Result<Within> within_of(const toml::node& node, std::string_view default_unit) {
    if (const auto* text = node.as_string();
        text && text->get().find('%') != std::string::npos && default_unit != "%") {
        const auto share = units::parse(text->get(), units::fraction);
        if (!share) return fail(Problem(share.error()));
        return Within{true, *share};
    }
    auto amount = amount_of(node, node.is_number() ? default_unit : std::string_view{});
    if (!amount) return fail(Problem(amount.error()));
    // A tolerance is a difference: no offset ("0.1 degC" is 0.1 K).
    return Within{false, amount->written * amount->factor};
}

struct Expectation {
    std::string result;
    std::vector<Amount> values;
    std::vector<std::string> labels;
};

Result<Expectation> expectation_of(std::string_view name, const toml::node& node) {
    Expectation out{std::string(name), {}, {}};
    const toml::array* list = node.as_array();
    std::string unit;
    if (const auto* table = node.as_table()) {
        list = table->get_as<toml::array>("values");
        unit = table->get("unit") ? table->get("unit")->value_or(std::string{}) : std::string{};
        if (const auto* at = table->get_as<toml::array>("at")) {
            for (const auto& label : *at) {
                out.labels.push_back(label.is_string() ? label.value_or(std::string{})
                                                       : fmt::format("{:g}", label.value_or(0.0)));
            }
        }
        if (!list) return fail(Code::missing, fmt::format("{} has no values", name), units::place_of(node));
        if (!out.labels.empty() && out.labels.size() != list->size()) {
            return fail(Code::conflict,
                        fmt::format("{} has {} values at {} places", name, list->size(), out.labels.size()),
                        units::place_of(node));
        }
    }
    const auto take = [&](const toml::node& item) -> std::optional<Problem> {
        auto amount = amount_of(item, unit);
        if (!amount) return amount.error();
        out.values.push_back(*amount);
        return std::nullopt;
    };
    if (!list) {
        if (auto problem = take(node)) return fail(std::move(*problem));
        return out;
    }
    for (const auto& item : *list) {
        if (auto problem = take(item)) return fail(std::move(*problem));
    }
    return out;
}

struct Common {
    std::string operation, source, room, topic;
};

class CaseRunner {
public:
    CaseRunner(const Common& common, const toml::table& table, Report& report)
        : common_(common), reader_(table, "[[case]]", report.problems), report_(report) {}

    void run() {
        const auto name = reader_.required(reader_.text("name"), "name");
        const auto* given = reader_.table("given");
        const auto* expect = reader_.table("expect");
        if (!expect) reader_.missing("expect");
        const auto* within = reader_.node("within");
        if (!within) reader_.missing("within");
        if (!reader_.has("evidence")) reader_.missing("evidence");
        const bool known = read_evidence();
        source_ = reader_.text("source").value_or(common_.source);
        place_ = reader_.text("place").value_or("");
        read_known_gap();
        const auto operation_name = reader_.text("operation").value_or(common_.operation);
        for (const auto* told : {"note", "measured", "why"}) (void)reader_.text(told);  // for people
        reader_.finish();
        if (!name || !expect || !within || !known) return;
        if (!has_source(source_)) {
            reader_.complain("source", Code::unknown_name,
                             fmt::format("source \"{}\" is not in docs/sources", source_));
        }
        name_ = *name;
        const Operation* found = operation(operation_name);
        if (!found) {
            reader_.complain("operation", Code::unknown_name,
                             fmt::format("operation \"{}\" does not exist", operation_name));
            return;
        }
        static const toml::table nothing;
        compare(found->run(given ? *given : nothing), *expect, *within);
    }

private:
    /// One word, or a table with a word for each result.
    bool read_evidence() {
        const auto word = [](units::TableReader& from, std::string_view key) {
            return from.required(
                from.word(key, {"seen", "quoted", "memory", "computed", "practice", transcribed}), key);
        };
        const auto* node = reader_.node("evidence");
        const auto* table = node ? node->as_table() : nullptr;
        if (!table) {
            const auto one = word(reader_, "evidence");
            if (one) evidence_ = *one;
            return one.has_value();
        }
        units::TableReader each(*table, "evidence", report_.problems);
        bool all = true;
        for (const auto& [key, value] : *table) {
            const auto one = word(each, key.str());
            all = all && one;
            if (one) evidence_by_result_.emplace(key.str(), *one);
        }
        return all;
    }

    [[nodiscard]] const std::string& evidence_for(std::string_view result) const {
        const auto found = evidence_by_result_.find(result);
        return found == evidence_by_result_.end() ? evidence_ : found->second;
    }

    /// One text for the whole case, or a table with a text for each result that is missed.
    void read_known_gap() {
        const auto* node = reader_.node("known_gap");
        const auto* table = node ? node->as_table() : nullptr;
        if (!table) {
            if (node) known_gap_ = reader_.text("known_gap");
            return;
        }
        units::TableReader each(*table, "known_gap", report_.problems);
        for (const auto& [key, value] : *table)
            if (auto text = each.text(key.str())) gap_by_result_.emplace(key.str(), *text);
    }

    [[nodiscard]] const std::string* gap_for(std::string_view result) const {
        if (const auto found = gap_by_result_.find(result); found != gap_by_result_.end())
            return &found->second;
        return known_gap_ ? &*known_gap_ : nullptr;
    }

    void compare(const Result<Outcome>& outcome, const toml::table& expect, const toml::node& within) {
        for (const auto& [key, node] : expect) {
            const auto expected = expectation_of(key.str(), node);
            if (!expected) {
                report_.problems.push_back(expected.error());
                continue;
            }
            const toml::node* band = &within;
            if (const auto* table = within.as_table()) band = table->get(key.str());
            if (!evidence_by_result_.empty() && !evidence_by_result_.contains(key.str())) {
                report_.problems.push_back({.code = Code::missing,
                                            .what = fmt::format("evidence says nothing about {}", key.str()),
                                            .where = units::place_of(node)});
                continue;
            }
            if (!band) {
                report_.problems.push_back({.code = Code::missing,
                                            .what = fmt::format("within says nothing about {}", key.str()),
                                            .where = units::place_of(within)});
                continue;
            }
            const auto width =
                within_of(*band, expected->values.empty() ? "" : expected->values.front().unit);
            if (!width) {
                report_.problems.push_back(width.error());
                continue;
            }
            rows(*expected, outcome, *width);
        }
    }

    void rows(const Expectation& expected, const Result<Outcome>& outcome, const Within& width) {
        const std::vector<double>* got = nullptr;
        std::string note;
        if (!outcome) {
            note = outcome.error().what;
        } else if (const auto found = outcome->find(expected.result); found == outcome->end()) {
            note = fmt::format("the operation gives no \"{}\"", expected.result);
        } else if (found->second.size() != expected.values.size()) {
            note = fmt::format("the operation gives {} values, expected are {}", found->second.size(),
                               expected.values.size());
        } else {
            got = &found->second;
        }
        for (std::size_t i = 0; i < expected.values.size(); ++i) row(expected, i, got, note, width);
    }

    void row(const Expectation& expected, std::size_t i, const std::vector<double>* got,
             const std::string& note, const Within& width) {
        const Amount& amount = expected.values[i];
        Check check;
        check.id = fmt::format("{}/{}/{}/{}", common_.room, common_.topic, slug(name_), expected.result);
        if (!expected.labels.empty()) {
            check.id += "/at-" + slug(expected.labels[i]);
        } else if (expected.values.size() > 1) {
            check.id += fmt::format("/{}", i + 1);
        }
        check.room = common_.room;
        check.title = name_;
        check.expected = amount.written;
        check.unit = amount.unit.empty() ? "-" : amount.unit;
        check.tolerance = width.width(amount);
        check.source = source_line(source_);
        check.place = place_;
        check.evidence = evidence_of(evidence_for(expected.result));
        check.transcribed = evidence_for(expected.result) == transcribed;
        check.note = note;
        if (got) {
            check.computed = true;
            check.got = ((*got)[i] - amount.offset) / amount.factor;
        }
        // A hair of slack for the rounding of the last binary digit, not for the method.
        const double slack = 1e-12 * std::max(1.0, std::abs(check.expected));
        const bool close = check.computed && std::abs(check.got - check.expected) <= check.tolerance + slack;
        const std::string* gap = gap_for(expected.result);
        check.result = close ? Standing::pass : gap ? Standing::known_gap : Standing::fail;
        if (gap && !close) check.note = *gap;
        report_.checks.push_back(std::move(check));
    }

    const Common& common_;
    units::TableReader reader_;
    Report& report_;
    std::string source_, place_, name_;
    std::optional<std::string> known_gap_;
    std::string evidence_;
    std::map<std::string, std::string, std::less<>> evidence_by_result_;
    std::map<std::string, std::string, std::less<>> gap_by_result_;
};

}  // namespace

void run_file(std::string_view name, std::string_view text, Report& report, const Control& control) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) {
        report.problems.push_back(parsed.error());
        return;
    }
    units::TableReader reader(*parsed, std::string(name), report.problems);
    Common common;
    common.operation = reader.text("operation").value_or("");
    common.source = reader.text("source").value_or("");
    // Needs what the program does not carry, such as a weather file: a test reads it.
    if (reader.text("read_by")) return;
    // proof/<room>/<topic>.toml
    auto path = name.substr(name.find('/') + 1);
    const auto slash = path.find('/');
    common.room = path.substr(0, slash);
    common.topic = path.substr(slash + 1, path.rfind('.') - slash - 1);
    const auto* cases = reader.array("case");
    if (!cases) reader.missing("case");
    reader.finish();
    if (!cases) return;
    for (const auto& item : *cases) {
        if (control.stop.stopped()) return;
        if (const auto* table = item.as_table()) CaseRunner(common, *table, report).run();
    }
}

Report run(std::string_view filter, const Control& control) {
    std::vector<const embedded::File*> files;
    for (const auto& file : embedded::files()) {
        if (!file.path.starts_with("proof/") || !file.path.ends_with(".toml")) continue;
        const auto id = file.path.substr(6, file.path.size() - 11);
        if (filter.empty() || id.starts_with(filter) || filter.starts_with(id)) files.push_back(&file);
    }
    std::vector<Report> parts(files.size());
    parallel_for(
        files.size(),
        [&](std::size_t i) {
            run_file(files[i]->path, files[i]->bytes, parts[i], control);
            control.report(files[i]->path, 1.0);
        },
        control.stop);
    Report all;
    for (auto& part : parts) {
        std::move(part.checks.begin(), part.checks.end(), std::back_inserter(all.checks));
        std::move(part.problems.begin(), part.problems.end(), std::back_inserter(all.problems));
    }
    std::erase_if(all.checks, [&](const Check& check) { return !check.id.starts_with(filter); });
    std::stable_sort(all.checks.begin(), all.checks.end(),
                     [](const Check& a, const Check& b) { return a.id < b.id; });
    return all;
}

}  // namespace warmside::proof
