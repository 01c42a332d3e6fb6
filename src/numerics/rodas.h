// The numbers of RODAS, which both one-step integrators take.
#pragma once

#include <array>
#include <cstddef>

namespace leat::numerics {

namespace rodas {
// source  Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7 (RODAS)
inline constexpr std::size_t stages = 6;
inline constexpr double gamma = 0.25;
/// Stage i starts at y + sum a[i][j] u_j and solves (1/(h gamma) - J) u_i = f + sum c[i][j]/h u_j + h d[i] df/dt, at
/// t + h at[i]. The last two build on each other: y + sum a[4][j] u_j + u_4 is of order 3, and u_5 is what it lacks.
inline constexpr double a[5][4] = {
    {},
    {1.544},
    {0.9466785280815826, 0.2557011698983284},
    {3.314825187068521, 2.896124015972201, 0.9986419139977817},
    {1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950},
};
inline constexpr double c[6][5] = {
    {},
    {-5.6688},
    {-2.430093356833875, -0.2063599157091915},
    {-0.1073529058151375, -9.594562251023355, -20.47028614809616},
    {7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160},
    {8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054},
};
inline constexpr double at[6] = {0.0, 0.386, 0.21, 0.63, 1.0, 1.0};
inline constexpr double d[4] = {0.25, -0.1043, 0.1035, -0.03620000000000023};
/// What f + J u of each stage weighs, times h gamma, in the end of a component that nothing depends on: there the
/// stages' own equations solve themselves.
inline constexpr std::array<double, stages> weights = [] {
  std::array<double, stages> w = {a[4][0], a[4][1], a[4][2], a[4][3], 1.0, 1.0};
  for (std::size_t j = stages; j-- > 0;)
    for (std::size_t i = j + 1; i < stages; ++i) w[j] += gamma * c[i][j] * w[i];
  return w;
}();
/// Two vectors that bend the straight line between the ends of a step.
inline constexpr double bend[2][5] = {
    {10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662},
    {-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872},
};
}  // namespace rodas

}  // namespace leat::numerics
