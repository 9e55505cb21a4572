// [energy.NAME]: what energy costs, as it stands on a bill, to money per joule.
#include <algorithm>
#include <fmt/format.h>
#include <limits>

#include "assembly/check_services.h"
#include "assembly/fuels.h"
#include "project/draft.h"

namespace warmside::project {

using assembly::EnergyPrice;

namespace {

constexpr std::size_t most_prices = 20, most_rows = 48;

// One fuel's table under reading.
struct Tariff {
    Draft& draft;
    const assembly::FuelRow* fuel = nullptr;  // null: its word was no fuel
    std::string title;

    // Money for what `wanted` says, in the file's currency and not negative.
    std::optional<units::Price> sound(Section& r, std::string_view key) {
        auto price = r.price(key);
        if (!price) return std::nullopt;
        const std::string& currency = draft.house.services.money.currency;
        if (price->currency != currency) {
            r.complain(key, Code::conflict,
                       fmt::format("{} is in {}, money in {}", key, price->currency, currency),
                       fmt::format("currency = \"{}\" in [money]", price->currency));
            return std::nullopt;
        }
        if (price->money < 0.0) {
            r.complain(key, Code::out_of_range,
                       fmt::format("{} {:g} {} is negative", key, price->money, currency));
            return std::nullopt;
        }
        return price;
    }

    // J in what is priced or counted.
    std::optional<double> energy(Section& r, std::string_view key, const units::Amount& amount) {
        if (!fuel) return std::nullopt;
        auto joules = assembly::energy_of(amount, *fuel);
        if (joules) return *joules;
        r.complain(key, joules.error().code, fmt::format("{} is {}", key, joules.error().what));
        return std::nullopt;
    }

    // Money per J.
    std::optional<double> price(Section& r, std::string_view key) {
        const auto found = sound(r, key);
        const auto joules = found ? energy(r, key, found->amount) : std::nullopt;
        return joules ? std::optional(found->money / *joules) : std::nullopt;
    }

    // Calls `read` with each row of a list; the places of those that are tables.
    template <class Read>
    std::vector<Place> rows(Section& r, std::string_view key, std::string_view kind, std::string_view example,
                            Read read) {
        std::vector<Place> places;
        const auto* list = r.array(key);
        if (!list) return places;
        if (list->empty() || list->size() > most_rows) {
            r.complain(key, Code::out_of_range,
                       fmt::format("{} has {} {}, not 1 to {}", title, list->size(), key, most_rows));
            return places;
        }
        for (const auto& item : *list) {
            const std::string name = fmt::format("{} {} of {}", kind, places.size() + 1, title);
            places.push_back(units::place_of(item));
            const auto* table = item.as_table();
            if (!table) {
                draft.error(Code::wrong_type, name + " is not a table", places.back(), std::string(example));
                continue;
            }
            Section row(*table, kind, name, draft.problems);
            read(row);
            row.finish();
        }
        return places;
    }
};

void read_blocks(Tariff& t, Section& r, EnergyPrice& out) {
    const auto before = t.draft.problems.size();
    const auto places =
        t.rows(r, "blocks", "block", "{ upto = \"500 kWh\", price = \"0.12 $/kWh\" }", [&](Section& row) {
            const auto amount = row.amount("upto");
            const auto upto = amount ? t.energy(row, "upto", *amount)
                                     : std::optional(std::numeric_limits<double>::infinity());
            const auto price = t.price(row, "price");
            out.blocks.push_back({upto.value_or(0.0), price.value_or(0.0)});
        });
    if (t.fuel && t.draft.problems.size() == before)
        assembly::check_blocks(t.title, out.blocks, places, t.draft.problems);
}

void read_hours(Tariff& t, Section& r, EnergyPrice& out) {
    struct Row {
        std::array<double, 3> hour;
        Place place;
    };
    std::vector<Row> rows;
    const auto before = t.draft.problems.size();
    t.rows(r, "hours", "hour", "{ from = \"22:00\", to = \"06:00\", price = \"0.08 $/kWh\" }",
           [&](Section& row) {
               const double from = row.clock("from").value_or(0.0), to = row.clock("to").value_or(24.0);
               const double price = t.price(row, "price").value_or(0.0);
               if (from == to) {
                   row.complain("to", Code::out_of_range, "from and to are the same time",
                                "from = \"00:00\", to = \"24:00\" for the whole day");
               } else if (from < to) {
                   rows.push_back({{from, to, price}, row.place()});
               } else {  // past midnight
                   if (from < 24.0) rows.push_back({{from, 24.0, price}, row.place()});
                   if (to > 0.0) rows.push_back({{0.0, to, price}, row.place()});
               }
           });
    if (!t.fuel || t.draft.problems.size() != before || rows.empty()) return;
    std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.hour < b.hour; });
    std::vector<Place> places;
    for (const Row& row : rows) {
        out.hours.push_back(row.hour);
        places.push_back(row.place);
    }
    assembly::check_hours(t.title, out.hours, places, r.place("hours"), t.draft.problems);
}

