// The round as a grower meets it: what is due, what cannot wait and whom it tells, the calendar and the pages for
// paper.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <set>

#include "record/scratch.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

struct Printed {
  std::string text;
  int code = 0;
};

class Round : public ::testing::Test {
 protected:
  record::tests::Scratch yard;

  void use(const std::string& loop) { yard.write("loop.toml", tests::slurp(std::string(LEAT_ROOT) + "/" + loop)); }
  /// The loop of a bloom, counted down to 5 mg/L.
  void bloom() {
    yard.write("loop.toml", tests::slurp(std::string(LEAT_ROOT) + "/tests/stories/harrow-lea.toml") +
                                "\n[limits]\ndissolved_oxygen_low = \"5 mg/L\"\n");
  }
  void SetUp() override { use("examples/first-loop/loop.toml"); }

  Printed leat(const std::string& rest, const std::string& now) const {
    const std::string shell =
        "cd '" + yard.folder() + "' && '" + LEAT_BINARY + "' " + rest + " --now '" + now + "' 2>&1";
    std::FILE* pipe = popen(shell.c_str(), "r");
    Printed printed;
    std::array<char, 4096> buffer;
    for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
      printed.text.append(buffer.data(), n);
    const int status = pclose(pipe);
    printed.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return printed;
  }
  void note(const std::string& phrase, const std::string& when) const {
    const Printed p = leat("note loop.toml '" + phrase + "'", when);
    ASSERT_EQ(p.code, 0) << p.text;
    ASSERT_EQ(p.text.find("kept as words"), std::string::npos) << p.text;
  }
};

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST_F(Round, ARecordThatIsNotThereYetStillHasARound) {
  const Printed p = leat("round", "2026-03-11 06:00");
  EXPECT_EQ(p.code, 0) << p.text;
  EXPECT_TRUE(holds(p.text, "Nothing urgent.")) << p.text;
  EXPECT_TRUE(holds(p.text, "look: do fish gasp?")) << p.text;
  EXPECT_TRUE(holds(p.text, "feed fish.trout")) << p.text;
  EXPECT_TRUE(holds(p.text, "test pH, KH, ammonia, nitrite, nitrate")) << p.text;
}

TEST_F(Round, TheFeedSaysAtWhichWarmth) {
  yard.write("loop.toml",
             "[place]\nlatitude = 50\n[tank.main]\nvolume = \"1000 L\"\n[fish.trout]\nin = "
             "\"tank.main\"\nspecies = \"rainbow trout\"\ncount = 40\nmass = \"60 g\"\n");
  const Printed guessed = leat("round", "2026-03-11 06:00");
  EXPECT_TRUE(holds(guessed.text, "Taken: water at 12.0 degC; read the thermometer.")) << guessed.text;
  note("min 6.4 max 11.2", "2026-03-11 07:00");
  const Printed read = leat("round", "2026-03-11 08:00");
  EXPECT_FALSE(holds(read.text, "water at 12.0 degC")) << read.text;
  EXPECT_TRUE(holds(read.text, "water.temperature 8.8 degC: min and max read 60 min ago")) << read.text;
}

TEST_F(Round, WhatWasDoneIsNotDue) {
  note("min 9.0 max 11.0 now 9.5", "2026-03-11 06:50");
  note("fed 30 g", "2026-03-11 08:30");
  note("kh 5 drops; no3 20 as NO3; ph 7.2; nh4 0.25 as N; no2 0 as N", "2026-03-10 08:00");
  const std::string text = leat("round", "2026-03-11 09:00").text;
  EXPECT_FALSE(holds(text, "do fish gasp?")) << text;
  EXPECT_FALSE(holds(text, "test pH")) << text;
  EXPECT_EQ(text.find("feed fish.trout"), text.rfind("feed fish.trout")) << "one of two meals is left\n" << text;
  EXPECT_TRUE(holds(text, "16:30  feed fish.trout")) << text;
  EXPECT_TRUE(holds(text, "water.temperature 9.5 degC: read 2 h ago, entry 4")) << text;
}

