#include "science/hydraulics/minor_losses.h"

#include <gtest/gtest.h>

#include <set>

namespace leat::science {
namespace {

TEST(Fittings, AreFoundByNameHoweverJoined) {
  ASSERT_NE(find_fitting("long elbow"), nullptr);
  EXPECT_EQ(find_fitting("long elbow"), find_fitting("long_elbow"));
  EXPECT_EQ(find_fitting("check-valve")->k, 2.5);
  EXPECT_EQ(find_fitting("elbo"), nullptr);
  EXPECT_EQ(fitting_names().size(), fittings().size());
}

TEST(Fittings, EachStatesWhereItsNumberIsFromAndStandsOnce) {
  std::set<std::string_view> seen;
  for (const Fitting& f : fittings()) {
    EXPECT_TRUE(seen.insert(f.name).second) << f.name;
    EXPECT_EQ(find_fitting(f.name), &f);
    EXPECT_GT(f.k, 0.0);
    EXPECT_FALSE(f.source.empty());
    EXPECT_TRUE(f.provenance == "seen" || f.provenance == "memory" || f.provenance == "common practice") << f.name;
  }
}

TEST(MinorLoss, WideningAndNarrowingVanishAtEqualBores) {
  const Length<> d(0.027), open(1e3);
  EXPECT_NEAR(minor_loss_sudden_expansion(d, d).si(), 0.0, 1e-15);
  EXPECT_NEAR(minor_loss_sudden_contraction(d, d).si(), 0.0, 1e-15);
  EXPECT_NEAR(minor_loss_sudden_expansion(d, open).si(), find_fitting("exit")->k, 1e-8);
  EXPECT_NEAR(minor_loss_sudden_contraction(open, d).si(), find_fitting("entry")->k, 1e-8);
  EXPECT_NEAR(minor_loss_barbed_insert(d, d).si(), 0.0, 1e-15);
}

TEST(MinorLoss, BasisChangesThereAndBack) {
  const Number<> k(4.0);
  const Length<> a(0.02), b(0.034);
  EXPECT_NEAR(minor_loss_change_basis(minor_loss_change_basis(k, a, b), b, a).si(), 4.0, 1e-14);
}

TEST(MinorLoss, HeadKeepsTheSignOfTheVelocity) {
  EXPECT_EQ(minor_head_loss(Velocity<>(-1.5), Number<>(10.0)).si(),
            -minor_head_loss(Velocity<>(1.5), Number<>(10.0)).si());
}

// Values printed with the library's own tests of the same formulas.
TEST(MinorLoss, ConvergingTeesAtOtherAngles) {
  const auto tee = [](double run, double branch, double angle, double branch_bore = 0.1023) {
    return ConvergingTee{Length<>(0.1023), Length<>(branch_bore), Flow<>(run), Flow<>(branch), Number<>(angle)};
  };
  EXPECT_NEAR(minor_loss_tee_converging_branch(tee(0.018917, 0.0133, 90)).si(), 0.2644824555594152, 1e-12);
  EXPECT_NEAR(minor_loss_tee_converging_branch(tee(0.018917, 0.0133, 45)).si(), 0.13231793346761025, 1e-12);
  EXPECT_NEAR(minor_loss_tee_converging_branch(tee(1135, 380, 90, 0.05)).si(), 0.9799379575823042, 1e-12);
  EXPECT_NEAR(minor_loss_tee_converging_run(tee(0.018917, 0.00633, 90)).si(), 0.32575847854551254, 1e-12);
  EXPECT_NEAR(minor_loss_tee_converging_run(tee(0.018917, 0.00633, 30)).si(), 0.32920396892611553, 1e-12);
  EXPECT_NEAR(minor_loss_tee_converging_run(tee(0.018917, 0.00633, 60)).si(), 0.3757218131135227, 1e-12);
}

TEST(MinorLoss, BallValveRisesAsItShuts) {
  EXPECT_NEAR(minor_loss_ball_valve(Number<>(40.0)).si(), 5.0, 1e-12);
  EXPECT_NEAR(minor_loss_ball_valve(Number<>(70.0)).si(), 200.0, 1e-10);
  for (double t = 1.0; t < 90.0; t += 1.0)
    EXPECT_GT(minor_loss_ball_valve(Number<>(t)).si(), minor_loss_ball_valve(Number<>(t - 1.0)).si());
  EXPECT_NEAR(minor_loss_ball_valve(Number<>(0.0)).si(), find_fitting("ball valve")->k, 1e-15);
}

}  // namespace
}  // namespace leat::science
