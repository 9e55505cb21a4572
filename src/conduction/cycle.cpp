#include "conduction/cycle.h"

#include <algorithm>
#include <cmath>
#include <thread>

namespace warmside::conduction {

namespace {

// Below so many cells a level is quicker on one thread than a meeting of several.
constexpr std::size_t worth_sharing = 24'000;

// Rows along one axis that give to coarse row c: children, and the row next to them on either side that
// looks here.
template <class Child, class Beside>
void visit(const Merge& m, std::size_t c, Child child, Beside beside) {
    const auto a = static_cast<std::size_t>(m.first[c]), z = static_cast<std::size_t>(m.last[c]);
    for (std::size_t i = a; i <= z; ++i) child(i);
    const auto here = static_cast<std::int32_t>(c);
    if (a > 0 && m.beside[a - 1] == here) beside(a - 1);
    if (z + 1 < m.parent.size() && m.beside[z + 1] == here) beside(z + 1);
}

Weights weights(const Level& fine, std::size_t at) {
    return {fine.weight[0].data() + at, fine.weight[1].data() + at,
            fine.solid ? fine.weight[2].data() + at : nullptr};
}

}  // namespace

Cycle::Cycle(const Stencil& stencil, unsigned threads)
    : level_(levels_of(stencil, threads)),
      direct_(level_.back()),
      crew_(level_.front().cells() < worth_sharing ? 1U
            : threads == 0                         ? std::max(1U, std::thread::hardware_concurrency())
                                                   : threads),
      barrier_(crew_),
      smoother_(crew_, barrier_),
      inner_(level_.size()),
      sums_(crew_, Sums{Padded<float>(stencil.nx, 16), Padded<float>(stencil.nx, 16)}) {
    place_inner();
}

void Cycle::place_inner() {
    constexpr std::size_t fewer = 16;
    std::size_t above = level_.front().cells();
    for (std::size_t at = 1; at + 1 < level_.size(); ++at) {
        const Level& l = level_[at];
        if (l.cells() > above / fewer) continue;
        above = l.cells();
        const auto field = [&] { return Padded<float>(l.cells(), l.pad()); };
        inner_[at] = Inner{.zero = field(),
                           .x = field(),
                           .p = field(),
                           .q = field(),
                           .part = std::vector<double>(l.n[1] * l.n[2])};
    }
}

std::size_t Cycle::bytes() const {
    std::size_t sum = direct_.bytes();
    for (const Level& l : level_) sum += l.bytes();
    for (const Inner& i : inner_) sum += i.zero.bytes() + i.x.bytes() + i.p.bytes() + i.q.bytes();
    return sum;
}

// Members of the crew that work on a level.
unsigned Cycle::crew_of(const Level& l) const {
    return crew_ > 1 && l.cells() >= worth_sharing ? crew_ : 1U;
}

void Cycle::residual(Level& l, unsigned member) {
    const unsigned crowd = crew_of(l);
    const std::size_t slices = l.slices(), rows = l.slice_rows();
    for (std::size_t row = slices * member / crowd * rows; row < slices * (member + 1) / crowd * rows; ++row)
        residual_row(l.row(row * l.n[0]), l.residual.data() + row * l.n[0]);
    meet(crowd);
}

void Cycle::restrict_row(Level& fine, Level& coarse, std::size_t J, std::size_t K, Sums& sum) {
    const std::size_t nx = fine.n[0];
    float* const stay = sum.stay.data();
    float* const move = sum.move.data();
    std::fill_n(stay, nx, 0.0F);
    std::fill_n(move, nx + 1, 0.0F);
    const auto start = [&](std::size_t j, std::size_t k) { return (k * fine.n[1] + j) * nx; };
    const auto take = [&](std::size_t j, std::size_t k, bool beside_y, bool beside_z) {
        const std::size_t at = start(j, k);
        gather_row(fine.residual.data() + at, nx, weights(fine, at), beside_y, beside_z, stay, move);
    };
    const auto plane = [&](std::size_t k, bool beside_z) {
        visit(
            fine.merge[1], J, [&](std::size_t j) { take(j, k, false, beside_z); },
            [&](std::size_t j) { take(j, k, true, beside_z); });
    };
    visit(fine.merge[2], K, [&](std::size_t k) { plane(k, false); }, [&](std::size_t k) { plane(k, true); });
    reduce_row(coarse.b.data() + (K * coarse.n[1] + J) * coarse.n[0], coarse.n[0], fine.merge[0].first.data(),
               fine.merge[0].last.data(), stay, move);
}

void Cycle::restrict_to(Level& fine, Level& coarse, unsigned member) {
    const unsigned crowd = crew_of(fine);
    const std::size_t slices = coarse.slices();
    for (std::size_t s = slices * member / crowd; s < slices * (member + 1) / crowd; ++s) {
        for (std::size_t j = 0; j < coarse.slice_rows(); ++j) {
            restrict_row(fine, coarse, fine.solid ? j : s, fine.solid ? s : 0, sums_[member]);
        }
    }
    meet(crowd);
}

void Cycle::prolong_from(Level& fine, Level& coarse, unsigned member) {
    const unsigned crowd = crew_of(fine);
    const std::size_t slices = fine.slices();
    const auto& m = fine.merge;
    const Parents parents{m[0].parent.data(), m[0].beside.data()};
    const auto coarse_row = [&](std::int32_t J, std::int32_t K) {
        return coarse.x.data() +
               (static_cast<std::size_t>(K) * coarse.n[1] + static_cast<std::size_t>(J)) * coarse.n[0];
    };
    for (std::size_t s = slices * member / crowd; s < slices * (member + 1) / crowd; ++s) {
        for (std::size_t row = 0; row < fine.slice_rows(); ++row) {
            const std::size_t j = fine.solid ? row : s, k = fine.solid ? s : 0;
            const std::size_t at = (k * fine.n[1] + j) * fine.n[0];
            prolong_row(fine.x.data() + at, fine.n[0], parents, weights(fine, at),
                        {.own = coarse_row(m[1].parent[j], m[2].parent[k]),
                         .y = coarse_row(m[1].beside[j], m[2].parent[k]),
                         .z = coarse_row(m[1].parent[j], m[2].beside[k]),
                         .yz = coarse_row(m[1].beside[j], m[2].beside[k])});
        }
    }
    meet(crowd);
}

// Sum over all rows of task(first cell of the row), in the order of the rows.
template <class Task>
double Cycle::over_rows(Level& l, std::vector<double>& part, unsigned member, Task task) {
    const unsigned crowd = crew_of(l);
    const std::size_t rows = part.size();
    for (std::size_t row = rows * member / crowd; row < rows * (member + 1) / crowd; ++row)
        part[row] = task(row * l.n[0]);
    meet(crowd);
    double sum = 0.0;
    for (const double v : part) sum += v;
    meet(crowd);
    return sum;
}

// A x = b on an inner level to a tenth, by conjugate gradients that the cycle below preconditions.
void Cycle::settle(std::size_t at, unsigned member) {
    constexpr int most = 16;
    constexpr double enough = 0.1;
    Level& l = level_[at];
    Inner& in = inner_[at];
    const std::size_t nx = l.n[0];
    const auto sum = [&](auto task) { return over_rows(l, in.part, member, task); };
    const auto square = [&] {
        return sum([&](std::size_t c) { return dot(nx, l.b.data() + c, l.b.data() + c); });
    };
    sum([&](std::size_t c) {
        std::fill_n(in.x.data() + c, nx, 0.0F);
        std::fill_n(in.p.data() + c, nx, 0.0F);
        return 0.0;
    });
    double rr = square(), before = 1.0;
    const double limit = enough * enough * rr;
    for (int round = 0; round < most && rr > limit; ++round) {
        vee(at, member);
        const double rz = sum([&](std::size_t c) { return dot(nx, l.b.data() + c, l.x.data() + c); });
        const auto beta = static_cast<float>(round == 0 ? 0.0 : rz / before);
        sum([&](std::size_t c) {
            float* const p = in.p.data() + c;
            const float* const z = l.x.data() + c;
            for (std::size_t i = 0; i < nx; ++i) p[i] = z[i] + beta * p[i];
            return 0.0;
        });
        const double pq = sum([&](std::size_t c) {  // q = -A p
            Row row = l.row(c);
            row.x = in.p.data() + c;
            row.b = in.zero.data() + c;
            residual_row(row, in.q.data() + c);
            return dot(nx, in.p.data() + c, in.q.data() + c);
        });
        const auto alpha = static_cast<float>(-rz / pq);
        rr = sum([&](std::size_t c) {
            float* const x = in.x.data() + c;
            float* const r = l.b.data() + c;
            for (std::size_t i = 0; i < nx; ++i) {
                x[i] += alpha * in.p.data()[c + i];
                r[i] += alpha * in.q.data()[c + i];
            }
            return dot(nx, r, r);
        });
        before = rz;
    }
    sum([&](std::size_t c) {
        std::copy_n(in.x.data() + c, nx, l.x.data() + c);
        return 0.0;
    });
}

void Cycle::descend(std::size_t at, unsigned member) {
    if (inner_[at].x.empty()) {
        vee(at, member);
    } else {
        settle(at, member);
    }
}

// From a guess of zero; the sweeps after the coarse level mirror those before it.
void Cycle::vee(std::size_t at, unsigned member) {
    Level& l = level_[at];
    if (at + 1 == level_.size()) {
        direct_.solve(l);
        return;
    }
    Level& coarse = level_[at + 1];
    smoother_.start(l, crew_of(l), member);
    residual(l, member);
    restrict_to(l, coarse, member);
    if (member < crew_of(coarse)) descend(at + 1, member);
    meet(crew_of(l));
    prolong_from(l, coarse, member);
    smoother_.finish(l, crew_of(l), member);
}

}  // namespace warmside::conduction
