// What the weather's tests share.
#pragma once

#include <fstream>
#include <sstream>
#include <string>

#include "model/weather/weather.h"

namespace leat::model {

inline std::string example(const std::string& name) {
  std::ifstream file(std::string(LEAT_ROOT) + "/examples/weather/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

inline Place place_at(double latitude, double longitude, double altitude_m, std::string_view zone) {
  return {latitude, longitude, Length<>(altitude_m), std::get<Clock>(Clock::named(zone))};
}
inline Place seattle() {
  return place_at(47.45, -122.3, 130.0, "America/Los_Angeles");
}
inline Place london() {
  return place_at(51.5, 0.0, 20.0, "Europe/London");
}

inline bool says(const std::vector<std::string>& assumptions, std::string_view part) {
  for (const std::string& a : assumptions)
    if (a.find(part) != std::string::npos) return true;
  return false;
}

inline DailyRecord seattle_record() {
  Problems problems;
  return read_daily_record(example("seattle-daily-2012-2015.csv"), "seattle.csv", "", problems);
}

}  // namespace leat::model
