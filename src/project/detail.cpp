#include "project/detail.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <fmt/format.h>

#include "base/nearest.h"
#include "conduction/grid.h"
#include "conduction/shape.h"
#include "material/material.h"
#include "project/draft.h"
#include "project/section.h"
#include "project/syntax.h"
#include "thermal/air_layer.h"

namespace warmside::project {

namespace {

using conduction::Geometry;
using conduction::Region;

constexpr std::size_t most_environments = 20, most_materials = 200, most_regions = 500, most_corners = 100,
                      most_probes = 200;
/// Grid lines run through every corner: what the smallest grid of a detail may have before it is refined.
constexpr double most_first_cells = 2e6;
constexpr double beside = 1e-8;  // m
constexpr const char* axes[] = {"x", "y", "z"};

struct OwnMaterial {
    std::string name, hatch;
    double conductivity = 0.0;
    Origin origin;
};

/// A region as the file has it; `kept` is false for what is left out of the model.
struct Laid {
    Region region;
    Substance substance;
    bool kept = true;
};

class DetailReader {
public:
    DetailReader(Detail& detail, Notes notes) : detail_(detail), notes_(std::move(notes)) {}

    void read(const toml::table& root) {
        Section file(root, "detail file", "the file", notes_.problems);
        if (const auto* table = file.table("detail")) read_front(*table);
        need(file, "detail", "the file has no [detail] table", "[detail] with a name");
        each_named(notes_, root, "environment", most_environments,
                   [&](const std::string& name, const toml::table& table) { environment(name, table); });
        need(file, "environment", "no temperature is given: the file has no [environment.NAME]",
             "[environment.room] with temperature and film");
        each_named(notes_, root, "material", most_materials,
                   [&](const std::string& name, const toml::table& table) { own_material(name, table); });
        settle_temperature();
        each_named(notes_, root, "region", most_regions,
                   [&](const std::string& name, const toml::table& table) { region(name, table); });
        need(file, "region", "the file has no [region.NAME]: there is nothing to compute",
             "[region.slab] with material, x and y");
        each_named(notes_, root, "probe", most_probes,
                   [&](const std::string& name, const toml::table& table) { probe(name, table); });
        if (const auto* table = file.table("picture")) picture(*table);
        file.finish();
        finish();
    }

private:
    void need(const Section& file, std::string_view kind, std::string what, std::string suggestion) {
        if (file.has(kind) || file.is_misspelt(kind) || !notes_.lost.empty()) return;
        notes_.error(Code::missing, std::move(what), file.place(), std::move(suggestion));
    }

    [[nodiscard]] bool is_solid() const { return detail_.model.geometry == Geometry::solid; }

    void read_front(const toml::table& table) {
        Section r(table, "detail", "[detail]", notes_.problems);
        detail_.model.where = r.place();
        detail_.name = r.text("name").value_or("");
        detail_.model.name = detail_.name;
        const auto before = notes_.problems.size();
        const std::string geometry = r.word("geometry").value_or("plane");
        // A faulty word leaves it open whether z belongs here.
        geometry_known_ = notes_.problems.size() == before;
        if (geometry == "axisymmetric") detail_.model.geometry = Geometry::axisymmetric;
        if (geometry == "solid") detail_.model.geometry = Geometry::solid;
        detail_.inch_pound_first = r.word("units").value_or("inch-pound") != "metric";
        detail_.tolerance = r.quantity("tolerance").value_or(detail_.tolerance);
        stated_mean_ = r.quantity("mean_temperature");
        r.finish();
    }

    void environment(const std::string& name, const toml::table& table) {
        Section r(table, "detail environment", fmt::format("[environment.{}]", name), notes_.problems);
        const auto temperature = r.quantity("temperature");
        const auto film = r.quantity("film");
        detail_.humidity.push_back(r.quantity("humidity"));
        if (!temperature || !film) sound_ = false;
        detail_.model.environments.push_back({.name = name, .temperature = temperature.value_or(293.15)});
        films_.push_back(film.value_or(0.13));
        r.finish();
    }

    void own_material(const std::string& name, const toml::table& table) {
        Section r(table, "detail material", fmt::format("[material.{}]", name), notes_.problems);
        if (material::built_in().material(name)) {
            r.complain("", Code::duplicate, fmt::format("material \"{}\" is in the catalogue already", name),
                       "a name of your own");
        }
        const auto conductivity = r.quantity("conductivity");
        const auto hatch = r.word("hatch").value_or("plain");
        r.finish();
        if (!conductivity) {
            notes_.lost.insert("material." + name);
            return;
        }
        own_.push_back({.name = name,
                        .hatch = hatch,
                        .conductivity = *conductivity,
                        .origin = r.origin("conductivity")});
    }

