// What goes back to who asked.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leat::doors {

struct Reply {
  int status = 200;
  std::string type = "application/json", body;
  std::vector<std::pair<std::string, std::string>> headers;
};
Reply refused(int status, std::string_view why);
}  // namespace leat::doors
