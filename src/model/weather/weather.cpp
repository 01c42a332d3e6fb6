#include "model/weather/weather.h"

#include <algorithm>
#include <cmath>

namespace leat::model {

std::string_view word_for(DaySource source) {
  switch (source) {
    case DaySource::hourly_file:
      return "hourly file";
    case DaySource::daily_record:
      return "daily record";
    case DaySource::forecast:
      return "forecast";
    case DaySource::generated:
      return "generated";
  }
  return "";
}

Velocity<> wind_of(WindWord word) {
  switch (word) {
    case WindWord::calm:
      return Velocity<>(1.0);
    case WindWord::light:
      return Velocity<>(2.5);
    case WindWord::windy:
      return Velocity<>(6.5);
  }
  return {};
}

double clearness_of(Sky sky) {
  switch (sky) {
    case Sky::clear:
      return 0.95;
    case Sky::mixed:
      return 0.65;
    case Sky::overcast:
      return 0.30;
  }
  return 0.0;
}

Air between(const Air& a, const Air& b, double share) {
  const auto mix = [share](auto x, auto y) { return x + share * (y - x); };
  return {mix(a.temperature, b.temperature),
          mix(a.vapour_pressure, b.vapour_pressure),
          mix(a.wind, b.wind),
          mix(a.sun, b.sun),
          mix(a.diffuse, b.diffuse),
          mix(a.cloud, b.cloud),
          mix(a.rain, b.rain)};
}

Air Weather::at(Instant t) const {
  const double hours = std::clamp((t.seconds - start.seconds) / 3600.0, 0.0, static_cast<double>(airs.size() - 1));
  const auto before = std::min(static_cast<std::size_t>(hours), airs.size() - 1);
  return between(airs[before], airs[std::min(before + 1, airs.size() - 1)], hours - static_cast<double>(before));
}

}  // namespace leat::model
