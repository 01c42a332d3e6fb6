// The grower's own command, run when something is urgent, and what it was told already.
#pragma once

#include <string>
#include <vector>

#include "answers/round.h"

namespace leat::doors {

/// Runs the command by the shell with the words on its standard input and their first line in LEAT_URGENT. Its exit
/// code; -1 when it could not be run.
int run_hook(const std::string& command, const std::string& words);

/// What was told and when, in a small text file beside the loop's: a line a matter.
class Told {
  std::string path_;
  std::vector<std::pair<std::string, record::Moment>> told_;

 public:
  explicit Told(std::string path);
  /// Matters that were not told within this time.
  std::vector<answers::Urgent> fresh(const std::vector<answers::Urgent>& all, record::Moment now,
                                     record::Moment again) const;
  /// Remembers them. False when the file cannot be written: then they are told again.
  bool remember(const std::vector<answers::Urgent>& told, record::Moment now);
};

}  // namespace leat::doors
