// The pages under docs/ and the program say the same: reference pages come from the tables of words, the runs in the
// guides are run again, every verb and flag has its line. LEAT_WRITE=1 writes pages and runs anew.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "base/words/verbs.h"
#include "model/weather/weather.h"
#include "tests/loop_file.h"
#include "tools/doc_runs.h"
#include "tools/reference_page.h"

namespace leat {
namespace {

namespace fs = std::filesystem;

std::string in_root(const std::string& path) {
  return std::string(LEAT_ROOT) + "/" + path;
}

std::string guide_of(std::string_view verb) {
  return "docs/guide/" + std::string(verb) + ".md";
}

/// The first line in which two texts differ, for a message.
std::string first_difference(const std::string& is, const std::string& wanted) {
  const auto a = tools::lines_of(is), b = tools::lines_of(wanted);
  std::size_t i = 0;
  while (i < a.size() && i < b.size() && a[i] == b[i]) ++i;
  const auto line = [i](const std::vector<std::string>& lines) { return i < lines.size() ? lines[i] : "(its end)"; };
  return fmt::format("line {}\n  is      {}\n  wanted  {}\n", i + 1, line(a), line(b));
}

/// Compares a page with what it should be, or writes it when asked to.
void expect_page(const std::string& path, const std::string& wanted) {
  if (std::getenv("LEAT_WRITE")) std::ofstream(in_root(path), std::ios::binary) << wanted;
  const std::string is = tests::slurp(in_root(path));
  EXPECT_TRUE(is == wanted) << path << " is behind the program: " << first_difference(is, wanted)
                            << "LEAT_WRITE=1 test_across --gtest_filter='Docs*' writes it anew";
}

TEST(DocsReference, LoopPageIsTheTableOfKeys) {
  expect_page("docs/reference/loop.md", tools::loop_page());
}

TEST(DocsReference, AnswersPageIsTheTableOfQuantities) {
  expect_page("docs/reference/answers.md", tools::answers_page());
}

/// The part of a page from a heading to the next one.
std::string section_of(const std::string& page, const std::string& heading) {
  const std::size_t from = page.find("\n## " + heading + "\n");
  return from == std::string::npos ? "" : page.substr(from, page.find("\n## ", from + 1) - from);
}

TEST(DocsReference, EveryKeyOfEveryKindIsThere) {
  const std::string page = tests::slurp(in_root("docs/reference/loop.md"));
  const std::string vessels = section_of(page, "Every vessel");
  for (const words::Kind& kind : words::kinds()) {
    const std::string own = section_of(page, "`[" + std::string(kind.name) + (kind.single ? "]`" : ".NAME]`"));
    ASSERT_FALSE(own.empty()) << kind.name;
    for (const words::Key& key : kind.keys) {
      const std::string row = "| `" + std::string(key.name) + "` |";
      EXPECT_TRUE(own.find(row) != std::string::npos || (kind.vessel && vessels.find(row) != std::string::npos))
          << kind.name << "." << key.name;
    }
  }
}

TEST(DocsGuide, EveryVerbHasAPageAndEveryPageAVerb) {
  for (const words::Verb& verb : words::kVerbs) {
    ASSERT_TRUE(fs::exists(in_root(guide_of(verb.name)))) << verb.name;
    const std::string page = tests::slurp(in_root(guide_of(verb.name)));
    EXPECT_TRUE(page.starts_with(fmt::format("# leat {}: {}\n", verb.name, verb.answers))) << guide_of(verb.name);
  }
  for (const auto& entry : fs::directory_iterator(in_root("docs/guide"))) {
    const std::string name = entry.path().stem().string();
    EXPECT_TRUE(std::any_of(words::kVerbs.begin(), words::kVerbs.end(),
                            [&](const words::Verb& verb) { return verb.name == name; }))
        << name << ".md is the guide of no verb";
  }
}

/// Runs a command in the project's folder; the program's name stands for the one just built.
std::string printed_by(const std::string& command) {
  const std::string shell =
      "cd '" + std::string(LEAT_ROOT) + "' && '" + LEAT_BINARY + "' " + command.substr(5) + " 2>&1";
  std::FILE* pipe = popen(shell.c_str(), "r");
  std::string text;
  std::array<char, 4096> buffer;
  for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) text.append(buffer.data(), n);
  pclose(pipe);
  return text;
}

/// The flags in the help of a verb: "--json", "--start".
std::vector<std::string> flags_of(std::string_view verb) {
  const std::string help = printed_by("leat " + std::string(verb) + " --help");
  std::vector<std::string> flags;
  for (std::size_t at = help.find(" --"); at != std::string::npos; at = help.find(" --", at + 1)) {
    const std::size_t end = help.find_first_of(" \n,=", at + 1);
    flags.push_back(help.substr(at + 1, end - at - 1));
  }
  return flags;
}

TEST(DocsGuide, EveryFlagIsExplained) {
  std::size_t flags = 0;
  for (const words::Verb& verb : words::kVerbs) {
    const std::string page = tests::slurp(in_root(guide_of(verb.name)));
    for (const std::string& flag : flags_of(verb.name)) {
      EXPECT_NE(page.find(flag), std::string::npos) << guide_of(verb.name) << " lacks " << flag;
      ++flags;
    }
  }
  EXPECT_GT(flags, 8u);
}

std::vector<std::string> pages() {
  std::vector<std::string> paths;
  for (const auto& entry : fs::recursive_directory_iterator(in_root("docs")))
    if (entry.path().extension() == ".md") paths.push_back(fs::relative(entry.path(), LEAT_ROOT).string());
  std::sort(paths.begin(), paths.end());
  return paths;
}

TEST(DocsRuns, ShowWhatTheProgramPrints) {
  int runs = 0;
  for (const std::string& path : pages()) {
    const std::string page = tests::slurp(in_root(path));
    tools::PageRefresh refresh(path, printed_by);
    const std::string wanted = refresh.page(page);
    EXPECT_TRUE(refresh.faults.empty()) << tools::text_of(refresh.faults);
    if (refresh.runs == 0) continue;
    runs += refresh.runs;
    if (refresh.faults.empty()) expect_page(path, wanted);
  }
  EXPECT_GT(runs, 5);
}

/// What stands in the fenced block whose first line starts alike.
std::string block_of(const std::string& page, const std::string& first) {
  const std::size_t from = page.find("```\n" + first);
  return from == std::string::npos ? "" : page.substr(from + 4, page.find("```\n", from + 4) - from - 4);
}

TEST(DocsWeather, ShownFilesAndPhrasesAreRead) {
  const std::string page = tests::slurp(in_root("docs/weather.md"));
  Problems problems;
  const model::DailyRecord record = model::read_daily_record(block_of(page, "date,"), "weather.md", "", problems);
  EXPECT_EQ(record.days.size(), 2u);
  // A Monday, nine days before the date that the page shows.
  const auto typed = model::read_forecast(block_of(page, "tomorrow "), "weather.md", {2026, 11, 23}, problems);
  ASSERT_EQ(typed.size(), 3u);
  EXPECT_EQ(typed[0].date.text() + " " + typed[1].date.text(), "2026-11-24 2026-11-26");
  EXPECT_TRUE(problems.empty()) << problems.text();
}

std::string shown(const std::string& page, const std::string& printed, std::size_t faults = 0) {
  tools::PageRefresh refresh("page.md", [&](const std::string&) { return printed; });
  const std::string text = refresh.page(page);
  EXPECT_EQ(refresh.faults.size(), faults) << tools::text_of(refresh.faults);
  return text;
}

TEST(DocsRuns, StretchesAreFoundAgainByTheirWords) {
  const std::string printed = "yes\nlow 3 of 9\nsecond 4\nthird\nlow 5\n";
  EXPECT_EQ(shown("a\n```\n$ leat check x\nlow 1 of 2\n...\nlow 9\n```\nlow 1\n", printed),
            "a\n```\n$ leat check x\nlow 3 of 9\n...\nlow 5\n```\nlow 1\n");
  EXPECT_EQ(shown("```\n$ leat check x\nlow 1\nold\n```\n", printed),
            "```\n$ leat check x\nlow 3 of 9\nsecond 4\n```\n");
  EXPECT_EQ(shown("```\n$ leat new\nhigh\n```\n", printed), "```\n$ leat new\nhigh\n```\n");
  shown("```\n$ leat check x\nhigh 1\n```\n", printed, 1);
  shown("```\n$ leat check x\nthird\nlow 5\nmore\n```\n", printed, 1);
}

}  // namespace
}  // namespace leat
