// leat record --sensors, and --points: what sensors sent.
#pragma once

#include "doors/command/record_file.h"
#include "doors/command/verbs.h"

namespace leat::doors {

int list_sensors(const RecordFlags& flags, const record::Store& store, const Clock& clock,
                 const record::Filter& filter);

}  // namespace leat::doors
