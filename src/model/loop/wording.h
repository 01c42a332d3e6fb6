// The pieces that messages about a description are built from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/words/keys.h"

namespace leat::model {

/// Text that fits into one line of a message: no control characters, and cut at `limit` letters.
std::string one_line(std::string_view text, std::size_t limit = 60);

/// The same between quotes, unless it holds quotes itself.
std::string quoted(std::string_view text);

/// "a length", "a flow"; empty for a dimension without a plain word.
std::string_view noun_of(Dimension dimension);

/// `a length is wanted, such as "1.0 m"`
std::string wanted(const words::Key& key);

/// `beyond what is plausible here, 0.02 to 10 m`, in the unit of the key's example.
std::string plausible_range(const words::Key& key);

/// "1.4 m", to the millimetre.
std::string metres(Length<> height);

/// "a, b or c"
std::string listed(const std::vector<std::string_view>& words, std::string_view last_join);

/// `; did you mean "elbow"?`, or the words there are when none is near.
std::string near_or_all(std::string_view word, const std::vector<std::string_view>& known);

}  // namespace leat::model
