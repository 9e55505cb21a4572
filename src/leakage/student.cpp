#include "leakage/student.h"

#include <cassert>
#include <cmath>
#include <numbers>

namespace warmside::leakage {

double student_share_below(double t, int degrees) {
    assert(degrees >= 1);
    const double theta = std::atan(t / std::sqrt(static_cast<double>(degrees)));
    const double sine = std::sin(theta), cosine = std::cos(theta), square = cosine * cosine;
    const bool odd = degrees % 2 == 1;
    double term = odd ? cosine : 1.0, sum = degrees == 1 ? 0.0 : term;
    for (int k = odd ? 3 : 2; k < degrees; k += 2) {
        term *= square * (k - 1.0) / k;
        sum += term;
    }
    const double between = odd ? 2.0 / std::numbers::pi * (theta + sine * sum) : sine * sum;
    return 0.5 * (1.0 + between);
}

double student_quantile(double share, int degrees) {
    assert(share >= 0.5 && share < 1.0);
    double low = 0.0, high = 1.0;
    while (student_share_below(high, degrees) < share && high < 1e12) high *= 2.0;
    for (int i = 0; i < 200 && high - low > 1e-14 * high; ++i) {
        const double middle = 0.5 * (low + high);
        (student_share_below(middle, degrees) < share ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace warmside::leakage
