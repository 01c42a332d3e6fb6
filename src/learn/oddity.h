// Something in the record that does not fit, with its reason and what to do first.
#pragma once

#include <string>
#include <vector>

#include "learn/history.h"

namespace leat::learn {

/// How much it matters: danger to fish, a number that is likely wrong, something that drifts, the round itself.
enum class Weight { danger, wrong_number, drift, round };

struct Oddity {
  std::string kind{};  ///< "impossible_heat", a word of docs/guide/odd.md
  Weight weight = Weight::drift;
  std::string where{};                   ///< path, or empty
  Moment since = 0;                      ///< when what it is about began
  Moment seen = 0;                       ///< the entry, or the hour, at which it could first be told
  std::string what{};                    ///< what does not fit: a sentence
  std::string reason{};                  ///< why that is odd, with the numbers
  std::string action{};                  ///< what to do first
  std::vector<std::int64_t> rests_on{};  ///< entries
};

}  // namespace leat::learn
