#include "material/material.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "material/curve.h"
#include "units/quantity.h"

namespace warmside::material {

namespace {

// Width of the last stretch below saturation over which suction is taken as linear in humidity instead of
// logarithmic; it keeps the capacity at saturation finite. 0.001 is a suction of 1.35 bar at 20 degC.
constexpr double wet_width = 1e-3;

// A body without pores of its own (metal): a surface film, so that humidity stays a usable unknown.
constexpr double film_water = 0.01;  // kg/m3 at saturation

double stretch(double relative_humidity) {
    return -std::log(1.0 - relative_humidity + wet_width);
}
double unstretch(double xi) {
    return 1.0 + wet_width - std::exp(-xi);
}

// The points that moisture_content runs through: the curve, then free saturation at humidity 1.
class Retention {
public:
    explicit Retention(const Material& m) : m_(m) {
        const bool closed = !m.sorption.x.empty() && m.sorption.x.back() >= 1.0;
        first_ = m.sorption.x.empty() || m.sorption.x.front() > 0.0 ? 1 : 0;
        size_ = m.sorption.x.size() + first_ + (closed ? 0 : 1);
    }
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] double humidity(std::size_t i) const {
        if (i < first_) return 0.0;
        return i - first_ < m_.sorption.x.size() ? m_.sorption.x[i - first_] : 1.0;
    }
    [[nodiscard]] double water(std::size_t i) const {
        if (i < first_) return 0.0;
        return i - first_ < m_.sorption.y.size() ? m_.sorption.y[i - first_]
                                                 : std::max(m_.free_saturation, film_water);
    }
    [[nodiscard]] Point at(std::size_t i) const { return {stretch(humidity(i)), water(i)}; }

    // The cubic between points i and i + 1.
    [[nodiscard]] Piece piece(std::size_t i) const {
        Piece p{.from = at(i), .to = at(i + 1)};
        const double chord = (p.to.y - p.from.y) / (p.to.x - p.from.x);
        p.slope_from = i == 0 ? chord : middle_slope(at(i - 1), p.from, p.to);
        if (i + 2 < size_) {
            p.slope_to = middle_slope(p.from, p.to, at(i + 2));
        } else {
            // Nothing measured in the capillary range: large pores fill last, as late as a rising cubic can.
            const bool measured = humidity(i) >= 0.995;
            p.slope_to = i > 0 && !measured ? 3.0 * chord : chord;
        }
        return p;
    }
    [[nodiscard]] std::size_t piece_of_humidity(double relative_humidity) const {
        std::size_t i = 0;
        while (i + 2 < size_ && humidity(i + 1) <= relative_humidity) ++i;
        return i;
    }
    [[nodiscard]] std::size_t piece_of_water(double water_held) const {
        std::size_t i = 0;
        while (i + 2 < size_ && water(i + 1) <= water_held) ++i;
        return i;
    }

private:
    const Material& m_;
    std::size_t first_ = 0;
    std::size_t size_ = 0;
};

Slope retention(const Material& m, double relative_humidity) {
    const double rh = std::clamp(relative_humidity, 0.0, 1.0);
    const Retention points(m);
    Slope at = evaluate(points.piece(points.piece_of_humidity(rh)), stretch(rh));
    at.derivative /= 1.0 - rh + wet_width;  // d xi / d rh
    return at;
}

// The moisture supplement is held beyond the range of its source: 25 % of the mass for wood (Wood Handbook),
// a tenth of the volume for all others (ISO 10456 Table 4 has its factors for that and less; memory).
double supplement_limit(const Material& m) {
    return m.is_wood ? 0.25 * m.density / 1000.0 : 0.1;
}

}  // namespace

const char* name_of(MouldClass mould) {
    switch (mould) {
        case MouldClass::very_sensitive: return "very sensitive";
        case MouldClass::sensitive: return "sensitive";
        case MouldClass::medium_resistant: return "medium resistant";
        case MouldClass::resistant: return "resistant";
    }
    return "resistant";
}

const Origin& origin_of(const Material& m, std::string_view key) {
    for (const auto& [name, origin] : m.value_origin) {
        if (name == key) return origin;
    }
    return m.origin;
}

double conductivity(const Material& m, double temperature, double moisture) {
    const double w = moisture == as_tested ? m.test_moisture : std::max(moisture, 0.0);
    const double psi = std::min(w / 1000.0, supplement_limit(m));
    const double psi_test = std::min(m.test_moisture / 1000.0, supplement_limit(m));
    return m.conductivity * std::exp(m.temperature_factor * (temperature - m.test_temperature) +
                                     m.moisture_factor * (psi - psi_test));
}

double moisture_content(const Material& m, double relative_humidity) {
    return retention(m, relative_humidity).value;
}

double moisture_capacity(const Material& m, double relative_humidity) {
    return retention(m, relative_humidity).derivative;
}

double relative_humidity(const Material& m, double moisture) {
    const Retention points(m);
    const double xi = invert(points.piece(points.piece_of_water(moisture)), moisture);
    return std::clamp(unstretch(xi), 0.0, 1.0);
}

double vapour_permeability(const Material& m, double relative_humidity) {
    return log_interpolate(m.permeability.x, m.permeability.y, relative_humidity);
}

double liquid_diffusivity(const Material& m, double moisture) {
    if (m.absorption <= 0.0 || m.free_saturation <= 0.0) return 0.0;
    const double fill = std::clamp(moisture / m.free_saturation, 0.0, 1.0);
    const double rate = m.absorption / m.free_saturation;
    return 3.8 * rate * rate * std::pow(1000.0, fill - 1.0);
}

std::optional<double> label_resistance(const Material& m, double thickness) {
    if (m.label.x.empty()) {
        return m.label_resistivity ? std::optional(*m.label_resistivity * thickness) : std::nullopt;
    }
    std::vector<double> resistivity(m.label.x.size());
    for (std::size_t i = 0; i < resistivity.size(); ++i) {
        if (std::abs(m.label.x[i] - thickness) <= 1e-3) return m.label.y[i];
        resistivity[i] = m.label.y[i] / m.label.x[i];
    }
    return thickness * log_interpolate(m.label.x, resistivity, thickness);
}

double permeance(const Membrane& m, double relative_humidity) {
    return log_interpolate(m.permeance.x, m.permeance.y, relative_humidity);
}

std::string retarder_class(const Membrane& m) {
    const double dry_cup = units::perm(permeance(m, 0.25));
    // A film that is nominally 0.1 perm must not fall out of its class by the last bit.
    const auto within = [&](double limit) { return dry_cup <= limit * (1.0 + 1e-9); };
    return within(0.1) ? "I" : within(1.0) ? "II" : within(10.0) ? "III" : "";
}

}  // namespace warmside::material
