#include "model/loop/loop.h"

#include <algorithm>

#include "model/loop/make.h"

namespace leat::model {

int Loop::vessel_index(std::string_view path) const {
  for (std::size_t i = 0; i < vessels.size(); ++i)
    if (vessels[i].path == path) return static_cast<int>(i);
  return -1;
}

Loop with_fish_to_come(Loop loop) {
  loop.fish.insert(loop.fish.end(), loop.fish_to_come.begin(), loop.fish_to_come.end());
  loop.fish_to_come.clear();
  return loop;
}

namespace {

/// Vessels whose level at rest follows from nothing that was said stand six tenths full.
void say_levels(Filling& fill, const Loop& loop) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const Vessel& vessel = loop.vessels[v];
    const bool has_rim = std::any_of(loop.overflows.begin(), loop.overflows.end(),
                                     [&](const Overflow& o) { return static_cast<std::size_t>(o.from) == v; });
    if (has_rim || vessel.level_at_rest || vessel.held_level) continue;
    const Component* c = fill.description().find(vessel.path);
    if (const Component* whole = fill.description().find("loop"); whole && Filling::has(*whole, "water")) continue;
    if (c)
      fill.assume(*c, "level", fmt::format("{:.2f} m", (vessel.floor + 0.6 * vessel.depth()).si()),
                  "six tenths full with the pumps off; it decides what a power cut spills");
  }
}

}  // namespace

Loop make_loop(const Description& description, Problems& problems) {
  Loop loop;
  if (!description.whole) return loop;  // what could not be read would be blamed for missing
  Filling fill(description, problems, loop.assumptions);
  if (const Component* c = description.find("loop"))
    if (const Said* name = c->find("name")) loop.name = name->text;
  make_site(fill, loop);
  make_vessels(fill, loop);
  if (loop.vessels.empty() && !description.has_unknown_parts)
    problems.add({description.file, 0, 0, "",
                  "describes no vessel; add at least one table such as [tank.main] with volume = \"1000 L\""});
  make_plumbing(fill, loop);
  say_levels(fill, loop);
  make_living(fill, loop);
  make_deeds(fill, loop);
  make_waters(fill, loop);
  make_limits(fill, loop);
  check_plumbing(fill, loop);
  check_living(fill, loop);
  return loop;
}

}  // namespace leat::model
