#include <fmt/core.h>

#include <cmath>

#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(std::fmod(hour, 24.0) * 60.0)) % 1440;
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}
double mg(Density<> d) {
  return 1e3 * d.si();
}
double hourly(double kg_per_second) {
  return kg_per_second * 3600.0 * 1e3;
}

}  // namespace

std::string night_text(const answers::NightAnswer& a) {
  const char* verdict = a.verdict == answers::Verdict::bad           ? "danger tonight"
                        : a.verdict == answers::Verdict::tight       ? "little to spare tonight"
                        : a.verdict == answers::Verdict::cannot_tell ? "these readings cannot tell the night"
                                                                     : "the night holds";
  std::string out = fmt::format("Oxygen: {}.\n", verdict);
  if (a.by_reaeration) {
    out += wrapped(
        a.owed.empty()
            ? fmt::format("At {} it will be about {:.1f} mg/L; no band was asked for.", clock(a.dawn_hour), mg(a.dawn))
            : fmt::format("At {} it will be about {:.1f} mg/L (5 to 95 %: {:.1f} to {:.1f}). Chance of less than 5: "
                          "{:.0f} %, of less than 3: {:.0f} %.",
                          clock(a.dawn_hour), mg(a.dawn), mg(a.dawn_low), mg(a.dawn_high), 100.0 * a.chance_low,
                          100.0 * a.chance_deadly),
        100, "  ");
    out += wrapped(
        fmt::format("It goes towards {:.1f} mg/L; saturated it would be {:.2f}. All that lives in it takes {:.2f} mg/L "
                    "an hour: the fish {:.2f}, the rest {:.2f}.",
                    mg(a.equilibrium), mg(a.saturation), hourly(a.demand), hourly(a.fish_demand),
                    hourly(a.demand - a.fish_demand)),
        100, "  ");
    out += wrapped(
        fmt::format("With twice the air it would be {:.1f} at {}. The line through the logarithms, which knows no "
                    "air, says {:.1f}.",
                    mg(a.with_air), clock(a.dawn_hour), mg(a.log_line)),
        100, "  ");
  } else {
    out += wrapped(
        fmt::format("At {} about {:.1f} mg/L {}: rough, no band.", clock(a.dawn_hour), mg(a.dawn),
                    a.verdict == answers::Verdict::cannot_tell ? "if it stays where it is"
                                                               : "by the line through the logarithms of two readings"),
        100, "  ");
  }
  if (!a.owed.empty()) out += how_drawn_text(a.how, "draws,") + owed_text(a.owed, a.how.uncertainty);
  if (a.ammonia_share)
    out += wrapped(fmt::format("In the afternoon {:.1f} % of the ammonia was un-ionised{}.", 100.0 * *a.ammonia_share,
                               a.unionised_ammonia ? fmt::format(": {:.2f} mg/L", mg(*a.unionised_ammonia)) : ""),
                   100, "  ");
  out += "\nTo do\n";
  int n = 1;
  for (const std::string& advice : a.advice) out += wrapped(fmt::format("  {}. {}.", n++, advice), 100, "     ");
  if (!a.assumed.empty()) out += "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  out += "\n" + wrapped(caution_electricity, 110, "");
  return out;
}

}  // namespace leat::tell
