#include "material/wood.h"

namespace warmside::material {

double wood_moisture(double temperature, double relative_humidity) {
    // Wood Handbook 2021 eq. 4-5, T in degC
    const double T = temperature - 273.15;
    const double W = 349.0 + 1.29 * T + 0.0135 * T * T;
    const double K = 0.805 + 0.000736 * T - 0.00000273 * T * T;
    const double K1 = 6.27 - 0.00938 * T - 0.000303 * T * T;
    const double K2 = 1.91 + 0.0407 * T - 0.000293 * T * T;
    const double Kh = K * relative_humidity;
    const double hydrate = (K1 * Kh + 2.0 * K1 * K2 * Kh * Kh) / (1.0 + K1 * Kh + K1 * K2 * Kh * Kh);
    return 18.0 / W * (Kh / (1.0 - Kh) + hydrate);
}

double wood_conductivity(double specific_gravity, double moisture) {
    return specific_gravity * (0.1941 + 0.4064 * moisture) + 0.01864;
}

double wood_specific_heat(double temperature, double moisture) {
    const double T = temperature;
    const double u = moisture;
    const double dry = 0.1031 + 0.003867 * T;
    const double bound = 100.0 * u * (-0.06191 + 2.36e-4 * T - 0.0133 * u);
    return 1000.0 * ((dry + 4.18 * u) / (1.0 + u) + bound);
}

}  // namespace warmside::material
