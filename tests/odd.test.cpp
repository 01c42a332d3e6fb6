// What does not fit, on records made from the model: faithful ones must be let go, planted faults found in time.
#include "answers/odd.h"

#include <cstdio>

#include "record/scratch.h"
#include "tests/faithful.h"

namespace leat {
namespace {

using learn::Oddity;
using tests::Faithful;

constexpr int kDays = 92;

answers::OddAnswer looked_at(const Faithful& record) {
  answers::OddRequest request;
  request.now = record.at(record.days - 1, 23.0);
  return answers::odd(record.described, record.entries(), request);
}

std::string told(const std::vector<Oddity>& all, const Faithful& record) {
  std::string text;
  for (const Oddity& o : all)
    text += fmt::format("  day {:.1f} {} {}: {} because {}\n",
                        static_cast<double>(o.seen - record.at(0, 0.0)) / static_cast<double>(learn::kDay), o.kind,
                        o.where, o.what, o.reason);
  return text;
}

/// The first of a kind that was seen from a day on, in days after it; nothing if it never was.
std::optional<double> seen_after(const answers::OddAnswer& answer, const Faithful& record, const std::string& kind,
                                 int day) {
  for (const Oddity& o : answer.all)
    if (o.kind == kind && o.seen >= record.at(day, 0.0))
      return static_cast<double>(o.seen - record.at(day, 0.0)) / static_cast<double>(learn::kDay);
  return std::nullopt;
}

bool starts(const std::string& text, const char* with) {
  return text.rfind(with, 0) == 0;
}

constexpr int kDay0 = 50;

/// A faithful record with one fault put in from a day on, and how soon it must be told: docs/guide/odd.md has this
/// table.
struct Planted {
  const char* name;
  const char* kind;
  double within;  ///< days
  std::function<void(Faithful&)> plant;
  int from = kDay0;
  std::function<std::string()> loop = [] { return Faithful::first_loop(); };
};

double number_in(const std::string& phrase, const std::string& after) {
  return std::stod(phrase.substr(phrase.find(after) + after.size()));
}

std::vector<Planted> planted() {
  return {
      {"out_of_water", "impossible_heat", 1.0,
       [](Faithful& r) { r.note(r.at(kDay0, 8.2), fmt::format("temp {:.1f}", r.warm(r.at(kDay0, 8.2)) + 3.4)); }},
      {"typed_wrong", "impossible_heat", 1.0,
       [](Faithful& r) { r.note(r.at(kDay0, 12.0), fmt::format("temp {:.1f}", r.warm(r.at(kDay0, 12.0)) + 10.0)); }},
      {"min_above_now", "out_of_order", 1.0,
       [](Faithful& r) {
         r.note(r.at(kDay0, 12.0), "temp 9.0");
         r.note(r.at(kDay0, 12.0), "min 9.9");
       }},
      {"fahrenheit", "fahrenheit", 1.0,
       [](Faithful& r) {  // a note refuses more than 45 degC, so this slip can only be made in cold water
         const auto when = r.at(45, 7.6);
         ASSERT_LT(r.warm(when), 7.0);
         r.note(when, fmt::format("temp {:.0f} C", 32.0 + 1.8 * r.warm(when)));
       },
       45},
      {"stuck_thermometer", "stuck_thermometer", 4.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) { return starts(n.phrase, "min") ? "temp 8.3" : n.phrase; });
       }},
      {"nitrate_basis", "unit_slip", 7.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) {
           return starts(n.phrase, "no3") ? n.phrase.substr(0, n.phrase.find(" as")) + " as N" : n.phrase;
         });
       }},
      {"nitrite_basis", "unit_slip", 7.0,
       [](Faithful& r) {
         r.change(0, [&](const tests::Noted& n) {
           return starts(n.phrase, "no2") ? (n.at < r.at(kDay0, 0.0) ? "no2 0.5 as NO2" : "no2 0.5 as N") : n.phrase;
         });
       }},
      {"hardness_unit", "unit_slip", 7.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) {
           return starts(n.phrase, "kh") ? fmt::format("kh {:g} mg/L", number_in(n.phrase, "kh ")) : n.phrase;
         });
       }},
      {"feed_in_kg", "feed_unit", 1.0, [](Faithful& r) { r.note(r.at(kDay0, 12.0), "fed 30 kg"); }},
      {"feed_as_kg", "feed_unit", 1.0, [](Faithful& r) { r.note(r.at(kDay0, 12.0), "fed 0.03 g"); }},
      {"each_or_together", "each_or_together", 1.0,
       [](Faithful& r) { r.note(r.at(kDay0, 12.0), "weighed 12 fish 1100 g each"); }},
      {"leak", "top_up", 5.0,
       [](Faithful& r) {
         for (int d = kDay0; d < kDays; ++d) r.note(r.at(d, 17.8), "topped up 25 L");
       }},
      {"gallons", "top_up", 5.0,
       [](Faithful& r) {
         for (int d = kDay0; d < kDays; d += 2) r.note(r.at(d, 17.8), "topped up 60 L");
       }},
      {"flow_by_a_fifth", "flow_drifts", 14.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) {
           return starts(n.phrase, "flow")
                      ? fmt::format("flow 10 L in {:.1f} s at sump", 1.27 * number_in(n.phrase, "in "))
                      : n.phrase;
         });
       }},
      {"flow_drifts", "flow_drifts", 42.0,
       [](Faithful& r) {
         const auto from = r.at(kDay0, 0.0);
         r.change(kDay0, [from](const tests::Noted& n) {
           const double weeks = static_cast<double>(n.at - from) / 7.0 / static_cast<double>(learn::kDay);
           return starts(n.phrase, "flow") ? fmt::format("flow 10 L in {:.1f} s at sump",
                                                         std::exp(0.04 * weeks) * number_in(n.phrase, "in "))
                                           : n.phrase;
         });
       }},
      {"marks_spread", "marks_spread", 7.0,
       [](Faithful& r) {
         r.change(kDay0, [&](const tests::Noted& n) {
           const bool low = starts(n.phrase, "sump level") && number_in(n.phrase, "level ") < 37.25;
           return low ? fmt::format("sump level {:.1f} cm", number_in(n.phrase, "level ") - 4.0) : n.phrase;
         });
       }},
      {"bed_skipped", "bed_stands_still", 5.0,
       [](Faithful& r) {
         for (int d = kDay0 - 12; d < kDays; ++d)
           r.note(r.at(d, 12.0), fmt::format("east level {:.0f} cm", d >= kDay0 ? 22.0 : 5.0 + 3.0 * (d * 7 % 8)));
       }},
      {"deaths", "deaths", 3.0,
       [](Faithful& r) {
         for (int d = kDay0; d < kDay0 + 3; ++d) r.note(r.at(d, 7.2), "1 dead");
       }},
      {"many_dead", "deaths", 1.0, [](Faithful& r) { r.note(r.at(kDay0, 7.2), "5 dead"); }},
      {"more_dead_than_there_were", "count", 1.0, [](Faithful& r) { r.note(r.at(kDay0, 7.2), "70 dead"); }},
      {"appetite", "appetite", 2.0,
       [](Faithful& r) {
         r.change(kDay0 + 20, [](const tests::Noted& n) { return starts(n.phrase, "fed") ? "fed 4 g" : n.phrase; });
       },
       kDay0 + 20},
      {"gain", "gain", 28.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) {
           return starts(n.phrase, "weighed") ? "weighed 60 fish 3600 g together" : n.phrase;
         });
       }},
      {"silence", "silence", 2.0,
       [](Faithful& r) {
         r.change(kDay0, [&](const tests::Noted& n) { return n.at < r.at(kDay0 + 6, 0.0) ? "" : n.phrase; });
       }},
      {"silence_to_the_end", "silence", 2.0,
       [](Faithful& r) { r.change(kDay0, [](const tests::Noted&) { return ""; }); }},
      {"kit_past_its_date", "kit_past_its_date", 1.0,
       [](Faithful& r) { r.note(r.at(kDay0, 8.0), "no3 20 as NO3", "drop kit, expired"); }},
      {"bloom", "bloom", 9.0,
       [](Faithful& r) {
         for (int d = kDay0; d < kDay0 + 10; ++d) {
           r.note(r.at(d, 16.0), fmt::format("ph {:.1f}", 7.4 + 0.12 * (d - kDay0)));
           r.note(r.at(d + 1, 6.0), "ph 7.2");
           r.note(r.at(d, 15.5), fmt::format("lid {:.0f} cm", 45.0 - 2.5 * (d - kDay0)));
         }
       }},
      {"feed_not_noted", "nitrate_without_feed", 35.0,
       [](Faithful& r) {
         r.change(10, [](const tests::Noted& n) { return starts(n.phrase, "fed") ? "not fed" : n.phrase; });
       },
       10, [] { return Faithful::without_plants(24, "1 mg/L"); }},
      {"nitrate_does_not_follow", "nitrogen_nowhere", 35.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) { return starts(n.phrase, "no3") ? "no3 40 as NO3" : n.phrase; });
       },
       kDay0, [] { return Faithful::without_plants(24, "1 mg/L"); }},
      {"nitrate_kit_stands_still", "kit_stands_still", 35.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) { return starts(n.phrase, "no3") ? "no3 40 as NO3" : n.phrase; });
       },
       kDay0, [] { return Faithful::without_plants(24, "1 mg/L"); }},
      {"base_not_noted", "hardness_stands_still", 28.0,
       [](Faithful& r) {
         r.change(kDay0, [](const tests::Noted& n) { return starts(n.phrase, "dosed") ? "" : n.phrase; });
       },
       kDay0, [] { return Faithful::without_plants(60, "2 mg/L"); }},
      {"carbon_dioxide", "carbon_dioxide", 1.0,
       [](Faithful& r) {
         r.note(r.at(kDay0, 8.0), "kh 7 drops");
         r.note(r.at(kDay0, 8.1), "ph 6.4");
       }},
  };
}

