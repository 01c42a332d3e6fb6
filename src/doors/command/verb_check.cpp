#include <fmt/core.h>

#include "doors/command/files.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_check(const CheckFlags& flags) {
  if (flags.drawing == "-" && flags.json) {
    fmt::print(stderr,
               "leat check: --json and --drawing - would print both at once; name a file for the drawing, such as "
               "--drawing loop.svg\n");
    return 2;
  }
  Problems problems;
  const auto loop = read_loop(flags.loop, problems);
  if (!loop) return refused(problems);
  const answers::CheckAnswer answer = answers::check(*loop);
  const int code = answer.running_settled ? 0 : 3;
  if (flags.drawing == "-") {
    fmt::print("{}", tell::drawing_svg(*loop, answer));
    return code;
  }
  std::string why_not;
  if (!flags.drawing.empty() && !write_drawing(flags.drawing, tell::drawing_svg(*loop, answer), why_not)) {
    fmt::print(stderr, "--drawing: {}.\n", why_not);
    return 2;
  }
  fmt::print("{}", flags.json ? tell::check_json(answer) : tell::check_text(answer, flags.assumptions, flags.all));
  return code;
}

}  // namespace leat::doors
