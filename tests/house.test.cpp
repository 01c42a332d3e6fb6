// The house keeps its order: who may include whom, where heavy headers live, how long files are, who may print.
// HOUSE.md says why; tools/house_rules.h holds the rules and the exceptions.
#include <gtest/gtest.h>

#include "tools/house_rules.h"

namespace leat {
namespace {

using namespace tools;

class House : public ::testing::Test {
 protected:
  static const Sources& src() {
    static const Sources all = read_tree(LEAT_ROOT, "src");
    return all;
  }
  static Sources everything() {
    Sources all = src();
    for (const char* folder : {"tests", "tools"})
      for (Source& source : read_tree(LEAT_ROOT, folder)) all.push_back(std::move(source));
    return all;
  }
  static void expect_none(const Faults& faults) { EXPECT_TRUE(faults.empty()) << text_of(faults); }
};

TEST_F(House, NothingIsIncludedFromAStoreyBelow) {
  ASSERT_GT(src().size(), 200u);
  expect_none(wrong_storeys(src()));
}
TEST_F(House, QuotedIncludesNameFilesOfTheHouse) {
  expect_none(quoted_includes_of_nothing(src()));
}
TEST_F(House, HeavyHeadersStayAtHome) {
  expect_none(strayed_heavy_headers(src()));
  expect_none(leaking_heavy_headers(src()));
}
TEST_F(House, FilesAreShort) {
  expect_none(long_files(everything()));
}
TEST_F(House, HeadersAreReadOnce) {
  expect_none(headers_without_pragma_once(everything()));
}
TEST_F(House, NoRegexAndOnlyTheDoorsPrint) {
  expect_none(banned_code(src()));
}
TEST_F(House, NamedExceptionsAreStillNeeded) {
  expect_none(stale_exceptions(src()));
}

// The rules bite: each on a made-up file.

std::size_t count(Faults (*rule)(const Sources&), std::string path, const std::string& text) {
  return rule({read_source(std::move(path), text)}).size();
}

TEST(HouseRules, AStoreyBelowIsSeen) {
  const std::string text = "#include \"answers/check.h\"\n#include \"base/csv.h\"\n// #include \"doors/x.h\"\n";
  const Faults faults = wrong_storeys({read_source("src/science/heat/x.cpp", text)});
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_EQ(faults[0].text(),
            "src/science/heat/x.cpp:1 includes \"answers/check.h\"; wanted: nothing from below science/\n");
  EXPECT_EQ(count(wrong_storeys, "src/model/loop/x.h", "#include \"model/weather/weather.h\"\n"), 0u);
  EXPECT_EQ(count(wrong_storeys, "src/model/weather/x.h", "#include \"model/loop/loop.h\"\n"), 1u);
  EXPECT_EQ(count(wrong_storeys, "src/attic/x.h", ""), 1u);
}

TEST(HouseRules, HeavyHeadersAreSeen) {
  EXPECT_EQ(count(strayed_heavy_headers, "src/tell/x.cpp", "#include <nlohmann/json.hpp>\n"), 0u);
  EXPECT_EQ(count(strayed_heavy_headers, "src/tell/x.h", "#include <nlohmann/json.hpp>\n"), 1u);
  EXPECT_EQ(count(strayed_heavy_headers, "src/answers/x.cpp", "#include <nlohmann/json.hpp>\n"), 1u);
  EXPECT_EQ(count(strayed_heavy_headers, "src/numerics/root.cpp", "#include <cvodes/cvodes.h>\n"), 1u);
  EXPECT_EQ(count(leaking_heavy_headers, "src/model/loop/x.cpp", "#include \"model/loop/value.h\"\n"), 0u);
  EXPECT_EQ(count(leaking_heavy_headers, "src/model/loop/x.h", "#include \"model/loop/value.h\"\n"), 1u);
  EXPECT_EQ(count(leaking_heavy_headers, "src/answers/x.cpp", "#include \"model/loop/value.h\"\n"), 1u);
}

TEST(HouseRules, LengthAndPragmaAreSeen) {
  EXPECT_EQ(count(long_files, "src/base/x.cpp", std::string(401, '\n')), 1u);
  EXPECT_EQ(count(long_files, "src/base/x.cpp", std::string(400, '\n')), 0u);
  EXPECT_EQ(count(headers_without_pragma_once, "src/base/x.h", "// What.\n#pragma once\n"), 0u);
  EXPECT_EQ(count(headers_without_pragma_once, "src/base/x.h", "#include <cmath>\n#pragma once\n"), 1u);
  EXPECT_EQ(count(headers_without_pragma_once, "src/base/x.h", "// #pragma once\nint x;\n"), 1u);
}

TEST(HouseRules, PrintingIsSeen) {
  for (const char* text : {"printf(\"x\");", "std::printf (\"x\");", "puts(text);", "fprintf(stdout, \"x\");",
                           "std::cout << 1;", "fmt::print(\"x\");", "std::fputs(t, stdout);", "#include <regex>"})
    EXPECT_EQ(count(banned_code, "src/base/x.cpp", text), 1u) << text;
  for (const char* text : {"fprintf(stderr, \"x\");", "snprintf(b, n, \"x\");", "fmt::print(stderr, \"x\");",
                           "// printf(\"x\")", "f(\"puts(trout)\");", "g('\"'); /* std::cout */", "out.puts(1);",
                           "f(R\"(std::cout)\");", "n = 1'000 + f('x');"})
    EXPECT_EQ(count(banned_code, "src/base/x.cpp", text), 0u) << text;
  EXPECT_EQ(count(banned_code, "src/doors/command/x.cpp", "fmt::print(\"x\");"), 0u);
}

}  // namespace
}  // namespace leat
