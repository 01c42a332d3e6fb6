#include "answers/starter.h"

#include <gtest/gtest.h>

#include <functional>

#include "answers/check.h"
#include "model/loop/loop.h"

namespace leat::answers {
namespace {

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

model::Loop loop_of(const Starter& s) {
  Problems problems;
  model::Loop loop = model::make_loop(model::read_description(s.text, "starter", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

TEST(Starter, RunsWithNothingSaidAndMarksEveryGuess) {
  const Starter s = starter({});
  ASSERT_TRUE(s.problems.empty()) << s.problems.text();
  const model::Loop loop = loop_of(s);
  EXPECT_TRUE(check(loop).running_settled);
  for (const Guess& g : s.guesses) {
    EXPECT_FALSE(g.why.empty() || g.better.empty()) << g.path;
    EXPECT_TRUE(holds(s.text, g.value)) << g.path;
  }
  std::size_t marks = 0, with_value = 0;
  for (std::size_t at = s.text.find("# guessed:"); at != std::string::npos; at = s.text.find("# guessed:", at + 1))
    ++marks;
  for (const Guess& g : s.guesses) with_value += !g.value.empty();
  EXPECT_EQ(marks, with_value);
}

TEST(Starter, WritesWhatWasSaidAsItWasSaid) {
  StarterRequest r;
  r.tank = "264 USgal";
  r.count = std::string("55");
  r.name = "Ann's \"north\" \\ yard\n[pump.evil]";
  const Starter s = starter(r);
  ASSERT_TRUE(s.problems.empty()) << s.problems.text();
  EXPECT_TRUE(holds(s.text, "volume = \"264 USgal\"\n"));
  EXPECT_TRUE(holds(s.text, "count = 55\n"));
  EXPECT_EQ(loop_of(s).pumps.size(), 1u);
  for (const Guess& g : s.guesses) EXPECT_NE(g.path, "tank.main.volume");
}

/// Exact by what is asked for: the bucket's flow arrives at the tank, within what is written of the pump.
TEST(Starter, FindsThePumpThatFillsTheBucket) {
  for (const char* flow : {"1200 L/h", "10 L in 30 s", "20 L/min"})
    for (const char* gravel : {"none", "1.2 m2"}) {
      StarterRequest r;
      r.flow = flow;
      r.gravel = gravel;
      const Starter s = starter(r);
      ASSERT_TRUE(s.problems.empty()) << s.problems.text();
      double arrives = 0.0;
      for (const PipeState& pipe : check(loop_of(s)).pipes)
        if (pipe.path == "pipe.tank") arrives = pipe.flow.si();
      EXPECT_NEAR(arrives * 3.6e6, 1200.0, 25.0) << flow << gravel;
    }
}

TEST(Starter, TellsWhatCannotBeReadAndWhere) {
  const auto told = [](const std::function<void(StarterRequest&)>& say) {
    StarterRequest r;
    say(r);
    return starter(r).problems.text();
  };
  using R = StarterRequest&;
  EXPECT_TRUE(holds(told([](R r) { r.tank = "1000"; }), "tank.main.volume"));
  EXPECT_TRUE(holds(told([](R r) { r.count = "many"; }), "fish.first.count: \"many\" is no plain number"));
  EXPECT_TRUE(holds(told([](R r) { r.latitude = "1\n[loop]"; }), "place.latitude"));
  EXPECT_TRUE(holds(told([](R r) { r.latitude = "123"; }), "place.latitude"));
  EXPECT_TRUE(holds(told([](R r) { r.fish = "trot"; }), "fish.first.species"));
  EXPECT_TRUE(holds(told([](R r) { r.flow = "10 L in 0 s"; }), "flow"));
  EXPECT_TRUE(holds(told([](R r) { r.flow = "10 L in 30 L"; }), "flow"));
  EXPECT_TRUE(holds(told([](R r) { r.low = "warm"; }), "water.temperature"));
}

}  // namespace
}  // namespace leat::answers
