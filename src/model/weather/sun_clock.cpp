#include "model/weather/sun_clock.h"

#include <algorithm>
#include <cmath>

namespace leat::model {
namespace {

constexpr double kClear = 0.75;

/// Whether an hour is dark whatever the sky, with an hour and a half to spare for a clock that is off.
bool surely_dark(const SunFrame& frame, Instant t) {
  return std::abs(hour_angle(frame, t).degrees()) > frame.sunset_angle.degrees() + 22.5;
}

std::optional<MeasuredSunDay> measured_day(const HourlySun& sun, const SunFrame& frame) {
  const double begin = std::ceil((frame.noon.seconds - sun.start.seconds) / 3600.0 - 12.0);
  MeasuredSunDay day{frame, {}, {}, {}};
  double sum = 0.0, moment = 0.0;
  for (double k = begin; k < begin + 24.0; ++k) {
    const Instant t{sun.start.seconds + 3600.0 * k};
    const auto watts = sun.at(t);
    if (!watts && !surely_dark(frame, t)) return std::nullopt;
    sum += watts.value_or(0.0);
    moment += watts.value_or(0.0) * (t.seconds - frame.noon.seconds);
  }
  day.mean = Flux<>(sum / 24.0);
  day.off_noon = Duration<>(sum > 0.0 ? moment / sum : 0.0);
  day.middle_hour = static_cast<std::size_t>(std::max(0.0, begin + 12.0));
  return day;
}

}  // namespace

std::optional<double> HourlySun::at(Instant t) const {
  const double hours = (t.seconds - start.seconds) / 3600.0;
  const double before = std::floor(hours), share = hours - before;
  if (before < 0.0 || before >= static_cast<double>(watts.size())) return std::nullopt;
  const auto i = static_cast<std::size_t>(before);
  if (share < 1e-9) return watts[i];
  if (i + 1 >= watts.size() || !watts[i] || !watts[i + 1]) return std::nullopt;
  return *watts[i] + share * (*watts[i + 1] - *watts[i]);
}

std::vector<MeasuredSunDay> measured_sun_days(const HourlySun& sun, const Place& place) {
  std::vector<MeasuredSunDay> days;
  const CivilDate first = place.clock.local(sun.start).date;
  const int count = static_cast<int>(sun.watts.size() / 24) + 2;
  for (int n = 0; n < count; ++n)
    if (auto day = measured_day(sun, sun_frame(place, first.plus_days(n)))) days.push_back(*day);
  return days;
}

std::optional<NoonOff> noon_off(const std::vector<MeasuredSunDay>& days) {
  std::vector<double> clear, lit;
  for (const MeasuredSunDay& day : days) {
    if (!(day.mean.si() > 0.0)) continue;
    lit.push_back(day.off_noon.si());
    if (day.mean > kClear * day.frame.clear) clear.push_back(day.off_noon.si());
  }
  std::vector<double>& used = clear.empty() ? lit : clear;
  if (used.empty() || (clear.empty() && lit.size() < 10)) return std::nullopt;
  const auto middle = used.begin() + static_cast<std::ptrdiff_t>(used.size() / 2);
  std::nth_element(used.begin(), middle, used.end());
  return NoonOff{Duration<>(*middle), used.size(), !clear.empty()};
}

}  // namespace leat::model
