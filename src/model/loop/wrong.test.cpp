// Descriptions as growers get them wrong, each with the exact words it is met with (tests/wrong/loops). LEAT_WRITE=1
// writes the words anew; read them before they are kept.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "model/loop/loop.h"

namespace leat::model {
namespace {

namespace fs = std::filesystem;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

std::vector<fs::path> wrong_files() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(LEAT_ROOT) / "tests/wrong/loops"))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string words_for(const fs::path& file) {
  Problems problems;
  make_loop(read_description(slurp(file), file.filename().string(), problems), problems);
  return problems.text();
}

class WrongLoop : public ::testing::TestWithParam<fs::path> {};

TEST_P(WrongLoop, IsMetWithTheseWords) {
  fs::path expected = GetParam();
  expected.replace_extension(".expected");
  const std::string words = words_for(GetParam());
  EXPECT_FALSE(words.empty()) << "nothing was found wrong";
  if (std::getenv("LEAT_WRITE")) std::ofstream(expected, std::ios::binary) << words;
  EXPECT_EQ(words, slurp(expected));
}

INSTANTIATE_TEST_SUITE_P(Files, WrongLoop, ::testing::ValuesIn(wrong_files()), [](const auto& file) {
  std::string name = file.param.stem().string();
  for (char& c : name)
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  return name;
});

TEST(WrongLoops, AreManyAndTellManyThings) {
  EXPECT_GE(wrong_files().size(), 60u);
}

/// Whatever happens to the text of a good description, it is refused with words or makes a loop that can be computed.
TEST(WrongLoops, MutatedDescriptionsNeverCrash) {
  const std::string good = slurp(fs::path(LEAT_ROOT) / "examples/first-loop/loop.toml");
  std::mt19937_64 random(2026);
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
  int refused = 0;
  for (int trial = 0; trial < 2000; ++trial) {
    std::string text = good;
    for (std::size_t k = 0; k <= below(4); ++k) {
      const std::size_t at = below(text.size());
      switch (below(3)) {
        case 0:
          text.erase(at, 1 + below(12));
          break;
        case 1:
          text.insert(at, 1, static_cast<char>(below(256)));
          break;
        default:
          text[at] = static_cast<char>(below(256));
      }
    }
    Problems problems;
    const Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
    if (!problems.empty()) {
      ++refused;
      continue;
    }
    for (const Vessel& v : loop.vessels) {
      EXPECT_GT(v.area.si(), 0.0);
      EXPECT_GT(v.depth().si(), 0.0);
    }
  }
  EXPECT_GT(refused, 200);
  EXPECT_LT(refused, 1990);
}

}  // namespace
}  // namespace leat::model