    void settle_temperature() {
        double least = 1e9, most = 0.0;
        for (const auto& each : detail_.model.environments) {
            least = std::min(least, each.temperature);
            most = std::max(most, each.temperature);
        }
        const bool none = detail_.model.environments.empty();
        detail_.mean_temperature = stated_mean_.value_or(none ? 283.15 : 0.5 * (least + most));
    }

    /// What fills a region; false when that cannot be told.
    bool fill(Section& r, Laid& laid) {
        const int fills = int{r.has("material")} + int{r.has("air")} + int{r.has("air_space")} +
                          int{r.flag("left_out").value_or(false)};
        if (fills != 1) {
            const bool misspelt = r.is_misspelt("material") || r.is_misspelt("air") ||
                                  r.is_misspelt("air_space") || r.is_misspelt("left_out");
            if (fills > 1 || !misspelt) {
                r.complain(
                    "", fills == 0 ? Code::missing : Code::conflict,
                    fmt::format("{} is {} material, air, air_space and left_out", r.title(),
                                fills == 0 ? "none of" : "more than one of"),
                    fills == 0 ? "material = \"concrete\", or air = \"room\"" : "leave all but one out");
            }
            return false;
        }
        if (r.has("material")) return solid(r, laid);
        if (r.has("air")) return air(r, laid);
        if (r.has("air_space")) return r.word("air_space").has_value();
        laid.kept = false;
        laid.substance.words = "left out";
        return true;
    }

    bool solid(Section& r, Laid& laid) {
        const auto name = r.text("material");
        if (!name) return false;
        laid.substance.words = *name;
        for (const auto& each : own_) {
            if (each.name != *name) continue;
            laid.region.conductivity = each.conductivity;
            laid.substance.hatch = each.hatch;
            laid.substance.origin = each.origin;
            return true;
        }
        if (notes_.is_lost("material", *name)) return false;
        const auto* found = material::built_in().material(*name);
        if (!found) {
            auto known = material::built_in().material_names();
            for (const auto& each : own_) known.push_back(each.name);
            r.complain(
                "material", Code::unknown_name,
                fmt::format("there is no material \"{}\": neither in the catalogue nor in this file", *name),
                nearest(*name, known));
            return false;
        }
        laid.substance.words = found->name;
        laid.substance.hatch = found->hatch;
        laid.substance.origin = material::origin_of(*found, "conductivity");
        laid.region.conductivity = material::conductivity(*found, detail_.mean_temperature);
        return true;
    }

    bool air(Section& r, Laid& laid) {
        const auto name = r.text("air");
        if (!name) return false;
        const auto& all = detail_.model.environments;
        const auto found =
            std::find_if(all.begin(), all.end(), [&](const auto& each) { return each.name == *name; });
        if (found == all.end()) {
            if (notes_.is_lost("environment", *name)) return false;
            std::vector<std::string> known;
            for (const auto& each : all) known.push_back(each.name);
            auto suggestion = nearest(*name, known);
            if (suggestion.empty()) suggestion = listed(known);
            r.complain("air", Code::unknown_name, fmt::format("there is no [environment.{}]", *name),
                       suggestion);
            return false;
        }
        const auto index = static_cast<std::size_t>(found - all.begin());
        laid.region.environment = index;
        laid.region.film = films_[index];
        laid.substance.words = fmt::format("air of {}", *name);
        return true;
    }

    /// Where a region stands; false when that cannot be told.
    bool place(Section& r, Laid& laid) {
        bool good = true;
        auto& shape = laid.region.shape;
        const bool polygon = r.has("corners");
        std::array<std::optional<std::pair<units::Exact, units::Exact>>, 3> range;
        for (std::size_t axis = 0; axis < 3; ++axis) range[axis] = r.range(axes[axis]);
        std::vector<Place> places;
        const auto corners = r.corners("corners", places);
        if (polygon && (r.has("x") || r.has("y"))) {
            r.complain("corners", Code::conflict, fmt::format("{} has both corners and x or y", r.title()),
                       "leave one out");
            good = false;
        } else if (polygon) {
            good = corners.has_value();
            if (corners && corners->size() > most_corners) {
                r.complain("corners", Code::out_of_range,
                           fmt::format("{} corners, more than {}", corners->size(), most_corners));
                good = false;
            }
            if (good) {
                for (const auto& each : *corners) shape.outline.push_back({each.x.metres(), each.y.metres()});
            }
        } else {
            for (const std::size_t axis : {0U, 1U}) {
                r.missing(axes[axis], fmt::format("{} has no {}", r.title(), axes[axis]),
                          fmt::format("{} = [\"0 in\", \"24 in\"], or corners", axes[axis]));
            }
            good = range[0] && range[1];
            if (good)
                shape = conduction::rectangle({range[0]->first.metres(), range[1]->first.metres()},
                                              {range[0]->second.metres(), range[1]->second.metres()});
        }
        return third_axis(r, range[2], shape) && good;
    }

