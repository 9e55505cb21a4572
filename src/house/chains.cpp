#include "house/chains.h"

#include <algorithm>
#include <numeric>

#include "numerics/pack.h"

namespace warmside::house {

namespace {

constexpr int width = 8;
using Lanes = numerics::Pack<width>;

WARMSIDE_INLINE Lanes at(const std::vector<double>& from, std::size_t offset, std::size_t cell) {
    return numerics::load<width>(from.data() + offset + cell * width);
}

WARMSIDE_INLINE void put(std::vector<double>& to, std::size_t offset, std::size_t cell, Lanes value) {
    numerics::store<width>(to.data() + offset + cell * width, value);
}

}  // namespace

Chains::Chains(std::span<const Element> elements, double interval, double start)
    : pull_inner(elements.size()),
      pull_outer(elements.size()),
      area_(elements.size()),
      first_(elements.size()),
      last_(elements.size()),
      surfaces_(elements.size()),
      interval_(interval) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < elements.size(); ++i) {
        const Element& e = elements[i];
        area_[i] = e.area;
        first_[i] = e.conductance.front();
        last_[i] = e.conductance.back();
        // Without mass the one conductance joins the surfaces.
        if (e.capacity.empty())
            surfaces_[i] = {e.conductance[0], e.conductance[0], e.conductance[0]};
        else
            order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return elements[a].capacity.size() < elements[b].capacity.size();
    });
    std::size_t numbers = 0;
    for (std::size_t i = 0; i < order.size(); i += lanes) {
        Bundle bundle;
        bundle.offset = numbers;
        bundle.element.fill(none);
        bundle.last.fill(0);
        for (std::size_t lane = 0; lane < lanes && i + lane < order.size(); ++lane) {
            bundle.element[lane] = order[i + lane];
            bundle.last[lane] = elements[order[i + lane]].capacity.size() - 1;
            bundle.cells = bundle.last[lane] + 1;
        }
        numbers += bundle.cells * lanes;
        bundles_.push_back(bundle);
    }
    for (auto* array : {&store_, &multiplier_, &inner_, &outer_}) array->assign(numbers, 0.0);
    inverse_.assign(numbers, 1.0);
    base_.assign(numbers, start);
    cells_.assign(numbers, start);
    for (const Bundle& bundle : bundles_) factor(bundle, elements);
}

// Cells past a lane's last one have no store and no neighbours: they stay what they are and touch nothing.
void Chains::factor(const Bundle& bundle, std::span<const Element> elements) {
    for (std::size_t lane = 0; lane < lanes; ++lane) {
        if (bundle.element[lane] == none) continue;
        const Element& e = elements[bundle.element[lane]];
        const std::size_t n = e.capacity.size();
        const auto index = [&](std::size_t cell) { return bundle.offset + cell * lanes + lane; };
        double pivot = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const double g = e.conductance[i];
            store_[index(i)] = e.capacity[i] / interval_;
            multiplier_[index(i)] = i == 0 ? 0.0 : g / pivot;
            pivot = store_[index(i)] + g + e.conductance[i + 1] - (i == 0 ? 0.0 : g * g / pivot);
            inverse_[index(i)] = 1.0 / pivot;
        }
        // Cells for a surface at 1 K, everything else at 0.
        std::vector<double> y(n, 0.0);
        const auto back = [&](std::vector<double>& into) {
            double above = 0.0;
            for (std::size_t i = n; i-- > 0;) {
                const double m = i + 1 < n ? multiplier_[index(i + 1)] : 0.0;
                above = y[i] * inverse_[index(i)] + m * above;
                into[index(i)] = above;
            }
        };
        y[0] = e.conductance.front();
        for (std::size_t i = 1; i < n; ++i) y[i] = multiplier_[index(i)] * y[i - 1];
        back(inner_);
        std::fill(y.begin(), y.end(), 0.0);
        y[n - 1] = e.conductance.back();
        back(outer_);
        Surfaces& s = surfaces_[bundle.element[lane]];
        s.self_inner = e.conductance.front() * (1.0 - inner_[index(0)]);
        s.self_outer = e.conductance.back() * (1.0 - outer_[index(n - 1)]);
        s.cross = e.conductance.front() * outer_[index(0)];
    }
}

void Chains::carry() {
    for (const Bundle& b : bundles_) {
        Lanes y{};
        for (std::size_t i = 0; i < b.cells; ++i) {
            y = at(store_, b.offset, i) * at(base_, b.offset, i) + at(multiplier_, b.offset, i) * y;
            put(cells_, b.offset, i, y);
        }
        Lanes t{}, m{};
        for (std::size_t i = b.cells; i-- > 0;) {
            t = at(cells_, b.offset, i) * at(inverse_, b.offset, i) + m * t;
            m = at(multiplier_, b.offset, i);
            put(cells_, b.offset, i, t);
        }
        for (std::size_t lane = 0; lane < lanes; ++lane) {
            const std::size_t e = b.element[lane];
            if (e == none) continue;
            pull_inner[e] = first_[e] * cells_[b.offset + lane];
            pull_outer[e] = last_[e] * cells_[b.offset + b.last[lane] * lanes + lane];
        }
    }
}

double Chains::finish(std::span<const double> inner, std::span<const double> outer) {
    double stored = 0.0;
    for (const Bundle& b : bundles_) {
        std::array<double, lanes> in{}, out{}, area{};
        for (std::size_t lane = 0; lane < lanes; ++lane) {
            const std::size_t e = b.element[lane];
            if (e == none) continue;
            in[lane] = inner[e];
            out[lane] = outer[e];
            area[lane] = area_[e];
        }
        const Lanes s = numerics::load<width>(in.data()), o = numerics::load<width>(out.data());
        Lanes sum{};
        for (std::size_t i = 0; i < b.cells; ++i) {
            const Lanes t =
                at(cells_, b.offset, i) + at(inner_, b.offset, i) * s + at(outer_, b.offset, i) * o;
            sum += at(store_, b.offset, i) * (t - at(base_, b.offset, i));
            put(cells_, b.offset, i, t);
        }
        for (std::size_t lane = 0; lane < lanes; ++lane) stored += area[lane] * sum[lane];
    }
    return stored;
}

void Chains::settle() {
    std::copy(cells_.begin(), cells_.end(), base_.begin());
}

void Chains::advance(double factor) {
    for (std::size_t i = 0; i < base_.size(); ++i) base_[i] += factor * (cells_[i] - base_[i]);
}

}  // namespace warmside::house
