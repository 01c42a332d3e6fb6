#include "learn/of_fish.h"

#include <algorithm>
#include <array>

#include "science/crops/crop.h"
#include "science/fish/species.h"

namespace leat::learn {
namespace {

bool is_plant(std::string_view subject, const History& history) {
  for (const std::string_view word : {"plant", "plants", "seedling", "seedlings"})
    if (subject.ends_with(word)) return true;
  if (science::find_crop(subject)) return true;
  return std::any_of(history.deeds.begin(), history.deeds.end(), [&](const Deed& d) {
    return (d.what == "planted" || d.what == "substituted") && d.subject == subject;
  });
}

}  // namespace

bool is_fish_word(std::string_view subject) {
  static constexpr std::array plain = {"fish", "fishes", "fry", "fingerlings", "yearlings"};
  if (std::find(plain.begin(), plain.end(), subject) != plain.end() || science::find_species(subject)) return true;
  const auto names = science::species_names();
  return !subject.empty() && std::any_of(names.begin(), names.end(), [&](std::string_view name) {
    return name.size() > subject.size() && name.ends_with(subject) && name[name.size() - subject.size() - 1] == ' ';
  });
}

bool others_came_or_went(const History& history, Moment from, Moment to) {
  const auto between = history.deeds_between(from, to);
  return std::any_of(between.begin(), between.end(),
                     [](const Deed& d) { return d.what == "stocked" || d.what == "moved" || is_catch(d); });
}

bool is_death_of_fish(const Deed& d, const History& history) {
  if (d.what != "died" || d.where.starts_with("raft_bed.") || d.where.starts_with("gravel_bed.")) return false;
  return d.subject.empty() || d.where.starts_with("tank.") || is_fish_word(d.subject) || !is_plant(d.subject, history);
}

}  // namespace leat::learn
