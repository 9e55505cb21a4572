#include <algorithm>
#include <cmath>
#include <new>

#include "moisture/lanes.h"
#include "moisture/link_flow.h"
#include "moisture/potential.h"
#include "numerics/block2.h"
#include "numerics/pack.h"

namespace warmside::moisture {
namespace {

using numerics::Block2;
using numerics::Eliminated;
using numerics::exponential;
using numerics::fill;
using numerics::IntPack;
using numerics::larger;
using numerics::load;
using numerics::magnitude;
using numerics::Pack;
using numerics::Pair;
using numerics::smaller;
using numerics::store;
using numerics::Tables;

constexpr int eight = Tables::functions;
using Eight = Pack<eight>;

struct TableGrid {
    double first, per_spacing;
};
const TableGrid& table_grid() {
    static const TableGrid grid{lowest_potential(),
                                table_intervals / (highest_potential() - lowest_potential())};
    return grid;
}

// Values and slopes of the table functions of L substances; [function] packs over lanes.
template <int L>
struct Looked {
    Pack<L> value[eight], slope[eight];
};

template <int L>
WARMSIDE_INLINE Looked<L> look_up(const double* const* rows, Pack<L> u, const TableGrid& grid) {
    const Pack<L> position = (u - grid.first) * grid.per_spacing;
    alignas(64) double at[L];
    store<L>(at, position);
    Eight value[L], slope[L];
    for (int l = 0; l < L; ++l) {
        const int row = std::min(std::max(static_cast<int>(at[l]), 0), table_intervals - 1);
        const Eight s = fill<eight>(at[l] - row);
        const double* c = rows[l] + static_cast<std::size_t>(row) * Tables::row_size;
        const Eight c1 = load<eight>(c + eight), c2 = load<eight>(c + 2 * eight),
                    c3 = load<eight>(c + 3 * eight);
        value[l] = load<eight>(c) + s * (c1 + s * (c2 + s * c3));
        slope[l] = (c1 + s * (2.0 * c2 + 3.0 * s * c3)) * grid.per_spacing;
    }
    Looked<L> out;
    if constexpr (L == 8) {
        numerics::transpose(value);
        numerics::transpose(slope);
        for (int k = 0; k < eight; ++k) {
            out.value[k] = value[k];
            out.slope[k] = slope[k];
        }
    } else {
        for (int k = 0; k < eight; ++k) {
            for (int l = 0; l < L; ++l) {
                out.value[k][l] = value[l][k];
                out.slope[k][l] = slope[l][k];
            }
        }
    }
    return out;
}

}  // namespace

void Row::resize(std::size_t n) {
    owner_ = std::make_unique<double[]>(n + 8);
    const auto address = reinterpret_cast<std::uintptr_t>(owner_.get());
    data_ = owner_.get() + (64 - address % 64) % 64 / 8;
}

template <int L>
Lanes<L>::Lanes(int count) : capacity_(count) {
    const auto n =
        static_cast<std::size_t>(count + 1) * L;  // one inert row more, so that every node has a link
    for (Row* row : {&temperature,
                     &potential,
                     &at_temperature,
                     &at_potential,
                     &before_temperature,
                     &before_potential,
                     &stored_energy,
                     &stored_water,
                     &gained_energy,
                     &gained_water,
                     &energy,
                     &water,
                     &delta_temperature,
                     &delta_potential,
                     &humidity_,
                     &humidity_u_,
                     &pressure,
                     &volume_,
                     &heat_capacity_,
                     &factor_,
                     &by_temperature_,
                     &weight_t_,
                     &weight_u_,
                     &spacing_,
                     &vapour_,
                     &heat_,
                     &latent_link_,
                     &vapour_left_,
                     &vapour_right_,
                     &air_link_,
                     &air_vapour_,
                     &air_heat_,
                     &pressure_t_,
                     &pressure_u_,
                     &delta_,
                     &delta_t_,
                     &delta_u_,
                     &flux_,
                     &flux_u_,
                     &lambda_,
                     &lambda_t_,
                     &lambda_u_,
                     &open_,
                     &open_t_,
                     &energy_t_,
                     &energy_u_,
                     &water_u_,
                     &source_e_,
                     &source_et_,
                     &source_eu_,
                     &source_w_,
                     &source_wt_,
                     &source_wu_,
                     &latent_share_}) {
        row->resize(n);
    }
    above_.resize(n * 6);
    static const Substance inert = cavity_air();
    rows_.assign(n, inert.tables.rows());
    for (std::size_t i = 0; i < n; ++i) {
        volume_[i] = 1.0;
        heat_capacity_[i] = 1.0;
        air_vapour_[i] = air_heat_[i] = 1.0;
        temperature[i] = at_temperature[i] = before_temperature[i] = reference_temperature;
        potential[i] = at_potential[i] = before_potential[i] = 0.5;
    }
    move.fill(Move::rest);
}

template <int L>
void Lanes<L>::sweep_longest() {
    nodes = *std::max_element(length_.begin(), length_.end());
}

template <int L>
void Lanes<L>::leave(int lane) {
    const auto l = static_cast<std::size_t>(lane);
    move[l] = Move::rest;
    step[l] = 0.0;
    length_[l] = 0;
    sweep_longest();
}

template <int L>
void Lanes<L>::put(int lane, const Column& c) {
    const auto l = static_cast<std::size_t>(lane);
    length_[l] = static_cast<int>(c.nodes.size());
    sweep_longest();
    air_[l] = 0.0;
    latent_[l] = c.heat == Column::Heat::isothermal ? 0.0 : evaporation_heat;
    water_heat_[l] = c.heat == Column::Heat::full ? water_heat : 0.0;
    vapour_heat_[l] = c.heat == Column::Heat::full ? vapour_heat : 0.0;
    for (std::size_t j = 0; j <= static_cast<std::size_t>(capacity_); ++j) {
        const std::size_t i = j * L + l;
        const bool inside = j < c.nodes.size();
        static const Substance inert = cavity_air();
        const Substance& s = inside ? *c.nodes[j].substance : inert;
        rows_[i] = s.tables.rows();
        volume_[i] = inside ? c.nodes[j].volume : 1.0;
        heat_capacity_[i] = s.heat_capacity;
        factor_[i] = s.conductivity_factor;
        by_temperature_[i] = s.vapour_by_temperature ? 1.0 : 0.0;
        temperature[i] = at_temperature[i] = before_temperature[i] = reference_temperature;
        potential[i] = at_potential[i] = before_potential[i] = 0.5;
        const bool linked = j < c.links.size();
        spacing_[i] = linked ? c.links[j].inverse_spacing : 0.0;
        vapour_[i] = linked && !c.links[j].membrane ? c.links[j].vapour : 0.0;
        heat_[i] = linked ? c.links[j].heat : 0.0;
        latent_link_[i] = linked && c.links[j].carries_latent ? latent_[l] : 0.0;
        vapour_left_[i] = vapour_right_[i] = air_link_[i] = 0.0;
        air_vapour_[i] = air_heat_[i] = 1.0;
        source_e_[i] = source_et_[i] = source_eu_[i] = source_w_[i] = source_wt_[i] = source_wu_[i] = 0.0;
        weight_t_[i] = weight_u_[i] = 0.0;
        stored_water[i] = 0.0;
    }
    start_from(lane, c, c.temperature, c.potential);
}

template <int L>
void Lanes<L>::start_from(int lane, const Column& c, const std::vector<double>& temperature_of,
                          const std::vector<double>& potential_of) {
    const auto l = static_cast<std::size_t>(lane);
    for (std::size_t j = 0; j < c.nodes.size(); ++j) {
        const std::size_t i = j * L + l;
        temperature[i] = at_temperature[i] = before_temperature[i] = temperature_of[j];
        potential[i] = at_potential[i] = before_potential[i] = potential_of[j];
        stored_water[i] = volume_[i] * c.nodes[j].substance->tables.at(Substance::water, potential[i]).value;
    }
    // The inert rows beyond a column too: a longer neighbour sweeps them.
    nodes = capacity_;
    properties();
    sweep_longest();
    for (std::size_t j = 0; j <= static_cast<std::size_t>(capacity_); ++j) {
        gained_energy[j * L + l] = gained_water[j * L + l] = 0.0;
        stored_energy[j * L + l] = energy[j * L + l];
        stored_water[j * L + l] = water[j * L + l];
    }
}

template <int L>
void Lanes<L>::set_weights(int lane, const Column& c, double temperature_scale, double potential_scale) {
    for (std::size_t j = 0; j < c.nodes.size(); ++j) {
        const std::size_t i = j * L + static_cast<std::size_t>(lane);
        weight_t_[i] = c.nodes[j].weight / temperature_scale;
        weight_u_[i] = c.nodes[j].weight / potential_scale;
    }
}

template <int L>
void Lanes<L>::properties() {
    const TableGrid grid = table_grid();
    const Pack<L> carried = load<L>(water_heat_.data());
    const auto lagged = carried == 0.0;
    for (int j = 0; j <= nodes; ++j) {
        const auto i = static_cast<std::size_t>(j) * L;
        const Pack<L> T = load<L>(&temperature[i]), u = load<L>(&potential[i]);
        const Looked<L> f = look_up<L>(&rows_[i], u, grid);
        const Pack<L> t = T - freezing, per_t = 1.0 / T;
        const auto warm = t >= 0.0;
        const Pack<L> a = warm ? fill<L>(17.269) : fill<L>(21.875),
                      b = warm ? fill<L>(237.3) : fill<L>(265.5);
        const Pack<L> r = 1.0 / (b + t);
        const Pack<L> kelvin = reference_temperature * per_t, th = f.value[Substance::theta];
        const Pack<L> p = 610.5 * exponential<L>(a * t * r - th * kelvin);
        store<L>(&humidity_[i], f.value[Substance::humidity]);
        store<L>(&humidity_u_[i], f.slope[Substance::humidity]);
        store<L>(&pressure[i], p);
        store<L>(&pressure_t_[i], p * (a * b * r * r + th * kelvin * per_t));
        store<L>(&pressure_u_[i], -p * kelvin * f.slope[Substance::theta]);

        const Pack<L> e = load<L>(&by_temperature_[i]), by = 1.0 + e * (kelvin - 1.0);
        const Pack<L> d = f.value[Substance::vapour];
        store<L>(&delta_[i], d * by);
        store<L>(&delta_t_[i], -d * e * kelvin * per_t);
        store<L>(&delta_u_[i], f.slope[Substance::vapour] * by);

        const Pack<L> k = load<L>(&factor_[i]), x = k * (T - conductivity_temperature);
        const Pack<L> grow = 1.0 + x + 0.5 * x * x, base = f.value[Substance::conductivity];
        store<L>(&lambda_[i], base * grow);
        store<L>(&lambda_t_[i], base * k * (1.0 + x));
        store<L>(&lambda_u_[i], f.slope[Substance::conductivity] * grow);

        // Share of pores open to liquid: 1 from 0 degC up, 0 from -2 degC down, a cubic between.
        const Pack<L> y = smaller<L>(larger<L>(0.5 * t + 1.0, fill<L>(0.0)), fill<L>(1.0));
        const Pack<L> open = y * y * (3.0 - 2.0 * y), open_slope = 3.0 * y * (1.0 - y);
        store<L>(&open_[i], open);
        store<L>(&open_t_[i], open_slope);
        store<L>(&flux_[i], f.value[Substance::liquid]);
        store<L>(&flux_u_[i], f.slope[Substance::liquid]);

        const Pack<L> v = load<L>(&volume_[i]), w = f.value[Substance::water],
                      ice = f.value[Substance::freezable];
        const Pack<L> capacity =
            load<L>(&heat_capacity_[i]) + water_heat * (lagged ? load<L>(&stored_water[i]) / v : w);
        store<L>(&energy[i], v * (capacity * t - fusion_heat * ice * (1.0 - open)));
        store<L>(&energy_t_[i], v * (capacity + fusion_heat * ice * open_slope));
        store<L>(&energy_u_[i], v * (carried * f.slope[Substance::water] * t -
                                     fusion_heat * f.slope[Substance::freezable] * (1.0 - open)));
        store<L>(&latent_share_[i], fusion_heat * ice / capacity);
        store<L>(&water[i], v * w);
        store<L>(&water_u_[i], v * f.slope[Substance::water]);
    }
}

namespace {

// Whether a wet node goes from one side of the freezing range over its middle. Between 0 and -2 degC it takes
// up more heat than in many kelvin beside; `share` is that heat in kelvin.
template <int L>
WARMSIDE_INLINE IntPack<L> passes_freezing(Pack<L> from, Pack<L> to, Pack<L> share) {
    constexpr double low = freezing - 2.0, middle = freezing - 1.0;
    return (((from >= freezing) & (to < middle)) | ((from <= low) & (to > middle))) & (share > 2.0);
}
constexpr double unsettled = 10.0;  // tolerances

}  // namespace

template <int L>
void Lanes<L>::correct() {
    const Pack<L> dt = load<L>(step.data()), carry = load<L>(memory.data());
    const Moving<L> moving = moving_heat();
    const Pack<L> zero = fill<L>(0.0);
    Side<L> a = side_of(0);
    LinkFlow<L> left{zero, zero, zero, zero, zero, zero, zero, zero, zero, zero};
    Eliminated<L> before{{zero, zero, zero, zero}, {zero, zero}};
    for (int j = 0; j < nodes; ++j) {
        const auto i = static_cast<std::size_t>(j) * L;
        const Side<L> b = side_of(i + L);
        const LinkFlow<L> f = link_flow<L>(a, b, joint_of(i), moving);
        const Pack<L> net_e = left.e - f.e + load<L>(&source_e_[i]);
        const Pack<L> net_w = left.w - f.w + load<L>(&source_w_[i]);
        const Pair<L> right{
            load<L>(&stored_energy[i]) + carry * load<L>(&gained_energy[i]) - load<L>(&energy[i]) +
                dt * net_e,
            load<L>(&stored_water[i]) + carry * load<L>(&gained_water[i]) - load<L>(&water[i]) + dt * net_w};
        const Block2<L> below{-dt * left.e_ta, -dt * left.e_ua, -dt * left.w_ta, -dt * left.w_ua};
        const Block2<L> diagonal{load<L>(&energy_t_[i]) - dt * (left.e_tb - f.e_ta + load<L>(&source_et_[i])),
                                 load<L>(&energy_u_[i]) - dt * (left.e_ub - f.e_ua + load<L>(&source_eu_[i])),
                                 -dt * (left.w_tb - f.w_ta + load<L>(&source_wt_[i])),
                                 load<L>(&water_u_[i]) - dt * (left.w_ub - f.w_ua + load<L>(&source_wu_[i]))};
        const Block2<L> above{dt * f.e_tb, dt * f.e_ub, dt * f.w_tb, dt * f.w_ub};
        before = numerics::eliminate<L>(below, diagonal, above, right, before);
        double* kept = &above_[i * 6];
        store<L>(kept, before.above.a00);
        store<L>(kept + L, before.above.a01);
        store<L>(kept + 2 * L, before.above.a10);
        store<L>(kept + 3 * L, before.above.a11);
        store<L>(kept + 4 * L, before.right.x0);
        store<L>(kept + 5 * L, before.right.x1);
        left = f;
        a = b;
    }

    const Pack<L> straight = load<L>(line.data());
    Pack<L> norm = zero, size = zero, far = zero, dt1 = zero, du1 = zero;
    for (int j = nodes - 1; j >= 0; --j) {
        const auto i = static_cast<std::size_t>(j) * L;
        const double* kept = &above_[i * 6];
        const Pack<L> x0 = load<L>(kept + 4 * L) - load<L>(kept) * dt1 - load<L>(kept + L) * du1;
        const Pack<L> x1 = load<L>(kept + 5 * L) - load<L>(kept + 2 * L) * dt1 - load<L>(kept + 3 * L) * du1;
        dt1 = x0;
        du1 = x1;
        store<L>(&delta_temperature[i], x0);
        store<L>(&delta_potential[i], x1);
        const Pack<L> wt = load<L>(&weight_t_[i]), wu = load<L>(&weight_u_[i]);
        // A correction that changes a node's water by a fifth is not small, however small it is in u: the
        // store bends sharply where pores begin to overfill.
        const Pack<L> share =
            magnitude<L>(load<L>(&water_u_[i]) * x1) * wu / (wu * 0.2 * load<L>(&water[i]) + 1e-30);
        const Pack<L> shift = larger<L>(larger<L>(magnitude<L>(x0) * wt, magnitude<L>(x1) * wu), share);
        // Nor is one that passes over the freezing range.
        const Pack<L> from = load<L>(&temperature[i]);
        const auto passes = passes_freezing<L>(from, from + x0, load<L>(&latent_share_[i]));
        const Pack<L> moved = passes ? larger<L>(shift, fill<L>(unsettled)) : shift;
        // Written so that a NaN wins.
        norm = moved <= norm ? norm : moved;
        size = larger<L>(size, larger<L>(magnitude<L>(x0) * (1.0 / 15.0), magnitude<L>(x1) * (1.0 / 0.25)));
        const Pack<L> t1 = load<L>(&at_temperature[i]), u1 = load<L>(&at_potential[i]);
        const Pack<L> off_t =
            load<L>(&temperature[i]) + x0 - t1 - straight * (t1 - load<L>(&before_temperature[i]));
        const Pack<L> off_u =
            load<L>(&potential[i]) + x1 - u1 - straight * (u1 - load<L>(&before_potential[i]));
        const Pack<L> off = larger<L>(magnitude<L>(off_t) * wt, magnitude<L>(off_u) * wu);
        far = off <= far ? far : off;
    }
    store<L>(correction.data(), norm);
    store<L>(largest.data(), size);
    store<L>(distance.data(), far);
}

template <int L>
void Lanes<L>::update() {
    alignas(64) std::int64_t accept[L], iterate[L], rewind[L];
    alignas(64) double share[L];
    for (std::size_t l = 0; l < L; ++l) {
        accept[l] = move[l] == Move::accept ? -1 : 0;
        rewind[l] = move[l] == Move::rewind ? -1 : 0;
        iterate[l] = move[l] == Move::iterate || move[l] == Move::rest ? -1 : 0;
        share[l] = move[l] == Move::iterate || move[l] == Move::accept ? damping[l] : 0.0;
    }
    IntPack<L> is_accept, is_iterate, is_rewind;
    std::memcpy(&is_rewind, rewind, sizeof is_rewind);
    std::memcpy(&is_accept, accept, sizeof is_accept);
    std::memcpy(&is_iterate, iterate, sizeof is_iterate);
    const auto lagged = load<L>(water_heat_.data()) == 0.0;
    const Pack<L> part = load<L>(share), ahead = load<L>(reach.data());
    const Pack<L> low = fill<L>(lowest_potential()), high = fill<L>(most_potential);
    for (int j = 0; j < nodes; ++j) {
        const auto i = static_cast<std::size_t>(j) * L;
        const Pack<L> T0 = load<L>(&temperature[i]);
        Pack<L> dT = part * load<L>(&delta_temperature[i]), du = part * load<L>(&delta_potential[i]);
        // Between 0 and -2 degC a wet node gives up more heat than over many kelvin beside: a correction that
        // passes over that range, still to be corrected, is stopped in its middle, or it would swing for
        // ever.
        const auto passes = passes_freezing<L>(T0, T0 + dT, load<L>(&latent_share_[i]));
        dT = is_iterate & passes ? freezing - 1.0 - T0 : dT;
        const Pack<L> T = T0 + dT;
        const Pack<L> u = smaller<L>(larger<L>(load<L>(&potential[i]) + du, low), high);
        const Pack<L> T1 = load<L>(&at_temperature[i]), u1 = load<L>(&at_potential[i]);
        const Pack<L> T2 = is_accept ? T1 : load<L>(&before_temperature[i]);
        const Pack<L> u2 = is_accept ? u1 : load<L>(&before_potential[i]);
        const Pack<L> T_at = is_accept ? T : is_rewind ? T2 : T1, u_at = is_accept ? u : is_rewind ? u2 : u1;
        // Stores follow the linearised equations, so that they are exact sums of the flows that are booked.
        const Pack<L> e = load<L>(&energy[i]) + load<L>(&energy_t_[i]) * dT + load<L>(&energy_u_[i]) * du;
        const Pack<L> w = load<L>(&water[i]) + load<L>(&water_u_[i]) * du;
        const Pack<L> gain_e = load<L>(&gained_energy[i]), gain_w = load<L>(&gained_water[i]);
        const Pack<L> e_old = load<L>(&stored_energy[i]), w_old = load<L>(&stored_water[i]);
        const Pack<L> w_new = is_accept ? w : is_rewind ? w_old - gain_w : w_old;
        const Pack<L> lagged_e =
            (load<L>(&volume_[i]) * load<L>(&heat_capacity_[i]) + water_heat * w_new) * (T_at - freezing);
        const Pack<L> e_new = lagged ? lagged_e : is_accept ? e : is_rewind ? e_old - gain_e : e_old;
        store<L>(&gained_energy[i], is_accept ? e - e_old : gain_e);
        store<L>(&gained_water[i], is_accept ? w - w_old : gain_w);
        store<L>(&stored_energy[i], e_new);
        store<L>(&stored_water[i], w_new);
        store<L>(&before_temperature[i], T2);
        store<L>(&before_potential[i], u2);
        store<L>(&at_temperature[i], T_at);
        store<L>(&at_potential[i], u_at);
        const Pack<L> T_new = T_at + ahead * (T_at - T2);
        const Pack<L> u_new = smaller<L>(larger<L>(u_at + ahead * (u_at - u2), low), high);
        store<L>(&temperature[i], is_iterate ? T : T_new);
        store<L>(&potential[i], is_iterate ? u : u_new);
    }
}

template class Lanes<8>;
template class Lanes<1>;

}  // namespace warmside::moisture
