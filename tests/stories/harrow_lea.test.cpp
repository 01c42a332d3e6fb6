// A bloom, the sag before dawn and the dead that are found: the whole story by command, every figure.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <cstdlib>

#include "record/scratch.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

class HarrowLea : public ::testing::Test {
 protected:
  record::tests::Scratch yard;

  void SetUp() override {
    yard.write("loop.toml", tests::slurp(std::string(LEAT_ROOT) + "/tests/stories/harrow-lea.toml") +
                                "\n[limits]\ndissolved_oxygen_low = \"5 mg/L\"\n");
  }
  /// A command; one that notes or looks at the record is told what counts as now.
  std::string leat(const std::string& rest, const std::string& now = "", int code = 0) const {
    const std::string shell = "cd '" + yard.folder() + "' && '" + LEAT_BINARY + "' " + rest +
                              (now.empty() ? "" : " --now '2026-06-" + now + "'") + " 2>&1";
    std::FILE* pipe = popen(shell.c_str(), "r");
    std::string text;
    std::array<char, 4096> buffer;
    for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) text.append(buffer.data(), n);
    EXPECT_EQ(WEXITSTATUS(pclose(pipe)), code) << text;
    return unwrapped(text);
  }
  /// Lines broken for the screen, put together again.
  static std::string unwrapped(const std::string& text) {
    std::string out;
    for (const char c : text)
      if (c != '\n' && c != ' ')
        out += c;
      else if (!out.empty() && out.back() != ' ')
        out += ' ';
    return out;
  }
  void note(const std::string& phrase, const std::string& when) const {
    const std::string said = leat("note loop.toml '" + phrase + "'", when);
    EXPECT_EQ(said.find("kept as words: "), std::string::npos) << said;
  }
  void evening() const {
    note("lid 45 cm", "11 15:00");
    note("lid 22 cm", "20 15:00");
    note("ph 9.1", "20 16:00");
    note("tan 1.0", "20 16:05");
    note("no2 0.1", "20 16:10");
    note("temp 17", "20 17:55");
    note("do 14.0", "20 18:00");
    note("do 7.8, pea soup", "20 21:00");
  }
  static constexpr const char* kNight =
      "night loop.toml --reading '18:00 14.0 mg/L' --reading '21:00 7.8 mg/L' --temperature '17 degC' --reaeration "
      "'0.30 1/h' --dawn "
      "05:30 --ph 9.1 --ammonia '1.0 mg/L'";
};

#define EXPECT_SAYS(text, part) EXPECT_NE((text).find(part), std::string::npos) << "lacks: " << (part) << "\n" << (text)

/// The number behind some words.
double after(const std::string& text, const std::string& words) {
  const std::size_t at = text.find(words);
  EXPECT_NE(at, std::string::npos) << "lacks: " << words << "\n" << text;
  return at == std::string::npos ? -1.0 : std::strtod(text.c_str() + at + words.size(), nullptr);
}

/// As the story is to be held: mg/L within 3 %, chances within 2 points.
void expect_mg(const std::string& text, const std::string& words, double wanted) {
  EXPECT_NEAR(after(text, words), wanted, 0.03 * wanted) << words;
}
void expect_chance(const std::string& text, const std::string& words, double wanted) {
  EXPECT_NEAR(after(text, words), wanted, 2.0) << words;
}

TEST_F(HarrowLea, TheNightByCommand) {
  const std::string night = leat(kNight);
  EXPECT_SAYS(night, "At 05:30 it will be about 3.9 mg/L (5 to 95 %: 1.1 to 6.1)");
  expect_chance(night, "Chance of less than 5: ", 77.0);
  expect_chance(night, "of less than 3: ", 28.0);
  expect_mg(night, "It goes towards ", 3.55);
  expect_mg(night, "saturated it would be ", 9.67);
  expect_mg(night, "All that lives in it takes ", 1.84);
  expect_mg(night, "an hour: the fish ", 0.64);
  expect_mg(night, ", the rest ", 1.20);
  EXPECT_SAYS(night, "at about 00:35");
  expect_mg(night, "With twice the air it would be ", 6.6);
  EXPECT_SAYS(night, "says 1.5");
  EXPECT_SAYS(night, "28.5 % of the ammonia was un-ionised: 0.29 mg/L");
  EXPECT_SAYS(night, "109 % of the air's pressure");
  EXPECT_SAYS(night, "no algicide");
}

