// The dose as JSON, with what was taken from the record for it.
#pragma once

#include <string>
#include <vector>

#include "answers/dose.h"
#include "learn/present.h"

namespace leat::tell {

/// `what`: base, acid, nitrite ...
std::string dose_json(const std::string& what, const answers::DoseAnswer& answer,
                      const std::vector<learn::Taken>& from_record);

}  // namespace leat::tell
