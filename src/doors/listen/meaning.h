// What a topic or a name of a sensor is read as, and its unit as the record writes it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "doors/listen/senml.h"
#include "record/places.h"
#include "record/sensor_table.h"

namespace leat::doors {

/// A unit of the record, and how a number in the sensor's unit becomes one in it.
struct SensorUnit {
  std::string unit;
  double scale = 1.0, offset = 0.0;
  double of(double value) const { return value * scale + offset; }
};

/// The unit of a SenML record (registry of RFC 8428 and RFC 8798), or one that the record knows as it is; nothing for
/// another.
std::optional<SensorUnit> sensor_unit(std::string_view text);
/// Why a kind of reading cannot be in a unit of the record, in one clause; nothing when it can.
std::optional<std::string> fault_of_unit(std::string_view what, const std::string& unit);
/// Every kind of reading that a sensor may send.
std::vector<std::string_view> sensor_kinds();

/// What the names of sensors mean where they do not say it themselves: "urn:dev:ow:1=temperature tank.nursery".
struct NameMeaning {
  std::string name, what, where;
};
std::vector<NameMeaning> read_name_meanings(std::string_view text, const record::Context& context, Problems& problems);

/// The records of a pack, a batch for each sensor. A name says itself what it means when it ends with a part of the
/// loop and a word, such as tank.nursery.temperature or yard/tank/nursery/temperature.
std::vector<record::Batch> batches_of(const Senml& pack, const std::vector<NameMeaning>& meanings,
                                      const record::Context& context, std::string_view file, Problems& problems);

}  // namespace leat::doors
