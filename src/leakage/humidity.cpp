#include "leakage/humidity.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "air/moist_air.h"

namespace warmside::leakage {

namespace {

// (e^z - 1)/z and (e^z - 1 - z)/z^2, by their series where the difference would lose digits.
double first_mean(double z) {
    return z == 0.0 ? 1.0 : std::expm1(z) / z;
}
double second_mean(double z) {
    if (std::abs(z) > 0.5) return (first_mean(z) - 1.0) / z;
    double term = 0.5, sum = 0.0;
    for (int k = 3; k < 16; ++k) {
        sum += term;
        term *= z / k;
    }
    return sum;
}

// What becomes of a start (or of a load of 1 on the air) over the step: shares at its end, means over it.
struct Mode {
    double end, mean, driven_end, driven_mean;
};
Mode mode(double rate, double seconds) {
    const double z = rate * seconds, first = first_mean(z);
    return {std::exp(z), first, seconds * first, seconds * second_mean(z)};
}

struct Pair {
    double air, lining;  // Pa
};
struct Response {
    Pair end, mean;
};

// The two coupled stores as C dx/dt = A x + f with f on the air alone.
class Exchange {
public:
    Exchange(const VapourStore& store, const VapourLoad& load, double seconds)
        : capacity_(store.air), coupled_(store.conductance > 0.0 && store.lining > 0.0) {
        const double k = coupled_ ? store.conductance : 0.0;
        const double lining = coupled_ ? store.lining / load.saturation : 1.0;
        air_air_ = -(load.carried_out + k) / capacity_;
        air_lining_ = k / capacity_;
        lining_air_ = k / lining;
        const double middle = 0.5 * (air_air_ - lining_air_);
        const double half = 0.5 * (air_air_ + lining_air_);
        const double spread = std::sqrt(half * half + air_lining_ * lining_air_);
        fast_ = middle - spread;
        // The slow rate from the product of both: their difference would lose its digits.
        slow_ = fast_ == 0.0 ? 0.0 : (load.carried_out / capacity_) * (k / lining) / fast_;
        if (!coupled_) {
            fast_ = air_air_;
            slow_ = 0.0;
        }
        of_fast_ = mode(fast_, seconds);
        of_slow_ = mode(slow_, seconds);
    }

    // From a start and a load (kg/s) on the air.
    [[nodiscard]] Response from(const Pair& start, double load) const {
        const auto both = [&](const Pair& x, double Mode::* share) {
            if (!coupled_) return Pair{of_fast_.*share * x.air, of_slow_.*share * x.lining};
            // Projector on the fast mode: (A - slow I)/(fast - slow).
            const double width = fast_ - slow_;
            const Pair fast{((air_air_ - slow_) * x.air + air_lining_ * x.lining) / width,
                            (lining_air_ * x.air + (-lining_air_ - slow_) * x.lining) / width};
            return Pair{of_fast_.*share * fast.air + of_slow_.*share * (x.air - fast.air),
                        of_fast_.*share * fast.lining + of_slow_.*share * (x.lining - fast.lining)};
        };
        const Pair force{load / capacity_, 0.0};
        const auto sum = [](const Pair& a, const Pair& b) {
            return Pair{a.air + b.air, a.lining + b.lining};
        };
        return {sum(both(start, &Mode::end), both(force, &Mode::driven_end)),
                sum(both(start, &Mode::mean), both(force, &Mode::driven_mean))};
    }

private:
    double capacity_, air_air_, air_lining_, lining_air_, fast_, slow_;
    bool coupled_;
    Mode of_fast_{}, of_slow_{};
};

}  // namespace

VapourStep step(const VapourStore& store, const VapourState& before, const VapourLoad& load, double seconds) {
    const Exchange exchange(store, load, seconds);
    const Pair start{before.pressure, load.saturation * before.lining};
    const double given = load.carried_in + load.source;
    Response free = exchange.from(start, given);
    const double most = std::min(load.most, load.saturation);
    const double wanted = std::clamp(free.end.air, std::min(load.least, most), most);
    double appliance = 0.0;  // kg/s
    if (wanted != free.end.air) {
        appliance = (wanted - free.end.air) / exchange.from({0.0, 0.0}, 1.0).end.air;
        free = exchange.from(start, given + appliance);
    }
    VapourStep out;
    out.mean = free.mean.air;
    out.carried_out = load.carried_out * free.mean.air * seconds;
    const bool coupled = store.conductance > 0.0 && store.lining > 0.0;
    if (coupled) out.into_lining = store.conductance * (free.mean.air - free.mean.lining) * seconds;
    out.added = std::max(0.0, appliance) * seconds;
    out.removed = std::max(0.0, -appliance) * seconds;
    out.end.pressure = free.end.air;
    out.end.lining = coupled ? free.end.lining / load.saturation : before.lining;
    return out;
}

VapourState settled(const VapourLoad& load) {
    const double most = std::min(load.most, load.saturation);
    const double p =
        std::clamp((load.carried_in + load.source) / load.carried_out, std::min(load.least, most), most);
    return {p, p / load.saturation};
}

double penetration_depth(double permeability, double slope, double saturation, double period) {
    return std::sqrt(permeability * saturation * period / (std::numbers::pi * slope));
}

double vapour_film(double convection, double temperature, double pressure) {
    const double density = pressure / (air::dry_air_gas_constant * temperature);
    return convection / (density * air::dry_air_heat * air::vapour_gas_constant * temperature);
}

}  // namespace warmside::leakage
