// Reads a loop of the tests or examples; a mistake in it fails the test that asked.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "model/loop/loop.h"

namespace leat::tests {

inline std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  EXPECT_TRUE(in.good()) << path;
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

inline model::Loop read_loop(const std::string& path_from_root) {
  const std::string path = std::string(LEAT_ROOT) + "/" + path_from_root;
  Problems problems;
  model::Loop loop = model::make_loop(model::read_description(slurp(path), path, problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

}  // namespace leat::tests
