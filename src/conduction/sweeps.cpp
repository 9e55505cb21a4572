#include "conduction/sweeps.h"

// Iterations may run side by side: none reads what another one changes. Clang builds check, they do not race.
#ifdef __clang__
#define SIDE_BY_SIDE
#else
#define SIDE_BY_SIDE _Pragma("GCC ivdep")
#endif

namespace warmside::conduction {

namespace {

// Sum of conductance times neighbour's value, plus the right-hand side.
template <bool solid>
inline float pull(const Row& r, std::ptrdiff_t i, const float* x) {
    float s = r.b[i] + r.east[i] * x[i + 1] + r.east[i - 1] * x[i - 1] + r.north[i] * x[i + r.row] +
              r.north[i - r.row] * x[i - r.row];
    if constexpr (solid) s += r.up[i] * x[i + r.plane] + r.up[i - r.plane] * x[i - r.plane];
    return s;
}

// Cells of the other colour are written back as they are: a masked blend keeps the loop in whole vectors.
template <bool solid>
void relax(const Row& given, unsigned parity) {
    const Row r = given;
    float* const x = r.x;
    const auto n = static_cast<std::ptrdiff_t>(r.count);
    SIDE_BY_SIDE
    for (std::ptrdiff_t i = 0; i < n; ++i) {
        const float v = pull<solid>(r, i, x) * r.inverse[i];
        x[i] = ((static_cast<unsigned>(i) + parity) & 1U) == 0U ? v : x[i];
    }
}

template <bool solid>
void residual(const Row& given, float* __restrict out) {
    const Row r = given;
    const auto n = static_cast<std::ptrdiff_t>(r.count);
    SIDE_BY_SIDE
    for (std::ptrdiff_t i = 0; i < n; ++i) {
        const float d = r.inverse[i];
        const float v = pull<solid>(r, i, r.x) - r.x[i] / d;
        out[i] = d > 0.0F ? v : 0.0F;
    }
}

// Lanes of a fixed number keep the order of a sum, whatever the vector width of the machine.
constexpr std::size_t lanes = 16;

template <class Term>
inline double ordered_sum(std::size_t count, Term term) {
    double part[lanes] = {};
    std::size_t i = 0;
    for (; i + lanes <= count; i += lanes) {
        for (std::size_t l = 0; l < lanes; ++l) part[l] += term(i + l);
    }
    for (std::size_t l = 0; i < count; ++i, ++l) part[l] += term(i);
    double sum = 0.0;
    for (const double p : part) sum += p;
    return sum;
}

template <bool solid>
double multiply(const OuterRow& given, const double* __restrict p, double* __restrict q) {
    const OuterRow r = given;
    return ordered_sum(r.count, [&](std::size_t c) {
        const auto i = static_cast<std::ptrdiff_t>(c);
        const double own = p[i];
        double v = static_cast<double>(r.ground[i]) * own +
                   static_cast<double>(r.east[i]) * (own - p[i + 1]) +
                   static_cast<double>(r.east[i - 1]) * (own - p[i - 1]) +
                   static_cast<double>(r.north[i]) * (own - p[i + r.row]) +
                   static_cast<double>(r.north[i - r.row]) * (own - p[i - r.row]);
        if constexpr (solid) {
            v += static_cast<double>(r.up[i]) * (own - p[i + r.plane]) +
                 static_cast<double>(r.up[i - r.plane]) * (own - p[i - r.plane]);
        }
        q[i] = v;
        return own * v;
    });
}

}  // namespace

void start_row(const Row& r, unsigned parity) {
    for (std::size_t i = 0; i < r.count; ++i) {
        const float v = r.b[i] * r.inverse[i];
        r.x[i] = ((static_cast<unsigned>(i) + parity) & 1U) == 0U ? v : 0.0F;
    }
}

void relax_row(const Row& row, unsigned parity) {
    if (row.up) {
        relax<true>(row, parity);
    } else {
        relax<false>(row, parity);
    }
}

void residual_row(const Row& row, float* out) {
    if (row.up) {
        residual<true>(row, out);
    } else {
        residual<false>(row, out);
    }
}

void prolong_row(float* __restrict x, std::size_t count, const Parents& p, const Weights& w,
                 const CoarseRows& c) {
    const std::int32_t* const parent = p.parent;
    const std::int32_t* const beside = p.beside;
    const float* const wx = w.x;
    const float* const wy = w.y;
    const float* const wz = w.z;
    const auto [own, y, z, yz] = c;
    const auto along = [=](const float* row, std::size_t i) {
        const float here = row[parent[i]];
        return here + wx[i] * (row[beside[i]] - here);
    };
    if (wz) {
        for (std::size_t i = 0; i < count; ++i) {
            const float low = along(own, i), low_y = along(y, i), high = along(z, i), high_y = along(yz, i);
            const float a = low + wy[i] * (low_y - low), b = high + wy[i] * (high_y - high);
            x[i] += a + wz[i] * (b - a);
        }
    } else {
        for (std::size_t i = 0; i < count; ++i) {
            const float low = along(own, i), low_y = along(y, i);
            x[i] += low + wy[i] * (low_y - low);
        }
    }
}

namespace {

template <bool solid, bool beside_y, bool beside_z>
void gather(const float* r, std::size_t count, const Weights& w, float* __restrict stay,
            float* __restrict move) {
    const float* const wx = w.x;
    const float* const wy = w.y;
    const float* const wz = w.z;
    for (std::size_t i = 0; i < count; ++i) {
        float part = r[i] * (beside_y ? wy[i] : 1.0F - wy[i]);
        if constexpr (solid) part *= beside_z ? wz[i] : 1.0F - wz[i];
        const float side = part * wx[i];
        stay[i] += part - side;
        move[i] += side;
    }
}

}  // namespace

void gather_row(const float* r, std::size_t count, const Weights& w, bool beside_y, bool beside_z,
                float* stay, float* move) {
    if (!w.z)
        return beside_y ? gather<false, true, false>(r, count, w, stay, move)
                        : gather<false, false, false>(r, count, w, stay, move);
    if (beside_z)
        return beside_y ? gather<true, true, true>(r, count, w, stay, move)
                        : gather<true, false, true>(r, count, w, stay, move);
    return beside_y ? gather<true, true, false>(r, count, w, stay, move)
                    : gather<true, false, false>(r, count, w, stay, move);
}

void reduce_row(float* __restrict coarse, std::size_t count, const std::int32_t* first,
                const std::int32_t* last, const float* stay, const float* move) {
    for (std::size_t i = 0; i < count; ++i) {
        const std::int32_t a = first[i], z = last[i];
        const float second = z > a ? stay[z] : 0.0F;
        coarse[i] = stay[a] + second + move[a - 1] + move[z + 1];
    }
}

double multiply_row(const OuterRow& row, const double* p, double* q) {
    return row.up ? multiply<true>(row, p, q) : multiply<false>(row, p, q);
}

double step(std::size_t count, double alpha, const double* __restrict p, const double* __restrict q,
            double* __restrict x, double* __restrict r) {
    return ordered_sum(count, [=](std::size_t i) {
        x[i] += alpha * p[i];
        const double v = r[i] - alpha * q[i];
        r[i] = v;
        return v * v;
    });
}

void narrow(std::size_t count, double scale, const double* __restrict r, float* __restrict small) {
    for (std::size_t i = 0; i < count; ++i) small[i] = static_cast<float>(scale * r[i]);
}

double dot(std::size_t count, const double* r, const float* z) {
    return ordered_sum(count, [=](std::size_t i) { return r[i] * static_cast<double>(z[i]); });
}

double dot(std::size_t count, const float* r, const float* z) {
    return ordered_sum(count,
                       [=](std::size_t i) { return static_cast<double>(r[i]) * static_cast<double>(z[i]); });
}

void turn(std::size_t count, double scale, double beta, const float* __restrict z, double* __restrict p) {
    for (std::size_t i = 0; i < count; ++i) p[i] = scale * static_cast<double>(z[i]) + beta * p[i];
}

}  // namespace warmside::conduction
