#include "record/table.h"

#include <gtest/gtest.h>

#include "record/scratch.h"
#include "record/when.h"

namespace leat::record {
namespace {

const Clock kClock = Clock::fixed(1.0, "+01:00");

Context context() {
  Context c;
  c.clock = kClock;
  c.now = moment_of(kClock, {2026, 11, 25}, 12.0);
  c.spots = {{"tank.nursery", "tank", "nursery"}, {"raft_bed.north", "raft_bed", "north"}};
  c.fish_in = {"tank.nursery"};
  return c;
}

Entry odd() {
  Entry e = tests::fed(60.0);
  e.number = 2;
  e.supersedes = 1;
  e.why = "=2+2";
  e.said = "'quoted', \"twice\"\nand on";
  e.subject = "-x";
  e.amount = {-1.5, 0.1, "degC", "@n", true};
  e.count = 1e-7;
  e.since = e.from - 1;
  e.instrument = "+1";
  return e;
}

TEST(Table, CsvGoesOutAndComesBack) {
  Entry first = tests::fed(1.0);
  first.number = 1;
  const std::vector<Entry> entries = {first, odd()};
  Problems problems;
  const CsvTable table = read_csv(csv_of(entries, kClock), "a.csv", problems);
  ASSERT_TRUE(is_own_table(table));
  EXPECT_EQ(entries_of(table, "a.csv", problems), entries);
  EXPECT_TRUE(problems.empty()) << problems.text();
}

// What a spreadsheet would run must not start a cell; numbers stay numbers.
TEST(Table, NoCellIsAFormula) {
  Problems problems;
  Entry e = odd();
  for (const char* bad : {"=1+1", "+1+1", "-1+1", "@sum(a)", "\t=1"}) {
    e.said = bad;
    const CsvTable table = read_csv(csv_of({e}, kClock), "a.csv", problems);
    for (const CsvField& field : table.rows[0].fields) {
      const bool number = std::holds_alternative<double>(read_number(field.text));
      EXPECT_TRUE(number || field.text.empty() || std::string("=+-@\t").find(field.text[0]) == std::string::npos)
          << field.text;
    }
    EXPECT_EQ(entries_of(table, "a.csv", problems)[0].said, bad);
  }
  EXPECT_EQ(guarded("-1.5"), "-1.5");
  for (const char* text : {"'", "''", "'=", "'a", "", "a", "=", "-1.5"}) EXPECT_EQ(unguarded(guarded(text)), text);
}

TEST(Table, ARowThatNoRecordCanHoldIsNamed) {
  Entry e = tests::fed(1.0);
  e.number = 1;
  std::string csv = csv_of({e}, kClock);
  csv.replace(csv.find(",deed,"), 6, ",wish,");
  Problems problems;
  (void)entries_of(read_csv(csv, "a.csv", problems), "a.csv", problems);
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems.all()[0].line, 2);
  EXPECT_NE(problems.text().find("\"wish\" is no kind"), std::string::npos) << problems.text();
}

TEST(Merge, TakesWhatIsNotThereYetAndKeepsCorrectionsRight) {
  std::vector<Entry> held = {tests::fed(9.0), tests::fed(60.0)};
  held[0].number = 1, held[1].number = 2;
  std::vector<Entry> other = {tests::fed(60.0), tests::fed(60.0), tests::fed(50.0)};
  for (std::size_t i = 0; i < other.size(); ++i) other[i].number = static_cast<std::int64_t>(i + 5);
  other[2].supersedes = 5;
  const Merge merge = merged(held, other);
  EXPECT_EQ(merge.known, 1u) << "two alike are two: one is new";
  ASSERT_EQ(merge.fresh.size(), 2u);
  EXPECT_EQ(merge.fresh[0].number, 3);
  EXPECT_EQ(merge.fresh[1].number, 4);
  EXPECT_EQ(merge.fresh[1].supersedes, std::optional<std::int64_t>(2));
}

constexpr const char* kForeign =
    "Day,Clock,Temp (C),NH3,Fed (g),Remarks,Bed\n"
    "24/11/2026,07:30,9.5,0.25-0.5,60,\"slow, all of them\",nursery\n"
    "25/11/2026,,,,,2 dead,\n";
constexpr const char* kMap =
    "Day=date, Clock=time, Temp (C)=temperature degC, NH3=nh3 mg/L as N, Fed (g)=fed g, "
    "Remarks=note, Bed=where";

std::vector<Entry> foreign(const char* csv, const char* map, DateOrder order, Problems& problems) {
  const CsvTable table = read_csv(csv, "log.csv", problems);
  std::vector<Entry> entries;
  for (const Understood& u : read_table(table, read_mapping(map, problems), order, context(), "log.csv", problems))
    for (const Entry& e : u.entries) entries.push_back(e);
  return entries;
}

TEST(Mapping, ReadsATableFromElsewhere) {
  Problems problems;
  const auto entries = foreign(kForeign, kMap, DateOrder::day_first, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  ASSERT_GE(entries.size(), 5u);
  EXPECT_EQ(entries[0].what, "temperature");
  EXPECT_EQ(entries[0].from, moment_of(kClock, {2026, 11, 24}, 7.5));
  EXPECT_EQ(entries[0].where, "tank.nursery");
  EXPECT_EQ(entries[1].amount, (Amount{0.25, 0.5, "mg/L", "N", false}));
  EXPECT_EQ(entries[2].what, "fed");
  EXPECT_EQ(entries[3].said, "slow, all of them");
  EXPECT_EQ(entries.back().what, "died");
  EXPECT_EQ(entries.back().from, moment_of(kClock, {2026, 11, 25}, 0.0));
}

TEST(Mapping, ReadsDecimalCommasBetweenSemicolonsAndCellsThatSayTheirUnit) {
  Problems problems;
  const auto entries = foreign(
      "Day;Temp;NH3;Feed;Remarks\n24/11/2026;9,1;0,25 mg/L;0,055 kg;\n25/11/2026;-0,5;<0.25;55 g;fed 9,1 g\n",
      "Day=date, Temp=temperature degC, NH3=nh3 mg/L as N, Feed=fed g, Remarks=note", DateOrder::day_first, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  ASSERT_EQ(entries.size(), 7u);
  EXPECT_EQ(entries[0].amount, (Amount{9.1, 9.1, "degC", "", false}));
  EXPECT_EQ(entries[1].amount, (Amount{0.25, 0.25, "mg/L", "N", false}));
  EXPECT_EQ(entries[2].amount, (Amount{0.055, 0.055, "kg", "", false}));
  EXPECT_EQ(entries[3].amount.low, -0.5);
  EXPECT_EQ(entries[4].amount.high, 0.25);
  EXPECT_EQ(entries[5].amount, (Amount{55.0, 55.0, "g", "", false}));
  EXPECT_EQ(entries[6].kind, Kind::text) << "a remark is left as it is";
}

TEST(Mapping, AMinMaxThermometerIsResetFromRowToRow) {
  Problems problems;
  const auto entries =
      foreign("Day,Clock,Low,High\n2026-11-25,07:30,8.1,9.9\n2026-11-24,07:30,8.0,10.2\n2026-11-19,07:00,7.5,9\n",
              "Day=date, Clock=time, Low=min degC, High=max degC", DateOrder::year_first, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  ASSERT_EQ(entries.size(), 6u);
  const Moment reset = moment_of(kClock, {2026, 11, 24}, 7.5);
  EXPECT_EQ(entries[0].since, reset) << "the newest row stands first";
  EXPECT_EQ(entries[1].since, reset);
  EXPECT_FALSE(entries[2].since) << "five days without a reading: a reset may not have been noted";
  EXPECT_FALSE(entries[5].since) << "nothing before it";
}

TEST(Mapping, SaysWhatItCannotRead) {
  Problems problems;
  foreign(kForeign, kMap, DateOrder::year_first, problems);
  EXPECT_EQ(problems.size(), 2u);
  EXPECT_NE(problems.text().find("log.csv:2:1 date: \"24/11/2026 07:30\" is no date that has been"), std::string::npos)
      << problems.text();
  Problems columns;
  foreign(kForeign, "Dai=date, Temp=temperature", DateOrder::day_first, columns);
  EXPECT_NE(columns.text().find("Dai: is no column of it; it has Day, Clock"), std::string::npos) << columns.text();
  Problems undated;
  foreign(kForeign, "NH3=nh3", DateOrder::day_first, undated);
  EXPECT_NE(undated.text().find("names no column as date"), std::string::npos) << undated.text();
  Problems map;
  (void)read_mapping("Day", map);
  EXPECT_EQ(map.size(), 1u);
}

TEST(Mapping, GuessesFromTheNamesOfColumns) {
  Problems problems;
  const CsvTable table = read_csv("Date,Clock,Temp (C),pH,KH,Fed,Colour,Notes\n", "log.csv", problems);
  EXPECT_EQ(likely_mapping(table, context()),
            "Date=date, Clock=time, Temp (C)=temp C, pH=ph, KH=kh dKH, Fed=fed g, Notes=note");
}

}  // namespace
}  // namespace leat::record
