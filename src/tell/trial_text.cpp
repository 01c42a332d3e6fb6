#include <fmt/core.h>

#include <cmath>

#include "record/when.h"
#include "tell/table.h"
#include "tell/trial_text.h"

namespace leat::tell {
namespace {

using answers::Basis;
using answers::Compared;

std::string date_of(const Clock& clock, record::Moment at) {
  return clock.local(Instant{static_cast<double>(at) / 1000.0}).date.text();
}

std::string grams(double value) {
  return fmt::format("{:.1f}", value);
}

std::string p_text(double p) {
  return p < 0.0005 ? "p < 0.001" : p < 0.0995 ? fmt::format("p = {:.3f}", p) : fmt::format("p = {:.2f}", p);
}

std::string numbers(const std::vector<std::int64_t>& entries) {
  std::string text;
  for (const std::int64_t n : entries) text += fmt::format("{}{}", text.empty() ? "" : ", ", n);
  return text;
}

const char* basis_text(Basis basis) {
  switch (basis) {
    case Basis::survivors:
      return "per survivor";
    case Basis::places:
      return "per place";
    case Basis::with_substitutes:
      return "with substitutes in";
  }
  return "";
}

std::string stands_text(const answers::Trial& t, const Clock& clock) {
  Table table({"bed", "treatment", "planted", "places", "lived", "g a survivor", "sd", "g a place"});
  for (const answers::Stand& s : t.stands) {
    const science::Sample alive = science::sample_of(s.survivors);
    double all = s.cut_grams;
    for (const double g : s.places_grams) all += g;
    const double counted = static_cast<double>(s.places_grams.size()) + (s.cut_grams > 0.0 ? s.standing : 0.0);
    table.add({s.bed, s.treatment, date_of(clock, s.planted), fmt::format("{:.0f}", s.places),
               fmt::format("{:.0f}", s.alive()), alive.n > 0 ? grams(alive.mean) : "-",
               alive.n > 1 && !s.weighed_together ? grams(alive.deviation) : "-",
               counted > 0 ? grams(all / counted) : "-"});
  }
  return table.text();
}

/// By what chance was measured: plants, beds, or cycles.
std::string chance_text(const Compared& c) {
  const bool cycles = c.units == answers::Units::cycles;
  const double ways = c.chance->arrangements;
  std::string text = fmt::format(", {} by all {} ", p_text(c.chance->p),
                                 ways < 1e9 ? fmt::format("{:.0f}", ways) : fmt::format("{:.0e}", ways));
  text += cycles ? fmt::format("swaps within {:.0f} cycles", c.n)
                 : fmt::format("arrangements of {:.0f} and {:.0f} {}", c.a.n, c.b.n,
                               c.units == answers::Units::beds ? "beds" : "plants");
  if (c.units != answers::Units::plants && c.chance->smallest_p > 0.05)
    text += fmt::format("; so few can never give less than {:.2f}", c.chance->smallest_p);
  return text;
}

std::string mixed_text(const Compared& c, double level) {
  const science::Interval i = c.mixed->interval(1, level);
  return fmt::format(
      "; plants within beds{}: {:+.1f} g ({:+.1f} to {:+.1f}, {:.0f} degrees of freedom), beds spread {:.1f} g, plants "
      "in a bed {:.1f} g",
      c.mixed_cycles > 1 ? " and cycles" : "", c.mixed->effects[1], i.low, i.high, c.mixed->degrees, c.mixed->between,
      c.mixed->within);
}

std::string compared_text(const Compared& c, double level) {
  std::string text = fmt::format("{}: {} {} g, {} {} g: {:+.1f} g", basis_text(c.basis), c.first, grams(c.a.mean),
                                 c.second, grams(c.b.mean), c.difference());
  if (c.apart)
    text +=
        fmt::format(" ({:.0f} %: {:+.1f} to {:+.1f})", 100.0 * level, c.apart->interval.low, c.apart->interval.high);
  text += c.chance ? chance_text(c) : ", and too many weights of too many steps to count what chance may do";
  if (c.mixed) text += mixed_text(c, level);
  return text + ".";
}

std::string excluded_text(const answers::Exclusion& e) {
  std::string weights;
  for (const double g : e.grams) weights += fmt::format("{}{:.0f} g", weights.empty() ? "" : ", ", g);
  return fmt::format("{:.0f} {} in {}{}: {} ({} {})", e.count, e.what, e.bed, weights.empty() ? "" : ", " + weights,
                     e.reason, e.entries.size() == 1 ? "entry" : "entries", numbers(e.entries));
}

const Compared* on(const answers::Trial& t, Basis basis) {
  for (const Compared& c : t.compared)
    if (c.basis == basis) return &c;
  return nullptr;
}

/// "about 20 % heavier": how the first stands to the second.
std::string more_or_less(const Compared& c, const char* more, const char* less) {
  const double share = c.a.mean / c.b.mean - 1.0;
  if (std::fabs(share) < 0.005) return fmt::format("no {}", more);
  return fmt::format("about {:.0f} % {}", 100.0 * std::fabs(share), share >= 0.0 ? more : less);
}

}  // namespace

std::string trial_sentence(const answers::Trial& t) {
  const Compared* alive = on(t, Basis::survivors);
  const Compared* places = on(t, Basis::places);
  if (!alive || !places || t.lived.size() != 2) return "";
  const auto beyond_chance = [](const Compared& c) { return c.chance && c.chance->p < 0.05; };
  const bool heavier = beyond_chance(*alive), more = beyond_chance(*places);
  const bool turned = alive->difference() * places->difference() < 0.0;
  std::string text = fmt::format("Living {} plants were {} than {} plants; {} gave {} per place{}.", alive->first,
                                 more_or_less(*alive, "heavier", "lighter"), alive->second, places->first,
                                 more_or_less(*places, "more", "less"), turned ? ": the sign turns, so say both" : "");
  const bool one_bed = alive->units != answers::Units::beds;
  const std::string bed = one_bed ? fmt::format("{} from where its bed stands", alive->first) : "";
  if (!heavier && !more)
    text += fmt::format(" This trial cannot tell either from chance{}.", one_bed ? ", nor " + bed : "");
  else if (heavier && more)
    text += one_bed ? " More than chance between these plants" : " More than chance, on both counts";
  else
    text += fmt::format(" {} is more than chance, {} may be chance",
                        heavier ? "What a living plant weighs" : "What a place gave",
                        heavier ? "what a place gave" : "what a living plant weighs");
  if (heavier || more) text += one_bed ? fmt::format("; but with one bed each the trial cannot tell {}.", bed) : ".";
  return text;
}

namespace {

std::string lived_text(const answers::Trial& t, double level) {
  std::string text;
  for (const answers::Lived& l : t.lived)
    text += fmt::format("{}{} {:.0f} of {:.0f} ({:.0f} %: {:.0f} to {:.0f} %)", text.empty() ? "lived: " : "; ",
                        l.treatment, l.alive, l.places, 100.0 * level, 100.0 * l.interval.low, 100.0 * l.interval.high);
  if (t.alike_p) text += fmt::format("; alike: {}, Fisher", p_text(*t.alike_p));
  return text + ".";
}

/// Shares alive by day, for originals that were followed for unequal times.
std::string days_text(const answers::Trial& t, double level) {
  std::string text;
  for (const answers::Lived& l : t.lived) {
    if (l.steps.empty()) continue;
    const science::SurvivalStep& s = l.steps.back();
    const science::Interval i = science::survival_interval_loglog(s, level);
    text += fmt::format("{}{} {:.0f} % from day {:.0f} to {:.0f} ({:.0f} to {:.0f} %)", text.empty() ? "" : "; ",
                        l.treatment, 100.0 * s.survival, s.time, l.last_day, 100.0 * i.low, 100.0 * i.high);
  }
  return text.empty() ? "" : "alive by day (Kaplan-Meier): " + text + ".";
}

std::string growth_text(const answers::Growth& g, double level, const Clock& clock) {
  std::string text = fmt::format("{}, planted {}: {:.1f} % a day", g.bed, date_of(clock, g.planted), 100.0 * g.a_day);
  if (g.interval)
    text +=
        fmt::format(" ({:.0f} %: {:.1f} to {:.1f})", 100.0 * level, 100.0 * g.interval->low, 100.0 * g.interval->high);
  text += ", by";
  for (std::size_t i = 0; i < g.days.size(); ++i)
    text += fmt::format("{} {:.0f} g on day {:.0f}", i == 0 ? "" : ",", g.grams[i], g.days[i]);
  return text + ".";
}

std::string fish_text(const answers::FishLives& f, double level, const Clock& clock) {
  std::string text =
      fmt::format("{}, {} to {}: {:.0f} came", f.where, date_of(clock, f.from), date_of(clock, f.to), f.entered);
  if (f.left > 0.0) text += fmt::format(", {:.0f} left alive", f.left);
  text += fmt::format(", {:.0f} died", f.died);
  if (f.died_share)
    text += fmt::format(" ({:.0f} %: {:.1f} to {:.1f} % of them)", 100.0 * level, 100.0 * f.died_share->low,
                        100.0 * f.died_share->high);
  if (!f.steps.empty() && f.entered > 0.0) {
    const science::Interval i = science::survival_interval_loglog(f.steps.back(), level);
    text += fmt::format("; alive {:.0f} % from day {:.0f} (Kaplan-Meier, {:.0f} to {:.0f} %)",
                        100.0 * f.steps.back().survival, f.steps.back().time, 100.0 * i.low, 100.0 * i.high);
  }
  if (f.growth_a_day)
    text += fmt::format("; {:.1f} to {:.1f} g, {:.2f} % a day", f.weighed.front().grams, f.weighed.back().grams,
                        100.0 * *f.growth_a_day);
  if (f.thermal) text += fmt::format(", thermal growth coefficient {:.2f} / 1000", *f.thermal);
  if (f.thermal_interval) text += fmt::format(" ({:.2f} to {:.2f})", f.thermal_interval->low, f.thermal_interval->high);
  return text + ".";
}

std::string bullets(const std::string& heading, const std::vector<std::string>& lines) {
  if (lines.empty()) return "";
  std::string text = heading + "\n";
  for (const std::string& line : lines) text += wrapped("  " + line, 100, "    ");
  return text;
}

/// What a published trial of the same beds found.
std::string published_text(const answers::Trial& t) {
  bool raft = false, gravel = false;
  for (const answers::Stand& s : t.stands) {
    raft = raft || s.bed.starts_with("raft_bed.");
    gravel = gravel || s.bed.starts_with("gravel_bed.");
  }
  if (!raft || !gravel) return "";
  return "Published, with lettuce: gravel gave more than raft and raft more than nutrient film, all different (Lennard "
         "and Leonard 2006).";
}

std::string one(const answers::Trial& t, const answers::TrialAnswer& a, const Clock& clock) {
  std::string text = fmt::format("{}, {} to {}", t.crop, date_of(clock, t.from), date_of(clock, t.to));
  if (!a.chapters.empty()) text += fmt::format(", chapter {} of {}", t.chapter + 1, a.chapters.size() + 1);
  const std::string verdict = trial_sentence(t);
  text += "\n" + (verdict.empty() ? "" : wrapped(verdict, 100, "")) + "\n" + stands_text(t, clock) + "\n";
  std::vector<std::string> lines, out, events;
  for (const Compared& c : t.compared) lines.push_back(compared_text(c, a.request.level));
  lines.push_back(lived_text(t, a.request.level));
  if (const std::string days = days_text(t, a.request.level); !days.empty()) lines.push_back(days);
  text += bullets("Compared", lines);
  lines.clear();
  for (const answers::Growth& g : t.growth) lines.push_back(growth_text(g, a.request.level, clock));
  text += bullets("Growth", lines);
  for (const answers::Exclusion& e : t.excluded) out.push_back(excluded_text(e));
  text += bullets("Left out, and why", out);
  for (const std::string& w : t.warnings) events.push_back(w + ".");
  text += bullets("Care", events);
  if (const std::string published = published_text(t); !published.empty()) text += wrapped(published, 100, "  ");
  events.clear();
  for (const answers::Happened& h : t.events)
    events.push_back(fmt::format("{} {} (entry {})", date_of(clock, h.at), h.what, h.entry));
  text += bullets("While they grew", events);
  if (t.plants_needed)
    text += wrapped(fmt::format("To find {:.0f} % with {:.0f} % chance at a spread of {:.2f} of the mean: about {:.0f} "
                                "plants a bed ({:.0f} by normal quantiles), if the beds themselves are alike.",
                                100.0 * a.request.wanted, 100.0 * a.request.power, *t.variation,
                                std::ceil(*t.plants_needed), std::ceil(*t.plants_needed_normal)),
                    100, "  ");
  return text;
}

}  // namespace

std::string trial_text(const answers::TrialAnswer& a, const Clock& clock) {
  std::string text;
  for (const answers::Trial& t : a.trials) text += (text.empty() ? "" : "\n") + one(t, a, clock);
  if (a.trials.empty())
    text = a.request.crop.empty()
               ? "No plantings are in the record. Begin with: leat note \"planted 9 chard in raft\"\n"
               : fmt::format("No {} was planted, by the record.\n", a.request.crop);
  std::vector<std::string> fish;
  for (const answers::FishLives& f : a.fish) fish.push_back(fish_text(f, a.request.level, clock));
  if (!fish.empty()) {
    text += (text.empty() ? "" : "\n") + bullets("Fish", fish);
    text += wrapped("Fish of one tank share its accidents, so the true intervals are wider.", 100, "  ");
  }
  for (const std::string& taken : a.taken) text += wrapped("Taken: " + taken + ".", 100, "  ");
  return text;
}

}  // namespace leat::tell
