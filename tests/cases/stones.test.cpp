// The bed of case 3 with stones that hold its water back, against the closed form of Darcy's law.
#include <algorithm>
#include <cmath>

#include "model/flow/water_run.h"
#include "tests/loop_file.h"

namespace leat::model {
namespace {

using numerics::Then;

/// At its break the siphon sees 40 mm over the floor and carries 2462.5 L/h; the mean depth d then solves
/// (d - 40 mm) 2 K d = Q.
TEST(Case3Stones, WaterStaysBehindWhenTheFarEndLags) {
  for (const double conductivity : {0.01, 0.09, 0.5, 10.0}) {
    Loop loop = tests::read_loop("tests/cases/case-3-open.toml");
    loop.vessels[0].hydraulic_conductivity = Velocity<>(conductivity);
    loop.sources[0].float_flow = Flow<>(900.0 / 3.6e6);
    const Plumbing plumbing(loop);
    double lowest = 1e9;
    const WaterRun run = run_water(plumbing, water_at_rest(loop), {Duration<>(3600.0)}, [&](const WaterStep& s) {
      if (!s.setting->primed[0]) return Then::go_on;
      lowest = std::min(lowest, s.levels(s.to)[0].si());
      return Then::go_on;
    });
    ASSERT_TRUE(run.finished);
    ASSERT_GE(std::count_if(run.events.begin(), run.events.end(),
                            [](const WaterEvent& e) { return e.what == WaterChange::siphon_breaks; }),
              2);
    const double q = 2462.5 / 3.6e6, depth = 0.02 + std::sqrt(0.0004 + q / (2.0 * conductivity));
    EXPECT_NEAR(lowest, 0.90 + depth, 0.001) << conductivity;
  }
}

/// A lower level at its inlet carries less: every flow on the way down solves Q = F(level - Q / (2 K d)).
TEST(Case3Stones, TheSiphonCarriesWhatItsOwnLevelDrives) {
  Loop loop = tests::read_loop("tests/cases/case-3-open.toml");
  loop.vessels[0].hydraulic_conductivity = Velocity<>(0.03);
  const Plumbing plumbing(loop);
  Setting setting = water_at_rest(loop).setting;
  setting.primed[0] = true;
  for (double up = 0.99; up < 1.16; up += 0.01) {
    const std::vector<Length<>> levels{Length<>(up), Length<>(0.1)};
    const Flow<> q = plumbing.flows(levels, setting).siphons[0];
    const double before = up - q.si() / (2.0 * 0.03 * (up - 0.90));
    EXPECT_NEAR(plumbing.level_before(0, levels[0], levels[1]).si(), before, 1e-9);
    EXPECT_NEAR(q.si(), plumbing.full_flow(0, Length<>(before), levels[1]).si(), 1e-12);
  }
}

}  // namespace
}  // namespace leat::model
