#include "learn/expected.h"

#include <algorithm>
#include <cmath>

namespace leat::learn {

bool Warmth::covers(Moment t) const {
  return !hourly.empty() && t >= start && t <= start + static_cast<Moment>(hourly.size() - 1) * kHour;
}

double Warmth::at(Moment t) const {
  const double hour = static_cast<double>(t - start) / static_cast<double>(kHour);
  const double place = std::clamp(hour, 0.0, static_cast<double>(hourly.size() - 1));
  const auto h = std::min(static_cast<std::size_t>(place), hourly.size() - 1);
  const auto next = std::min(h + 1, hourly.size() - 1);
  const double share = place - static_cast<double>(h);
  return hourly[h] * (1.0 - share) + hourly[next] * share;
}

std::pair<double, double> Warmth::range(Moment from, Moment to) const {
  double low = std::min(at(from), at(to)), high = std::max(at(from), at(to));
  for (Moment t = from - from % kHour + kHour; t < to; t += kHour) {
    low = std::min(low, at(t));
    high = std::max(high, at(t));
  }
  return {low, high};
}

double Warmth::steepest(Moment about, double hours) const {
  const auto span = static_cast<Moment>(std::max(1.0, std::round(hours))) * kHour;
  double most = 0.0;
  for (Moment t = about - 2 * kDay; t + span <= about + 2 * kDay; t += kHour)
    if (covers(t) && covers(t + span)) most = std::max(most, std::abs(at(t + span) - at(t)));
  return most;
}

double Expected::ration_at(double celsius) const {
  if (ration.empty()) return 1.0;
  const double place = std::clamp(celsius, 0.0, static_cast<double>(ration.size() - 1));
  const auto low = static_cast<std::size_t>(place), high = std::min(low + 1, ration.size() - 1);
  const double share = place - static_cast<double>(low);
  return ration[low] * (1.0 - share) + ration[high] * share;
}

const Warmth* Expected::warmth_of(const std::string& where) const {
  const std::string& place = where.empty() ? fish_tank : where;
  for (const Warmth& w : warmth)
    if (w.where == place && !w.hourly.empty()) return &w;
  return nullptr;
}

}  // namespace leat::learn
