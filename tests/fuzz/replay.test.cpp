// Everything in the corpora, once more, in every preset.
#include <gtest/gtest.h>

#include <filesystem>

#include "tests/fuzz/targets.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

class Corpus : public ::testing::TestWithParam<fuzz::Target> {};

TEST_P(Corpus, IsSurvived) {
  int files = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(LEAT_ROOT) / "tests/fuzz/corpus" / GetParam().name)) {
    GetParam().run(tests::slurp(entry.path().string()));
    ++files;
  }
  EXPECT_GT(files, 0);
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Corpus, ::testing::ValuesIn(fuzz::kTargets),
                         [](const auto& p) { return std::string(p.param.name); });

}  // namespace
}  // namespace leat
