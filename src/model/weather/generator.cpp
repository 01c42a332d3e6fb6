#include <algorithm>
#include <array>
#include <cmath>

#include "model/weather/hours.h"
#include "model/weather/random.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

// Daily residuals of high, low and sun: x_t = A x_(t-1) + B e_t, each of spread 1 (Richardson 1981, as in WGEN,
// Richardson and Wright 1984; remembered).
constexpr double kA[3][3] = {{0.567, 0.086, -0.002}, {0.253, 0.504, -0.050}, {-0.006, -0.039, 0.244}};
constexpr double kB[3][3] = {{0.781, 0.0, 0.0}, {0.328, 0.637, 0.0}, {0.238, -0.341, 0.873}};
constexpr int kWarmUpDays = 40;

// Common practice, no source: how much cooler the highs of wet days are, how far a day's clearness strays, how uneven
// the wind is from day to day (spread of its logarithm), the least span of a day.
constexpr double kWetCooling = 2.0;  // K
constexpr double kClearnessSd = 0.10;
constexpr double kWindLogSd = 0.4;
constexpr double kLeastSpan = 1.0;  // K

/// Twelve values at mid-month, joined by straight lines that keep every month's mean:
/// 3/4 a_m + 1/8 (a_(m-1) + a_(m+1)) is the mean of month m.
class YearCurve {
  std::array<double, 12> nodes_{};

  double mean_of(std::size_t m) const {
    return 0.75 * nodes_[m] + 0.125 * (nodes_[(m + 11) % 12] + nodes_[(m + 1) % 12]);
  }

 public:
  template <class F>
  YearCurve(const YearNormals& normals, F value) {
    std::array<double, 12> wanted{};
    for (std::size_t m = 0; m < 12; ++m) nodes_[m] = wanted[m] = value(normals[m]);
    for (int pass = 0; pass < 60; ++pass)
      for (std::size_t m = 0; m < 12; ++m) nodes_[m] += wanted[m] - mean_of(m);
  }

  double at(CivilDate date) const {
    const double length = date.month == 12 ? 31.0 : CivilDate{date.year, date.month + 1, 1}.plus_days(-1).day;
    const double months = date.month - 1 + (date.day - 0.5) / length - 0.5 + 12.0;  // 12 at mid-January
    const double before = std::floor(months), share = months - before;
    const auto i = static_cast<std::size_t>(before) % 12;
    return nodes_[i] + share * (nodes_[(i + 1) % 12] - nodes_[i]);
  }
};

using Residuals = std::array<double, 3>;

Residuals next_residuals(const Residuals& x, const Residuals& e) {
  Residuals next{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) next[i] += kA[i][j] * x[j] + kB[i][j] * e[j];
  return next;
}

/// What one day draws: always the same count of numbers, so that a change of normals does not reshuffle later days.
struct Draw {
  Residuals e{};
  double wind = 0.0, wet = 0.0, rain = 0.0;
};

Draw draw_day(Random& random) {
  const auto a = random.normals(), b = random.normals();
  const double wet = random.uniform(), rain = random.uniform();
  return {{a[0], a[1], b[0]}, b[1], wet, rain};
}

/// Two-state chain whose long-run share of wet days is `share` (Geng, Penning de Vries and Supit 1986).
bool is_wet(bool wet_before, double share, double drawn) {
  const double after_dry = 0.75 * share;
  return drawn < (wet_before ? 0.25 + after_dry : after_dry);
}

/// To tenths, as a thermometer is read; it also keeps a last bit of a machine's mathematics out of the days.
double to_tenths(double x) {
  return std::round(10.0 * x) / 10.0;
}

class Generator {
  const Place& place_;
  const YearNormals& normals_;
  YearCurve low_, high_;
  Random random_;
  Residuals x_{};
  bool wet_ = false;

  void set_air(WeatherDay& day, const MonthNormal& normal) const {
    const double f = normal.wet_share;
    const double offset = wet_ ? -kWetCooling * (1.0 - f) : kWetCooling * f;
    const double of_rain = kWetCooling * kWetCooling * f * (1.0 - f);
    const double high_sd =
        std::sqrt(std::max(normal.high_sd * normal.high_sd - of_rain, 0.25 * normal.high_sd * normal.high_sd));
    double high = high_.at(day.date) + offset + high_sd * x_[0];
    double low = low_.at(day.date) + normal.low_sd * x_[1];
    if (high - low < kLeastSpan) {
      const double middle = 0.5 * (high + low);
      low = middle - 0.5 * kLeastSpan;
      high = middle + 0.5 * kLeastSpan;
    }
    day.low = Temperature<>::from_celsius(to_tenths(low));
    day.high = Temperature<>::from_celsius(std::max(to_tenths(high), to_tenths(low) + 0.1));
  }

  void set_rest(WeatherDay& day, const MonthNormal& normal, const Draw& draw) const {
    const double rain_mm = wet_ ? std::max(0.3, -1e3 * normal.rain_of_wet_day.si() * std::log(draw.rain)) : 0.0;
    day.rain = to_tenths(rain_mm) * units::millimetre;
    const double wind = normal.wind.si() * std::exp(kWindLogSd * draw.wind - 0.5 * kWindLogSd * kWindLogSd);
    day.wind = Velocity<>(std::min(to_tenths(wind), 24.9));
    const SunFrame frame = sun_frame(place_, day.date);
    const double mean = wet_ ? normal.clearness_wet : normal.clearness_dry;
    const Flux<> sun = std::max(0.1, mean + kClearnessSd * x_[2]) * frame.outside;
    const double mj = std::min(sun, frame.clear).in(science::megajoule_per_square_metre_day);
    day.sun = to_tenths(mj) * science::megajoule_per_square_metre_day;
  }

 public:
  Generator(const Place& place, const YearNormals& normals, std::uint64_t seed, CivilDate first)
      : place_(place),
        normals_(normals),
        low_(normals, [](const MonthNormal& m) { return m.low.celsius(); }),
        high_(normals, [](const MonthNormal& m) { return m.high.celsius(); }),
        random_(seed) {
    for (int n = 0; n < kWarmUpDays; ++n) (void)next(first);
  }

  WeatherDay next(CivilDate date) {
    const MonthNormal& normal = normals_[static_cast<std::size_t>(date.month - 1)];
    const Draw draw = draw_day(random_);
    x_ = next_residuals(x_, draw.e);
    wet_ = is_wet(wet_, normal.wet_share, draw.wet);
    WeatherDay day;
    day.date = date;
    day.source = DaySource::generated;
    set_air(day, normal);
    set_rest(day, normal, draw);
    return day;
  }
};

}  // namespace

std::vector<WeatherDay> generate_days(const Place& place, const YearNormals& normals, CivilDate first, int count,
                                      std::uint64_t seed) {
  Generator generator(place, normals, seed, first);
  std::vector<WeatherDay> days;
  for (int n = 0; n < count; ++n) days.push_back(generator.next(first.plus_days(n)));
  return days;
}

}  // namespace leat::model
