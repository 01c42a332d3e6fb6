#include "doors/page/plan_file.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <filesystem>

#include "record/scratch.h"

namespace leat::doors {
namespace {

namespace fs = std::filesystem;

TEST(PlanFile, HoldsTheTextForThisUserOnlyAndGoes) {
  const record::tests::Scratch scratch;
  std::string path;
  {
    const PlanFile file("[plan]\n", scratch.folder());
    path = file.path();
    EXPECT_EQ(file.why_not(), "");
    EXPECT_EQ(fs::file_size(path), 7u);
    struct stat s {};
    ASSERT_EQ(stat(path.c_str(), &s), 0);
    EXPECT_EQ(s.st_mode & 0777u, 0600u);
  }
  EXPECT_FALSE(fs::exists(path));
}

TEST(PlanFile, SaysWhyItIsNotThere) {
  const record::tests::Scratch scratch;
  const PlanFile file("[plan]\n", scratch.folder() + "/nowhere");
  EXPECT_NE(file.why_not().find("nowhere (No such file or directory)"), std::string::npos) << file.why_not();
}

/// A file that may not grow is as a full disk: half a plan must not be taken for the plan.
TEST(PlanFile, SaysWhyItIsNotWhole) {
  const record::tests::Scratch scratch;
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  const auto old = signal(SIGXFSZ, SIG_IGN);
  const rlimit small{16, before.rlim_max};
  setrlimit(RLIMIT_FSIZE, &small);
  {
    const PlanFile file(std::string(100, '#'), scratch.folder());
    EXPECT_NE(file.why_not().find("File too large"), std::string::npos) << file.why_not();
  }
  setrlimit(RLIMIT_FSIZE, &before);
  signal(SIGXFSZ, old);
  EXPECT_TRUE(fs::is_empty(scratch.folder()));
}

}  // namespace
}  // namespace leat::doors
