// The semi-discrete system as an outside integrator sees it, and sources that checks put into nodes.
#include "moisture/lanes.h"
#include "moisture/link_flow.h"
#include "numerics/pack.h"

namespace warmside::moisture {

using numerics::fill;
using numerics::load;
using numerics::Pack;
using numerics::store;

template <int L>
void Lanes<L>::balances(double* energy_rate, double* water_rate, double* jacobian) const {
    const Moving<L> moving = moving_heat();
    const Pack<L> zero = fill<L>(0.0);
    Side<L> a = side_of(0);
    LinkFlow<L> left{zero, zero, zero, zero, zero, zero, zero, zero, zero, zero};
    for (int j = 0; j < nodes; ++j) {
        const auto i = static_cast<std::size_t>(j) * L;
        const Side<L> b = side_of(i + L);
        const LinkFlow<L> f = link_flow<L>(a, b, joint_of(i), moving);
        store<L>(energy_rate + i, left.e - f.e + load<L>(source_e_.data() + i));
        store<L>(water_rate + i, left.w - f.w + load<L>(source_w_.data() + i));
        if (jacobian) {
            const Pack<L> row[12] = {left.e_ta,
                                     left.e_ua,
                                     left.w_ta,
                                     left.w_ua,
                                     left.e_tb - f.e_ta + load<L>(source_et_.data() + i),
                                     left.e_ub - f.e_ua + load<L>(source_eu_.data() + i),
                                     left.w_tb - f.w_ta + load<L>(source_wt_.data() + i),
                                     left.w_ub - f.w_ua + load<L>(source_wu_.data() + i),
                                     -f.e_tb,
                                     -f.e_ub,
                                     -f.w_tb,
                                     -f.w_ub};
            for (std::size_t k = 0; k < 12; ++k) store<L>(jacobian + 12 * i + k * L, row[k]);
        }
        left = f;
        a = b;
    }
}

template <int L>
void Lanes<L>::store_slopes(double* energy_t, double* energy_u, double* water_u) const {
    for (std::size_t i = 0; i < static_cast<std::size_t>(nodes) * L; ++i) {
        energy_t[i] = energy_t_[i];
        energy_u[i] = energy_u_[i];
        water_u[i] = water_u_[i];
    }
}

template <int L>
void Lanes<L>::rates(double* temperature_rate, double* potential_rate) const {
    balances(temperature_rate, potential_rate, nullptr);
    for (std::size_t i = 0; i < static_cast<std::size_t>(nodes) * L; ++i) {
        potential_rate[i] /= water_u_[i];
        temperature_rate[i] = (temperature_rate[i] - energy_u_[i] * potential_rate[i]) / energy_t_[i];
    }
}

template <int L>
void Lanes<L>::supply(int lane, const Column& c) {
    const auto l = static_cast<std::size_t>(lane);
    const std::size_t n = c.nodes.size();
    supplied_.assign(2 * n, 0.0);
    const std::span<double> all(supplied_);
    c.source(time[l], all.first(n), all.last(n));
    for (std::size_t j = 0; j < n; ++j) {
        const std::size_t i = j * L + l;
        source_et_[i] = source_eu_[i] = source_wt_[i] = source_wu_[i] = 0.0;
        source_e_[i] = supplied_[j];
        source_w_[i] = supplied_[n + j];
    }
}

template void Lanes<8>::supply(int, const Column&);
template void Lanes<1>::supply(int, const Column&);
template void Lanes<1>::balances(double*, double*, double*) const;
template void Lanes<1>::store_slopes(double*, double*, double*) const;
template void Lanes<1>::rates(double*, double*) const;

}  // namespace warmside::moisture
