#include "record/phrase.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include "base/units/parse.h"
#include "record/amounts.h"
#include "record/crops.h"
#include "record/when.h"

namespace leat::record {
namespace {

constexpr std::string_view kLoop = R"(
[place]
latitude = 50
[tank.nursery]
volume = "1000 L"
[tank.2]
volume = "1000 L"
[sump.main]
volume = "300 L"
[raft_bed.raft_1]
area = "2 m2"
[gravel_bed.east]
area = "1 m2"
[gravel_bed.west]
area = "1 m2"
[fish.trout]
in = "tank.nursery"
species = "rainbow trout"
count = 40
mass = "60 g"
)";

/// Wednesday 2026-11-25 at noon, by a clock one hour ahead of UTC.
Context context() {
  Problems problems;
  const auto clock = Clock::fixed(1.0, "+01:00");
  return context_of(model::read_description(kLoop, "loop.toml", problems), clock,
                    moment_of(clock, {2026, 11, 25}, 12.0));
}

std::string short_text(const Entry& e) {
  std::string text = e.kind == Kind::text ? "words" : e.what;
  if (!e.extreme.empty()) text += " " + e.extreme;
  if (e.count) text += " x" + shortest(*e.count);
  if (!e.subject.empty()) text += " {" + e.subject + "}";
  if (e.amount.low || e.amount.high) text += " [" + amount_text(e.amount) + "]";
  if (!e.where.empty()) text += " @" + e.where;
  if (!e.towards.empty()) text += " ->" + e.towards;
  if (!e.instrument.empty()) text += " by " + e.instrument;
  if (e.from != context().now || e.to != e.from) text += " | " + span_text(context().clock, {e.from, e.to});
  return text;
}

std::string read(std::string_view phrase) {
  std::string all;
  for (const Understood& u : read_phrase(phrase, context()))
    for (const Entry& e : u.entries)
      all += (all.empty() ? "" : "; ") + short_text(e) + (e.kind == Kind::text ? " \"" + e.said + "\"" : "");
  return all;
}

struct Case {
  std::string_view phrase, read;
};

class Phrases : public ::testing::TestWithParam<Case> {};
TEST_P(Phrases, AreUnderstood) {
  EXPECT_EQ(read(GetParam().phrase), GetParam().read) << GetParam().phrase;
}

constexpr Case kPlain[] = {
    {"fed 60 g", "fed [60 g] @tank.nursery"},
    {"Fed 60g.", "fed [60 g] @tank.nursery"},
    {"fed the trout 0.06 kg of small pellets", "fed {small pellets} [0.06 kg] @tank.nursery"},
    {"fed 60 g in tank 2", "fed [60 g] @tank.2"},
    {"fed nothing", "fed [0 g] @tank.nursery"},
    {"not fed", "fed [0 g] @tank.nursery"},
    {"min 9.1 max 11.4", "temperature min [9.1 degC] @tank.nursery; temperature max [11.4 degC] @tank.nursery"},
    {"min 9.1, max 11.4, now 10.2",
     "temperature min [9.1 degC] @tank.nursery; temperature max [11.4 degC] @tank.nursery; temperature [10.2 degC] "
     "@tank.nursery"},
    {"air min -1.5 max 12", "air_temperature min [-1.5 degC] @outside; air_temperature max [12 degC] @outside"},
    {"min 48 F max 52 F", "temperature min [48 degF] @tank.nursery; temperature max [52 degF] @tank.nursery"},
    {"nh3 between 0.25 and 0.5", "ammonia [0.25 to 0.5 mg/L] @tank.nursery"},
    {"nh3 0.25-0.5 mg/L as N", "ammonia [0.25 to 0.5 mg/L as N] @tank.nursery"},
    {"NH3/NH4 0.25 to 0.5 ppm as nh3 by drop kit", "ammonia [0.25 to 0.5 mg/L as NH3] @tank.nursery by drop kit"},
    {"no2 <0.25", "nitrite [below 0.25 mg/L] @tank.nursery"},
    {"no3-n above 40", "nitrate [above 40 mg/L as N] @tank.nursery"},
    {"kh 4 drops", "alkalinity [3 to 4 drops] @tank.nursery"},
    {"kh 4 degrees", "alkalinity [4 dKH] @tank.nursery"},
    {"KH 71 mg/L", "alkalinity [71 mg/L as CaCO3] @tank.nursery"},
    {"kh less than 1 dkh", "alkalinity [below 1 dKH] @tank.nursery"},
    {"do 85 %", "dissolved_oxygen [85 %] @tank.nursery"},
    {"ph 6.8", "pH [6.8] @tank.nursery"},
    {"pH: 6.8, do 9.0 kh 4 drops",
     "pH [6.8] @tank.nursery; dissolved_oxygen [9 mg/L] @tank.nursery; alkalinity [3 to 4 drops] @tank.nursery"},
    {"temp 9.5 in the sump", "temperature [9.5 degC] @sump.main"},
    {"tank 2: ph 6.8, min 9 max 11",
     "pH [6.8] @tank.2; temperature min [9 degC] @tank.2; temperature max [11 degC] @tank.2"},
    {"9.5 C", "temperature [9.5 degC] @tank.nursery"},
    {"sump level 12.5 cm", "level [12.5 cm] @sump.main"},
    {"flow 10 L in 18 s in tank 2", "flow [2000 L/h] @tank.2"},
    {"2 dead, about 70 g", "died x2 [about 70 g] @tank.nursery"},
    {"2 dead, 70 g each", "died x2 [70 g each] @tank.nursery"},
    {"two trout died in tank 2", "died x2 {trout} @tank.2"},
    {"none dead", "died x0 @tank.nursery"},
    {"lost 3 fish", "died x3 {fish} @tank.nursery"},
    {"found 2 dead", "died x2 @tank.nursery"},
    {"1 lettuce died in raft 1", "died x1 {lettuce} @raft_bed.raft_1"},
    {"planted 12 rocket in raft 1", "planted x12 {rocket} @raft_bed.raft_1"},
    {"substituted 1 chard in the east bed", "substituted x1 {chard} @gravel_bed.east"},
    {"moved fish to tank 2", "moved {fish} ->tank.2"},
    {"moved 20 trout from nursery to tank 2", "moved x20 {trout} @tank.nursery ->tank.2"},
    {"topped up 40 L", "topped_up [40 L]"},
    {"top-up 40 litres of rainwater in sump", "topped_up {rainwater} [40 L] @sump.main"},
    {"added 40 L", "topped_up [40 L]"},
    {"added 20 fish", "stocked x20 {fish} @tank.nursery"},
    {"added 30 g potassium bicarbonate", "dosed {potassium bicarbonate} [30 g]"},
    {"dosed 29 g of KHCO3", "dosed {khco3} [29 g]"},
    {"stocked 40 trout of 60 g each", "stocked x40 {trout} [60 g each] @tank.nursery"},
    {"weighed 12 fish 940 g together", "weighed x12 {fish} [940 g together] @tank.nursery"},
    {"harvested 1.2 kg chard from east", "harvested {chard} [1.2 kg] @gravel_bed.east"},
    {"picked 6 lettuce, 1.1 kg in all", "harvested x6 {lettuce} [1.1 kg together]"},
    {"harvested chard 118 142 96 g in east",
     "harvested x1 {chard} [118 g] @gravel_bed.east; harvested x1 {chard} [142 g] @gravel_bed.east; "
     "harvested x1 {chard} [96 g] @gravel_bed.east"},
    {"harvested 1 substitute chard 61 g in west", "harvested x1 {substitute chard} [61 g] @gravel_bed.west"},
    {"harvested chard 118 142 in east", "words \"harvested chard 118 142 in east\""},
    {"sold 1 kg chard", "sold {chard} [1 kg]"},
    {"harvested 3 bags of rocket 450 g", "harvested {rocket} [450 g]"},
    {"sold 3 bags of rocket, 150 g each", "sold {rocket} [450 g]"},
    {"picked a bunch of basil 40 g in raft 1", "harvested {basil} [40 g] @raft_bed.raft_1"},
    {"harvested 6 lettuce 1.1 kg", "harvested x6 {lettuce} [1.1 kg]"},
    {"cleaned the sump", "cleaned @sump.main"},
    {"rinsed the strainer", "cleaned {strainer}"},
    {"water change 200 L", "changed_water [200 L]"},
    {"replumbed: raft now after the gravel beds", "replumbed {raft now after the gravel beds}"},
    {"weather clear, light wind", "weather {clear, light wind} @outside"},
    {"rain 5 mm", "weather {rain} [5 mm] @outside"},
    {"fed 60 g, they were slow to come", "fed [60 g] @tank.nursery; words \"they were slow to come\""},
    {"fed 60 g and ph 6.8", "fed [60 g] @tank.nursery; pH [6.8] @tank.nursery"},
    {"fed 60 g; ph 6.8\nkh 4 drops",
     "fed [60 g] @tank.nursery; pH [6.8] @tank.nursery; alkalinity [3 to 4 drops] @tank.nursery"},
    {"pH=6.8", "pH [6.8] @tank.nursery"},
    {"dead: 2", "died x2 @tank.nursery"},
    {"no deaths", "died x0 @tank.nursery"},
    {"2 dead (floating)", "died x2 @tank.nursery; words \"(floating)\""},
    {"harvest 450 g chard, ( ph 6.8", "harvested {chard} [450 g]; words \"( ph 6.8\""},
    {"power off", "power {off}"},
    {"power back", "power {on}"},
    {"pump is back on at 11:00", "pump {on} | 2026-11-25 11:00"},
    {"pellets are low", "words \"pellets are low\""},
    {"gasping at the surface", "words \"gasping at the surface\""}};
INSTANTIATE_TEST_SUITE_P(Plain, Phrases, ::testing::ValuesIn(kPlain));

constexpr Case kTimes[] = {{"yesterday fed 50 g", "fed [50 g] @tank.nursery | 2026-11-24"},
                           {"fed 50 g yesterday", "fed [50 g] @tank.nursery | 2026-11-24"},
                           {"07:30 fed 50 g, ph 6.8",
                            "fed [50 g] @tank.nursery | 2026-11-25 07:30; pH [6.8] @tank.nursery | 2026-11-25 07:30"},
                           {"fed 50 g at 18:00", "fed [50 g] @tank.nursery | 2026-11-24 18:00"},
                           {"fed 50 g at 7 am", "fed [50 g] @tank.nursery | 2026-11-25 07:00"},
                           {"yesterday at 18:00 fed 50 g", "fed [50 g] @tank.nursery | 2026-11-24 18:00"},
                           {"this morning 2 dead", "died x2 @tank.nursery | 2026-11-25 05:00 to 12:00"},
                           {"last night 2 dead", "died x2 @tank.nursery | 2026-11-24 18:00 to 2026-11-25 06:00"},
                           {"monday fed 50 g", "fed [50 g] @tank.nursery | 2026-11-23"},
                           {"2026-11-20 fed 50 g", "fed [50 g] @tank.nursery | 2026-11-20"},
                           {"2026-11-20 07:15 fed 50 g", "fed [50 g] @tank.nursery | 2026-11-20 07:15"},
                           {"2 h ago ph 6.8", "pH [6.8] @tank.nursery | 2026-11-25 10:00"},
                           {"ph 6.8 half an hour ago", "pH [6.8] @tank.nursery | 2026-11-25 11:30"},
                           {"yesterday evening fed 50 g", "fed [50 g] @tank.nursery | 2026-11-24 18:00 to 23:00"}};
INSTANTIATE_TEST_SUITE_P(Times, Phrases, ::testing::ValuesIn(kTimes));

// What could be taken wrongly is kept as words, with what would complete it.
struct Doubt {
  std::string_view phrase, doubt, offer;
};
class Doubts : public ::testing::TestWithParam<Doubt> {};
TEST_P(Doubts, AreKeptAsWordsAndOfferedForCompletion) {
  const auto found = read_phrase(GetParam().phrase, context());
  ASSERT_EQ(found.size(), 1u) << read(GetParam().phrase);
  ASSERT_EQ(found[0].entries.size(), 1u);
  EXPECT_EQ(found[0].entries[0].kind, Kind::text) << short_text(found[0].entries[0]);
  EXPECT_EQ(found[0].entries[0].said, GetParam().phrase);
  EXPECT_NE(found[0].doubt.find(GetParam().doubt), std::string::npos) << found[0].doubt;
  EXPECT_EQ(found[0].offer, GetParam().offer);
}
constexpr Doubt kDoubts[] = {{"fed 60", "in what unit", "fed 60 g"},
                             {"fed", "how much", "fed 60 g"},
                             {"fed 60 g less", "\"less\" is not understood", "fed 60 g"},
                             {"fed 60 L", "L does not fit", "fed 60 g"},
                             {"did not feed 60 g", "\"not\" makes it unclear", ""},
                             {"tomorrow fed 60 g", "\"tomorrow\"", ""},
                             {"2026-11-30 fed 60 g", "lies ahead", ""},
                             {"kh 4", "degrees or mg/L", "kh 4 dKH"},
                             {"ph 6,8", "decimal or thousands: write 6.8", ""},
                             {"fed 1,200 g", "write 1.200 or 1200", ""},
                             {"substituted 4 basil with rocket in north", "another kind is two notes",
                              "4 basil died in raft_bed.raft_1; planted 4 rocket in raft_bed.raft_1"},
                             {"topped up 40", "in what unit", "topped 40 L"},
                             {"topped up 10 gal", "3.785", ""},
                             {"moved fish to tank 3", "is no part of the loop file", "moved fish to tank.2"},
                             {"moved fish", "moved to where", "moved fish to tank.nursery"},
                             {"planted 12 rocket in raft 2", "is no part", "planted 12 rocket in raft_bed.raft_1"},
                             {"cleaned bed", "which is meant", "cleaned in raft_bed.raft_1"},
                             {"temp 68", "beyond anything likely", "temp 68 degF"},
                             {"min 11.4 max 9.1", "the min is above the max", "min 9.1 max 11.4"},
                             {"nh3 between 0.5 and 0.25", "0.5 is above 0.25", ""},
                             {"ph 60", "beyond anything likely", ""},
                             {"fedd 60 g", "\"fedd\" is not understood", "fed 60 g"},
                             {"level 12 cm", "of which vessel", "level 12 cm in gravel_bed.west"},
                             {"60 g", "what the number is", "fed 60 g"},
                             {"3 fish jumped out", "what the number is", ""},
                             {"fed 2 scoops", "in what unit", ""},
                             {"fed 60 g on 24/11", "is no part of the loop file", ""},
                             {"sold 2 kg of chard for 8 dollars", "\"for\" is not understood", "sold 2 kg of chard"},
                             {"3 bags of rocket 450 g", "harvested or sold", "harvested 3 bags of rocket 450 g"},
                             {"450 g roket", "harvested or sold", "harvested 450 g roket"},
                             {"12 lettuce 2.1 kg", "harvested or sold", "harvested 12 lettuce 2.1 kg"},
                             {"450 g pellets", "what the number is", ""},
                             {"3 bags of rocket", "what the number is", ""},
                             {"sold 3 bags of rocket", "how much do they weigh", ""},
                             {"wather clear", "\"wather\" is not understood", "weather clear"}};
INSTANTIATE_TEST_SUITE_P(Unclear, Doubts, ::testing::ValuesIn(kDoubts));

TEST(Phrase, AnOfferIsUnderstood) {
  for (const Doubt& d : kDoubts) {
    if (d.offer.empty()) continue;
    for (const Understood& u : read_phrase(d.offer, context())) EXPECT_EQ(u.doubt, "") << d.offer;
  }
}

TEST(Crops, TheGrowersOwnGoBeforeTheTables) {
  EXPECT_EQ(likely_crop("roket", {}), "rocket");
  EXPECT_EQ(likely_crop("roket", {"roket"}), "") << "so it was called before";
  EXPECT_EQ(likely_crop("rockit", {"rockil"}), "rockil") << "the nearest of the grower's own";
  EXPECT_EQ(likely_crop("arugula", {"rocket"}), "rocket") << "one crop by two names";
  EXPECT_EQ(likely_crop("arugula", {}), "");
  EXPECT_EQ(likely_crop("lettuces", {}), "");
  EXPECT_EQ(likely_crop("lettuces", {"lettuce"}), "lettuce") << "else it would be counted apart";
  EXPECT_EQ(likely_crop("kale", {"kalo"}), "") << "a word of its own";
  EXPECT_EQ(likely_crop("purple sprouting", {"rocket"}), "");
}

TEST(Phrase, NoNumberOverflows) {
  const std::string huge(308, '9');
  for (const std::string& phrase :
       {"flow " + huge + " L in 0.001 s", "ph " + huge, "no2 below " + huge, "flow 1 L in " + huge + " s"})
    for (const Understood& u : read_phrase(phrase, context()))
      for (const Entry& e : u.entries) EXPECT_LT(e.amount.high.value_or(0.0), 1e10) << phrase;
}

TEST(Phrase, NothingSaidIsNothing) {
  EXPECT_TRUE(read_phrase("", context()).empty());
  EXPECT_TRUE(read_phrase(" ; , \n", context()).empty());
}

TEST(Phrase, MinAndMaxCarryTheirWindow) {
  Context c = context();
  const Moment day_before = c.now - 86'400'000;
  c.resets = {{"temperature", "tank.nursery", day_before - 1000},
              {"temperature", "tank.nursery", day_before},
              {"temperature", "tank.2", c.now - 1000},
              {"air_temperature", "tank.nursery", c.now - 1000}};
  const auto found = read_phrase("min 9.1 max 11.4 now 10", c);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].entries[0].since, day_before);
  EXPECT_EQ(found[0].entries[1].since, day_before);
  EXPECT_EQ(found[0].entries[2].since, std::nullopt);
  const auto said = read_phrase("min 9.1 max 11.4 since yesterday 18:00", c);
  EXPECT_EQ(said[0].entries[0].since, moment_of(c.clock, {2026, 11, 24}, 18.0));
  const auto before = read_phrase("yesterday 06:00 min 9.1 max 11.4", c);
  EXPECT_EQ(before[0].entries[0].since, std::nullopt) << "the reset came after the reading";
  const auto unknown = read_phrase("min 9.1 max 11.4 since unknown, min 9 max 10", c);
  ASSERT_EQ(unknown.size(), 2u);
  EXPECT_EQ(unknown[0].doubt, "");
  ASSERT_EQ(unknown[0].entries.size(), 2u);
  for (const Entry& e : unknown[0].entries)
    EXPECT_EQ(e.since, std::nullopt) << "the one noted before is not taken for it";
  EXPECT_EQ(unknown[1].entries[0].since, day_before) << "it holds for its own clause";
  EXPECT_EQ(read_phrase("power off since unknown", c)[0].entries[0].kind, Kind::deed);
}

