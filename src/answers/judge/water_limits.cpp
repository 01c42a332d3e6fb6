#include "answers/judge/water_limits.h"

namespace leat::answers {

std::vector<Limit> limits_of(const model::Limits& l) {
  const auto none = std::function<double(const VesselDay&)>{};
  return {
      {"temperature_stays_below_limit", "temperature", l.temperature_high.kelvin(), false, 1.0,
       [](const VesselDay& d) { return d.temperature_high.value; },
       [](const VesselDay& d) { return d.temperature_high.hour; }, "shade, a lid, night water; feed less on warm days",
       "limits.temperature_high"},
      {"temperature_stays_above_limit", "temperature", l.temperature_low.kelvin(), true, 1.0,
       [](const VesselDay& d) { return d.temperature_low.value; },
       [](const VesselDay& d) { return d.temperature_low.hour; },
       "a lid at night and cladding; expect them to eat little", "limits.temperature_low"},
      {"oxygen_stays_above_need", "dissolved_oxygen", l.oxygen_low.si(), true, 0.5 / 31.998,
       [](const VesselDay& d) { return d.oxygen_low.value; }, [](const VesselDay& d) { return d.oxygen_low.hour; },
       "an air stone at once, no late feed; look before that hour", "limits.dissolved_oxygen_low"},
      {"unionised_ammonia_stays_below_limit", "unionised_ammonia", l.unionised_ammonia_high.si(), false,
       0.3 * l.unionised_ammonia_high.si(), [](const VesselDay& d) { return d.unionised_ammonia_high.value; },
       [](const VesselDay& d) { return d.unionised_ammonia_high.hour; }, "feed less, change some water, raise no pH",
       "limits.unionised_ammonia_high"},
      {"nitrite_stays_below_limit", "nitrite", l.nitrite_high.si(), false, 0.3 * l.nitrite_high.si(),
       [](const VesselDay& d) { return d.nitrite; }, none,
       "feed less; chloride protects the fish but burdens the plants", "limits.nitrite_high"},
      {"nitrate_stays_below_limit", "nitrate", l.nitrate_high.si(), false, 0.2 * l.nitrate_high.si(),
       [](const VesselDay& d) { return d.nitrate; }, none, "more plants, or change some water", "limits.nitrate_high"},
      {"alkalinity_stays_above_need", "alkalinity", l.alkalinity_low.si(), true, 0.3,
       [](const VesselDay& d) { return d.alkalinity; }, none,
       "a standing dose of base to match the feed, potassium and calcium in turn; goggles and gloves",
       "limits.alkalinity_low"},
      {"pH_stays_above_limit", "pH", l.pH_low, true, 0.2, [](const VesselDay& d) { return d.pH_low; }, none,
       "base in small steps, at most 0.3 a day; goggles and gloves, premix it in a bucket", "limits.pH_low"},
      {"gas_pressure_stays_below_limit", "gas_pressure", l.gas_pressure_high, false, 0.03,
       [](const VesselDay& d) { return d.gas_pressure_high.value; },
       [](const VesselDay& d) { return d.gas_pressure_high.hour; },
       "let the water fall or splash before the fish; look for air drawn in at a pump; shade green water",
       "limits.gas_pressure_high"},
      {"pH_stays_below_limit", "pH", l.pH_high, false, 0.2, [](const VesselDay& d) { return d.pH_high; }, none,
       "shade the water; look for limestone", "limits.pH_high"},
  };
}

}  // namespace leat::answers
