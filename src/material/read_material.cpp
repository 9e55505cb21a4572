#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "base/nearest.h"
#include "material/family.h"
#include "material/read.h"
#include "material/row.h"
#include "material/wood.h"

namespace warmside::material {

namespace {

using units::Limits;

constexpr double water = 1000.0;  // kg/m3
constexpr double wood_test_temperature = 293.15;
// ISO 10456 takes 2.0e-10 for air, the handbooks up to 1.96e-10 for wool; a little more is scatter.
constexpr Limits permeabilities{1e-20, 2.2e-10};
constexpr double least_step = 1e-5;  // of humidity, between two points of a curve
constexpr Limits below_saturation{least_step, 1.0 - least_step};
constexpr Limits measured_humidity{0.0, 1.0};

std::string joined(const std::vector<std::string>& words) {
    std::string out;
    for (const auto& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

class MaterialReader {
public:
    MaterialReader(const std::string& name, const toml::table& table, const Catalogue& known,
                   Origin::Kind kind, Problems& problems)
        : before_(problems.size()),
          row_(table, fmt::format("[material.\"{}\"]", name), kind, problems),
          known_(known),
          problems_(problems) {
        m_.name = name;
    }

    std::optional<Material> read() {
        if (m_.name.empty()) {
            problems_.push_back(
                {.code = Code::missing, .what = "a material needs a name", .where = row_.reader.place()});
        }
        start_from_base();
        read_family();
        read_dry_values();
        read_storage();
        read_transport();
        read_label();
        require_all();
        row_.reader.finish();
        const bool broken =
            std::any_of(problems_.begin() + static_cast<std::ptrdiff_t>(before_), problems_.end(),
                        [](const Problem& p) { return p.severity == Severity::error; });
        if (broken) return std::nullopt;
        check_storage();
        if (!storage_fits_) return std::nullopt;
        settle_origins();
        return std::move(m_);
    }

private:
    void start_from_base() {
        const auto base_name = row_.reader.text("based_on");
        if (!base_name) return;
        base_ = known_.material(*base_name);
        if (!base_) {
            row_.reader.complain(
                "based_on", Code::unknown_name,
                fmt::format("based_on \"{}\" is not a material of the catalogue", *base_name),
                nearest(*base_name, known_.material_names()));
            broken_base_ = true;
            return;
        }
        const std::string name = std::move(m_.name);
        m_ = *base_;
        m_.name = name;
        m_.aliases.clear();
        m_.value_origin.clear();
    }

    void read_family() {
        if (auto aliases = row_.reader.texts("aliases")) m_.aliases = std::move(*aliases);
        if (auto note = row_.reader.text("note")) m_.note = std::move(*note);
        if (const auto word = row_.reader.text("family")) {
            if (const Family* family = family_of(*word)) {
                m_.family = *word;
                m_.is_wood = family->wood;
                m_.is_insulation = family->insulation;
                m_.hatch = family->hatch;
                m_.mould = family->mould;
                m_.start_humidity = family->start_humidity;
            } else {
                row_.reader.complain(
                    "family", Code::unknown_name,
                    fmt::format("family \"{}\" is not one of: {}", *word, joined(family_names())),
                    nearest(*word, family_names()));
            }
        }
        if (const auto flag = row_.reader.flag("wood")) m_.is_wood = *flag;
        if (const auto flag = row_.reader.flag("insulation")) m_.is_insulation = *flag;
        if (const auto hatch = row_.reader.word("hatch", {"batt", "board", "wood", "sheathing", "gypsum",
                                                          "concrete", "brick", "foam", "plain"})) {
            m_.hatch = *hatch;
        }
        const auto mould =
            row_.reader.word("mould", {"very sensitive", "sensitive", "medium resistant", "resistant"});
        for (const auto each : {MouldClass::very_sensitive, MouldClass::sensitive,
                                MouldClass::medium_resistant, MouldClass::resistant}) {
            if (mould && *mould == name_of(each)) m_.mould = each;
        }
        if (const auto start = row_.quantity("start_humidity", units::fraction, {0.0, 0.999})) {
            m_.start_humidity = *start;
        }
    }

    void read_dry_values() {
        const double density_before = m_.density;
        if (const auto v = row_.quantity("density", units::density, {1.0, 12000.0})) m_.density = *v;
        // Sorption is a share of the dry mass: a denser board of the kind holds more.
        if (density_before > 0.0 && m_.density != density_before) {
            for (double& w : m_.sorption.y) w *= m_.density / density_before;
            m_.test_moisture *= m_.density / density_before;
        }
        if (const auto v = row_.quantity("specific_heat", units::specific_heat, {100.0, 6000.0}))
            m_.specific_heat = *v;
        if (const auto v = row_.quantity("conductivity", units::conductivity, {0.002, 500.0}))
            m_.conductivity = *v;
        if (const auto v = row_.quantity("test_temperature", units::temperature, {223.15, 373.15})) {
            m_.test_temperature = *v;
        }
        if (const auto found = row_.value("test_moisture"); found.node) {
            if (const auto w = content("test_moisture", *found.node, {0.0, 2000.0})) m_.test_moisture = *w;
        }
        if (const auto v = row_.quantity("temperature_factor", units::number, {-0.02, 0.02}))
            m_.temperature_factor = *v;
        if (const auto v = row_.quantity("moisture_factor", units::number, {0.0, 30.0}))
            m_.moisture_factor = *v;
    }

    // kg/m3 from a share of the dry mass ("4.2 %") or from a content by volume ("26 kg/m3").
    std::optional<double> content(std::string_view key, const toml::node& node, Limits limits) {
        const auto* text = node.as_string();
        const bool by_volume = text && text->get().find('/') != std::string::npos;
        if (by_volume) return row_.read(node, key, units::density, limits);
        const auto share = row_.read(node, key, units::fraction, {0.0, 100.0});
        // A density that is missing has its own problem; it must not make another here.
        return share ? std::optional(*share * (m_.density > 0.0 ? m_.density : 1.0)) : std::nullopt;
    }

    void read_storage() {
        if (const auto v = row_.quantity("porosity", units::fraction, {0.0, 0.999})) m_.porosity = *v;
        if (const auto found = row_.value("sorption"); found.node) read_sorption(*found.node);
        if (const auto found = row_.value("free_saturation"); found.node) {
            if (const auto w = content("free_saturation", *found.node, {0.001, 2000.0}))
                m_.free_saturation = *w;
        }
    }

    void read_sorption(const toml::node& node) {
        if (const auto* word = node.as_string()) {
            if (word->get() != "wood") {
                row_.complain(
                    node, Code::unknown_name,
                    fmt::format("sorption \"{}\" is neither \"wood\" nor a list of pairs", word->get()));
                return;
            }
            m_.sorption = {{0.0}, {0.0}};
            // Close together where the formula bends most, and where the step to free saturation follows.
            for (const int percent : {1,  2,  3,  5,  8,  10, 15, 20, 25, 30, 35, 40, 45, 50,
                                      55, 60, 65, 70, 75, 80, 85, 88, 90, 92, 93, 94, 95}) {
                m_.sorption.x.push_back(percent / 100.0);
                m_.sorption.y.push_back(m_.density * wood_moisture(wood_test_temperature, percent / 100.0));
            }
            return;
        }
        const toml::array* list = node.as_array();
        if (!list || list->empty()) {
            row_.complain(node, Code::wrong_type,
                          "sorption needs pairs of humidity and water, such as [[\"50 %\", \"0.4 %\"], [\"80 "
                          "%\", \"12 kg/m3\"]]");
            return;
        }
        Curve curve{{0.0}, {0.0}};
        for (const toml::node& item : *list) {
            const toml::array* two = item.as_array();
            if (!two || two->size() != 2) {
                row_.complain(item, Code::wrong_type, "sorption has an entry that is not a pair");
                return;
            }
            const auto x = row_.read((*two)[0], "humidity of sorption", units::fraction, below_saturation);
            const auto y = content("sorption", (*two)[1], {0.0, 2000.0});
            if (!x || !y) return;
            // Points closer than this give a slope of rounding errors.
            if (*x - curve.x.back() < least_step) {
                row_.complain(item, Code::out_of_range, "sorption is not in rising order of humidity");
                return;
            }
            if (!(*y > curve.y.back())) {
                row_.complain(item, Code::out_of_range,
                              fmt::format("sorption does not rise from {:g} % to {:g} % humidity",
                                          100.0 * curve.x.back(), 100.0 * *x),
                              "water held must rise with humidity");
                return;
            }
            curve.x.push_back(*x);
            curve.y.push_back(*y);
        }
        m_.sorption = std::move(curve);
    }

    void read_transport() {
        if (row_.reader.has("permeability") && row_.reader.has("permeance")) {
            row_.reader.complain("permeance", Code::conflict,
                                 "permeability and permeance state the same thing; keep one");
        }
        if (const auto found = row_.value("permeability"); found.node) {
            if (auto curve = permeability_in(*found.node)) m_.permeability = std::move(*curve);
        }
        if (const auto found = row_.value("permeance", "thickness"); found.node) {
            if (auto curve = permeability_of_specimen(found)) m_.permeability = std::move(*curve);
        }
        if (const auto v = row_.quantity("absorption", units::absorption, {0.0, 3.0})) m_.absorption = *v;
        if (const auto v = row_.quantity("air_permeability", units::permeability, {0.0, 1.0}))
            m_.air_permeability = *v;
    }

    std::optional<Curve> permeability_in(const toml::node& node) {
        if (node.is_array())
            return row_.pairs("permeability", node, units::permeability, measured_humidity, permeabilities);
        const auto v = row_.read(node, "permeability", units::permeability, permeabilities);
        return v ? std::optional(Curve{{0.5}, {*v}}) : std::nullopt;
    }

    std::optional<Curve> permeability_of_specimen(const Row::Value& found) {
        const toml::node* thick = found.around ? found.around->get("thickness") : nullptr;
        if (!thick) {
            row_.complain(*found.node, Code::missing,
                          "permeance of a material needs the thickness tested: { value = ..., thickness = "
                          "\"12.5 mm\" }");
            return std::nullopt;
        }
        const auto thickness = row_.read(*thick, "thickness of permeance", units::length, {1e-5, 1.0});
        if (!thickness) return std::nullopt;
        constexpr Limits any{1e-20, 1.0};
        std::optional<Curve> curve;
        if (found.node->is_array()) {
            curve = row_.pairs("permeance", *found.node, units::permeance, measured_humidity, any);
        } else if (const auto v = row_.read(*found.node, "permeance", units::permeance, any)) {
            curve = Curve{{0.5}, {*v}};
        }
        if (!curve) return std::nullopt;
        for (double& v : curve->y) v *= *thickness;
        if (*std::max_element(curve->y.begin(), curve->y.end()) > permeabilities.most) {
            row_.complain(
                *found.node, Code::out_of_range,
                fmt::format("permeance times thickness is {:.3g} kg/(s m Pa), more than still air ({:.3g})",
                            *std::max_element(curve->y.begin(), curve->y.end()),
                            units::still_air_permeability));
            return std::nullopt;
        }
        return curve;
    }

    void read_label() {
        const auto found = row_.value("label");
        if (!found.node) return;
        std::vector<const toml::node*> packages;
        if (const toml::array* list = found.node->as_array()) {
            for (const toml::node& item : *list) packages.push_back(&item);
        } else {
            packages.push_back(found.node);
        }
        Curve label;
        for (const toml::node* package : packages) {
            if (!read_package(*package, label)) return;
        }
        m_.label = std::move(label);
        m_.label_resistivity = m_.label.y.back() / m_.label.x.back();
    }

    // "R-23 at 5 1/2 in"
    bool read_package(const toml::node& node, Curve& label) {
        const auto* text = node.as_string();
        const auto at = text ? text->get().find(" at ") : std::string::npos;
        if (at == std::string::npos) {
            row_.complain(node, Code::wrong_type, "label is not of the form \"R-23 at 5 1/2 in\"");
            return false;
        }
        const auto part = [&](std::string_view piece, const units::Dimension& dimension, double least,
                              double most) {
            auto got = units::parse(piece, dimension);
            if (got && *got >= least && *got <= most) return std::optional(*got);
            row_.complain(
                node, got ? Code::out_of_range : got.error().code,
                got ? fmt::format("label \"{}\" is not credible", text->get()) : "label " + got.error().what);
            return std::optional<double>();
        };
        const std::string_view whole = text->get();
        const auto r = part(whole.substr(0, at), units::thermal_resistance, 0.01, 20.0);
        const auto thickness = part(whole.substr(at + 4), units::length, 1e-3, 1.0);
        if (!r || !thickness) return false;
        if (!label.x.empty() && *thickness <= label.x.back()) {
            row_.complain(node, Code::out_of_range, "label is not in rising order of thickness");
            return false;
        }
        label.x.push_back(*thickness);
        label.y.push_back(*r);
        return true;
    }

    void require_all() {
        if (base_ || broken_base_) return;
        for (const std::string_view key : {"family", "density", "specific_heat", "conductivity"}) {
            if (!row_.reader.has(key)) row_.reader.missing(key);
        }
        if (!row_.reader.has("permeability") && !row_.reader.has("permeance"))
            row_.reader.missing("permeability");
        if (row_.reader.has("sorption")) {
            for (const std::string_view key : {"porosity", "free_saturation"}) {
                if (!row_.reader.has(key)) row_.reader.missing(key);
            }
        }
    }

    // What single values cannot show: the curve must end below free saturation, that within the pores.
    void check_storage() {
        const auto at = [&](std::string_view key) {
            return row_.reader.has(key) ? key : std::string_view("based_on");
        };
        if (m_.free_saturation > m_.porosity * water * (1.0 + 1e-9)) {
            row_.reader.complain(
                at("free_saturation"), Code::out_of_range,
                fmt::format(
                    "free_saturation {:.4g} kg/m3 does not fit into a porosity of {:.3g} ({:.4g} kg/m3)",
                    m_.free_saturation, m_.porosity, m_.porosity * water));
            storage_fits_ = false;
        }
        if (m_.sorption.y.size() > 1 && m_.sorption.y.back() >= m_.free_saturation) {
            row_.reader.complain(
                at("free_saturation"), Code::out_of_range,
                fmt::format("free_saturation {:.4g} kg/m3 is not above the last sorption point, {:.4g} kg/m3",
                            m_.free_saturation, m_.sorption.y.back()));
            storage_fits_ = false;
        }
        if (m_.is_insulation && m_.conductivity > 0.2) {
            row_.reader.warn(
                at("conductivity"), Code::out_of_range,
                fmt::format("conductivity {:g} W/(m K) is high for insulation", m_.conductivity));
        }
    }

    // Values taken over keep the Origin they had in the base.
    void settle_origins() {
        if (base_ && m_.label_resistivity && row_.reader.has("conductivity") && !row_.reader.has("label")) {
            row_.reader.warn(
                "conductivity", Code::conflict,
                fmt::format("label R stays that of \"{}\", though conductivity differs", base_->name),
                "label = \"R-... at ... in\"");
            problems_.back().severity = Severity::note;
        }
        m_.origin = row_.origin();
        m_.value_origin = row_.value_origin();
        if (!base_) return;
        const auto stated = [&](std::string_view key) { return row_.reader.has(key); };
        for (const std::string_view key :
             {"density", "specific_heat", "conductivity", "test_temperature", "test_moisture",
              "temperature_factor", "moisture_factor", "porosity", "sorption", "free_saturation",
              "permeability", "permeance", "absorption", "air_permeability", "label", "start_humidity"}) {
            const bool other_form = (key == "permeability" && stated("permeance")) ||
                                    (key == "permeance" && stated("permeability"));
            if (!stated(key) && !other_form)
                m_.value_origin.emplace_back(std::string(key), origin_of(*base_, key));
        }
    }

    std::size_t before_;  // ahead of row_, whose reading may complain already
    Row row_;
    const Catalogue& known_;
    Problems& problems_;
    Material m_;
    const Material* base_ = nullptr;
    bool broken_base_ = false;
    bool storage_fits_ = true;
};

}  // namespace

std::optional<Material> read_material(const std::string& name, const toml::table& table,
                                      const Catalogue& known, Origin::Kind kind, Problems& problems) {
    return MaterialReader(name, table, known, kind, problems).read();
}

}  // namespace warmside::material
