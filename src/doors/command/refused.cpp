#include "doors/command/refused.h"

#include <fmt/core.h>
#include <unistd.h>

#include "doors/command/terminal.h"
#include "tell/table.h"

namespace leat::doors {
namespace {

void say(const std::string& text) {
  const auto columns = columns_of_terminal(STDERR_FILENO);
  if (!columns) return fmt::print(stderr, "{}", text);
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    fmt::print(stderr, "{}", tell::wrapped(text.substr(start, end - start), *columns, "  "));
    start = end + 1;
  }
}

}  // namespace

int refused(std::string_view verb, const std::string& why) {
  say(fmt::format("leat {}: {}.\n", verb, why));
  return 2;
}

int refused(const Problems& problems) {
  say(problems.text());
  return 2;
}

}  // namespace leat::doors
