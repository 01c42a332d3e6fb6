// Random loops with random life in them, run for some days: their books close and nothing leaves what can be.
//
//   LEAT_RANDOM_LIVES   how many (40)
//   LEAT_RANDOM_SEED    where they begin (1)
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <cstdlib>

#include "answers/ahead.h"
#include "answers/ahead_run.h"
#include "answers/running_water.h"
#include "science/crops/crop.h"
#include "science/fish/species.h"
#include "tests/random/loops.h"

namespace leat::random {
namespace {

using namespace model;

int from_environment(const char* name, int otherwise) {
  const char* text = std::getenv(name);
  return text ? std::atoi(text) : otherwise;
}

std::string random_water(Choices& c) {
  std::string out =
      fmt::format("[water]\ntemperature = \"{:.1f} degC\"\npH = {:.2f}\n", c.evenly(1.0, 30.0), c.evenly(5.5, 9.0));
  const auto say = [&](const char* key, double high, const char* as) {
    if (c.chance(0.5)) out += fmt::format("{} = \"{:.3g} mg/L{}\"\n", key, high * c.share(), as);
  };
  say("alkalinity", 250.0, " as CaCO3");
  say("ammonia", 5.0, " as N");
  say("nitrite", 2.0, " as N");
  say("nitrate", 150.0, " as N");
  say("phosphorus", 20.0, " as P");
  say("potassium", 80.0, "");
  say("calcium", 150.0, "");
  say("sodium", 100.0, "");
  say("chloride", 150.0, "");
  say("iron", 3.0, "");
  if (c.chance(0.4)) out += fmt::format("chlorophyll = \"{:.3g} ug/L\"\n", c.by_size(1.0, 500.0));
  return out;
}

/// Fish where there is water for them, at most 60 kg/m3, and plants in beds.
std::string random_life(Choices& c, const Loop& bare) {
  std::string out =
      fmt::format("[place]\nlatitude = {:.1f}\nwind_shelter = {:.2f}\n", c.evenly(-55.0, 60.0), c.share());
  out += random_water(c);
  const std::vector<std::string_view> species = science::species_names(), crops = science::crop_names();
  const std::vector<Length<>> rest = levels_at_rest(bare);
  int n = 0;
  for (std::size_t v = 0; v < bare.vessels.size(); ++v) {
    const Vessel& vessel = bare.vessels[v];
    const double litres = vessel.volume_at(rest[v]).in(units::litre);
    if (c.chance(0.4) || litres < 20.0 || vessel.kind == VesselKind::sump) continue;
    ++n;
    if (vessel.kind != VesselKind::tank) {
      out += fmt::format("[planting.p{}]\nin = \"{}\"\ncrop = \"{}\"\nplaces = {}\nage = \"{:.0f} d\"\n", n,
                         vessel.path, c.one_of(crops), c.between(1, 30), c.evenly(1.0, 60.0));
      continue;
    }
    const double biomass = litres * c.by_size(0.5, 60.0), mass = std::min(biomass, c.by_size(5.0, 800.0));  // g
    out += fmt::format("[fish.f{}]\nin = \"{}\"\nspecies = \"{}\"\ncount = {:.0f}\nmass = \"{:.1f} g\"\n", n,
                       vessel.path, c.one_of(species), std::max(1.0, std::floor(biomass / mass)), mass);
    if (c.chance(0.4)) out += fmt::format("feed = \"{:.2f} g/d\"\n", biomass * c.by_size(0.001, 0.06));
    if (c.chance(0.6))
      out += fmt::format("[air.a{}]\nto = \"{}\"\nflow = \"{:.0f} L/min\"\n", n, vessel.path, c.by_size(2.0, 80.0));
  }
  return out;
}

std::string moment(Choices& c, const CivilDate& first, int days) {
  return fmt::format("{} {:02}:{:02}", first.plus_days(c.below(days)).text(), c.below(24), c.below(60));
}

/// One move of fish that are described: some or all, by size or not, to another tank, to other fish of their kind, or
/// out of the loop.
std::string random_move(Choices& c, const Loop& loop, const std::string& name, const CivilDate& first, int days) {
  const FishGroup& fish = loop.fish[static_cast<std::size_t>(c.below(static_cast<int>(loop.fish.size())))];
  std::string out =
      fmt::format("[fish_move.{}]\nfish = \"{}\"\non = \"{}\"\n", name, fish.path, moment(c, first, days));
  std::vector<std::string> ends;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank && static_cast<int>(v) != fish.vessel)
      ends.push_back(loop.vessels[v].path);
  for (const FishGroup& other : loop.fish)
    if (other.path != fish.path && other.species == fish.species) ends.push_back(other.path);
  if (!ends.empty() && c.chance(0.8)) out += fmt::format("to = \"{}\"\n", c.one_of(ends));
  const bool by_count = c.chance(0.6);
  if (by_count) out += fmt::format("count = {}\n", c.between(1, static_cast<int>(1.2 * fish.count) + 1));
  if (by_count && c.chance(0.4)) out += fmt::format("take = \"{}\"\n", c.chance(0.5) ? "largest" : "smallest");
  if (!by_count && c.chance(0.6))
    out += fmt::format("{} = \"{:.2f} g\"\n", c.chance(0.5) ? "larger_than" : "smaller_than",
                       fish.mass.in(units::gram)*c.by_size(0.6, 1.6));
  return out;
}

/// What is done within the run: fish moved, graded, taken out; algae that die; plants cut.
std::string random_deeds(Choices& c, const Loop& loop, const CivilDate& first, int days) {
  std::string out;
  for (int i = 0; !loop.fish.empty() && i < c.below(4); ++i)
    out += random_move(c, loop, fmt::format("m{}", i), first, days);
  for (int i = 0; i < c.below(3); ++i) {
    out += fmt::format("[algae_death.d{}]\non = \"{}\"\nshare = {:.2f}\n", i, moment(c, first, days), c.share());
    if (c.chance(0.3))
      out += fmt::format("in = \"{}\"\n",
                         loop.vessels[static_cast<std::size_t>(c.below(static_cast<int>(loop.vessels.size())))].path);
  }
  for (std::size_t p = 0; p < loop.plantings.size(); ++p)
    if (c.chance(0.5))
      out += fmt::format("[cut.c{}]\nplanting = \"{}\"\non = \"{}\"\nshare = {:.2f}\n", p, loop.plantings[p].path,
                         moment(c, first, days), c.evenly(0.05, 1.0));
  return out;
}

/// mol/m3: what the integrator's tolerance may leave below nothing, 1.4 ug/L of nitrogen and 0.03 mg/L of oxygen.
constexpr double kTrace = 1e-4, kTraceOxygen = 1e-3;

/// What does not hold of an answer, in words.
std::string what_is_wrong(const answers::AheadAnswer& a) {
  std::string wrong;
  for (const auto& t : a.books)
    if (!(std::abs(t.closure) < 1e-9))
      wrong += fmt::format("{} does not close: {:g}\n", ledger_name(t.ledger), t.closure);
  for (const auto& v : a.vessels)
    for (const auto& d : v.days) {
      if (v.dry) continue;
      if (!(d.pH_low > 3.0 && d.pH_high < 12.0)) wrong += fmt::format("{}: pH {} to {}\n", v.path, d.pH_low, d.pH_high);
      if (!(d.oxygen_low.value > -kTraceOxygen)) wrong += fmt::format("{}: oxygen {:g}\n", v.path, d.oxygen_low.value);
      if (!(d.ammonia > -kTrace && d.nitrite > -kTrace && d.nitrate > -kTrace))
        wrong += fmt::format("{}: nitrogen {:g} {:g} {:g}\n", v.path, d.ammonia, d.nitrite, d.nitrate);
    }
  for (const auto& f : a.fish)
    for (std::size_t d = 0; d < f.counts.size(); ++d)
      if (!(f.counts[d] >= 0.0 && f.mean_mass[d] >= 0.0 && f.mean_mass[d] < 30.0))
        wrong += fmt::format("{}: {:g} fish of {:g} kg\n", f.path, f.counts[d], f.mean_mass[d]);
  for (const auto& p : a.plants)
    for (const double kg : p.fresh_mass)
      if (!(kg >= 0.0)) wrong += fmt::format("{}: {:g} kg\n", p.path, kg);
  for (const auto& w : a.in_water)
    for (const double value : w.days)
      if (!(value > -kTrace)) wrong += fmt::format("{} {:g}\n", w.word, value);
  return wrong;
}

/// The same run by mean flows, as the reference does it and in a lane of the ensembles' integrator.
std::array<answers::AheadAnswer, 2> by_mean_flows(const Loop& described, const Weather& weather,
                                                  const answers::AheadRequest& request) {
  const Loop loop = with_fish_to_come(answers::with_water_as_warm_as_the_air(described, weather, request.first));
  const Plumbing plumbing(loop);
  const answers::RunningWater running = answers::running_water(plumbing);
  return {answers::run_ahead(loop, plumbing, running.water, weather, request),
          answers::run_ahead_together(
              loop, plumbing, running.water, request, 1,
              [&](std::size_t) {
                return MemberInput{loop, weather};
              },
              together_tolerance)
              .front()};
}

/// In what the two integrators differ by more than a grower could tell: 0.05 K, a fiftieth and 0.1 mg/L of oxygen, a
/// fiftieth and 0.015 mg/L of ammonia, a thousandth of a fish.
std::string where_they_differ(const answers::AheadAnswer& a, const answers::AheadAnswer& b) {
  std::string wrong;
  if (b.dates.size() != a.dates.size() || !b.finished) return "the lane does not run to the end: " + b.said + "\n";
  const auto differ = [&](const std::string& path, const char* what, double x, double y, double most) {
    if (!(std::abs(x - y) <= most)) wrong += fmt::format("{}: {} {:g}, in a lane {:g}\n", path, what, x, y);
  };
  for (std::size_t v = 0; v < a.vessels.size(); ++v)
    for (std::size_t d = 0; d < a.dates.size(); ++d) {
      if (a.vessels[v].dry) continue;
      const answers::VesselDay &x = a.vessels[v].days[d], &y = b.vessels[v].days[d];
      const std::string& path = a.vessels[v].path;
      differ(path, "coldest", x.temperature_low.value, y.temperature_low.value, 0.05);
      differ(path, "warmest", x.temperature_high.value, y.temperature_high.value, 0.05);
      differ(path, "oxygen", x.oxygen_low.value, y.oxygen_low.value, 0.02 * std::abs(x.oxygen_low.value) + 3e-3);
      differ(path, "ammonia", x.ammonia, y.ammonia, 0.02 * std::abs(x.ammonia) + 1e-3);
    }
  for (std::size_t f = 0; f < a.fish.size(); ++f)
    differ(a.fish[f].path, "mass", a.fish[f].mean_mass.back(), b.fish[f].mean_mass.back(),
           1e-3 * a.fish[f].mean_mass.back() + 1e-7);
  return wrong;
}

TEST(RandomLives, StayWithinWhatCanBeAndTheirBooksClose) {
  const std::string how = fmt::format("max_success={} seed={} noshrink=1", from_environment("LEAT_RANDOM_LIVES", 40),
                                      from_environment("LEAT_RANDOM_SEED", 1));
  setenv("RC_PARAMS", how.c_str(), 1);
  int ran = 0, lanes = 0, refused = 0, days_run = 0;
  std::size_t deeds_done = 0;
  const bool good = rc::check("a loop with life in it", [&] {
    const std::vector<std::uint32_t> row =
        *rc::gen::resize(1200, rc::gen::container<std::vector<std::uint32_t>>(
                                   rc::gen::resize(100, rc::gen::inRange<std::uint32_t>(0, kRange))));
    Choices c(row);
    const int days = c.between(1, 6);
    const CivilDate first{2016, c.between(1, 12), c.between(1, 28)};
    const std::string loop_text = random_loop(c);
    Problems problems;
    const Loop bare = make_loop(read_description(loop_text, "loop.toml", problems), problems);
    const std::string living_text = random_life(c, bare) + loop_text;
    const Loop living = make_loop(read_description(living_text, "loop.toml", problems), problems);
    const std::string text = random_deeds(c, living, first, days) + living_text;
    const Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
    if (!problems.empty()) RC_FAIL(text + "\n# a plausible loop is not taken: " + problems.text());
    const Weather weather = assemble_weather(loop.site.place, WeatherSources{}, first, days);
    answers::AheadRequest request{first, days, false};
    if (c.chance(0.4)) request.hold_alkalinity = Concentration<>(c.evenly(0.2, 4.0));
    request.resow = c.chance(0.5);
    const answers::AheadAnswer a = answers::ahead(loop, weather, request);
    deeds_done += a.deeds.size();
    for (const answers::PlantsAhead& p : a.plants) deeds_done += p.harvests.size();
    if (!a.finished && a.said.empty()) RC_FAIL(text + "\n# it stops and does not say why");
    a.finished && !a.dates.empty() ? ++ran : ++refused;
    days_run += static_cast<int>(a.dates.size());
    if (const std::string wrong = what_is_wrong(a); !wrong.empty()) RC_FAIL(text + "\n# " + wrong);
    if (a.finished && !a.dates.empty()) {
      const auto [reference, lane] = by_mean_flows(loop, weather, request);
      lanes += lane.counts.jacobians >= lane.counts.steps;  // the reference takes far fewer
      const std::string differs = where_they_differ(reference, lane) + what_is_wrong(lane);
      if (!differs.empty()) RC_FAIL(text + "\n# " + differs);
    }
    if (!a.finished && a.said.find("no cycle") == std::string::npos)
      fmt::print("  stopped: {}\n{}", a.said, std::getenv("LEAT_RANDOM_SHOW") ? text + "\n# end\n" : "");
  });
  fmt::print("{}: {} ran, {} of them in a lane too, {} days in all, {} deeds; {} did not and said why\n", how, ran,
             lanes, days_run, deeds_done, refused);
  EXPECT_GT(deeds_done, 0u);
  EXPECT_TRUE(good);
  EXPECT_GT(ran, refused);
  EXPECT_GT(20 * lanes, 19 * ran) << "more than a twentieth had to be run alone";
}

}  // namespace
}  // namespace leat::random
