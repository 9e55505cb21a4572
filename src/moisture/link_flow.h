// What crosses the link between two nodes, with its derivatives: the one place where flows are written down.
// The solver's kernel and the view of the system for outside integrators (lanes_system.cpp) both use it.
#pragma once

#include "moisture/lanes.h"
#include "moisture/potential.h"
#include "numerics/pack.h"

namespace warmside::moisture {

// Flow through one link and its derivatives by T and u at its left (a) and right (b) node.
template <int L>
struct LinkFlow {
    numerics::Pack<L> e, e_ta, e_ua, e_tb, e_ub;
    numerics::Pack<L> w, w_ta, w_ua, w_tb, w_ub;
};

// What a node gives to the flow of a link beside it.
template <int L>
struct Side {
    numerics::Pack<L> t, p, p_t, p_u, d, d_t, d_u, psi, psi_u, k, k_t, k_u, o, o_t;
};

// What the link itself is.
template <int L>
struct Joint {
    numerics::Pack<L> spacing, vapour, vapour_left, vapour_right, heat, latent, air, air_vapour, air_heat;
};

// Heat content of moving water, J/(kg K): c_w, and c_v - c_w.
template <int L>
struct Moving {
    numerics::Pack<L> carried, less;
};

template <int L>
WARMSIDE_INLINE LinkFlow<L> link_flow(const Side<L>& a, const Side<L>& b, const Joint<L>& link,
                                      const Moving<L>& moving) {
    using P = numerics::Pack<L>;
    LinkFlow<L> f;
    const P dp = a.p - b.p, dT = a.t - b.t;
    const P gx = link.spacing * link.air_vapour;
    const P kv = gx * 0.5 * (a.d + b.d) + link.vapour;
    const P mc = link.air * (0.5 * carried_vapour), mh = link.air * (0.5 * air_heat);
    const P gdp = 0.5 * gx * dp;
    const P v = kv * dp + mc * (a.p + b.p);
    const P v_ta = (kv + mc) * a.p_t + gdp * a.d_t;
    const P v_ua = (kv + mc) * a.p_u + gdp * a.d_u + link.vapour_left * dp;
    const P v_tb = (mc - kv) * b.p_t + gdp * b.d_t;
    const P v_ub = (mc - kv) * b.p_u + gdp * b.d_u + link.vapour_right * dp;
    const P go = 0.5 * link.spacing * (a.o + b.o), dpsi = a.psi - b.psi, half = 0.5 * link.spacing * dpsi;
    f.w = v + go * dpsi;
    f.w_ta = v_ta + half * a.o_t;
    f.w_ua = v_ua + go * a.psi_u;
    f.w_tb = v_tb + half * b.o_t;
    f.w_ub = v_ub - go * b.psi_u;
    const P gh = link.spacing * link.air_heat;
    const P k = 0.5 * gh * (a.k + b.k) + link.heat;
    const P ght = 0.5 * gh * dT;
    // Heat content of the moving water: c_w t of the whole flow, and for vapour L + (c_v - c_w) t on top.
    const P tm = 0.5 * (a.t + b.t), wm = moving.carried * tm, vm = link.latent + moving.less * tm;
    const P half_w = 0.5 * (moving.carried * f.w + moving.less * v);
    f.e = k * dT + vm * v + wm * f.w + mh * (a.t + b.t);
    f.e_ta = k + ght * a.k_t + vm * v_ta + wm * f.w_ta + half_w + mh;
    f.e_ua = ght * a.k_u + vm * v_ua + wm * f.w_ua;
    f.e_tb = ght * b.k_t - k + vm * v_tb + wm * f.w_tb + half_w + mh;
    f.e_ub = ght * b.k_u + vm * v_ub + wm * f.w_ub;
    return f;
}

template <int L>
WARMSIDE_INLINE Side<L> Lanes<L>::side_of(std::size_t i) const {
    using numerics::load;
    return Side<L>{load<L>(temperature.data() + i) - freezing,
                   load<L>(pressure.data() + i),
                   load<L>(pressure_t_.data() + i),
                   load<L>(pressure_u_.data() + i),
                   load<L>(delta_.data() + i),
                   load<L>(delta_t_.data() + i),
                   load<L>(delta_u_.data() + i),
                   load<L>(flux_.data() + i),
                   load<L>(flux_u_.data() + i),
                   load<L>(lambda_.data() + i),
                   load<L>(lambda_t_.data() + i),
                   load<L>(lambda_u_.data() + i),
                   load<L>(open_.data() + i),
                   load<L>(open_t_.data() + i)};
}

template <int L>
WARMSIDE_INLINE Joint<L> Lanes<L>::joint_of(std::size_t i) const {
    using numerics::load;
    return Joint<L>{
        load<L>(spacing_.data() + i),      load<L>(vapour_.data() + i),     load<L>(vapour_left_.data() + i),
        load<L>(vapour_right_.data() + i), load<L>(heat_.data() + i),       load<L>(latent_link_.data() + i),
        load<L>(air_link_.data() + i),     load<L>(air_vapour_.data() + i), load<L>(air_heat_.data() + i)};
}

template <int L>
WARMSIDE_INLINE Moving<L> Lanes<L>::moving_heat() const {
    const auto carried = numerics::load<L>(water_heat_.data());
    return {carried, numerics::load<L>(vapour_heat_.data()) - carried};
}

}  // namespace warmside::moisture
