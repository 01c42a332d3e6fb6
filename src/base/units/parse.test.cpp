#include "base/units/parse.h"

#include <gtest/gtest.h>

#include <cmath>

namespace leat {
namespace {

double si(std::string_view text) {
  const auto read = read_measured(text);
  if (const auto* bad = std::get_if<Unreadable>(&read)) {
    ADD_FAILURE() << text << " " << bad->wrong;
    return NAN;
  }
  return std::get<Measured>(read).si;
}

std::string wrong(std::string_view text) {
  const auto read = read_measured(text);
  const auto* bad = std::get_if<Unreadable>(&read);
  return bad ? bad->wrong : "accepted";
}

TEST(ReadMeasured, UnitsThatGrowersWrite) {
  EXPECT_DOUBLE_EQ(si("1000 L"), 1.0);
  EXPECT_DOUBLE_EQ(si("1000L"), 1.0);
  EXPECT_DOUBLE_EQ(si("2000 L/h"), 2.0 / 3600.0);
  EXPECT_DOUBLE_EQ(si("25 mm"), 0.025);
  EXPECT_DOUBLE_EQ(si("12.5 degC"), 285.65);
  EXPECT_NEAR(si("50 degF"), 283.15, 1e-10);
  EXPECT_NEAR(si("5.5 MJ m-2 d-1"), 5.5e6 / 86400.0, 1e-9);
  EXPECT_NEAR(si("1.2 W/m/K"), 1.2, 1e-12);
  EXPECT_NEAR(si("100 mg/kg/h"), 100e-6 / 3600.0, 1e-18);
  EXPECT_DOUBLE_EQ(si("3.5e-2 m^2"), 0.035);
  EXPECT_DOUBLE_EQ(si("+3 m"), 3.0);
}

TEST(ReadMeasured, TemperatureScaleIsAPointButItsDifferenceIsNot) {
  EXPECT_TRUE(std::get<Measured>(read_measured("5 degC")).temperature_point);
  EXPECT_FALSE(std::get<Measured>(read_measured("5 K")).temperature_point);
  EXPECT_DOUBLE_EQ(si("5 W/m2/degC"), 5.0);
}

TEST(ReadMeasured, KeepsTheBasis) {
  const Measured m = std::get<Measured>(read_measured("0.5 mg/L as N"));
  EXPECT_EQ(m.basis, "N");
  EXPECT_DOUBLE_EQ(m.si, 0.5e-3);
}

TEST(ReadMeasured, RefusesWithWords) {
  EXPECT_EQ(wrong("1000"), "has no unit");
  EXPECT_EQ(wrong(""), "is empty");
  EXPECT_EQ(wrong("12,5 degC"), "has a decimal comma; write a point");
  EXPECT_EQ(wrong("nan m"), "does not start with a number");
  EXPECT_EQ(wrong("5 parsec"), R"(has an unknown unit "parsec")");
  EXPECT_EQ(wrong("5 gal"), R"(has the unit "gal", which may be 3.785 L or 4.546 L; write "USgal" or "impgal")");
  EXPECT_EQ(wrong("1e999 m"), "is too large or too small a number");
  EXPECT_EQ(wrong("-300 degC"), "is below absolute zero");
  EXPECT_EQ(wrong("5 m//s"), "has two '/' in a row in its unit");
}

TEST(Shortest, ReadsBackTheSame) {
  for (const double x : {0.1, 1.0 / 3.0, 1e-300, 123456.789, -0.0})
    EXPECT_EQ(std::get<double>(read_number(shortest(x))), x);
}

}  // namespace
}  // namespace leat
