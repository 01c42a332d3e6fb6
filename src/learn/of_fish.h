// Whether a deed speaks of fish or of plants.
#pragma once

#include "learn/history.h"

namespace leat::learn {

/// "fish", "trout", "rainbow trout": a species of the table, its last word, or a plain word for fish.
bool is_fish_word(std::string_view subject);

/// Deaths of fish: the subject decides; where none is named, that it was in no bed. What no table knows counts as fish,
/// since a death that is not told is worse than one too many.
bool is_death_of_fish(const Deed& deed, const History& history);

/// Whether other fish came or some went between two times, so that their mean mass and appetite are of others.
bool others_came_or_went(const History& history, Moment from, Moment to);

/// Fish that were taken out to eat.
inline bool is_catch(const Deed& deed) {
  return deed.what == "harvested" && deed.count && is_fish_word(deed.subject);
}

}  // namespace leat::learn
