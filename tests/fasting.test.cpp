// Fish in a loop that are fed little or nothing: they live on their flesh, and every book still closes.
#include <cstdio>

#include "science/fish/rationed_growth.h"
#include "tests/steady_days.h"

namespace leat {
namespace {

using namespace model;

constexpr int kDays = 28;
constexpr double kCount = 100.0, kGrams = 60.0;

/// A month around a well-aired, lidded cubic metre at 12 °C with a hundred trout.
struct Fed : tests::SteadyDays {
  static std::string text(const std::string& feed, const std::string& meals) {
    return "ground_temperature = \"12 degC\"\n[water]\ntemperature = \"12 degC\"\nalkalinity = \"400 mg/L as CaCO3\"\n"
           "chlorophyll = \"0 ug/L\"\n[tank.main]\nvolume = \"1000 L\"\ndepth = \"1 m\"\nlid = "
           "\"board\"\n[source.tap]\n"
           "to = \"tank.main\"\n[air.stones]\nto = \"tank.main\"\ndepth = \"0.7 m\"\nflow = \"120 L/min\"\n"
           "[fish.trout]\nin = \"tank.main\"\ncount = 100\nmass = \"60 g\"\nfeed = \"" +
           feed + "\"\n" + meals;
  }
  explicit Fed(const std::string& feed, const std::string& meals = "")
      : SteadyDays(text(feed, meals), kDays, {11.5, 12.5, Sky::overcast}) {}

  double biomass(double day) const { return held(day, layout().fish[0].biomass); }
  /// Percent a day over the last three weeks; what the gut held at first is gone by then.
  double gain() const { return 100.0 * std::log(biomass(kDays) / biomass(7)) / (kDays - 7); }
  double uptake() const {  // mg/kg/h over the last week
    return into(layout().outside.fish_oxygen, kDays - 7, kDays) * 31998.0 / (7 * 24 * biomass(kDays - 3.5));
  }
  double total_ammonia() const { return body(kDays).ammonia.si(); }
  /// What the relation says of the same fish on the same ration, evenly over the day.
  double by_relation(double percent) const {
    const auto& trout = *science::find_species("rainbow trout");
    const Mass<> start(biomass(7) / kCount);
    const Mass<> end =
        science::fish_mass_on_ration(trout, start, percent * science::percent_per_day,
                                     17.5 * science::kilojoule_per_gram, mean_temperature(7, kDays), 21.0 * units::day);
    return 100.0 * std::log(end.si() / start.si()) / 21.0;
  }
};

TEST(FastingFish, LoseMassAndBreatheAndExcreteLess) {
  const Fed unfed("0 g/d"), fed("60 g/d");
  std::printf("unfed at %.1f degC: %.3f %%/d (relation %.3f), %.0f mg/kg/h; on 1 %% a day: %.3f %%/d, %.0f mg/kg/h\n",
              unfed.mean_temperature(7, kDays).celsius(), unfed.gain(), unfed.by_relation(0.0), unfed.uptake(),
              fed.gain(), fed.uptake());
  EXPECT_NEAR(unfed.gain() / unfed.by_relation(0.0), 1.0, 0.02);
  EXPECT_LT(unfed.gain(), -0.15);  // 0.17 and 0.37 %/d were seen (Sumpter et al. 1991; Weatherley & Gill 1981)
  EXPECT_GT(unfed.gain(), -0.40);
  EXPECT_GT(fed.gain(), 0.5);
  // Fasted routine over fed: 0.40 to 0.64 at 12 to 15 °C (Wieser 1985; Kieffer et al. 1998).
  EXPECT_GT(unfed.uptake() / fed.uptake(), 0.40);
  EXPECT_LT(unfed.uptake() / fed.uptake(), 0.64);
  EXPECT_LT(unfed.total_ammonia(), fed.total_ammonia());
  EXPECT_GT(unfed.biomass(kDays), 0.9 * unfed.biomass(0));
}

/// What the relation says of the ration as a daily mean.
struct Short {
  double gain, relation;
  Short(double percent, const std::string& meals) {
    const Fed fed(std::to_string(percent * 60.0) + " g/d", "meals = [" + meals + "]\n");
    gain = fed.gain();
    relation = fed.by_relation(percent * kCount * kGrams * 1e-3 / fed.biomass(17.5));  // of what they weigh meanwhile
    std::printf("%.1f %% a day at %s: %.3f %%/d, relation %.3f\n", percent, meals.c_str(), gain, relation);
  }
};

TEST(FastingFish, OnAShortRationGrowByWhatTheyEat) {
  double before = -1.0;
  for (const double percent : {0.1, 0.2, 0.3, 0.6}) {
    const Short s(percent, "\"06:00\", \"10:00\", \"14:00\", \"18:00\"");
    EXPECT_GT(s.gain, before);
    EXPECT_NEAR(s.gain, s.relation, 0.01);
    before = s.gain;
  }
}

/// A known fault: a fish lives through the night after its one meal on what it ate, but is charged the long fast's
/// price for it, 24 kJ/g, so that it comes out up to a tenth of a percent a day too heavy. Never too light, never by
/// more.
TEST(FastingFish, OnOneShortMealADayComeOutALittleTooHeavy) {
  for (const double percent : {0.1, 0.3, 0.6}) {
    const Short s(percent, "\"08:00\"");
    EXPECT_GT(s.gain, s.relation - 0.001);
    EXPECT_LT(s.gain, s.relation + 0.10);
  }
}

}  // namespace
}  // namespace leat
