// What only the whole shows to be wrong with fish and plants.
#include "model/loop/make.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using namespace units;

/// No fish eats half of what it weighs in a day: the unit or the count is wrong.
void check_feed(Filling& fill, const Loop& loop) {
  for (const FishGroup& fish : loop.fish) {
    const Component* c = fill.description().find(fish.path);
    const double body = fish.count * fish.mass.si(), daily = fish.feed ? fish.feed->si() * day.si() : 0.0;
    if (c && body > 0.0 && daily > 0.5 * body && Filling::sound(*c, {"count", "mass"}))
      fill.complain(*c, "feed",
                    fmt::format("{} is {:.2g} times what the fish weigh, each day; correct its unit, or their count",
                                quoted(Filling::written(*c, "feed")), daily / body));
  }
}

/// All that is said to grow in a bed must find room there.
void check_room(Filling& fill, const Loop& loop) {
  std::vector<double> taken(loop.vessels.size(), 0.0);
  for (const Planting& p : loop.plantings) {
    const Component* c = fill.description().find(p.path);
    if (!c || p.vessel < 0 || !Filling::has(*c, "area")) continue;
    const Vessel& bed = loop.vessels[static_cast<std::size_t>(p.vessel)];
    double& sum = taken[static_cast<std::size_t>(p.vessel)];
    const double before = sum;
    sum += p.area.si();
    if (before > 0.0 && sum > 1.05 * bed.area.si() && sum - before <= 1.01 * bed.area.si())
      fill.complain(
          *c, "area",
          fmt::format("{} does not fit on {} any more, which has {:.3g} m2: other plants take {:.3g} m2 of it",
                      quoted(Filling::written(*c, "area")), bed.path, bed.area.si(), before));
  }
}

}  // namespace

void check_living(Filling& fill, const Loop& loop) {
  check_feed(fill, loop);
  check_room(fill, loop);
}

}  // namespace leat::model
