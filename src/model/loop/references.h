// Whether what a description points to is there.
#pragma once

#include "model/loop/description.h"

namespace leat::model {

/// Complains about each reference to a part that is not described, or is of another kind.
void check_references(Description& description, Problems& problems);

/// The parts that a file describes, whatever they point to.
Description read_parts(std::string_view toml_text, std::string_view file, Problems& problems);

}  // namespace leat::model