TEST_F(Round, ATestComesBackAfterAWeek) {
  note("kh 5 drops; no3 20 as NO3; ph 7.2; nh4 0.25 as N; no2 0 as N", "2026-03-01 08:00");
  note("ph 7.2", "2026-03-06 08:00");
  const std::string text = leat("round", "2026-03-09 07:00").text;
  EXPECT_TRUE(holds(text, "test KH, ammonia, nitrite, nitrate, before feeding")) << text;
}

/// Two readings at dusk warn hours before the sag, by exit code and by the grower's own command, once.
TEST_F(Round, TheWarningComesBeforeTheSag) {
  bloom();
  note("temp 17", "2026-06-20 17:50");
  note("do 14.0", "2026-06-20 18:00");
  EXPECT_EQ(leat("round --urgent --quiet", "2026-06-20 18:05").text, "");
  note("do 7.8", "2026-06-20 21:00");
  const std::string ask =
      "round --urgent --reaeration '0.30 1/h' --hook 'cat >> told.txt; echo \"$LEAT_URGENT\" > first.txt'";
  const Printed p = leat(ask, "2026-06-20 21:05");
  EXPECT_EQ(p.code, 1) << p.text;
  // Story A: through 5 mg/L at 00:35, so more than three hours are left.
  EXPECT_TRUE(holds(p.text, "(about 2026-06-21 00:35)")) << p.text;
  EXPECT_TRUE(holds(p.text, "air on now")) << p.text;
  EXPECT_TRUE(holds(yard.read("first.txt"), "URGENT: oxygen will be about 4.")) << yard.read("first.txt");
  const std::string once = yard.read("told.txt");
  EXPECT_TRUE(holds(once, "URGENT")) << once;
  EXPECT_EQ(leat(ask, "2026-06-20 22:05").code, 1);
  EXPECT_EQ(yard.read("told.txt"), once) << "told again within six hours";
  EXPECT_EQ(leat(ask, "2026-06-21 03:10").code, 1);
  EXPECT_EQ(yard.read("told.txt").size(), 2 * once.size()) << "not told again after six hours";
}

TEST_F(Round, AHookThatFailsIsSaid) {
  bloom();
  note("do 2.5", "2026-06-21 03:00");
  const Printed p = leat("round --urgent --hook 'exit 7'", "2026-06-21 03:05");
  EXPECT_EQ(p.code, 3) << p.text;
  EXPECT_TRUE(holds(p.text, "ended with 7, so nobody may have been told")) << p.text;
  EXPECT_TRUE(holds(p.text, "oxygen 2.5 mg/L, under 5.0")) << p.text;
}

TEST_F(Round, PowerOffIsUrgentUntilItIsBack) {
  note("power off", "2026-03-11 20:00");
  const Printed off = leat("round --urgent", "2026-03-11 20:30");
  EXPECT_EQ(off.code, 1) << off.text;
  EXPECT_TRUE(holds(off.text, "the power is off")) << off.text;
  note("power back on", "2026-03-11 21:00");
  const Printed on = leat("round --urgent", "2026-03-11 21:30");
  EXPECT_EQ(on.code, 0) << on.text;
}

TEST_F(Round, AtMostThreeThingsThatDoNotFit) {
  note("fed 30 kg", "2026-03-10 08:00");
  note("5 dead", "2026-03-10 07:00");
  note("temp 10.0", "2026-03-10 09:00");
  note("temp 9.0", "2026-03-10 09:30");
  note("min 9.9", "2026-03-10 09:30");
  note("kh 7 drops; ph 6.2", "2026-03-10 10:00");
  note("no3 20 as NO3", "2026-03-10 10:00");
  note("no3 20 as N", "2026-03-10 10:10");
  const std::string text = leat("round", "2026-03-10 12:00").text;
  EXPECT_TRUE(holds(text, "\n3. ")) << text;
  EXPECT_FALSE(holds(text, "\n4. ")) << text;
  EXPECT_EQ(leat("round --most 4", "2026-03-10 12:00").code, 2);
}