void read_price(Tariff& t, Section& r, EnergyPrice& out) {
    const int forms = static_cast<int>(r.has("price")) + static_cast<int>(r.has("blocks")) +
                      static_cast<int>(r.has("hours"));
    if (forms > 1) {
        r.complain(r.has("hours") ? "hours" : "blocks", Code::conflict,
                   t.title + " has more than one of price, blocks and hours", "leave the others out");
    }
    const bool misspelt = r.is_misspelt("price") || r.is_misspelt("blocks") || r.is_misspelt("hours");
    if (forms == 0 && !misspelt) {
        r.complain("", Code::missing, t.title + " has no price",
                   fmt::format("price = \"0.15 {}/kWh\"", t.draft.house.services.money.currency));
    }
    if (const auto price = t.price(r, "price"); price && forms == 1)
        out.blocks.push_back({std::numeric_limits<double>::infinity(), *price});
    read_blocks(t, r, out);
    read_hours(t, r, out);
    const auto monthly = t.sound(r, "monthly");
    if (monthly && monthly->amount.per != units::Per::month) {
        r.complain("monthly", Code::wrong_unit,
                   fmt::format("monthly is per {}, not per month", monthly->amount.unit));
    } else if (monthly) {
        out.monthly = monthly->each();
    }
}

void read_one(Draft& draft, const assembly::FuelTable& fuels, const std::string& name,
              const toml::table& table) {
    Section r(table, "energy", fmt::format("[energy.{}]", name), draft.problems);
    EnergyPrice out;
    out.name = name;
    out.origin = r.origin();
    Tariff tariff{.draft = draft, .title = r.title()};
    if (const auto word = r.word("fuel")) {
        const auto row = std::find_if(fuels.begin(), fuels.end(), [&](const assembly::FuelRow& f) {
            return *word == assembly::name_of(f.fuel);
        });
        tariff.fuel = &*row;
        out.fuel = row->fuel;
    }
    read_price(tariff, r, out);
    out.carbon = r.quantity("carbon");
    out.rise = r.quantity("rise").value_or(0.0);
    out.date = r.text("date").value_or("");
    out.source = r.text("source").value_or("");
    r.finish();
    if (!tariff.fuel) return;
    auto& all = draft.house.services.energy;
    const auto twin =
        std::find_if(all.begin(), all.end(), [&](const EnergyPrice& e) { return e.fuel == out.fuel; });
    if (twin != all.end()) {
        r.complain("fuel", Code::duplicate,
                   fmt::format("[energy.{}] prices {} already", twin->name, assembly::name_of(out.fuel)),
                   "one table a fuel");
        return;
    }
    all.push_back(std::move(out));
}

}  // namespace

void read_energy(Draft& draft, const toml::table& root) {
    const auto& fuels = assembly::fuels();
    if (!fuels) {
        draft.problems.push_back(fuels.error());
        return;
    }
    each_named(draft, root, "energy", most_prices, [&](const std::string& name, const toml::table& table) {
        read_one(draft, *fuels, name, table);
    });
}

}  // namespace warmside::project
