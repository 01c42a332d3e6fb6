#include "base/csv.h"

#include <gtest/gtest.h>

namespace leat {
namespace {

TEST(ReadCsv, QuotesLineEndsAndTheByteOrderMark) {
  Problems problems;
  const CsvTable t = read_csv(
      "\xEF\xBB\xBF"
      "Date,Note\r\n2026-01-01,\"two\nlines, \"\"quoted\"\"\"\r\n\r\n2026-01-02,x\n",
      "a.csv", problems);
  ASSERT_TRUE(problems.empty()) << problems.text();
  EXPECT_EQ(t.column("date"), 0);
  EXPECT_EQ(t.column(" NOTE "), 1);
  EXPECT_EQ(t.column("rain"), -1);
  ASSERT_EQ(t.rows.size(), 2u);
  EXPECT_EQ(t.rows[0].fields[1].text, "two\nlines, \"quoted\"");
  EXPECT_EQ(t.rows[1].line, 5);
}

TEST(ReadCsv, SemicolonsAndTabs) {
  Problems problems;
  EXPECT_EQ(read_csv("a;b\n1,5;2\n", "a.csv", problems).rows[0].fields[0].text, "1,5");
  EXPECT_EQ(read_csv("a\tb\n1\t2\n", "a.csv", problems).separator, '\t');
}

TEST(ReadCsv, SaysWhereItIsBroken) {
  Problems problems;
  read_csv("a,b\n1,2,3\n\"open\n", "rain.csv", problems);
  EXPECT_EQ(problems.text(),
            "rain.csv:2:5: the row has 3 fields but the header has 2; quote a field that holds a ','\n"
            "rain.csv:3:1: a quoted field is never closed; add a \" at its end\n");
}

TEST(CsvField, WritesWhatReadsBack) {
  Problems problems;
  const std::string hard = "a \"b\", c\nd";
  EXPECT_EQ(read_csv("x\n" + csv_field(hard) + "\n", "a.csv", problems).rows[0].fields[0].text, hard);
}

}  // namespace
}  // namespace leat
