// The root of acidity in the lanes of packs, as wide as this file is compiled for.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdlib>

#include "numerics/pack.h"
#include "science/carbonate/random_waters.h"

namespace leat::science {
namespace {

struct Eight {
  std::array<Waters::Water, pack_width> waters;
  Pack guess;
  MixedConstants<Pack> k;
  AcidBaseTotals<Pack> totals;

  explicit Eight(Waters& source) {
    for (std::size_t lane = 0; lane < pack_width; ++lane) waters[lane] = source.next(lane % 2 == 0);
    guess = Pack::of_each([&](std::size_t) { return source.between(-2, 16); });
    const auto each = [&](auto&& of) { return Pack::of_each([&](std::size_t lane) { return of(waters[lane]); }); };
    for (auto& [into, from] : {std::pair{&MixedConstants<Pack>::carbonic1, &MixedConstants<>::carbonic1},
                               {&MixedConstants<Pack>::carbonic2, &MixedConstants<>::carbonic2},
                               {&MixedConstants<Pack>::water, &MixedConstants<>::water},
                               {&MixedConstants<Pack>::proton, &MixedConstants<>::proton},
                               {&MixedConstants<Pack>::ammonium, &MixedConstants<>::ammonium},
                               {&MixedConstants<Pack>::nitrous, &MixedConstants<>::nitrous},
                               {&MixedConstants<Pack>::phosphoric1, &MixedConstants<>::phosphoric1},
                               {&MixedConstants<Pack>::phosphoric2, &MixedConstants<>::phosphoric2},
                               {&MixedConstants<Pack>::phosphoric3, &MixedConstants<>::phosphoric3}})
      k.*into = each([&](const Waters::Water& w) { return w.k.*from; });
    const auto total = [&](auto of) {
      return Concentration<Pack>(each([&](const Waters::Water& w) { return (w.totals.*of).si(); }));
    };
    using T = AcidBaseTotals<>;
    totals = {total(&T::alkalinity), total(&T::inorganic_carbon), total(&T::ammonia), total(&T::nitrite),
              total(&T::phosphate)};
  }
};

/// LEAT_RANDOM_WATERS: how many (240,000). Each lane has the root that its water has alone, whatever the others do, and
/// waits for none of them for more than the sixty evaluations that all have.
TEST(Acidity, IsTheSameInEveryLane) {
  const char* asked = std::getenv("LEAT_RANDOM_WATERS");
  const int count = asked ? std::atoi(asked) : 240000;
  Waters source;
  double worst = 0.0;
  int most = 0;
  for (int i = 0; i < count; i += static_cast<int>(pack_width)) {
    const Eight eight(source);
    const Pack pH = acidity_closed(eight.k, eight.totals, eight.guess).si();
    const auto root = acid_base::increasing_root(
        [&](const Pack& x) {
          const auto [value, slope] =
              acid_base::alkalinity_and_slope(eight.k, eight.totals, acid_base::proton_activity(x));
          return acid_base::Charge<Pack>{value - eight.totals.alkalinity.si(), slope};
        },
        eight.guess, 1e-9, 1e-8);
    most = std::max(most, root.evaluations);
    ASSERT_TRUE(all_finite(pH));
    for (std::size_t lane = 0; lane < pack_width; ++lane) {
      const Waters::Water& w = eight.waters[lane];
      worst = std::max(worst, std::abs(pH[lane] - acidity_closed(w.k, w.totals, 7.0).si()));
    }
  }
  RecordProperty("most_evaluations", most);
  EXPECT_LE(most, 60);
  EXPECT_LT(worst, 1e-9);
}

}  // namespace
}  // namespace leat::science