class OddPlanted : public ::testing::TestWithParam<std::size_t> {};

TEST_P(OddPlanted, IsToldInTime) {
  const Planted fault = planted()[GetParam()];
  Faithful record({2015, 1, 20}, kDays, 1, fault.loop());
  fault.plant(record);
  const auto answer = looked_at(record);
  const auto days = seen_after(answer, record, fault.kind, fault.from);
  ASSERT_TRUE(days) << fault.name << " was never told\n" << told(answer.all, record);
  RecordProperty("days", std::to_string(*days));
  EXPECT_LE(*days, fault.within) << told(answer.all, record);
}

INSTANTIATE_TEST_SUITE_P(Faults, OddPlanted, ::testing::Range<std::size_t>(0, planted().size()),
                         [](const auto& one) { return std::string(planted()[one.param].name); });

/// The same by command, from a record on disk.
TEST(OddCommand, TellsItWithReasonActionAndEntries) {
  Faithful record({2015, 1, 20}, kDays, 1);
  record.note(record.at(kDay0, 8.2), fmt::format("temp {:.1f}", record.warm(record.at(kDay0, 8.2)) + 3.4));
  const record::tests::Scratch yard;
  yard.write("loop.toml", record.text);
  {
    auto store = record::tests::opened(yard.file("loop.record.db"));
    auto entries = record.entries();
    ASSERT_FALSE(store.append(entries));
  }
  const std::string shell =
      fmt::format("cd '{}' && '{}' odd loop.toml --now '2015-03-12 20:00' 2>&1", yard.folder(), LEAT_BINARY);
  std::FILE* pipe = popen(shell.c_str(), "r");
  std::string text(1 << 16, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), pipe));
  EXPECT_EQ(pclose(pipe), 0) << text;
  EXPECT_NE(text.find("1 thing odd"), std::string::npos) << text;
  EXPECT_NE(text.find("tank.nursery: "), std::string::npos) << text;
  EXPECT_NE(text.find("To do: read again with the bulb well under water"), std::string::npos) << text;
  EXPECT_NE(text.find("Entries "), std::string::npos) << text;
}

