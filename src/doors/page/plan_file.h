// A plan that was sent, as a file that only this user can read, and that goes when this goes.
#pragma once

#include <string>

namespace leat::doors {

class PlanFile {
  std::string path_, why_not_;

 public:
  /// In `folder`, or where this machine keeps what goes again ($TMPDIR, /tmp) when that is "".
  explicit PlanFile(const std::string& text, const std::string& folder = "");
  PlanFile(const PlanFile&) = delete;
  PlanFile& operator=(const PlanFile&) = delete;
  ~PlanFile();
  const std::string& path() const { return path_; }
  /// Why it does not hold the whole text; "" when it does.
  const std::string& why_not() const { return why_not_; }
};

}  // namespace leat::doors
