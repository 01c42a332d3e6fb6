// The weekly report by the front door: a page whose every number leads to readings, wording that stays the grower's,
// and notes that hold whatever somebody typed.
#include <gtest/gtest.h>

#include <cctype>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <random>
#include <set>

#include "tell/markdown.h"
#include "tests/yard.h"

namespace leat {
namespace {

using tests::holds;

class Week : public ::testing::Test {
 protected:
  tests::Yard yard{"tests/stories/quarr-bottom.toml"};
  void SetUp() override {
    note(
        "2026-03-19 07:00 tank.open min 8.0 max 12.6 since 2026-03-18 07:00; 2026-03-19 07:00 air min 2 max 13 since "
        "2026-03-18 07:00");
    note("2026-03-20 07:00 tank.open min 8.2 max 13.0 since 2026-03-19 07:00");
    note("2026-03-10 07:00 tank.open min 9.0 max 11.0 since 2026-03-09 07:00");
    note("yesterday fed 50 g; fed 60 g; 2 dead; ph 6.8; nh3 below 0.25");
  }
  void note(const std::string& phrase) {
    const auto printed = yard.note(phrase, "2026-03-22 10:00");
    ASSERT_EQ(printed.code, 0) << printed.text;
  }
  tests::Printed week(const std::string& flags = "") { return yard.leat("week --now '2026-03-22 20:00' " + flags); }
  std::string page() {
    EXPECT_EQ(week().code, 0);
    return yard.file("week-2026-03-22.html");
  }
};

/// What stands between a text and the next quote, everywhere in a page.
std::multiset<std::string> all_behind(const std::string& page, const std::string& start) {
  std::multiset<std::string> found;
  for (std::size_t at = page.find(start); at != std::string::npos; at = page.find(start, at + 1)) {
    const std::size_t from = at + start.size();
    found.insert(page.substr(from, page.find('"', from) - from));
  }
  return found;
}

TEST_F(Week, EveryLinkLeadsSomewhereAndEveryFigureToEntries) {
  const std::string html = page();
  const auto ids = all_behind(html, "id=\"");
  const auto links = all_behind(html, "href=\"");
  EXPECT_GT(links.size(), 20u);
  for (const std::string& link : links) {
    ASSERT_TRUE(link.starts_with("#")) << link << " leads out of the page";
    EXPECT_EQ(ids.count(link.substr(1)), 1u) << link;
  }
  for (const char* figure : {"fed", "died", "swing-tank.open", "swing-tank.open-before", "low-outside"})
    EXPECT_EQ(ids.count(figure), 1u) << figure;
}

TEST_F(Week, NeedsNothingElseAndRunsNothing) {
  const std::string html = page();
  for (const char* out : {"http:", "https:", "src=", "@import", "url(", "<script", "<link", "onload"}) {
    // The name of SVG is an address that nobody opens.
    std::string rest = html;
    for (std::size_t at; (at = rest.find("http://www.w3.org/2000/svg")) != std::string::npos;) rest.erase(at, 26);
    EXPECT_FALSE(holds(rest, out)) << out;
  }
  EXPECT_TRUE(holds(html, "default-src 'none'"));
  EXPECT_TRUE(holds(html, "@media print"));
}

TEST_F(Week, FiguresAreThoseOfTheRecord) {
  const std::string csv = week("--csv").text;
  // 4.6 and 4.8 K; the week before 2.0 K; 50 and 60 g.
  EXPECT_TRUE(holds(csv, "swing-tank.open,\"mean swing, tank.open, 2 whole-day windows\",4.7,4.7,K")) << csv;
  EXPECT_TRUE(holds(csv, "swing-tank.open-before,\"the same of the week before, 1 whole-day windows\",2,2,K")) << csv;
  EXPECT_TRUE(holds(csv, "fed,fed in all,110,110,g")) << csv;
  EXPECT_TRUE(holds(csv, "died,fish that died,2,2,")) << csv;
  const std::string text = tests::unbroken(week("--text").text);
  EXPECT_TRUE(holds(text, "ammonia, tank.open: below 0.25 mg/L")) << text;
  EXPECT_TRUE(holds(text, "noted on 2 of 7 days")) << text;
}

/// 45 fish of the loop file, 2 of them dead: 43 from 60 to 66 g gained 258 g on 600 g of feed.
TEST_F(Week, FeedIsHeldAgainstGrowth) {
  note("2026-03-01 08:00 weighed 10 trout 600 g together; 2026-03-05 fed 490 g");
  note("2026-03-22 09:30 weighed 10 trout 660 g together");
  const std::string csv = week("--csv").text;
  // Feed from the first weighing up to the second; the 60 g of 10:00 are later. 490 + 50 g.
  const std::size_t at = csv.find("feed-gain-tank.open,");
  ASSERT_NE(at, std::string::npos) << csv;
  EXPECT_TRUE(holds(csv.substr(at), "540 g for 43 fish that live\",2.09302,2.09302")) << csv.substr(at, 200);
  EXPECT_TRUE(holds(csv, "growth-tank.open")) << csv;
}

/// Days before a re-plumbing are another loop: 4.6 and 4.8 K before it, 3.0 K since.
TEST_F(Week, ReplumbingIsNeverAveragedOver) {
  note("2026-03-20 12:00 replumbed: raft last");
  note("2026-03-21 07:00 tank.open min 8.0 max 14.0 since 2026-03-20 07:00");
  note("2026-03-22 07:00 tank.open min 8.0 max 11.0 since 2026-03-21 07:00");
  const std::string csv = week("--csv").text;
  EXPECT_TRUE(holds(csv, "swing-tank.open,\"mean swing, tank.open, since the re-plumbing, 1 whole-day windows\",3,3,K"))
      << csv;
  EXPECT_TRUE(holds(csv,
                    "swing-tank.open-replumbed,\"mean swing, tank.open, up to the re-plumbing, 2 whole-day "
                    "windows\",4.7,4.7,K"))
      << csv;
}

TEST_F(Week, JsonHoldsTheSameFigures) {
  const auto j = nlohmann::json::parse(week("--json").text);
  EXPECT_EQ(j.at("head").get<std::string>().size(), 64u);
  bool fed = false;
  for (const auto& f : j.at("figures")) {
    EXPECT_FALSE(f.at("entries").empty()) << f.dump();
    if (f.at("name") == "fed") fed = f.at("low") == 110.0 && f.at("text") == "110 g";
  }
  EXPECT_TRUE(fed);
}

TEST_F(Week, TheHeadIsTheOneThatVerifyPrints) {
  const std::string verified = yard.leat("record --verify").text;
  const std::size_t at = verified.find("head ");
  ASSERT_NE(at, std::string::npos) << verified;
  const std::string head = verified.substr(at + 5, 64);
  EXPECT_TRUE(holds(page(), head));
  EXPECT_TRUE(holds(week("--text").text, head));
}

TEST_F(Week, WordingIsTheGrowersOnceWritten) {
  week();
  const std::string wording = yard.file("week-2026-03-22.md");
  EXPECT_TRUE(holds(wording, "[110 g](#fed)")) << wording;
  yard.write("week-2026-03-22.md", "# A fine week\n\nThey ate [110 g](#fed), <b>all</b> of it & **more**.\n");
  const auto again = week();
  EXPECT_FALSE(holds(again.text, "is now")) << again.text;
  const std::string html = yard.file("week-2026-03-22.html");
  EXPECT_TRUE(holds(html,
                    "<p>They ate <a href=\"#fed\">110 g</a>, &lt;b&gt;all&lt;/b&gt; of it &amp; "
                    "<strong>more</strong>.</p>"))
      << html;
  // The record moves on; the old number is told, and left.
  note("fed 20 g");
  EXPECT_TRUE(holds(week().text, "\"110 g\" (fed in all) is now 130 g")) << week().text;
  EXPECT_TRUE(holds(yard.file("week-2026-03-22.md"), "They ate [110 g]"));
  EXPECT_TRUE(holds(week("--fresh").text, "Kept the wording that was as"));
  EXPECT_TRUE(holds(yard.file("week-2026-03-22.1.md"), "A fine week"));
  EXPECT_TRUE(holds(yard.file("week-2026-03-22.md"), "[130 g](#fed)"));
}

TEST_F(Week, NotesThatHoldMarksAreShownAsTyped) {
  note("<script>alert(1)</script> **x** [y](#fed) <img src=x onerror=alert(2)>");
  note("planted 3 =cmd in raft <i>");
  const std::string html = page();
  EXPECT_FALSE(holds(html, "<script>alert"));
  EXPECT_FALSE(holds(html, "<img"));
  EXPECT_TRUE(holds(html, "&lt;script&gt;alert(1)&lt;/script&gt; **x** [y](#fed)")) << html;
  EXPECT_FALSE(holds(html, "<strong>x</strong>"));
}

TEST_F(Week, AnotherFileIsNeverWrittenOver) {
  yard.write("mine.html", "<html>mine</html>");
  const auto printed = week("--out mine.html");
  EXPECT_EQ(printed.code, 2);
  EXPECT_EQ(yard.file("mine.html"), "<html>mine</html>");
  EXPECT_TRUE(holds(printed.text, "was left as it is")) << printed.text;
  EXPECT_EQ(week("--out report.txt").code, 2);
  EXPECT_EQ(week("--days 0").code, 2);
  EXPECT_EQ(week("--text --pdf").code, 2);
}

TEST_F(Week, AHarvestIsOneLineAndFishAreNoPlants) {
  yard.write("loop.toml", yard.file("loop.toml") + "\n[raft_bed.raft]\narea = \"2 m2\"\n");
  note("2026-03-20 planted 9 rocket in raft; 2026-03-20 4 rocket died");
  note("2026-03-21 12:00 harvested rocket 59 51 69 g in raft");
  note("2026-03-21 13:00 harvested 5 trout 1500 g together");
  const std::string text = tests::unbroken(week("--text").text);
  EXPECT_TRUE(holds(text, "Fish that died: 2.")) << text;
  EXPECT_TRUE(holds(text, "Harvested, rocket: 179 g.")) << text;
  EXPECT_TRUE(holds(text, "- harvested 3 rocket, 179 g together, raft_bed.")) << text;
  EXPECT_FALSE(holds(text, "harvested 1 rocket")) << text;
  const std::size_t changed = text.find("What changed"), beds = text.find("Beds"),
                    fish = text.find("- harvested 5 trout");
  ASSERT_NE(fish, std::string::npos) << text;
  EXPECT_TRUE(changed < fish && fish < beds) << text;
  EXPECT_GT(text.find("- died 4 rocket"), beds) << text;
}

TEST_F(Week, AQuietWeekSaysSo) {
  const std::string text = tests::unbroken(yard.leat("week --text --until 2026-01-10 --now 2026-03-22").text);
  EXPECT_TRUE(holds(text, "Nothing with a number was noted")) << text;
  EXPECT_TRUE(holds(text, "7 days without a note")) << text;
}

TEST_F(Week, APdfWhereThereIsChromiumAndASentenceWhereNot) {
  const auto without = yard.leat("week --pdf --now 2026-03-22");  // with whatever PATH the test has
  const std::string old = std::getenv("PATH") ? std::getenv("PATH") : "";
  const auto none = tests::printed_by_shell("cd '" + yard.folder() +
                                            "' && PATH=/nowhere '" LEAT_BINARY "' week --pdf --now 2026-03-22");
  EXPECT_EQ(none.code, 3);
  EXPECT_TRUE(holds(none.text, "chromium is not on this computer")) << none.text;
  if (without.code == 3 && holds(without.text, "is not on this computer")) GTEST_SKIP() << "no chromium here";
  ASSERT_EQ(without.code, 0) << without.text;
  EXPECT_TRUE(yard.file("week-2026-03-22.pdf").starts_with("%PDF-"));
}

TEST_F(Week, ItsWordingMayComeFromAFileAndIsToldAsJson) {
  const auto json = [&](const std::string& flags) {
    const auto said = yard.leat("week --now 2026-03-22 --json " + flags);
    EXPECT_EQ(said.code, 0) << said.text;
    return nlohmann::json::parse(said.text);
  };
  EXPECT_FALSE(json("").at("own_wording"));
  EXPECT_FALSE(std::filesystem::exists(yard.folder() + "/week-2026-03-22.md")) << "looking writes nothing";
  yard.write("mine.md", "# Mine\n\n[1 g](#fed)\n");
  const auto mine = json("--wording mine.md");
  EXPECT_EQ(mine.at("wording"), "# Mine\n\n[1 g](#fed)\n");
  EXPECT_TRUE(mine.at("own_wording"));
  EXPECT_EQ(mine.at("stale").size(), 1u) << mine.at("stale");
  EXPECT_EQ(json("").at("wording"), mine.at("wording"));
  EXPECT_FALSE(std::filesystem::exists(yard.folder() + "/week-2026-03-22.html")) << "no page is asked for";
  EXPECT_FALSE(json("--fresh").at("own_wording"));
  EXPECT_EQ(yard.file("week-2026-03-22.1.md"), "# Mine\n\n[1 g](#fed)\n");
  EXPECT_EQ(yard.leat("week --now 2026-03-22 --fresh --wording mine.md").code, 2);
  EXPECT_EQ(yard.leat("week --now 2026-03-22 --wording nowhere.md").code, 2);
}

TEST(Markdown, OnlyItsOwnFormsDoAnything) {
  EXPECT_EQ(tell::html_of_markdown("a [b](#c-1) d"), "<p>a <a href=\"#c-1\">b</a> d</p>\n");
  EXPECT_EQ(tell::html_of_markdown("[b](javascript:x) [c](http://d)"), "<p>[b](javascript:x) [c](http://d)</p>\n");
  EXPECT_EQ(tell::html_of_markdown("[b](#c\" onclick=\"x)"), "<p>[b](#c&quot; onclick=&quot;x)</p>\n");
  EXPECT_EQ(tell::html_of_markdown("<b>x</b>"), "<p>&lt;b&gt;x&lt;/b&gt;</p>\n");
  EXPECT_EQ(tell::html_of_markdown("# A\n- b\n- *c*\n\n> d"),
            "<h1>A</h1>\n<ul>\n<li>b</li>\n<li><em>c</em></li>\n</ul>\n<blockquote>d</blockquote>\n");
  EXPECT_EQ(tell::html_of_markdown("**a"), "<p>**a</p>\n");
  EXPECT_EQ(tell::html_of_markdown("\\"), "<p>\\</p>\n");
}

TEST(Markdown, EscapedTextIsShownAsItWas) {
  for (const std::string text : {"# not a heading", "- not a list", "**x** *y* _z_", "[a](#b)", "<i>&amp;", "a\\*b",
                                 "`c` ~~d~~ | e", "\\", "***", "[[a](#b)](#c)"}) {
    EXPECT_EQ(tell::text_of_markdown("- " + tell::markdown_escaped(text)), "  - " + text + "\n");
    EXPECT_TRUE(tell::links_in("- " + tell::markdown_escaped(text)).empty()) << text;
  }
}

/// Whatever is typed, no tag but ours and no link but within the page comes out.
TEST(Markdown, AnyTextGivesOnlyOurTags) {
  std::mt19937_64 random(31);
  static const std::vector<std::string> kParts = {"<",  ">",   "&",  "\"",     "'",    "*",      "**",
                                                  "[",  "](#", ")",  "a",      " ",    "\\",     "\n",
                                                  "# ", "- ",  "> ", "script", "\xff", "\u00e9", "javascript:"};
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (std::size_t n = random() % 24; n > 0; --n) text += kParts[random() % kParts.size()];
    std::string html = tell::html_of_markdown(text);
    for (std::size_t at; (at = html.find("<a href=\"#")) != std::string::npos;) {
      std::size_t end = at + 10;
      while (end < html.size() && (std::isalnum(static_cast<unsigned char>(html[end])) || html[end] == '-')) ++end;
      ASSERT_EQ(html.substr(end, 2), "\">") << text;
      html.erase(at, end + 2 - at);
    }
    for (const char* tag : {"</a>", "<p>", "</p>", "<ul>", "</ul>", "<li>", "</li>", "<em>", "</em>", "<strong>",
                            "</strong>", "<h1>", "</h1>", "<blockquote>", "</blockquote>"})
      for (std::size_t at; (at = html.find(tag)) != std::string::npos;) html.erase(at, std::string(tag).size());
    ASSERT_EQ(html.find_first_of("<>"), std::string::npos) << text << "\n" << html;
  }
}

}  // namespace
}  // namespace leat
