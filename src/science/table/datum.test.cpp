#include "science/table/datum.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

// Invented rows.
constexpr std::string_view kText =
    "name,key,value,source,provenance\n"
    "ash,also,\"grey ash, yard ash\",,\n"
    "ash,height_m,4-6,\"a table, page \"\"3\"\"\",seen\n"
    "ash,t_low_C,-2 in leaf,habit,common-practice\n"
    "elm,height_m,short,,\n";

TEST(DatumRows, KeepWhatIsQuoted) {
  const auto data = read_data(kText);
  ASSERT_EQ(data.size(), 4u);
  EXPECT_EQ(data[1].source, "a table, page \"3\"");
  EXPECT_EQ(data[1].provenance, "seen");
  EXPECT_EQ(resolve_name(data, "Yard Ash"), "ash");
  EXPECT_EQ(datum_names(data), (std::vector<std::string_view>{"ash", "elm"}));
}

TEST(DatumRows, TakeTheEndOrTheMiddleOfASpan) {
  const auto data = read_data(kText);
  const DatumRows low{data, "ash", DatumRows::Take::low}, middle{data, "ash", DatumRows::Take::middle};
  EXPECT_EQ(low.number("height_m"), 4.0);
  EXPECT_EQ(middle.number("height_m", 100.0), 500.0);
  EXPECT_EQ(low.span("height_m", 100.0)->high, 600.0);
  EXPECT_DOUBLE_EQ(low.temperature("t_low_C")->kelvin(), 271.15);
}

TEST(DatumRows, AreEmptyWhereNobodySupportsAValue) {
  const auto data = read_data(kText);
  const DatumRows elm{data, "elm", DatumRows::Take::low};
  EXPECT_EQ(elm.text("t_low_C"), "");
  EXPECT_FALSE(elm.temperature("t_low_C").has_value());
  EXPECT_EQ(elm.text("height_m"), "short");
  EXPECT_FALSE(elm.number("height_m").has_value());
}

}  // namespace
}  // namespace leat::science