    bool third_axis(Section& r, const std::optional<std::pair<units::Exact, units::Exact>>& z,
                    conduction::Shape& shape) {
        if (!geometry_known_) return true;
        if (!is_solid()) {
            if (r.has("z")) {
                r.complain("z", Code::conflict,
                           fmt::format("{} has z, but the detail is not a solid", r.title()),
                           "leave z out, or geometry = \"solid\"");
                return false;
            }
            return true;
        }
        r.missing("z", fmt::format("{} has no z, which a solid needs", r.title()),
                  "z = [\"0 in\", \"8 in\"]");
        if (!z) return false;
        shape.bottom = z->first.metres();
        shape.top = z->second.metres();
        return true;
    }

    /// Still air as a solid that lets as much heat through as the layer does.
    bool air_space(Section& r, Laid& laid) {
        using thermal::HeatFlow;
        const std::string way = r.word("air_space").value_or("");
        const auto& outline = laid.region.shape.outline;
        if (r.has("corners")) {
            r.complain("corners", Code::unsupported,
                       fmt::format("{} is an air_space and no rectangle", r.title()),
                       "x and y; or a material with the conductivity that you want");
            return false;
        }
        double least[2] = {1e9, 1e9}, most[2] = {-1e9, -1e9};
        for (const auto& p : outline) {
            least[0] = std::min(least[0], p.x), most[0] = std::max(most[0], p.x);
            least[1] = std::min(least[1], p.y), most[1] = std::max(most[1], p.y);
        }
        const double across = std::min(most[0] - least[0], most[1] - least[1]);
        const auto resistance =
            thermal::air_layer_resistance({.thickness = across,
                                           .temperature = detail_.mean_temperature,
                                           .flow = way == "up"     ? HeatFlow::up
                                                   : way == "down" ? HeatFlow::down
                                                                   : HeatFlow::horizontal});
        if (!resistance) {
            r.complain("air_space", resistance.error().code, resistance.error().what);
            return false;
        }
        laid.region.conductivity = across / *resistance;
        laid.substance.words = "still air";
        laid.substance.origin = {
            .kind = Origin::Kind::standard, .source = "ISO 6946:2017 annex D", .evidence = Evidence::memory};
        return true;
    }

    void region(const std::string& name, const toml::table& table) {
        Section r(table, "detail region", fmt::format("[region.{}]", name), notes_.problems);
        Laid laid;
        laid.region.name = name;
        laid.region.where = r.place();
        // A misspelt one is told as such, and not as an overlap too.
        laid.region.over = r.flag("over").value_or(r.is_misspelt("over"));
        const bool filled = fill(r, laid), placed = place(r, laid);
        bool good = filled && placed;
        if (good && r.has("air_space")) good = air_space(r, laid);
        if (const auto film = r.quantity("film")) {
            if (laid.region.environment)
                laid.region.film = *film;
            else if (r.has("material"))
                laid.region.own_film = *film;
            else
                r.complain("film", Code::conflict, fmt::format("{} is neither air nor material", r.title()),
                           "leave film out");
        }
        r.finish();
        if (good)
            laid_.push_back(std::move(laid));
        else
            sound_ = false;
    }

    std::optional<conduction::Point> point(Section& r, std::string_view key) {
        const auto at = r.lengths(key, is_solid() ? 3 : 2,
                                  is_solid() ? "three lengths, [\"0 in\", \"4 in\", \"8 in\"]"
                                             : "two lengths, [\"0 in\", \"4 in\"]");
        if (!at) return std::nullopt;
        return conduction::Point{(*at)[0].metres(), (*at)[1].metres(), is_solid() ? (*at)[2].metres() : 0.0};
    }

    void probe(const std::string& name, const toml::table& table) {
        Section r(table, "detail probe", fmt::format("[probe.{}]", name), notes_.problems);
        if (!geometry_known_)
            static_cast<void>(r.has("at"));
        else if (const auto at = point(r, "at"))
            detail_.probes.push_back({.name = name, .at = *at, .where = r.place("at")});
        r.finish();
    }

    void picture(const toml::table& table) {
        Section r(table, "detail picture", "[picture]", notes_.problems);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            if (const auto range = r.range(axes[axis]))
                detail_.window[axis] = std::pair(range->first.metres(), range->second.metres());
        }
        r.finish();
    }

    void check_probes() {
        for (const Probe& each : detail_.probes) {
            if (is_on_material(each.at)) continue;
            notes_.error(Code::out_of_range,
                         fmt::format("probe \"{}\" is neither in a material nor on its surface", each.name),
                         each.where);
        }
    }

