// What each verb does once its flags are read. All return an exit code: 0 answered, 2 the input needs mending, 3 the
// answer could not be finished.
#pragma once

#include <cstdint>
#include <string>

namespace leat::doors {

struct AheadFlags {
  std::string loop = "loop.toml", weather, hourly, location, forecast, tomorrow, start, month;
  int days = 14;
  std::uint64_t seed = 1;
  bool json = false, csv = false, assumptions = false;
};

int verb_new(const std::string& path);
int verb_check(const std::string& loop, bool json, bool assumptions);
int verb_ahead(const AheadFlags& flags);
int verb_words(const std::string& kind);

}  // namespace leat::doors
