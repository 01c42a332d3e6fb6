// What a look at the record tells: what does not fit, what killed the fish, what is due now.
#pragma once

#include <string>

#include "doors/command/verbs.h"

namespace CLI {
class App;
}

namespace leat::doors {

struct OddFlags {
  std::string loop = "loop.toml", weather, location, now;
  int days = 14, most = 3;
  bool all = false, json = false;
};
int verb_odd(const OddFlags& flags);

struct RoundFlags {
  std::string loop = "loop.toml", weather, location, tomorrow, reaeration, hook, again = "6 h", ical, sheet, card, now;
  int most = 3;
  bool urgent = false, quiet = false, events = false, json = false;
};
/// 1 with --urgent when something is.
int verb_round(const RoundFlags& flags);

struct CauseFlags {
  std::string loop = "loop.toml", at, dead, alive, reaeration, dawn, now;
  bool json = false;
};
int verb_cause(const CauseFlags& flags);

void add_round_verbs(CLI::App& app, int& code);

}  // namespace leat::doors
