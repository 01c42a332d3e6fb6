// Readings of sensors as a table, and back: nothing is locked in.
#pragma once

#include "base/csv.h"
#include "record/seal.h"

namespace leat::record {

/// A row a reading: what, where, sensor, unit, basis, at, value.
std::string csv_of(const Batch& batch);
bool is_sensor_table(const CsvTable& table);
/// A row a seal of a day of readings, and back.
std::string csv_of(const std::vector<Seal>& seals);
std::vector<Seal> seals_of(const CsvTable& table, std::string_view file, Problems& problems);
std::vector<Batch> batches_of(const CsvTable& table, std::string_view file, Problems& problems);

}  // namespace leat::record