TEST_F(HarrowLea, OneMoreReadingAndTheSecondNight) {
  const std::string more = leat(std::string(kNight) + " --reading '23:00 5.9 mg/L'");
  EXPECT_SAYS(more, "(5 to 95 %: 2.1 to 5.4)");
  expect_chance(more, "Chance of less than 5: ", 88.0);
  expect_chance(more, "of less than 3: ", 20.0);
  const std::string second = leat(
      "night loop.toml --reading '17:59 14.0 mg/L' --reading '18:00 14.0 mg/L' --temperature '17 degC' --reaeration "
      "'0.30 1/h' --dawn 05:30 "
      "--demand '2.4 mg/L'");
  expect_mg(second, "it will be about ", 2.1);
  expect_mg(second, "It goes towards ", 1.7);
  expect_mg(second, "With twice the air it would be ", 5.7);
}

TEST_F(HarrowLea, TheTimerWarnsInTheEvening) {
  evening();
  const std::string urgent = leat("round --urgent --reaeration '0.30 1/h'", "20 21:05", 1);
  EXPECT_SAYS(urgent, "oxygen will be about");
  EXPECT_SAYS(urgent, "(about 2026-06-21 00:35)");
}

TEST_F(HarrowLea, TheDeadAreWeighedAgainstEachCause) {
  evening();
  note("33 dead, 82 g each", "21 06:40");
  note("weighed 25 fish 66 g each", "21 10:00");
  const std::string cause = leat(
      "cause loop.toml --reaeration '0.30 1/h' --dawn 05:30 --dead '33, 82 g, sd 15 g' --alive '25, 66 g, sd 12 g'",
      "21 11:00");
  EXPECT_SAYS(cause, "33 dead, found 2026-06-21 06:40");
  EXPECT_SAYS(cause, "25 of 58 live: 43 % (95 %: 30 to 57 %)");
  EXPECT_SAYS(cause, "16 g more (Welch t = 4.5), so the large died first");
  EXPECT_SAYS(cause, "1. oxygen ran out: fits for, strongly: the large died first");
  EXPECT_SAYS(cause, "led to 3.9 mg/L at dawn (5 to 95 %: 1.1 to 6.1; chance under 5: ");
  expect_chance(cause, "chance under 5: ", 77.0);
  expect_chance(cause, "under 3: ", 28.0);
  EXPECT_SAYS(cause, "2. un-ionised ammonia: may have had a part");
  EXPECT_SAYS(cause, "28.5 % un-ionised: 0.29 mg/L");
  EXPECT_SAYS(cause, "nitrite: not likely against, strongly: nitrite 0.1 mg/L as N");
  EXPECT_SAYS(cause, "145 % of saturation makes 109 % of all gas");
  const std::size_t open = cause.find("This record cannot exclude:");
  ASSERT_NE(open, std::string::npos);
  const std::string not_excluded = cause.substr(open, cause.find("Now ", open) - open);
  EXPECT_SAYS(not_excluded, "poison of a bloom");
  EXPECT_SAYS(not_excluded, "copper");
  EXPECT_EQ(not_excluded.find("nitrite"), std::string::npos);
  EXPECT_SAYS(cause, "2.7 kg hold 73 g of nitrogen, up to 30 mg/L in 2400 L");
  EXPECT_SAYS(cause, "mark this date on every plot of a crop trial");
  for (const char* never : {"use copper", "add copper", "killed by", "the cause was"})
    EXPECT_EQ(cause.find(never), std::string::npos);
}

}  // namespace
}  // namespace leat
