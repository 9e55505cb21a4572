// Checks of the code tables that the findings read.
#include <array>

#include "climate/year.h"
#include "proof/inputs.h"
#include "rules/practice_data.h"
#include "rules/roof_deck.h"
#include "rules/tables.h"

namespace warmside::proof {
namespace {

namespace r = warmside::rules;

constexpr int first_edition = 2018, last_edition = 2024;

std::string text_in(Inputs& v, std::string_view key) {
    return v.reader().required(v.reader().text(key), key).value_or("");
}

std::vector<std::string> texts_in(Inputs& v, std::string_view key) {
    return v.reader().required(v.reader().texts(key), key).value_or(std::vector<std::string>{});
}

/// The cell of one zone, or why there is none.
Result<const r::Cell*> cell_of(const r::Tables& tables, std::string_view table, std::string_view row,
                               const std::string& zone_text) {
    const auto zone = r::read_zone(zone_text);
    if (!zone) return fail(zone.error());
    const r::Cell* cell = tables.find(table, row, *zone);
    if (!cell) return fail(Code::missing, "no cell for zone " + zone_text);
    return cell;
}

/// Visits the cell of each zone of the list.
template <class Visit>
Result<Outcome> each_zone(int edition, std::string_view table, std::string_view row,
                          const std::vector<std::string>& zones, Visit visit) {
    const auto tables = r::tables_of(edition);
    if (!tables) return fail(tables.error());
    Outcome out;
    for (const std::string& zone : zones) {
        const auto cell = cell_of(*tables, table, row, zone);
        if (!cell) return fail(cell.error());
        visit(**cell, out);
    }
    return out;
}

/// given: edition, table, row, zones. value of each cell, SI, and 1 where anything is asked.
Result<Outcome> number(const Given& given) {
    Inputs v(given);
    const int edition = v.whole("edition", first_edition, last_edition);
    const auto table = text_in(v, "table"), row = text_in(v, "row");
    const auto zones = texts_in(v, "zones");
    return v.then([&] {
        return each_zone(edition, table, row, zones, [](const r::Cell& cell, Outcome& out) {
            out["value"].push_back(cell.value);
            out["asked"].push_back(cell.asked ? 1.0 : 0.0);
        });
    });
}

/// given: edition, row, zone. cavity and continuous of each way, depth, full, inside; SI.
Result<Outcome> layers(const Given& given) {
    Inputs v(given);
    const int edition = v.whole("edition", first_edition, last_edition);
    const auto row = text_in(v, "row"), zone = text_in(v, "zone");
    return v.then([&] {
        return each_zone(edition, "r", row, {zone}, [](const r::Cell& cell, Outcome& out) {
            for (const r::LayerOption& way : cell.options) {
                out["cavity"].push_back(way.cavity);
                out["continuous"].push_back(way.continuous);
            }
            out["depth"] = {cell.depth};
            out["full"] = {cell.full};
            if (cell.inside) out["inside"] = {*cell.inside};
        });
    });
}

/// given: edition, vapour_class, zones. allowed: 0 no, 1 yes, 2 by table.
Result<Outcome> retarder(const Given& given) {
    Inputs v(given);
    const int edition = v.whole("edition", first_edition, last_edition);
    const auto name = v.word("vapour_class", {"I", "II", "III", "none"});
    const auto zones = texts_in(v, "zones");
    return v.then([&] {
        return each_zone(edition, "retarder", name, zones, [](const r::Cell& cell, Outcome& out) {
            out["allowed"].push_back(cell.words == "no" ? 0.0 : cell.words == "yes" ? 1.0 : 2.0);
        });
    });
}

/// given: edition, over (sheathing), zones. allowed: 1 where vented cladding over it does.
Result<Outcome> vented_cladding(const Given& given) {
    Inputs v(given);
    const int edition = v.whole("edition", first_edition, last_edition);
    const auto over = v.word("over", {"wood panel", "fibreboard", "gypsum"});
    const auto zones = texts_in(v, "zones");
    return v.then([&] {
        return each_zone(edition, "class III vented", "over", zones, [&](const r::Cell& cell, Outcome& out) {
            out["allowed"].push_back(cell.words.find(over) != std::string::npos ? 1.0 : 0.0);
        });
    });
}

/// given: place, edition. number, and regime: 0 none, 1 A, 2 B, 3 C.
Result<Outcome> zone(const Given& given) {
    Inputs v(given);
    const auto name = text_in(v, "place");
    const int edition = v.whole("edition", first_edition, last_edition);
    return v.then([&]() -> Result<Outcome> {
        const auto place = climate::find_place(name);
        if (!place) return fail(place.error());
        const auto found = r::zone_of(**place, edition);
        if (!found) return fail(found.error());
        const char regime = found->zone.regime;
        return Outcome{{"number", {static_cast<double>(found->zone.number)}},
                       {"regime", {regime == '\0' ? 0.0 : static_cast<double>(regime - 'A' + 1)}}};
    });
}

/// given: deck, inside, outside, within_deck (R inside of the deck). share of R outside, and that R.
Result<Outcome> share_outside(const Given& given) {
    Inputs v(given);
    const double deck = v.one("deck", units::temperature), inside = v.one("inside", units::temperature);
    const double outside = v.one("outside", units::temperature);
    const double within = v.one("within_deck", units::thermal_resistance);
    return v.then([&]() -> Result<Outcome> {
        const double share = r::share_outside(deck, inside, outside);
        return Outcome{{"share", {share}}, {"resistance", {share / (1.0 - share) * within}}};
    });
}

/// given: country, part, what, degree_days (list). resistance, u or air_change at each.
Result<Outcome> comparison(const Given& given) {
    Inputs v(given);
    const auto country = text_in(v, "country"), part = text_in(v, "part"), what = text_in(v, "what");
    const auto days = v.list("degree_days", units::number);
    return v.then([&]() -> Result<Outcome> {
        for (const r::Comparison& c : r::practice().comparisons) {
            if (c.country != country || c.part != part || c.what != what) continue;
            Outcome out;
            for (const double each : days) {
                const std::size_t at = r::band_of(c, each);
                if (!c.resistance.empty()) out["resistance"].push_back(c.resistance[at]);
                if (!c.u.empty()) out["u"].push_back(c.u[at]);
                if (!c.air_change.empty()) out["air_change"].push_back(c.air_change[at]);
            }
            return out;
        }
        return fail(Code::unknown_name, "no such comparison");
    });
}

constexpr std::array operations{Operation{"rules.number", number},
                                Operation{"rules.layers", layers},
                                Operation{"rules.retarder", retarder},
                                Operation{"rules.vented_cladding", vented_cladding},
                                Operation{"rules.zone", zone},
                                Operation{"rules.share_outside", share_outside},
                                Operation{"rules.comparison", comparison}};

}  // namespace

std::span<const Operation> rules_operations() {
    return operations;
}

}  // namespace warmside::proof
