// Every file of tests/wrong/weather with the very words it must be met with.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "model/weather/test_help.h"

namespace leat::model {
namespace {

namespace fs = std::filesystem;

std::string slurp(const fs::path& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string first_line(const std::string& text) {
  return text.substr(0, text.find('\n'));
}

/// What the reader of this kind of file says: the kind stands before the first '-' of its name.
std::string said_of(const fs::path& path) {
  const std::string name = path.filename().string(), text = slurp(path);
  Problems problems;
  if (name.starts_with("daily-")) {
    const std::string location = first_line(slurp(fs::path(path).replace_extension(".location")));
    check_daily_sun(read_daily_record(text, name, location, problems), london(), name, problems);
  }
  if (name.starts_with("hourly-")) read_hourly_record(text, name, london(), problems);
  if (name.starts_with("forecast-")) read_forecast(text, name, {2026, 1, 5}, problems);
  return problems.text();
}

TEST(WrongWeather, IsMetWithItsPlaceAndItsCure) {
  int files = 0;
  for (const auto& entry : fs::directory_iterator(LEAT_ROOT "/tests/wrong/weather")) {
    const fs::path& path = entry.path();
    if (path.extension() != ".csv" && path.extension() != ".txt") continue;
    ++files;
    const std::string expected = slurp(fs::path(path).replace_extension(".expected"));
    EXPECT_FALSE(expected.empty()) << path.filename() << " has no .expected beside it";
    EXPECT_EQ(said_of(path), expected) << path.filename();
  }
  EXPECT_GE(files, 15);
}

}  // namespace
}  // namespace leat::model