    /// Material at a point or right beside it.
    [[nodiscard]] bool is_on_material(const conduction::Point& p) const {
        for (int k = 0; k < 8; ++k) {
            const auto off = [&](int bit) { return (k >> bit & 1) != 0 ? beside : -beside; };
            const auto region = conduction::region_at(
                detail_.model, {p.x + off(0), p.y + off(1), is_solid() ? p.z + off(2) : 0.0});
            if (region != conduction::no_region && !detail_.model.regions[region].environment) return true;
        }
        return false;
    }

    /// Cells of the coarsest grid whose lines run through every corner.
    void check_size() {
        std::array<std::vector<double>, 3> lines;
        for (const auto& each : laid_) {
            for (const auto& p : each.region.shape.outline) {
                lines[0].push_back(p.x);
                lines[1].push_back(p.y);
            }
            lines[2].push_back(each.region.shape.bottom);
            lines[2].push_back(each.region.shape.top);
        }
        double cells = 1.0;
        for (std::size_t axis = 0; axis < (is_solid() ? 3U : 2U); ++axis) {
            auto& all = lines[axis];
            std::sort(all.begin(), all.end());
            all.erase(std::unique(all.begin(), all.end()), all.end());
            cells *= std::max(1.0, static_cast<double>(all.size()) - 1.0);
        }
        if (cells <= most_first_cells) return;
        notes_.error(
            Code::out_of_range,
            fmt::format("the corners of the regions alone ask for {:.3g} cells, more than {:.3g}: no "
                        "memory is left to refine them",
                        cells, most_first_cells),
            detail_.model.where, "fewer corners, more of them on common lines; or a smaller piece");
    }

    void finish() {
        auto whole = detail_.model;
        bool gaps = false;
        for (auto& each : laid_) {
            auto region = each.region;
            if (each.kept) {
                detail_.model.regions.push_back(region);
                detail_.substances.push_back(each.substance);
            } else {
                // To the check, what is left out is covered.
                region.environment = detail_.model.environments.size();
                gaps = true;
            }
            whole.regions.push_back(std::move(region));
        }
        if (gaps) whole.environments.push_back({.name = "left out"});
        if (laid_.empty() || detail_.model.environments.empty()) return;
        const auto before = notes_.problems.size();
        check_size();
        if (notes_.problems.size() > before) return;
        const bool complete = sound_ && notes_.lost.empty();
        const auto checked = notes_.problems.size();
        conduction::check(whole, notes_.problems, !complete);
        if (gaps && complete) conduction::check(detail_.model, notes_.problems, true);
        for (auto i = checked; i < notes_.problems.size(); ++i) {
            Problem& each = notes_.problems[i];
            if (each.code == Code::conflict) each.suggestion = "over = true, or other sizes";
            if (each.code == Code::incomplete)
                each.suggestion = "a region there: material, the air of an environment, or left_out = true";
        }
        if (complete && notes_.problems.size() == checked) check_probes();
    }

    Detail& detail_;
    Notes notes_;
    std::vector<OwnMaterial> own_;
    std::vector<double> films_;  // by environment
    std::vector<Laid> laid_;
    std::optional<double> stated_mean_;
    bool geometry_known_ = true;
    bool sound_ = true;  // every region and environment could be read
};

}  // namespace

DetailReading read_detail(std::string_view file_name, std::string_view text) {
    DetailReading reading;
    const std::string file(file_name);
    if (text.size() > most_bytes) {
        reading.problems.push_back(
            {.code = Code::out_of_range,
             .what = fmt::format("the file is {:.1f} MB; a detail file has at most {:.0f} MB",
                                 static_cast<double>(text.size()) / 1e6, most_bytes / 1e6),
             .where = {file, 0, 0}});
        return reading;
    }
    auto detail = std::make_unique<Detail>();
    try {
        Tables tables = parse_tables(file, text);
        reading.problems = std::move(tables.problems);
        if (tables.root.contains("house") && !tables.root.contains("detail")) {
            reading.problems.push_back({.code = Code::unsupported,
                                        .what = "this is a house file, not a detail file",
                                        .suggestion = "warmside answer or warmside heat",
                                        .where = units::place_of(*tables.root.get("house"))});
        } else if (!tables.lost.contains("*")) {
            DetailReader reader(*detail, {.problems = reading.problems, .lost = std::move(tables.lost)});
            reader.read(tables.root);
        }
    } catch (const std::exception& slip) {
        // Nothing here throws but the allocator; a file that exhausts it must not end the program.
        reading.problems.push_back({.code = Code::syntax,
                                    .what = fmt::format("the file cannot be read: {}", slip.what()),
                                    .where = {file, 0, 0}});
    }
    tidy(reading.problems, file);
    if (usable(reading.problems)) reading.detail = std::move(detail);
    return reading;
}

}  // namespace warmside::project