TEST(Phrase, ATimeBesideItHoldsUnlessThePhraseSays) {
  Context c = context();
  c.from = c.to = c.now - 3'600'000;
  EXPECT_EQ(read_phrase("fed 60 g", c)[0].entries[0].from, c.from);
  EXPECT_EQ(read_phrase("fed 60 g at 08:00", c)[0].entries[0].from, moment_of(c.clock, {2026, 11, 25}, 8.0));
  EXPECT_EQ(read_phrase("fed 60 g", c)[0].entries[0].noted, c.now);
}

TEST(When, AFlagTakesTheSameTimes) {
  const Context c = context();
  EXPECT_EQ(std::get<Span>(read_when("2026-11-24 18:00", c.clock, c.now)).from,
            moment_of(c.clock, {2026, 11, 24}, 18.0));
  EXPECT_EQ(std::get<Span>(read_when("2026-11-24T18:00", c.clock, c.now)).from,
            moment_of(c.clock, {2026, 11, 24}, 18.0));
  EXPECT_TRUE(std::holds_alternative<Trouble>(read_when("when I was young", c.clock, c.now)));
  EXPECT_TRUE(std::holds_alternative<Trouble>(read_when("2026-02-30", c.clock, c.now)));
}

}  // namespace
}  // namespace leat::record
