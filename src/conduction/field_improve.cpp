// The field is improved: its dissipation falls.
#include "conduction/field.h"

#include <algorithm>
#include <cmath>

#include "base/parallel.h"

namespace warmside::conduction {

void Field::residual(std::size_t warm, const std::vector<double>& t, std::vector<double>& r) const {
    product(t.data(), r.data());
    for (double& v : r) v = -v;
    for (const Facet& f : facets_) {
        if (system_.patches[f.patch].environment != warm) continue;
        const std::array<double, 4> one{1.0, 1.0, 1.0, 1.0};
        std::array<double, 4> part{};
        f.product(one.data(), part.data());
        for (std::size_t e = 0; e < f.count; ++e) r[f.node[e]] += part[e] / f.film;
    }
    for (std::size_t v = 0; v < size(); ++v)
        if (diagonal_[v] == 0.0) r[v] = 0.0;
}

double Field::mix(std::size_t warm, const std::vector<double>& other, std::vector<double>& t) const {
    std::vector<double> r(size()), d(size()), kd(size());
    residual(warm, t, r);
    for (std::size_t v = 0; v < size(); ++v) d[v] = diagonal_[v] > 0.0 ? other[v] - t[v] : 0.0;
    product(d.data(), kd.data());
    double drive = 0.0, stiffness = 0.0;
    for (std::size_t v = 0; v < size(); ++v) {
        drive += r[v] * d[v];
        stiffness += kd[v] * d[v];
    }
    if (!(stiffness > 0.0)) return 0.0;
    for (std::size_t v = 0; v < size(); ++v) t[v] += drive / stiffness * d[v];
    return drive * drive / stiffness;
}

double Field::improve(std::size_t warm, std::vector<double>& t, double enough, std::size_t most) const {
    const std::size_t n = size();
    std::vector<double> r(n), p(n), q(n);
    residual(warm, t, r);
    std::vector<double> partial(levels_);
    const auto total = [&] {
        double sum = 0.0;
        for (const double v : partial) sum += v;
        return sum;
    };
    // z = r / diagonal; r.z by levels, so that the sum is the same for any number of threads.
    const auto rz = [&] {
        parallel_for(
            levels_,
            [&](std::size_t l) {
                double sum = 0.0;
                for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v)
                    if (diagonal_[v] > 0.0) sum += r[v] * r[v] / diagonal_[v];
                partial[l] = sum;
            },
            {}, threads_);
        return total();
    };
    double now = rz(), before = 0.0, lately = 0.0, fallen = 0.0;
    for (std::size_t steps = 0; steps < most && now > 0.0; ++steps) {
        const double beta = steps == 0 ? 0.0 : now / before;
        parallel_for(
            levels_,
            [&](std::size_t l) {
                for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v)
                    p[v] = diagonal_[v] > 0.0 ? r[v] / diagonal_[v] + beta * p[v] : 0.0;
            },
            {}, threads_);
        product(p.data(), q.data());
        parallel_for(
            levels_,
            [&](std::size_t l) {
                double sum = 0.0;
                for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v) sum += p[v] * q[v];
                partial[l] = sum;
            },
            {}, threads_);
        const double pq = total();
        if (!(pq > 0.0)) break;
        const double alpha = now / pq;
        parallel_for(
            levels_,
            [&](std::size_t l) {
                for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v) {
                    t[v] += alpha * p[v];
                    r[v] -= alpha * q[v];
                }
            },
            {}, threads_);
        fallen += alpha * now;
        // Not after one small step: the next may find more.
        lately = lately * 0.75 + alpha * now;
        if (steps >= 4 && lately < enough) break;
        before = now;
        now = rz();
    }
    return fallen;
}

}  // namespace warmside::conduction
