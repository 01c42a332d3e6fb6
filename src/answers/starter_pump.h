// The pump that brings to the tank what a bucket and a watch found there.
#pragma once

#include <functional>
#include <string>

#include "model/loop/loop.h"

namespace leat::answers {

struct PumpFound {
  std::string largest;  ///< its flow without any head, "3200 L/h"
  std::string problem;  ///< why there is none, or ""
};

/// `loop_with` gives the loop for a largest flow as it would be written.
PumpFound pump_that_brings(const std::string& flow, const std::function<model::Loop(const std::string&)>& loop_with);

}  // namespace leat::answers
