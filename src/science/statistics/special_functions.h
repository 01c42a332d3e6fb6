// The two incomplete functions behind every interval here, and their inverses.
#pragma once

namespace leat::science {

/// Regularised lower incomplete gamma function P(a, x).
///
///   series below a + 1, continued fraction above
///
/// a, x     a > 0, x >= 0
/// returns  0 to 1
/// error    relative 1e-13 for a up to 1e4
/// source   Abramowitz & Stegun 6.5.29, 6.5.31
double incomplete_gamma(double a, double x);

/// x with P(a, x) = p.
///
/// error    relative 3e-12 in x for shapes up to 100; where p is flat, to where its last digit decides
double inverse_incomplete_gamma(double a, double p);

/// Regularised incomplete beta function I_x(a, b).
///
///   continued fraction, from the side where it converges
///
/// a, b, x  a, b > 0, x within 0 and 1
/// returns  0 to 1
/// error    relative 2e-11 for a, b up to 1e4, 1e-13 for both up to 100
/// source   Abramowitz & Stegun 26.5.8
double incomplete_beta(double a, double b, double x);

/// x with I_x(a, b) = p.
///
/// error    relative 3e-12 in x for shapes up to 100; where p is flat, to where its last digit decides
double inverse_incomplete_beta(double a, double b, double p);

/// Quantile of the normal distribution with mean 0 and standard deviation 1.
///
/// p        0 < p < 1
/// error    relative 1e-13
double normal_quantile(double p);

/// Quantile of Student's t.
///
/// p        0 < p < 1
/// degrees  of freedom, above 0
/// error    relative 1e-11
double student_t_quantile(double p, double degrees);

/// Share of Student's t below x.
double student_t_share(double x, double degrees);

}  // namespace leat::science
