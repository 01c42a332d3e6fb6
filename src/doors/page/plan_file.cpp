#include "doors/page/plan_file.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>

namespace leat::doors {
namespace {

std::string folder_of_this_machine() {
  const char* said = std::getenv("TMPDIR");
  return said && *said ? said : "/tmp";
}

/// Writes all of it; 0, or the reason.
int write_all(int file, const std::string& text) {
  for (std::size_t at = 0; at < text.size();) {
    const ssize_t n = write(file, text.data() + at, text.size() - at);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return n < 0 ? errno : ENOSPC;
    at += static_cast<std::size_t>(n);
  }
  return 0;
}

}  // namespace

PlanFile::PlanFile(const std::string& text, const std::string& folder) {
  const std::string in = folder.empty() ? folder_of_this_machine() : folder;
  path_ = in + "/leat-plan-XXXXXX.toml";
  const int file = mkostemps(path_.data(), 5, O_CLOEXEC);
  int fault = file < 0 ? errno : write_all(file, text);
  if (file >= 0 && close(file) != 0 && fault == 0) fault = errno;
  if (file < 0) path_.clear();
  if (fault != 0)
    why_not_ =
        fmt::format("the plan cannot be put down in {} ({}), so nothing was compared; make room there and ask again",
                    in, std::strerror(fault));
}

PlanFile::~PlanFile() {
  if (!path_.empty()) unlink(path_.c_str());
}

}  // namespace leat::doors
