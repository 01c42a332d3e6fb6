// The text of a loop while it is written: headings, values, pipes.
#pragma once

#include <fmt/core.h>

#include <string>
#include <vector>

#include "tests/random/choices.h"

namespace leat::random {

/// A vessel that stands already: others may drain to it.
struct Standing {
  std::string path;
  double floor, rim, level;  ///< level: about where its water stands
  bool fed = false;
};

inline const std::vector<double> kPressureBores{27.2, 17.0, 12.0, 14.0, 21.2, 34.0, 45.2, 57.0, 67.8, 81.4, 101.6};
inline const std::vector<double> kDrainBores{45.5, 68.5, 103.6, 68.5, 45.5, 36.4, 27.0, 21.2, 17.0, 110.0};

class Page {
 protected:
  Choices& c_;
  std::string text_;
  int names_ = 0, pipes_ = 0, junctions_ = 0;

  explicit Page(Choices& c) : c_(c) {}

  // ---- words

  void heading(const std::string& path) { text_ += fmt::format("\n[{}]\n", path); }
  void say(const char* key, const std::string& value) { text_ += fmt::format("{} = \"{}\"\n", key, value); }
  void number(const char* key, double value) { text_ += fmt::format("{} = {:.3g}\n", key, value); }
  void flag(const char* key, bool value) { text_ += fmt::format("{} = {}\n", key, value); }
  void metres(const char* key, double value) { say(key, fmt::format("{:.3f} m", value)); }
  void millimetres(const char* key, double value) { say(key, fmt::format("{:.4g} mm", value)); }
  void ends(const std::string& from, const std::string& to) { say("from", from), say("to", to); }
  std::string name(const char* kind) { return fmt::format("{}.n{}", kind, ++names_); }
  void maybe_blocked() {
    if (c_.chance(0.015)) flag("blocked", true);
  }

  // ---- pipes

  void run(const std::vector<double>& bores, double longest) {
    millimetres("bore", c_.one_of(bores));
    metres("length", c_.by_size(0.3, longest));
    if (c_.chance(0.2))
      text_ += fmt::format("fittings = [\"entry\", \"{} x elbow\", \"exit\"]\n", c_.between(1, 6));
    else
      number("losses", c_.by_size(1.0, 20.0));
    if (c_.chance(0.05)) say("roughness", "0.05 mm");
    if (c_.chance(0.05)) number("fouling", c_.by_size(1.0, 5.0));
  }

  /// An open end over the rim or under it, or one under water, or nothing said.
  void open_end(const Standing& to) {
    const int how = c_.below(8);
    if (how <= 3) metres("outlet_level", to.rim + c_.by_size(0.01, 0.4));
    if (how == 4 || how == 5) metres("outlet_level", c_.evenly(to.floor + 0.001, to.rim));
    if (how == 6) metres("outlet_level", c_.evenly(to.level - 0.02, to.level + 0.02) + 0.02);
  }

  void pipe(const std::string& from, const std::string& to, const Standing* end = nullptr) {
    heading(fmt::format("pipe.p{}", ++pipes_));
    ends(from, to);
    run(kPressureBores, 40.0);
    if (end) open_end(*end);
    if (c_.chance(0.08)) say("opening", fmt::format("{:.0f} %", c_.evenly(15.0, 100.0)));
    maybe_blocked();
  }
};

}  // namespace leat::random
