// The parts of the loop by the names that people use for them: "raft 1", "the nursery", "tank.nursery".
#pragma once

#include "base/time/civil.h"
#include "model/loop/description.h"
#include "record/entry.h"
#include "record/tokens.h"

namespace leat::record {

/// A min/max thermometer that was read, and so reset.
struct Reset {
  std::string what, where;
  Moment at = 0;
};

/// A reset longer ago is more likely one that was not noted: 3 days.
inline constexpr Moment kLongestWindow = 3 * 86'400'000;

struct Spot {
  std::string path, kind, name;
};

/// What the reader of phrases knows of the loop and of now.
struct Context {
  Clock clock = Clock::fixed(0.0, "UTC");
  Moment now = 0;
  std::vector<Spot> spots;             ///< every named part
  std::vector<std::string> fish_in;    ///< paths of vessels with fish
  std::vector<std::string> fish;       ///< words for the fish: names of groups and species
  std::vector<std::string> crops{};    ///< of the plantings, and those that the record knows
  std::vector<Reset> resets{};         ///< those that the record knows
  std::optional<Moment> from{}, to{};  ///< when it was so, unless the phrase says; both or none
};

/// From a description, even one with mistakes in it: a note must not wait for them.
Context context_of(const model::Description& description, Clock clock, Moment now);

struct FoundPlace {
  std::string path;                ///< empty when it is not plain which
  std::vector<std::string> meant;  ///< what it may have meant
};

/// Takes the longest name of a part off the front, with "the" and "my" before it. Nothing when no name stands there.
std::optional<FoundPlace> take_place(const Context& context, const Tokens& tokens, std::size_t& at, std::size_t end);

/// The part that a word nearly names, as it would be written in a phrase; or all that could stand there.
std::vector<std::string> near_places(const Context& context, const std::string& words);

/// Where something in the water was measured when no place was said: the only tank with fish, or nothing.
std::string usual_place(const Context& context);

}  // namespace leat::record
