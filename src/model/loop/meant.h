// Words that growers use for what a description calls otherwise.
#pragma once

#include <string_view>

#include "base/words/keys.h"

namespace leat::model {

/// The kind that a heading may have meant, by another word in use or by its spelling; nullptr if none is near.
const words::Kind* meant_kind(std::string_view written);

/// The key that a word may have meant in a table of that kind; nullptr if none is near.
const words::Key* meant_key(const words::Kind& kind, std::string_view written);

}  // namespace leat::model
