// The verbs that look back: trial, helped, week.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace leat::doors {

struct TrialFlags {
  std::string loop = "loop.toml", crop, wanted, since, until, now;
  std::vector<std::string> treatments;  ///< "lagged: raft 1, raft 2"
  bool json = false, csv = false;
};
int verb_trial(const TrialFlags& flags);

struct HelpedFlags {
  std::string loop = "loop.toml", change, where, since, until, windows, day, heat_capacity, weather, location, now;
  bool json = false;
};
/// 3 when before and after cannot be compared.
int verb_helped(const HelpedFlags& flags);

struct WeekFlags {
  std::string loop = "loop.toml", until, out, wording, now;
  int days = 7;
  bool text = false, json = false, csv = false, pdf = false, fresh = false;
};
/// 3 when the page was written and its PDF was not.
int verb_week(const WeekFlags& flags);

/// Names their flags; the exit code of the one that was asked goes to `code`.
void add_trial_verbs(CLI::App& app, int& code);

}  // namespace leat::doors
