#include "science/hydraulics/part_full.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

const Length<> kBore(0.0685);

TEST(CircularSection, FullAndHalfAndEmpty) {
  const double d = kBore.si();
  EXPECT_NEAR(circular_section_area(kBore, kBore).si(), std::numbers::pi * d * d / 4.0, 1e-15);
  EXPECT_NEAR(circular_section_area(0.5 * kBore, kBore).si(), std::numbers::pi * d * d / 8.0, 1e-15);
  EXPECT_NEAR(circular_section_hydraulic_radius(kBore, kBore).si(), d / 4.0, 1e-15);
  EXPECT_NEAR(circular_section_width(0.5 * kBore, kBore).si(), d, 1e-15);
  EXPECT_EQ(circular_section_area(Length<>(0.0), kBore).si(), 0.0);
  EXPECT_EQ(circular_section_hydraulic_radius(Length<>(0.0), kBore).si(), 0.0);
  EXPECT_EQ(circular_section_area(Length<>(1.0), kBore).si(), circular_section_area(kBore, kBore).si());
}

TEST(CircularSection, WidthIsTheSlopeOfAreaAndAreaThatOfTheMoment) {
  for (const double r : {0.1, 0.4, 0.7, 0.95}) {
    const Length<> y = r * kBore, e(1e-7);
    EXPECT_NEAR((circular_section_area(y + e, kBore) - circular_section_area(y - e, kBore)).si() / 2e-7,
                circular_section_width(y, kBore).si(), 1e-7);
    EXPECT_NEAR((circular_section_moment(y + e, kBore) - circular_section_moment(y - e, kBore)).si() / 2e-7,
                circular_section_area(y, kBore).si(), 1e-9);
  }
}

TEST(CircularSection, DepthUndoesTheArea) {
  for (double a = 0.0; a <= 1.0; a += 0.05)
    EXPECT_NEAR(part_full_area_ratio(part_full_depth_ratio(Number<>(a))).si(), a, 1e-12);
}

TEST(CircularSection, LargestFlowIsATop) {
  for (const double m : {2.0 / 3.0, 0.5}) {
    const LargestPartFull top = part_full_largest_flow(Number<>(m));
    const auto flow = [&](double y) {
      return part_full_area_ratio(Number<>(y)).si() * std::pow(part_full_radius_ratio(Number<>(y)).si(), m);
    };
    for (double y = 0.01; y <= 1.0; y += 0.01) EXPECT_LE(flow(y), top.flow_ratio.si());
    EXPECT_NEAR(flow(top.depth_ratio.si()), top.flow_ratio.si(), 1e-14);
  }
}

TEST(PartFull, NormalDepthUndoesManning) {
  const Number<> slope(0.02), n(0.010);
  for (double r = 0.05; r < 0.93; r += 0.05) {
    const Flow<> q = manning_circular_flow(r * kBore, kBore, slope, n);
    EXPECT_NEAR(manning_circular_normal_depth(q, kBore, slope, n).si(), r * kBore.si(), 1e-10);
    EXPECT_NEAR(manning_circular_slope(q, r * kBore, kBore, n).si(), 0.02, 1e-12);
  }
  EXPECT_NEAR(manning_circular_normal_depth(Flow<>(1.0), kBore, slope, n).si(), 0.938 * kBore.si(), 1e-4);
}

TEST(PartFull, DarcyFullIsThePipeItself) {
  const KinematicViscosity<> nu(1e-6);
  const Number<> slope(0.02), rough(1e-4);
  const Flow<> q = part_full_darcy_flow(kBore, kBore, slope, rough, nu);
  const Velocity<> v = q / circular_section_area(kBore, kBore);
  const double f = friction_factor_bridged(v * kBore / nu, rough).si();
  EXPECT_NEAR(f / kBore.si() * v.si() * v.si() / (2.0 * 9.80665), 0.02, 1e-12);
  for (const double r : {0.1, 0.5, 0.9}) {
    const Length<> roughness(1.5e-6);
    const Number<> at = roughness / (4.0 * circular_section_hydraulic_radius(r * kBore, kBore));
    const Flow<> there = part_full_darcy_flow(r * kBore, kBore, slope, at, nu);
    EXPECT_NEAR(part_full_darcy_normal_depth(there, kBore, slope, roughness, nu).si(), r * kBore.si(), 1e-9);
  }
}

// Smooth plastic by Darcy on four hydraulic radii is like Manning's n of 0.0079 to 0.0083.
TEST(PartFull, DarcyAndManningAgreeOnPlastic) {
  const KinematicViscosity<> nu(1e-6);
  for (const double d : {0.046, 0.0685, 0.1036}) {
    const Length<> bore(d);
    const Flow<> q = part_full_darcy_flow(bore, bore, Number<>(0.01), Number<>(1.5e-6 / d), nu);
    const double n = 0.0079 * manning_full_flow(bore, Number<>(0.01), Number<>(0.0079)).si() / q.si();
    EXPECT_GT(n, 0.0076);
    EXPECT_LT(n, 0.0085);
  }
}

TEST(PartFull, CriticalDepthMakesFroudeOne) {
  for (const double q : {1e-5, 1e-4, 1e-3, 3e-3})
    EXPECT_NEAR(circular_froude(Flow<>(q), circular_critical_depth(Flow<>(q), kBore), kBore).si(), 1.0, 1e-7) << q;
}

TEST(PartFull, ExplicitCriticalDepthErrsAsStated) {
  for (double q = 1e-6; q < 0.1; q *= 1.2)
    for (const double d : {0.06, 0.1, 0.5}) {
      const Length<> bore(d), yc = circular_critical_depth(Flow<>(q), bore);
      const double ratio = (yc / bore).si(), allowed = ratio > 0.5 ? 0.0315 : 0.082;
      if (ratio < 0.05 || ratio > 0.85) continue;
      EXPECT_NEAR(circular_critical_depth_explicit(Flow<>(q), bore).si(), yc.si(), allowed * yc.si())
          << ratio << ' ' << d;
    }
}

TEST(PartFull, BrinkLiesBelowCriticalDepth) {
  for (double r = 0.05; r <= 0.8; r += 0.05) {
    const double ratio = circular_end_depth_ratio(Number<>(r)).si();
    EXPECT_GT(ratio, 0.70);
    EXPECT_LT(ratio, 0.76);
  }
}

TEST(PartFull, InletHeadRisesWithTheFlow) {
  Length<> last(0.0);
  for (double q = 1e-5; q < 5e-3; q *= 1.1) {
    const Length<> head = circular_inlet_head(Flow<>(q), kBore);
    EXPECT_GT(head, last);
    last = head;
  }
}

}  // namespace
}  // namespace leat::science
