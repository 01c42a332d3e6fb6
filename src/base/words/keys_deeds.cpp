// Words for what is done on a day within a run.
#include "base/words/key_rows.h"

namespace leat::words {

std::vector<Kind> deed_kinds() {
  std::vector<Kind> k;
  k.push_back({"fish_move",
               false,
               false,
               "fish that are moved, graded by size, or taken out, on a day of a run",
               {reference("fish", "fish fish_move", "\"fish.trout\"", "which group; or what an earlier move made"),
                reference("to", "tank fish fish_move", "\"tank.grow_out\"",
                          "the tank in which they become a group of their own, or the group that they join; without it "
                          "they leave the loop"),
                moment("on", "\"2026-04-12 07:00\"", "the day, by the place's clock, and the time of day"),
                count("count", 1e6, "20", "how many; without it all that are meant"),
                word("take", "any largest smallest", "\"largest\"", "which of them, when a count is given"),
                quantity("larger_than", dim::mass, 1e-4, 20.0, "\"120 g\"", "only fish above this mass"),
                quantity("smaller_than", dim::mass, 1e-4, 20.0, "\"200 g\"", "only fish below this mass"),
                quantity("tempering", dim::time, 0.0, 3.0 * 86400.0, "\"1 h\"",
                         "time over which they are brought to the new water")}});
  k.push_back({"algae_death",
               false,
               false,
               "algae that die all at once, on a day of a run",
               {moment("on", "\"2026-07-20 06:00\"", "the day, by the place's clock, and the time of day"),
                share("share", "\"90 %\"", "how much of them dies"),
                reference("in", kVessels, "\"tank.nursery\"", "the vessel; without it in all of them")}});
  k.push_back({"cut",
               false,
               false,
               "plants that are cut, on a day of a run",
               {reference("planting", "planting", "\"planting.greens\"", "which plants"),
                moment("on", "\"2026-06-01 09:00\"", "the day, by the place's clock, and the time of day"),
                share("share", "\"60 %\"",
                      "how much of what stands is taken, and the rest grows on; without it all of it, and seedlings "
                      "stand in its place",
                      0.01, 1.0)}});
  return k;
}

}  // namespace leat::words
