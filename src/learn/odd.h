// Looks for what does not fit, one subject a file. Each looks forward in time only: what it finds at an entry rests on
// that entry and on those before it, so a record that grows never changes what was told of it.
#pragma once

#include "learn/expected.h"
#include "learn/oddity.h"

namespace leat::learn {

std::vector<Oddity> odd_thermometer(const History& history, const Expected& expected);
std::vector<Oddity> odd_units(const History& history, const Expected& expected);
std::vector<Oddity> odd_books(const History& history, const Expected& expected);
std::vector<Oddity> odd_water(const History& history, const Expected& expected);
std::vector<Oddity> odd_fish(const History& history, const Expected& expected);
std::vector<Oddity> odd_kits(const History& history, const Expected& expected);
/// Rounds that were missed, up to now.
std::vector<Oddity> odd_rounds(const History& history, const Expected& expected, Moment now);

/// All of them, in the order in which they could be seen.
std::vector<Oddity> oddities(const History& history, const Expected& expected, Moment now);

/// The few to tell: the weightiest of those seen since a time, the latest first within a weight, one of a kind and
/// place.
std::vector<Oddity> to_tell(const std::vector<Oddity>& all, Moment since, std::size_t most);

}  // namespace leat::learn
