// The weather as the record has it: air min/max of each day, and days in words.
#pragma once

#include "learn/history.h"
#include "model/weather/weather.h"

namespace leat::learn {

/// Days of which the record knows both ends of the air, in the order of their dates. A min/max that was read before
/// noon has its max from the day before. "weather min 4 max 12 clear light wind" is the day it was noted for.
std::vector<model::WeatherDay> recorded_weather(const History& history, const Clock& clock);

}  // namespace leat::learn
