// One question is one run of this program: it can be stopped at any moment, and what it breaks is its own.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

namespace leat::doors {

struct Run {
  int code = -1;  ///< exit code; -1 when it was stopped or could not start
  std::string out, err;
  std::string could_not;  ///< why it was not even begun
  bool stopped = false, too_long = false, too_much = false;
  double seconds = 0.0;
};

struct RunLimits {
  double seconds = 300.0;
  std::size_t bytes = 16u << 20;
};

/// Runs this very program with the arguments, in a folder, and waits.
Run run_leat(const std::vector<std::string>& arguments, const std::string& folder, const RunLimits& limits,
             std::stop_token stop);

}  // namespace leat::doors
