#include <fmt/core.h>

#include "doors/command/files.h"
#include "doors/command/verbs.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_check(const std::string& path, bool json, bool assumptions, bool all) {
  Problems problems;
  const auto loop = read_loop(path, problems);
  if (!loop) {
    fmt::print(stderr, "{}", problems.text());
    return 2;
  }
  const answers::CheckAnswer answer = answers::check(*loop);
  fmt::print("{}", json ? tell::check_json(answer) : tell::check_text(answer, assumptions, all));
  return answer.running_settled ? 0 : 3;
}

}  // namespace leat::doors
