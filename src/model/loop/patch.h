// The pieces of a patch on a description.
#pragma once

#include "model/loop/description.h"

namespace leat::model {

/// Adds a copy of a vessel under the path `as`, with its own pipes, outlets and air; not its pumps, fish, plants and
/// source. What is wrong with the two names, or "".
std::string copy_vessel(Description& out, const std::string& vessel, const std::string& as, const std::string& file,
                        const Said& where);

}  // namespace leat::model