/// At most one false alarm a month in a record where nothing is wrong.
TEST(OddFaithful, RingsAtMostOnceAMonth) {
  for (const CivilDate first : {CivilDate{2013, 9, 20}, CivilDate{2014, 1, 10}, CivilDate{2015, 1, 20}})
    for (const std::uint64_t seed : {1u, 2u}) {
      const Faithful record(first, kDays, seed);
      const auto answer = looked_at(record);
      EXPECT_LE(answer.all.size(), 3u) << first.text() << " seed " << seed << "\n" << told(answer.all, record);
    }
}

TEST(OddFaithful, DeadLettuceAndEatenFishAreNoAlarm) {
  Faithful record({2015, 1, 20}, kDays, 1);
  record.note(record.at(kDay0, 12.0), "9 lettuce died");
  record.note(record.at(kDay0, 12.5), "harvested 12 trout 1.1 kg together");
  record.note(record.at(kDay0, 13.0), "stocked 12 trout of 20 g each");
  const auto answer = looked_at(record);
  for (const char* kind : {"deaths", "count", "gain"})
    EXPECT_FALSE(seen_after(answer, record, kind, kDay0)) << kind << "\n" << told(answer.all, record);
}

/// The same where no bed hides the nitrogen.
TEST(OddFaithful, RingsAtMostOnceAMonthWithoutPlants) {
  for (const int fish : {24, 60})
    for (const std::uint64_t seed : {1u, 2u}) {
      const Faithful record({2015, 1, 20}, kDays, seed, Faithful::without_plants(fish, "2 mg/L"));
      const auto answer = looked_at(record);
      EXPECT_LE(answer.all.size(), 3u) << fish << " fish, seed " << seed << "\n" << told(answer.all, record);
    }
}

/// A third of the rounds missed, a poor thermometer, no air noted, and a loop that stands in far more or less sun than
/// it is described.
TEST(OddFaithful, RingsAtMostOnceAMonthForACarelessGrower) {
  tests::Habits careless;
  careless.thermometer = 0.3;
  careless.skips = 0.33;
  careless.notes_air = false;
  for (const double shade : {-0.3, 0.4}) {
    careless.shade = shade;
    for (const CivilDate first : {CivilDate{2013, 9, 20}, CivilDate{2015, 1, 20}}) {
      const Faithful record(first, kDays, 3, Faithful::first_loop(), careless);
      const auto answer = looked_at(record);
      EXPECT_LE(answer.all.size(), 3u) << first.text() << " shade " << shade << "\n" << told(answer.all, record);
    }
  }
}

}  // namespace
}  // namespace leat
