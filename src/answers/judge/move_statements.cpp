#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/judge/water_statements.h"
#include "base/words/quantities.h"
#include "science/fish/transfer.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

std::string in_words(Duration<> time) {
  const double minutes = time.in(units::minute);
  return minutes < 90.0 ? fmt::format("{:.0f} min", minutes) : fmt::format("{:.1f} h", minutes / 60.0);
}

/// What is borne: at once, with care, and as much more as the time taken over it allows at the gentle and at the
/// fastest pace.
struct Borne {
  double at_once, with_care, gently, fast;
};

Finding step_of(const FishMove& move, const char* statement, const char* quantity, double step, const Borne& borne) {
  Finding f{statement, move.path, quantity, std::abs(step), std::max(borne.at_once, borne.gently), false, {},
            {},        {},        {}};
  f.verdict = f.value <= f.limit                                            ? Verdict::good
              : f.value <= std::max({borne.with_care, borne.fast, f.limit}) ? Verdict::tight
                                                                            : Verdict::bad;
  const bool at_once = move.tempering.si() < 1.0;
  f.reason = fmt::format("they come {}{} {} {}; {} is borne {}", shown_text(quantity, f.value),
                         f.quantity == "pH_step" ? " of pH" : "", step < 0.0 ? "down" : "up",
                         at_once ? "at once" : "over " + in_words(move.tempering), shown_text(quantity, f.limit),
                         at_once ? "so" : "in that time");
  return f;
}

}  // namespace

void judge_moves(const Loop& loop, AheadAnswer& a) {
  for (const FishMoved& m : a.moved) {
    const FishMove& move = loop.deeds.moves[m.move];
    const TemperatureDifference<> warmer(m.to.kelvin() - m.from.kelvin());
    const double hours = move.tempering.in(units::hour);
    const double fastest = warmer.si() > 0.0 ? science::fastest_up : science::fastest_down;
    Finding f = step_of(
        move, "moved_fish_meet_a_small_step", "temperature_step", warmer.si(),
        {science::free_step.si(), science::careful_step.si(), science::gentle_tempering * hours, fastest * hours});
    if (f.verdict != Verdict::good)
      f.action = fmt::format(
          "bring them over in {}, {:g} K an hour, air on, in the shade; float sealed bags for the warmth, then open "
          "and let "
          "go at once",
          in_words(science::tempering_time(warmer)), science::gentle_tempering);
    f.source =
        "3 K at once, 5 with care, 2 to 3 K an hour (common practice); at most 8.3 up and 5.6 down an hour for "
        "fingerlings (Louisiana State University extension)";
    a.findings.push_back(std::move(f));
    const double sweeter = m.pH_to - m.pH_from, step = science::free_acidity_step;
    const double in_time = step * (1.0 + (move.tempering / science::time_of_acidity_step).si());
    Finding g =
        step_of(move, "moved_fish_meet_a_small_step_of_pH", "pH_step", sweeter, {step, 2.0 * step, in_time, in_time});
    if (g.verdict != Verdict::good)
      g.action = fmt::format("add the new water to theirs over {}, 0.5 of pH in half an hour at most",
                             in_words(science::acidity_tempering_time(sweeter)));
    g.source = "pH by 0.5 in 15 to 30 minutes (common practice)";
    a.findings.push_back(std::move(g));
  }
}

}  // namespace leat::answers
