#include "record/series.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "record/pyramid.h"
#include "record/schema.h"
#include "record/scratch.h"
#include "record/sensed.h"
#include "record/sensor_table.h"

namespace leat::record {
namespace {

using tests::opened;
using tests::Scratch;

constexpr Moment kStart = 1'764'056'460'000, kMinute = 60'000, kDay = 86'400'000;
const SeriesName kProbe{"temperature", "tank.nursery", "probe 1", "degC", ""};

template <class T>
T good(std::variant<T, Trouble> made) {
  EXPECT_TRUE(std::holds_alternative<T>(made)) << std::get<Trouble>(made).said;
  return std::get<T>(std::move(made));
}

/// A day and night of warmth in tenths of a degree, a reading a minute.
std::vector<Sample> minutes(int count, Moment from = kStart) {
  std::vector<Sample> all;
  for (int i = 0; i < count; ++i)
    all.push_back({from + i * kMinute, std::round(100.0 + 30.0 * std::sin(i * 0.004363) + i % 7) / 10.0});
  return all;
}

/// Taken together one by one, in tenths so that the sum is exact.
Summary by_hand(const std::vector<Sample>& samples, Moment from, Moment to) {
  Summary s{from, to};
  std::int64_t tenths = 0;
  for (const Sample& one : samples) {
    if (one.at < from || one.at >= to) continue;
    s.low = s.count == 0 ? one.value : std::min(s.low, one.value);
    s.high = s.count == 0 ? one.value : std::max(s.high, one.value);
    ++s.count;
    tenths += std::llround(one.value * 10.0);
  }
  s.sum = static_cast<double>(tenths) / 10.0;
  return s;
}

void expect_like(const Summary& is, const Summary& wanted) {
  EXPECT_EQ(is.count, wanted.count);
  EXPECT_EQ(is.low, wanted.low);
  EXPECT_EQ(is.high, wanted.high);
  EXPECT_NEAR(is.sum, wanted.sum, 1e-9 * std::abs(wanted.sum));
}

TEST(Series, KeepsReadingsOnceInAnyOrderAndSaysWhatItReads) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  auto samples = minutes(2000);
  std::shuffle(samples.begin(), samples.end(), std::mt19937(7));
  const std::vector<Sample> half(samples.begin(), samples.begin() + 1200);
  EXPECT_EQ(good(put_samples(store, kProbe, half, kStart)).fresh, 1200);
  const Put rest = good(put_samples(store, kProbe, samples, kStart));
  EXPECT_EQ(rest.fresh, 800);
  EXPECT_EQ(rest.known, 1200);
  const auto all = good(all_series(store));
  ASSERT_EQ(all.size(), 1u);
  EXPECT_EQ(all[0].name, kProbe);
  EXPECT_EQ(all[0].count, 2000);
  EXPECT_EQ(all[0].last, minutes(2000).back());
  EXPECT_EQ(good(samples_of(store, 1, 0, kStart + kDay * 9)), minutes(2000));
  const auto entry = good(store.entry(all[0].entry));
  ASSERT_TRUE(entry);
  EXPECT_EQ(entry->subject, "temperature in degC by probe 1");
  EXPECT_TRUE(good(store.verify()).faults.empty());
}

TEST(Series, SumsDoNotDependOnTheOrderNorTheParts) {
  const Scratch scratch;
  Store at_once = opened(scratch.file("a.db")), one_by_one = opened(scratch.file("b.db"));
  auto samples = minutes(300);
  for (Sample& s : samples) s.value *= 1.0 / 3.0;
  good(put_samples(at_once, kProbe, samples, kStart));
  std::shuffle(samples.begin(), samples.end(), std::mt19937(3));
  for (const Sample& s : samples) good(put_samples(one_by_one, kProbe, {s}, kStart));
  const Moment from = kStart - kDay, to = kStart + kDay;
  EXPECT_EQ(good(summary_of(at_once, 1, from, to)), good(summary_of(one_by_one, 1, from, to)));
  EXPECT_TRUE(good(one_by_one.verify()).faults.empty());
}

TEST(Series, AnyStretchIsWhatItsReadingsSayToTheMoment) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  const auto samples = minutes(40 * 1440);
  good(put_samples(store, kProbe, samples, kStart));
  std::mt19937 random(11);
  std::uniform_int_distribution<Moment> any(-2 * kDay, 42 * kDay);
  for (int i = 0; i < 300; ++i) {
    Moment from = kStart + any(random), to = kStart + any(random);
    if (from > to) std::swap(from, to);
    if (i % 3 == 0) to = from + (to - from) % 3'000'000;  // minutes only
    expect_like(good(summary_of(store, 1, from, to)), by_hand(samples, from, to));
  }
}

TEST(Series, AChartHasAsManyPointsAsAskedAndEachIsRight) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  const auto samples = minutes(30 * 1440);
  good(put_samples(store, kProbe, samples, kStart));
  for (const std::size_t points : {10u, 100u, 1000u, 5000u}) {
    const auto chart = good(chart_of(store, 1, kStart, kStart + 30 * kDay, points));
    EXPECT_GE(chart.size(), points);
    EXPECT_LE(chart.size(), 2 * points + 1);
    std::int64_t all = 0;
    for (std::size_t i = 0; i < chart.size(); i += 7)
      expect_like(chart[i], by_hand(samples, chart[i].from, chart[i].to));
    for (const Summary& s : chart) all += s.count;
    EXPECT_EQ(all, 30 * 1440);
  }
}

