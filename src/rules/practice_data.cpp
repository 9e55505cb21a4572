#include "rules/practice_data.h"

#include <cassert>
#include <initializer_list>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::rules {

namespace {

constexpr std::string_view practice_file = "data/rules/practice.toml";
constexpr std::string_view reminder_file = "data/rules/reminders.toml";

Origin origin_of(units::TableReader& from) {
    const auto source = from.required(from.text("source"), "source");
    const auto evidence = from.required(from.text("evidence"), "evidence");
    const Evidence word = evidence_of(evidence.value_or(""));
    if (evidence && word == Evidence::none)
        from.complain("evidence", Code::unknown_name, "\"" + *evidence + "\" is no evidence word");
    return {Origin::Kind::standard, from.place(), source.value_or(""), word};
}

std::vector<double> figures(units::TableReader& from, std::string_view key, double size = 1.0) {
    auto out = from.quantities(key, units::number, {.least = 0.0}).value_or(std::vector<double>{});
    for (double& each : out) each *= size;
    return out;
}

Comparison comparison_of(units::TableReader from) {
    constexpr double per_hour = 1.0 / 3600.0;
    Comparison out;
    out.country = from.required(from.text("country"), "country").value_or("");
    out.part = from.required(from.text("part"), "part").value_or("");
    out.what = from.required(from.text("what"), "what").value_or("");
    out.degree_days = figures(from, "degree_days");
    out.resistance = figures(from, "resistance");
    out.u = figures(from, "u");
    out.air_change = figures(from, "ach", per_hour);
    out.origin = origin_of(from);
    const std::size_t count = out.resistance.size() + out.u.size() + out.air_change.size();
    if (count != out.degree_days.size() + 1)
        from.complain("degree_days", Code::incomplete,
                      "one figure more than limits of degree days is needed");
    from.finish();
    return out;
}

template <class Read>
void each_table(units::TableReader& file, std::string_view key, Read read) {
    const auto* list = file.array(key);
    if (!list) return file.missing(key);
    for (const toml::node& node : *list) {
        if (const auto* table = node.as_table()) read(*table);
    }
}

}  // namespace

std::size_t band_of(const Comparison& comparison, double degree_days) {
    std::size_t i = 0;
    while (i < comparison.degree_days.size() && degree_days >= comparison.degree_days[i]) ++i;
    return i;
}

Practice read_practice(std::string_view name, std::string_view text, Problems& problems) {
    Practice out;
    const auto root = units::parse_toml(name, text);
    if (!root) {
        problems.push_back(root.error());
        return out;
    }
    units::TableReader file(*root, std::string(name), problems);
    if (const auto* share = file.table("share")) {
        units::TableReader from(*share, "[share]", problems);
        out.share_inside =
            from.required(from.quantity("most", units::fraction, {0.0, 1.0}), "most").value_or(0.0);
        out.share_origin = origin_of(from);
        from.finish();
    } else {
        file.missing("share");
    }
    each_table(file, "comparison", [&](const toml::table& node) {
        out.comparisons.push_back(comparison_of({node, "[[comparison]]", problems}));
    });
    file.finish();
    return out;
}

std::vector<Reminder> read_reminders(std::string_view name, std::string_view text, Problems& problems) {
    std::vector<Reminder> out;
    const auto root = units::parse_toml(name, text);
    if (!root) {
        problems.push_back(root.error());
        return out;
    }
    units::TableReader file(*root, std::string(name), problems);
    each_table(file, "reminder", [&](const toml::table& node) {
        units::TableReader from(node, "[[reminder]]", problems);
        Reminder r;
        r.subject = from.required(from.text("subject"), "subject").value_or("");
        r.citation = from.required(from.text("citation"), "citation").value_or("");
        r.words = from.required(from.text("words"), "words").value_or("");
        for (const double year : figures(from, "editions")) r.editions.push_back(static_cast<int>(year));
        r.zones = from.texts("zones").value_or(std::vector<std::string>{});
        r.about = from.required(from.texts("about"), "about").value_or(std::vector<std::string>{});
        r.origin = origin_of(from);
        from.finish();
        out.push_back(std::move(r));
    });
    file.finish();
    return out;
}

const Practice& practice() {
    static const Practice data = [] {
        Problems problems;
        auto out = read_practice(practice_file, embedded::find(practice_file).value_or(""), problems);
        assert(problems.empty() && "the file reads; rules_test checks it");
        return out;
    }();
    return data;
}

const std::vector<Reminder>& reminder_list() {
    static const std::vector<Reminder> data = [] {
        Problems problems;
        auto out = read_reminders(reminder_file, embedded::find(reminder_file).value_or(""), problems);
        assert(problems.empty() && "the file reads; rules_test checks it");
        return out;
    }();
    return data;
}

}  // namespace warmside::rules
