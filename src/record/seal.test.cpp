#include "record/seal.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "record/pyramid.h"
#include "record/schema.h"
#include "record/scratch.h"
#include "record/sensor_table.h"

namespace leat::record {
namespace {

using tests::opened;
using tests::Scratch;

constexpr Moment kMinute = 60'000, kHour = 60 * kMinute, kDay = 24 * kHour;
constexpr Moment kMidnight = 1'764'028'800'000;  // 2025-11-25T00:00Z
const SeriesName kProbe{"temperature", "tank.nursery", "probe 1", "degC", ""};

template <class T>
T good(std::variant<T, Trouble> made) {
  EXPECT_TRUE(std::holds_alternative<T>(made)) << std::get<Trouble>(made).said;
  return std::get<T>(std::move(made));
}

/// A reading each ten minutes from midnight on.
std::vector<Sample> tens(Moment from, int count) {
  std::vector<Sample> all;
  for (int i = 0; i < count; ++i) all.push_back({from + i * 10 * kMinute, 90.0 + 0.5 * (i % 7)});
  return all;
}

std::vector<Entry> seals_of(const Store& store) {
  return good(store.entries({.what = "sealed"}));
}

std::string faults(const Store& store) {
  std::string all;
  for (const std::string& fault : good(store.verify()).faults) all += fault + "\n";
  return all;
}

/// Three days and an hour, put in when that hour was over.
Store three_days(const Scratch& scratch) {
  Store store = opened(scratch.file("a.db"));
  good(put_samples(store, kProbe, tens(kMidnight, 3 * 144 + 6), kMidnight + 3 * kDay + kHour));
  return store;
}

TEST(Seal, FinishedDaysGoIntoTheChainOnceADay) {
  const Scratch scratch;
  Store store = three_days(scratch);
  ASSERT_EQ(seals_of(store).size(), 1u) << "the third day is left open for what comes late";
  EXPECT_EQ(seals_of(store)[0].count, 288.0);
  good(put_samples(store, kProbe, tens(kMidnight + 3 * kDay + kHour, 6), kMidnight + 3 * kDay + 2 * kHour));
  EXPECT_EQ(seals_of(store).size(), 1u);
  good(put_samples(store, kProbe, tens(kMidnight + 3 * kDay + 6 * kHour, 6), kMidnight + 3 * kDay + 7 * kHour));
  ASSERT_EQ(seals_of(store).size(), 2u);
  EXPECT_EQ(seals_of(store)[1].count, 144.0);
  const Verified v = good(store.verify());
  EXPECT_TRUE(v.faults.empty()) << v.faults[0];
  EXPECT_EQ(v.readings, 3 * 144 + 18);
  EXPECT_EQ(v.sealed, 3 * 144);
  EXPECT_EQ(good(store.entries({})).size(), 1u) << "the sensor's own entry: seals are shown when they are asked for";
}

TEST(Seal, IsTheSameInWhateverOrderTheReadingsCame) {
  const Scratch scratch;
  Store store = three_days(scratch), other = opened(scratch.file("b.db"));
  std::vector<Sample> all = tens(kMidnight, 3 * 144 + 6);
  std::reverse(all.begin(), all.end());
  for (const Sample& s : all) good(put_samples(other, kProbe, {s}, kMidnight + kHour));
  good(put_samples(other, kProbe, {{kMidnight + 3 * kDay + kHour, 9.0}}, kMidnight + 3 * kDay + kHour));
  ASSERT_EQ(seals_of(other).size(), 1u);
  EXPECT_EQ(seals_of(other)[0].subject, seals_of(store)[0].subject);
}

TEST(Seal, AReadingThatWasChangedIsToldWithItsQuarterOfAnHour) {
  const Scratch scratch;
  Store store = three_days(scratch);
  Database& db = store.database();
  db.run("DROP TRIGGER sample_stays");
  db.run("UPDATE sample SET value = value + 0.001 WHERE at = 1764073800000");  // 12:30 of the first day
  EXPECT_NE(
      faults(store).find("temperature at tank.nursery by probe 1: of 144 readings of 2025-11-25 (UTC) that entry 2 "
                         "seals, at least one was changed; first between 12:30 and 12:45"),
      std::string::npos)
      << faults(store);
}

TEST(Seal, AReadingThatWasTakenOutIsToldThoughItsSumsWereMended) {
  const Scratch scratch;
  Store store = three_days(scratch);
  Database& db = store.database();
  db.run("DROP TRIGGER sample_kept");
  db.run("DELETE FROM sample WHERE at = 1764073800000");
  db.run("DELETE FROM span");
  sum_up(db, 1, good(samples_of(store, 1, 0, kMidnight + 10 * kDay)));
  EXPECT_EQ(faults(store),
            "temperature at tank.nursery by probe 1: of 144 readings of 2025-11-25 (UTC) that entry 2 seals, 143 are "
            "there\n");
}

TEST(Seal, ATailThatWasCutOffIsTold) {
  const Scratch scratch;
  Store store = three_days(scratch);
  Database& db = store.database();
  for (const char* sql : {"DROP TRIGGER sample_kept", "DELETE FROM sample WHERE at >= 1764115200000",
                          "DELETE FROM span", "DELETE FROM unsealed"})
    db.run(sql);
  sum_up(db, 1, good(samples_of(store, 1, 0, kMidnight + 10 * kDay)));
  EXPECT_NE(faults(store).find("of 144 readings of 2025-11-26 (UTC) that entry 2 seals, 0 are there"),
            std::string::npos)
      << faults(store);
  // With its seals cut off as well, the entry over them tells.
  for (const char* sql : {"DROP TRIGGER seal_kept", "DELETE FROM seal WHERE start >= 1764115200000"}) db.run(sql);
  EXPECT_EQ(faults(store), "the seals of entry 2 are not those that it was made over\n");
  db.run("DELETE FROM seal");
  EXPECT_NE(faults(store).find("what entry 2 seals is not there"), std::string::npos) << faults(store);
  EXPECT_NE(faults(store).find("the readings of 2025-11-25 (UTC) have lost their seal"), std::string::npos);
}

TEST(Seal, AllCanBeSealedBeforeTheDayIsOver) {
  const Scratch scratch;
  const Store made = three_days(scratch);
  Store store = opened(scratch.file("a.db"));
  const Verified before = good(store.verify());
  EXPECT_EQ(before.readings, 3 * 144 + 6);
  EXPECT_EQ(before.sealed, 2 * 144) << "at 01:00 the third day has six hours to go";
  EXPECT_EQ(before.open_from, kMidnight + 2 * kDay);
  EXPECT_EQ(before.open_to, kMidnight + 3 * kDay + 50 * kMinute);
  EXPECT_EQ(good(seal_all(store, kMidnight + 3 * kDay + kHour)), 144 + 6);
  EXPECT_EQ(good(seal_all(store, kMidnight + 3 * kDay + kHour)), 0) << "nothing is left to seal";
  const Verified all = good(store.verify());
  EXPECT_EQ(all.sealed, all.readings);
  EXPECT_FALSE(all.open_from);
  EXPECT_EQ(faults(store), "");
  // What comes behind it is open, from there on.
  good(put_samples(store, kProbe, tens(kMidnight + 3 * kDay + 2 * kHour, 6), kMidnight + 3 * kDay + 3 * kHour));
  EXPECT_EQ(good(store.verify()).open_from, kMidnight + 3 * kDay + 2 * kHour);
  EXPECT_EQ(faults(store), "");
  // What comes late opens its day.
  good(put_samples(store, kProbe, {{kMidnight + 3 * kDay + 5 * kMinute, 90.0}}, kMidnight + 3 * kDay + 3 * kHour));
  EXPECT_EQ(good(store.verify()).open_from, kMidnight + 3 * kDay);
  // The day that was sealed early is sealed once more when it is over, and a change in it is told.
  good(put_samples(store, kProbe, tens(kMidnight + 4 * kDay + 7 * kHour, 1), kMidnight + 4 * kDay + 7 * kHour));
  EXPECT_EQ(good(store.verify()).open_from, kMidnight + 4 * kDay + 7 * kHour);
  EXPECT_EQ(faults(store), "");
  store.database().run("DROP TRIGGER sample_stays");
  store.database().run("UPDATE sample SET value = 1 WHERE at = 1764028800000 + 3 * 86400000");
  EXPECT_NE(faults(store).find("of 2025-11-28 (UTC)"), std::string::npos) << faults(store);
}

TEST(Seal, WhatComesLateIsTakenAndSealedOnceMore) {
  const Scratch scratch;
  Store store = three_days(scratch);
  const Moment late = kMidnight + kHour + kMinute;
  EXPECT_EQ(
      good(put_samples(store, kProbe, {{late, 9.5}, {late + kMinute, 9.5}}, kMidnight + 3 * kDay + 2 * kHour)).fresh,
      2);
  EXPECT_EQ(seals_of(store).size(), 1u) << "not for each that is late";
  EXPECT_EQ(faults(store), "");
  good(put_samples(store, kProbe, {{kMidnight + 4 * kDay, 9.5}}, kMidnight + 4 * kDay + 7 * kHour));
  ASSERT_EQ(seals_of(store).size(), 2u);
  EXPECT_EQ(seals_of(store)[1].count, 146.0 + 144.0 + 6.0);
  EXPECT_EQ(faults(store), "");
  Database& db = store.database();
  db.run("DROP TRIGGER sample_kept");
  db.run("DELETE FROM sample WHERE at = 1764032460000");  // the late one
  EXPECT_NE(faults(store).find("of 146 readings of 2025-11-25 (UTC) that entry 3 seals, 145 are there; first between "
                               "01:00 and 01:15"),
            std::string::npos)
      << faults(store);
}

TEST(Seal, AnOlderRecordIsSealedWhenItsSensorIsReadAgain) {
  const Scratch scratch;
  {
    // Format 4, with readings and their sums as it held them.
    Store newest = three_days(scratch);
    Database old(scratch.file("old.db"), Access::create);
    make_format(old, 4);
    old.run(("ATTACH '" + scratch.file("a.db") + "' AS a").c_str());
    for (const char* sql :
         {"INSERT INTO entry SELECT * FROM a.entry WHERE number = 1", "INSERT INTO series SELECT * FROM a.series",
          "INSERT INTO sample SELECT * FROM a.sample", "INSERT INTO span SELECT * FROM a.span"})
      old.run(sql);
  }
  EXPECT_TRUE(good(all_seals(good(Store::open_to_read(scratch.file("old.db"))))).empty());
  EXPECT_EQ(faults(good(Store::open_to_read(scratch.file("old.db")))), "");
  Store store = opened(scratch.file("old.db"));
  EXPECT_EQ(faults(store), "");
  good(put_samples(store, kProbe, {{kMidnight + 4 * kDay, 9.5}}, kMidnight + 4 * kDay + 7 * kHour));
  ASSERT_EQ(seals_of(store).size(), 1u);
  EXPECT_EQ(seals_of(store)[0].count, 3 * 144.0 + 6.0);
  EXPECT_EQ(faults(store), "");
}

TEST(Seal, ANightOfAClockThatRanAheadDoesNotStopIt) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  good(put_samples(store, kProbe, tens(kMidnight, 6), kMidnight + 4000 * kDay));
  ASSERT_EQ(seals_of(store).size(), 1u);
  good(put_samples(store, kProbe, tens(kMidnight + kDay, 6), kMidnight + kDay + 7 * kHour));
  good(put_samples(store, kProbe, tens(kMidnight + 2 * kDay, 6), kMidnight + 2 * kDay + 7 * kHour));
  EXPECT_EQ(seals_of(store).size(), 2u);
  EXPECT_EQ(faults(store), "");
}

TEST(Seal, GoesOverToAnotherCopyOfTheSameRecord) {
  const Scratch scratch;
  Store store = three_days(scratch), other = opened(scratch.file("b.db"));
  std::vector<Entry> entries = good(store.entries({.superseded = true}));
  std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.number < b.number; });
  ASSERT_EQ(other.append(entries), std::nullopt);
  EXPECT_NE(faults(other).find("what entry 2 seals is not there"), std::string::npos);
  // By way of the table that an export holds.
  Problems problems;
  const CsvTable table = read_csv(csv_of(good(all_seals(store))), "seals.csv", problems);
  EXPECT_EQ(good(put_seals(other, record::seals_of(table, "seals.csv", problems))), 2);
  EXPECT_TRUE(problems.empty()) << problems.text();
  good(put_samples(other, kProbe, tens(kMidnight, 3 * 144 + 6), kMidnight + 30 * kDay));
  // Two days were sealed, and are so; the rest is sealed now.
  EXPECT_EQ(faults(other), "");
  ASSERT_EQ(seals_of(other).size(), 2u);
  EXPECT_EQ(seals_of(other)[1].count, 144.0 + 6.0);
  EXPECT_EQ(good(all_series(other)).size(), 1u);
  EXPECT_EQ(good(all_series(other))[0].entry, 1) << "the sensor's entry that was brought along";
}

TEST(Seal, ATableOfSealsThatWasEditedIsTold) {
  Problems problems;
  const CsvTable table = read_csv(
      "entry,what,where,sensor,unit,basis,start,count,digest\n4,temperature,,,degC,,2025-11-25T00:00:00.000Z,144,"
      "short\n",
      "seals.csv", problems);
  EXPECT_TRUE(record::seals_of(table, "seals.csv", problems).empty());
  EXPECT_NE(problems.text().find("seals.csv:2:1"), std::string::npos) << problems.text();
}

}  // namespace
}  // namespace leat::record
