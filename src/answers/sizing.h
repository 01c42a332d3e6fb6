// The smallest standard size that makes a failed check pass: tried on the loop itself.
#pragma once

#include <functional>
#include <string>

#include "model/flow/cycle.h"
#include "science/hydraulics/standard_pipes.h"

namespace leat::answers {

/// A change to a copy of the loop, and whether the copy's settled water then passes.
using Resize = std::function<void(model::Loop&, Length<> bore)>;
using Passes = std::function<bool(const model::Plumbing&, const model::Cycle&)>;

/// Tries the sizes above `now` in turn: "40 mm pipe (34.0 mm inside)", or "no pipe up to 110 mm is enough".
std::string smallest_pipe(const model::Loop& loop, std::span<const science::PipeSize> sizes, Length<> now,
                          const Resize& resize, const Passes& passes);

}  // namespace leat::answers
