// All chains of a network, condensed onto their surfaces. Inner part of simulate.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "house/network.h"

namespace warmside::house {

/// What a chain does to its two surfaces in one implicit stage. Into the chain, W/m2:
///
///   inner  first (T_s - p_first) - first (u_first T_s + v_first T_o),   outer likewise with last
///
/// so inner = self_inner T_s - cross T_o - pull_inner and outer = self_outer T_o - cross T_s - pull_outer;
/// the matrix is symmetric, hence one `cross`.
struct Surfaces {
    double self_inner = 0.0, self_outer = 0.0, cross = 0.0;  ///< W/(m2 K)
};

/// Cells of all elements in lanes: those of like length lie side by side, [cell][lane]. Each implicit stage
/// is
///
///   store_i (T_i - base_i) = g_{i-1} (T_{i-1} - T_i) + g_i (T_{i+1} - T_i),   store = capacity / (gamma dt)
///
/// factored once (Thomas, memory): y_i = store_i base_i + m_i y_{i-1};  T_i = y_i / pivot_i + m_{i+1}
/// T_{i+1}.
class Chains {
public:
    /// elements  not kept
    /// interval  s, gamma dt of a stage
    /// start     K
    Chains(std::span<const Element> elements, double interval, double start);

    [[nodiscard]] const Surfaces& surfaces(std::size_t element) const { return surfaces_[element]; }

    /// The cells' own part of the next stage, from `base`: fills pull_inner, pull_outer [element], W/m2.
    void carry();
    std::vector<double> pull_inner, pull_outer;

    /// Surface temperatures [element] in, cells out. Returns W: sum over elements of area x stored heat / s.
    double finish(std::span<const double> inner, std::span<const double> outer);

    /// Where the next stage starts: base = cells.
    void settle();
    /// base = base + factor (cells - base): the second stage of the second-order scheme.
    void advance(double factor);

private:
    static constexpr int lanes = 8;
    struct Bundle {
        std::size_t cells = 0, offset = 0;       ///< of the longest; first number in the arrays
        std::array<std::size_t, lanes> element;  ///< none where a lane is empty
        std::array<std::size_t, lanes> last;     ///< cell
    };
    void factor(const Bundle& bundle, std::span<const Element> elements);

    std::vector<Bundle> bundles_;
    std::vector<double> store_, multiplier_, inverse_, inner_, outer_;  ///< [cell][lane] of each bundle
    std::vector<double> base_, cells_;
    std::vector<double> area_, first_, last_;  ///< [element]; conductances at the surfaces
    std::vector<Surfaces> surfaces_;
    double interval_ = 0.0;
};

}  // namespace warmside::house
