// Student's t distribution for whole degrees of freedom.
#pragma once

namespace warmside::leakage {

/// P(T <= t) by the finite series for whole degrees of freedom.
///
///   theta = atan(t / sqrt(f));   odd f:  A = 2/pi [theta + sin theta (cos theta + 2/3 cos^3 theta + ...)]
///                                even f: A = sin theta (1 + 1/2 cos^2 theta + 1*3/(2*4) cos^4 theta + ...)
///   P = (1 + A) / 2, A the share between -t and t
///
/// degrees  1 or more
/// Source   Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (memory)
[[nodiscard]] double student_share_below(double t, int degrees);

/// The t below which a share (0.5 to less than 1) lies, by bisection of student_share_below.
/// Check   proof/leakage/student.toml (printed tables, memory)
[[nodiscard]] double student_quantile(double share, int degrees);

}  // namespace warmside::leakage