TEST(Series, DaysAreThoseOfTheClockWhenItJumpsToo) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  // 2026-03-26T00:00Z, over the last Sunday of March in London and in Adelaide's half hours.
  const Moment start = 1'774'483'200'000;
  const auto samples = minutes(6 * 1440, start);
  good(put_samples(store, kProbe, samples, start));
  for (const char* zone : {"Europe/London", "Australia/Adelaide", "Asia/Kathmandu"}) {
    const Clock clock = std::get<Clock>(Clock::named(zone));
    const auto days = good(days_of(store, 1, start, start + 6 * kDay, clock));
    std::int64_t all = 0;
    for (const Summary& day : days) {
      EXPECT_EQ(clock.local({1e-3 * static_cast<double>(day.from)}).hour, 0.0) << zone;
      expect_like(day, by_hand(samples, day.from, day.to));
      all += day.count;
    }
    EXPECT_EQ(all, 6 * 1440) << zone;
  }
  const auto london = good(days_of(store, 1, start, start + 6 * kDay, std::get<Clock>(Clock::named("Europe/London"))));
  EXPECT_EQ(london[3].to - london[3].from, 23 * 3'600'000) << "the clock jumped";
}

TEST(Series, ReadingsAreNeverChangedAndAWrongSumIsSeen) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  good(put_samples(store, kProbe, minutes(100), kStart));
  Database& db = store.database();
  EXPECT_THROW(db.run("UPDATE sample SET value = 1"), Failed);
  EXPECT_THROW(db.run("DELETE FROM sample"), Failed);
  EXPECT_THROW(db.run("UPDATE series SET unit = 'K'"), Failed);
  db.run("UPDATE span SET high = high + 1 WHERE level = 3");
  const auto faults = good(store.verify()).faults;
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_NE(faults[0].find("the sums of temperature at tank.nursery by probe 1"), std::string::npos) << faults[0];
}

TEST(Series, AValueThatIsNoNumberIsRefusedWithAllOfItsSending) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  auto samples = minutes(3);
  samples[2].value = std::nan("");
  EXPECT_TRUE(std::holds_alternative<Trouble>(put_samples(store, kProbe, samples, kStart)));
  EXPECT_TRUE(good(all_series(store)).empty());
}

TEST(Series, AnOlderRecordHasNoneUntilItIsWritten) {
  const Scratch scratch;
  {
    Database db(scratch.file("a.db"), Access::create);
    make_format(db, 3);
  }
  EXPECT_TRUE(good(all_series(good(Store::open_to_read(scratch.file("a.db"))))).empty());
  Store store = opened(scratch.file("a.db"));
  EXPECT_EQ(good(put_samples(store, kProbe, minutes(3), kStart)).fresh, 3);
}

TEST(Sensed, AnswersSeeTheExtremesOfEachDayAndTheLatest) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  const Moment midnight = kStart / kDay * kDay;
  const auto samples = minutes(2 * 1440 + 600, midnight);
  good(put_samples(store, kProbe, samples, kStart));
  const auto all = good(entries_and_sensed(store, Clock::fixed(0.0, "UTC")));
  ASSERT_EQ(all.size(), 1u + 2 * 3 + 1);  // the sensor's own entry, low and high of three days, the latest
  for (int day = 0; day < 3; ++day) {
    const Summary wanted = by_hand(samples, midnight + day * kDay, midnight + (day + 1) * kDay);
    const Entry &low = all[1 + 2 * day], &high = all[2 + 2 * day];
    EXPECT_EQ(low.extreme + high.extreme, "minmax");
    EXPECT_EQ(low.amount.low, wanted.low);
    EXPECT_EQ(high.amount.high, wanted.high);
    EXPECT_EQ(low.since, midnight + day * kDay);
    EXPECT_LE(low.from, samples.back().at) << "nothing is told before it was";
    EXPECT_EQ(low.number, all[0].number);
  }
  EXPECT_EQ(all.back().from, samples.back().at);
  EXPECT_EQ(all.back().amount.low, samples.back().value);
}

TEST(SensorTable, GoesOutAndComesBackTheSame) {
  Batch batch{kProbe, minutes(50)};
  batch.name.sensor = "=probe, \"A\"";
  Problems problems;
  const CsvTable table = read_csv(csv_of(batch), "sensor-1.csv", problems);
  ASSERT_TRUE(is_sensor_table(table));
  const auto back = batches_of(table, "sensor-1.csv", problems);
  ASSERT_TRUE(problems.empty()) << problems.text();
  ASSERT_EQ(back.size(), 1u);
  EXPECT_EQ(back[0].name, batch.name);
  EXPECT_EQ(back[0].samples, batch.samples);
}

TEST(SensorTable, SaysWhichRowIsWrong) {
  Problems problems;
  const CsvTable table = read_csv(
      "what,where,sensor,unit,basis,at,value\ntemperature,,,degC,,2026-11-25T07:41:00.000Z,9,5\n"
      "temperature,,,degC,,yesterday,9.5\ntemperature,,,degC,,2026-11-25T07:41:00.000Z,warm\n",
      "s.csv", problems);
  batches_of(table, "s.csv", problems);
  EXPECT_NE(problems.text().find("s.csv:3:1 at: \"yesterday\" is no time"), std::string::npos) << problems.text();
  EXPECT_NE(problems.text().find("s.csv:4:1 value: \"warm\""), std::string::npos) << problems.text();
}

}  // namespace
}  // namespace leat::record
