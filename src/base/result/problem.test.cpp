#include "base/result/problem.h"

#include <gtest/gtest.h>

namespace leat {
namespace {

TEST(Problems, ShowPlacePathAndCureInFileOrder) {
  Problems problems;
  problems.add({"loop.toml", 41, 12, "tank.nursery.volume", R"("1000" has no unit; write "1000 L")"});
  problems.add({"loop.toml", 3, 1, "place", "has no latitude"});
  EXPECT_EQ(problems.text(),
            "loop.toml:3:1 place: has no latitude\n"
            "loop.toml:41:12 tank.nursery.volume: \"1000\" has no unit; write \"1000 L\"\n");
}

TEST(NearestWord, FindsSlipsButDoesNotGuessWildly) {
  const std::vector<std::string_view> known{"volume", "bore", "length"};
  EXPECT_EQ(nearest_word("volumne", known), "volume");
  EXPECT_EQ(nearest_word("lenght", known), "length");
  EXPECT_EQ(nearest_word("colour", known), "");
  EXPECT_EQ(did_you_mean("boer", known), "; did you mean \"bore\"?");
}

}  // namespace
}  // namespace leat
