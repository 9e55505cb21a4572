// Published checks of steady conduction in two and three dimensions.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>

#include "conduction/steady.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace c = warmside::conduction;

/// Calls read(table reader) for each table of an array of tables.
template <class Read>
void each_table(Inputs& v, std::string_view key, Read read) {
    const auto* list = v.reader().array(key);
    if (!list) {
        v.reader().missing(key);
        return;
    }
    int number = 0;
    for (const auto& item : *list) {
        const auto* table = item.as_table();
        if (!table) continue;
        units::TableReader reader(*table, fmt::format("{} {}", key, ++number), v.problems());
        read(reader);
        reader.finish();
    }
}

c::Point point_of(units::TableReader& reader, std::string_view key) {
    const auto at =
        reader.required(reader.quantities(key, units::length), key).value_or(std::vector<double>{});
    if (at.size() < 2 || at.size() > 3) {
        reader.complain(key, Code::wrong_type, fmt::format("{} needs two or three lengths", key));
        return {};
    }
    return {at[0], at[1], at.size() == 3 ? at[2] : 0.0};
}

c::Region region_of(units::TableReader& reader, const c::Model& model) {
    c::Region region;
    const c::Point low = point_of(reader, "from"), high = point_of(reader, "to");
    region.shape = model.geometry == c::Geometry::solid ? c::box(low, high) : c::rectangle(low, high);
    region.over = true;  // later ones lie over earlier ones
    if (reader.has("air")) {
        region.name = reader.text("air").value_or("");
        for (std::size_t e = 0; e < model.environments.size(); ++e)
            if (model.environments[e].name == region.name) region.environment = e;
        if (!region.environment) reader.complain("air", Code::unknown_name, "no environment has that name");
        region.film =
            reader.required(reader.quantity("film", units::thermal_resistance), "film").value_or(0.0);
    } else {
        region.name = reader.required(reader.text("name"), "name").value_or("");
        region.conductivity =
            reader.required(reader.quantity("conductivity", units::conductivity), "conductivity")
                .value_or(1.0);
    }
    return region;
}

c::Model model_of(Inputs& v) {
    c::Model model;
    model.geometry =
        v.word("geometry", {"plane", "solid"}) == "solid" ? c::Geometry::solid : c::Geometry::plane;
    each_table(v, "environment", [&](units::TableReader& reader) {
        c::Environment environment;
        environment.name = reader.required(reader.text("name"), "name").value_or("");
        environment.temperature =
            reader.required(reader.quantity("temperature", units::temperature), "temperature").value_or(0.0);
        model.environments.push_back(std::move(environment));
    });
    each_table(v, "region",
               [&](units::TableReader& reader) { model.regions.push_back(region_of(reader, model)); });
    return model;
}

std::vector<c::Point> points_of(Inputs& v, const c::Model& model) {
    if (!v.reader().has("x")) return {};
    const auto x = v.list("x", units::length), y = v.list("y", units::length);
    const bool solid = model.geometry == c::Geometry::solid;
    const auto z = solid ? v.list("z", units::length) : std::vector<double>(x.size(), 0.0);
    if (x.size() != y.size() || x.size() != z.size()) {
        v.reader().complain("x", Code::conflict, "x, y and z of the points differ in number");
        return {};
    }
    std::vector<c::Point> points;
    for (std::size_t i = 0; i < x.size(); ++i) points.push_back({x[i], y[i], z[i]});
    return points;
}

/// Temperatures and weights at the points, flows, couplings, extremes of the surfaces.
Result<Outcome> outcome_of(const c::Model& model, const c::Steady& solved,
                           const std::vector<c::Point>& points) {
    Outcome out;
    std::vector<double> temperatures;
    for (const auto& e : model.environments) temperatures.push_back(e.temperature);
    for (const c::Point& p : points) {
        const auto temperature = c::temperature_at(model, solved, p, temperatures);
        if (!temperature) return fail(temperature.error());
        out["temperature"].push_back(*temperature);
        const auto weight = c::weights_at(model, solved, p);
        if (!weight) return fail(weight.error());
        out["weight"].insert(out["weight"].end(), weight->begin(), weight->end());
    }
    out["flow"] = solved.flow;
    const std::size_t n = model.environments.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) out["coupling"].push_back(solved.between(i, j));
        std::string name = model.environments[i].name;
        std::replace(name.begin(), name.end(), ' ', '_');
        out["lowest_surface_" + name] = {solved.surface[i].lowest};
        out["highest_surface_" + name] = {solved.surface[i].highest};
    }
    return out;
}

/// given: geometry (plane, solid); environment (tables of name, temperature); region (tables of name,
/// conductivity or air, film; from, to: corners of a rectangle or box; a later one lies over earlier ones);
/// x, y, z of points; finest (no cell is split below it), tolerance of the coupling, both optional.
/// At the points temperature K and weights g of the environments in turn; flow W that leaves each environment
/// (plane: of a piece 1 m deep); coupling W/K of each pair; lowest_surface_NAME and
/// highest_surface_NAME, K, of each environment.
Result<Outcome> steady(const Given& given) {
    Inputs v(given);
    const c::Model model = model_of(v);
    c::SteadyOptions options;
    options.sharp = points_of(v, model);
    options.finest = v.one_or("finest", units::length, 0.0);
    options.tolerance = v.one_or("tolerance", units::fraction, options.tolerance);
    return v.then([&]() -> Result<Outcome> {
        const auto solved = c::steady(model, options);
        if (!solved) return fail(solved.error());
        return outcome_of(model, *solved, options.sharp);
    });
}

constexpr std::array operations{Operation{"conduction.steady", steady}};

}  // namespace

std::span<const Operation> conduction_operations() {
    return operations;
}

}  // namespace warmside::proof