TEST_F(Round, TheCalendarIsWellFormed) {
  note("fed 30 g", "2026-03-10 08:00");
  for (const char* as : {"", " --events"}) {
    ASSERT_EQ(leat(std::string("round --ical r.ics") + as, "2026-03-11 06:00").code, 0);
    const std::string ics = yard.read("r.ics");
    ASSERT_TRUE(ics.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"));
    ASSERT_TRUE(ics.ends_with("END:VCALENDAR\r\n"));
    std::set<std::string> uids;
    std::size_t begins = 0, ends = 0, items = 0;
    for (std::size_t at = 0; at < ics.size();) {
      const std::size_t end = ics.find("\r\n", at);
      ASSERT_NE(end, std::string::npos) << "a line without CRLF";
      const std::string line = ics.substr(at, end - at);
      EXPECT_LE(line.size(), 75u) << line;
      EXPECT_EQ(line.find('\n'), std::string::npos) << line;
      if (line.starts_with("UID:")) {
        EXPECT_TRUE(uids.insert(line).second) << "twice: " << line;
      }
      begins += line.starts_with("BEGIN:") ? 1u : 0u;
      ends += line.starts_with("END:") ? 1u : 0u;
      items += line == (*as ? "BEGIN:VEVENT" : "BEGIN:VTODO") ? 1u : 0u;
      at = end + 2;
    }
    EXPECT_EQ(begins, ends);
    EXPECT_EQ(uids.size(), items);
    EXPECT_GE(items, 8u);
  }
}

TEST_F(Round, APageOnDiskThatIsNotOursIsLeft) {
  yard.write("r.ics", "shopping list");
  const Printed p = leat("round --ical r.ics", "2026-03-11 06:00");
  EXPECT_EQ(p.code, 2) << p.text;
  EXPECT_EQ(yard.read("r.ics"), "shopping list");
}

/// Every tag that is opened is closed, and nothing is fetched from elsewhere.
void expect_whole_page(const std::string& page) {
  EXPECT_TRUE(page.starts_with("<!DOCTYPE html>"));
  for (const char* tag :
       {"html", "head", "body", "table", "tr", "td", "th", "ol", "li", "h1", "h2", "p", "div", "style", "b", "small"}) {
    std::size_t opened = 0, closed = 0;
    for (const char* after : {">", " "})
      for (std::size_t at = page.find(std::string("<") + tag + after); at != std::string::npos;
           at = page.find(std::string("<") + tag + after, at + 1))
        ++opened;
    for (std::size_t at = page.find(std::string("</") + tag + ">"); at != std::string::npos;
         at = page.find(std::string("</") + tag + ">", at + 1))
      ++closed;
    EXPECT_EQ(opened, closed) << tag;
  }
  for (const char* from_elsewhere : {"http:", "https:", "src=", "url(", "@import", "<script", "<link"})
    EXPECT_EQ(page.find(from_elsewhere), std::string::npos) << from_elsewhere;
  EXPECT_NE(page.find("@media print"), std::string::npos);
}

TEST_F(Round, SheetAndCardForPaper) {
  std::string loop = tests::slurp(std::string(LEAT_ROOT) + "/examples/first-loop/loop.toml");
  loop.replace(loop.find("Alder yard"), 10, "Alder <yard> & co");
  yard.write("loop.toml", loop);
  ASSERT_EQ(leat("round --sheet s.html --card c.html", "2026-03-11 06:00").code, 0);
  const std::string sheet = yard.read("s.html"), card = yard.read("c.html");
  expect_whole_page(sheet);
  expect_whole_page(card);
  EXPECT_NE(sheet.find("Alder &lt;yard&gt; &amp; co"), std::string::npos);
  EXPECT_NE(sheet.find("now ____ min ____ max ____"), std::string::npos);
  EXPECT_NE(card.find("RCD/GFCI"), std::string::npos);
  EXPECT_NE(card.find("give no feed"), std::string::npos);
  EXPECT_NE(card.find("tank.nursery: time to 3"), std::string::npos) << card.substr(0, 4000);
}

TEST_F(Round, TheCardIsForTheFishThatAreLeft) {
  note("temp 9.0", "2026-03-11 05:00");
  ASSERT_EQ(leat("round --card all.html", "2026-03-11 06:00").code, 0);
  note("50 dead", "2026-03-11 05:30");
  ASSERT_EQ(leat("round --card left.html", "2026-03-11 06:00").code, 0);
  const std::string all = yard.read("all.html"), left = yard.read("left.html");
  expect_whole_page(left);
  EXPECT_NE(all, left) << "ten fish have longer than sixty";
}

/// The verbs that compute start from the record beside the loop, say so, and leave it alone when told to.
TEST_F(Round, FeedTakesTheReadingsAndTheFishThatAreLeft) {
  note("temp 9.0", "2026-03-11 07:00");
  note("20 dead", "2026-03-11 07:10");
  const std::string with = leat("feed", "2026-03-11 08:00").text,
                    without = leat("feed --record none", "2026-03-11 08:00").text;
  EXPECT_TRUE(holds(with, "water.temperature 9.0 degC: read 60 min ago")) << with;
  EXPECT_TRUE(holds(with, "fish.trout.count 40: 60 in the loop file; since its chapter 20 died")) << with;
  EXPECT_TRUE(holds(with, "of 3.00 kg")) << with;
  EXPECT_TRUE(holds(without, "of 4.50 kg")) << without;
  EXPECT_FALSE(holds(without, "From the record")) << without;
  // A flag goes before the record.
  EXPECT_NE(leat("feed --temperature '14 degC'", "2026-03-11 08:00").text, with);
}

TEST_F(Round, WhatIsTooOldIsNamedAndNotTaken) {
  note("do 4.0", "2026-03-09 07:00");
  const std::string text = leat("feed", "2026-03-11 08:00").text;
  EXPECT_TRUE(holds(text, "not taken: water.dissolved_oxygen: read 2 days ago, entry 2; too old")) << text;
  EXPECT_FALSE(holds(text, "no feed today")) << text;
}

TEST_F(Round, DoseTakesReadingsAndTheFeedOfTheWeek) {
  for (const char* day : {"2026-03-08", "2026-03-09", "2026-03-10"}) note("fed 60 g", std::string(day) + " 09:00");
  note("ph 6.4; kh 20 mg/L; tan 0.5; temp 12", "2026-03-11 07:00");
  const Printed by_record = leat("dose base --loop loop.toml", "2026-03-11 08:00");
  const Printed by_hand = leat(
      "dose base --loop loop.toml --record none --ph 6.4 --kh '20 mg/L' --ammonia '0.5 mg/L' --temperature '12 degC' "
      "--feed '60 g/d'",
      "2026-03-11 08:00");
  EXPECT_EQ(by_record.code, 0) << by_record.text;
  EXPECT_TRUE(by_record.text.starts_with(by_hand.text)) << by_record.text << by_hand.text;
  EXPECT_TRUE(holds(by_record.text, "feed 60 g/d: mean of the last seven days")) << by_record.text;
}

/// Today has a meal to come, so it is no whole day.
TEST_F(Round, TheFeedOfTheWeekIsOfWholeDays) {
  for (const char* day : {"2026-03-08", "2026-03-09", "2026-03-10"})
    for (const char* hour : {" 08:00", " 17:00"}) note("fed 40 g", std::string(day) + hour);
  note("fed 40 g", "2026-03-11 07:30");
  const Printed p = leat("dose base loop.toml --ph 6.4 --kh '20 mg/L'", "2026-03-11 08:00");
  EXPECT_TRUE(holds(p.text, "feed 80 g/d")) << p.text;
}

TEST_F(Round, PartsPerMillionAreMilligramsInALitre) {
  const std::string parts = leat("feed --oxygen 4.5ppm", "2026-03-11 08:00").text;
  EXPECT_EQ(parts, leat("feed --oxygen '4.5 mg/L'", "2026-03-11 08:00").text);
  EXPECT_TRUE(holds(parts, "oxygen at 4.5 mg/L is below")) << parts;
}

TEST_F(Round, DoseTellsWhatNobodySaid) {
  const Printed p = leat("dose base --water '1000 L' --ph 6.9 --kh '40 mg/L'", "2026-03-11 08:00");
  EXPECT_TRUE(holds(p.text, "on the first day in 1 go, over 1 day in all")) << p.text;
  EXPECT_TRUE(holds(p.text, "Taken: water at 12.0 degC")) << p.text;
  EXPECT_TRUE(holds(p.text, "Taken: no feed")) << p.text;
  EXPECT_FALSE(holds(p.text, "then 0 g a day")) << p.text;
  const Printed other = leat("dose bas --water 3000", "2026-03-11 08:00");
  EXPECT_TRUE(holds(other.text, "\"bas\" is not known; did you mean \"base\"? Say base, acid")) << other.text;
  const Printed bare = leat("dose base --water 3000 --ph 6.2", "2026-03-11 08:00");
  EXPECT_TRUE(holds(bare.text, "\"3000\" has no unit")) << bare.text;
  EXPECT_FALSE(holds(bare.text, "is wanted, such as")) << "said once is enough\n" << bare.text;
}

TEST_F(Round, OutageTakesOxygenAndTheLastMeal) {
  note("temp 14; do 9.0", "2026-03-11 07:00");
  note("fed 60 g", "2026-03-11 07:05");
  const Printed by_record = leat("outage", "2026-03-11 09:05");
  const Printed by_hand =
      leat("outage --record none --temperature '14 degC' --oxygen '9.0 mg/L' --fed '2 h'", "2026-03-11 09:05");
  EXPECT_TRUE(by_record.text.starts_with(by_hand.text.substr(0, 400))) << by_record.text << by_hand.text;
}

TEST_F(Round, NightTakesTheReadingsOfTheEvening) {
  bloom();
  note("temp 17", "2026-06-20 17:55");
  note("do 14.0", "2026-06-20 18:00");
  note("do 7.8", "2026-06-20 21:00");
  const Printed p = leat("night --reaeration '0.30 1/h' --dawn 05:30", "2026-06-20 21:05");
  EXPECT_TRUE(holds(p.text, "At 05:30 it will be about 3.9 mg/L (5 to 95 %: 1.1 to 6.1)")) << p.text;
}

/// A replay is fed what was noted, and runs under the air that was noted.
TEST_F(Round, AheadReplaysTheRecord) {
  note("temp 9.0", "2026-03-10 07:00");
  note("fed 20 g", "2026-03-10 08:30");
  note("fed 35 g", "2026-03-11 09:15");
  note("air min 2 max 9", "2026-03-11 07:00");
  note("air min 3 max 12", "2026-03-12 07:00");
  const Printed p = leat("ahead --start 2026-03-10 --days 4 --json", "2026-03-12 12:00");
  ASSERT_EQ(p.code, 0) << p.text;
  EXPECT_TRUE(holds(p.text, "read 17 h ago, entry 2")) << "as seen at the end of the first day";
  const std::string text = leat("ahead --start 2026-03-10 --days 2", "2026-03-12 12:00").text;
  EXPECT_TRUE(holds(text, "fed 55 g in all")) << text;
  EXPECT_TRUE(holds(text, "record from 03-10") || holds(text, "record from 03-11")) << text;
}

}  // namespace
}  // namespace leat
