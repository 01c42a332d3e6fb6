#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "answers/dose.h"
#include "science/carbonate/acidity.h"
#include "science/gas/carbon_dioxide.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/dosing.h"

namespace leat::answers {
namespace {

using science::MixedConstants, science::Reagent;

constexpr double kPerDay = 86400.0;
constexpr double kAirCarbonDioxide = 420e-6;
constexpr std::size_t kMostDays = 30;

double grams(Mass<> m) {
  return 1e3 * m.si();
}

std::string counted(int n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// The water as acid and base see it. Over hours carbon dioxide is held where breath and air hold it; what is put in
/// acts at once on the carbon that is there.
struct Carbonate {
  MixedConstants<> constants;
  Concentration<> ammonia, phosphate;

  science::AcidBaseTotals<> totals(Concentration<> alkalinity, Concentration<> carbon) const {
    return {alkalinity, carbon, ammonia, Concentration<>(0.0), phosphate};
  }
  Concentration<> carbon(double pH, Concentration<> carbon_dioxide) const {
    return science::inorganic_carbon_of(Number<>(pH), constants, carbon_dioxide);
  }
  Concentration<> alkalinity(double pH, Concentration<> carbon_dioxide) const {
    return science::alkalinity_of(Number<>(pH), constants, totals(Concentration<>(0.0), carbon(pH, carbon_dioxide)));
  }
  /// pH at an alkalinity, by bisection: alkalinity rises with pH.
  double pH(Concentration<> wanted, Concentration<> carbon_dioxide) const {
    double low = 3.0, high = 11.0;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (alkalinity(middle, carbon_dioxide) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }
  /// pH and carbon dioxide at once after a dose of so much alkalinity, which may be less than none.
  std::pair<double, Concentration<>> at_once(const Reagent& reagent, double pH, Concentration<> carbon_dioxide,
                                             Concentration<> dose) const {
    Carbonate after = *this;
    if (reagent.formula == "H3PO4") after.phosphate += -dose;
    const Concentration<> inorganic = carbon(pH, carbon_dioxide) + science::carbon_with_alkalinity(reagent, dose);
    const double then =
        science::acidity_closed(constants, after.totals(alkalinity(pH, carbon_dioxide) + dose, inorganic), pH).si();
    return {then, science::carbon_dioxide_of(Number<>(then), constants, inorganic)};
  }
};

/// What a day's feed takes of the alkalinity: nitrifying takes 2, excreted ammonia brings 1, nitrate taken up brings 1.
///
///   n (1 - taken), n = feed protein 0.092 / 14.007
double net_acid(const DoseRequest& r) {
  const double nitrogen = r.feed.si() * kPerDay * r.protein * 0.092 / 14.007e-3;
  return nitrogen * (1.0 - r.plants_take);
}

/// Goes of equal grams so that the first moves pH by no more than it may, at once and when the air has had its time.
int goes_for(const Carbonate& water, const Reagent& reagent, double pH, Concentration<> dose,
             Concentration<> carbon_dioxide, double& first) {
  const Concentration<> now = water.alkalinity(pH, carbon_dioxide);
  for (int goes = 1;; ++goes) {
    const Concentration<> one = dose / goes;
    first = std::max(std::abs(water.at_once(reagent, pH, carbon_dioxide, one).first - pH),
                     std::abs(water.pH(now + one, carbon_dioxide) - pH));
    if (first <= kMostInOneGo || goes == kMostGoes) return goes;
  }
}

/// Alkalinity that one mole of phosphoric acid takes at a pH: one for the acid, and what its phosphate does not give
/// back.
double taken_by(const Carbonate& water, const Reagent& reagent, double pH) {
  if (reagent.formula != "H3PO4") return 1.0;
  Carbonate more = water;
  more.phosphate += Concentration<>(1.0);
  const Concentration<> co2(0.01);
  return 1.0 + (more.alkalinity(pH, co2) - water.alkalinity(pH, co2)).si();
}

/// One day: as far as two dozen goes may bring pH, at most to `towards`. False where even a little is too much for
/// them.
bool plan_day(const DoseRequest& r, const Carbonate& water, const Reagent& reagent, double towards, double standing,
              const DoseAnswer& a, DoseDay& d, Concentration<>& dosed) {
  const Concentration<> co2 = *a.carbon_dioxide, now = water.alkalinity(d.pH_from, co2);
  for (double step = std::min(kMostInADay, std::abs(towards - d.pH_from)); step > 0.005; step *= 0.5) {
    d.pH_to = d.pH_from + std::copysign(step, towards - d.pH_from);
    const Concentration<> all = water.alkalinity(d.pH_to, co2) - now + Concentration<>(standing / r.water.si());
    dosed = all / taken_by(water, reagent, d.pH_to);
    if (dosed.si() * reagent.equivalents <= 0.0) return true;
    d.goes = goes_for(water, reagent, d.pH_from, dosed, co2, d.first_jump);
    if (d.first_jump <= kMostInOneGo + 1e-9) return true;
  }
  return false;
}

/// Day by day. False where no go is small enough.
bool plan_days(const DoseRequest& r, Carbonate water, double standing, DoseAnswer& a) {
  const Reagent reagent = *science::find_reagent(a.reagent);
  const double sign = reagent.equivalents > 0.0 ? 1.0 : -1.0;
  double pH = r.pH;
  while (sign * (r.target_pH - pH) > 1e-6) {
    if (a.days.size() == kMostDays) {
      a.lines.push_back(fmt::format("after {} days pH stands at {:.1f}: read all again then", kMostDays, pH));
      return true;
    }
    DoseDay d;
    d.day = static_cast<int>(a.days.size()) + 1;
    d.pH_from = pH;
    Concentration<> dosed{};
    if (!plan_day(r, water, reagent, r.target_pH, standing, a, d, dosed)) {
      a.days.clear();
      return false;
    }
    if (sign * dosed.si() <= 0.0) {
      a.lines.push_back(a.days.empty()
                            ? "what nitrifying takes by itself lowers pH that fast: no acid is needed, dose no base"
                            : "the rest nitrifying does by itself: no acid after that");
      return true;
    }
    d.grams = science::mass_for_alkalinity(reagent, r.water, Concentration<>(std::abs(dosed.si())));
    a.days.push_back(d);
    if (reagent.formula == "H3PO4") water.phosphate += -dosed;
    pH = d.pH_to;
  }
  return true;
}

/// What else a base or an acid brings, in mg/L: with the lift and each day.
std::string brings(const std::string& reagent, Mass<> lift, Mass<> a_day, Volume<> water) {
  struct Also {
    std::string_view formula, name;
    double share;  ///< of its mass
    std::string_view then;
  };
  constexpr std::string_view kTurns = ": use potassium and calcium salts in turn", kNone = "";
  static constexpr std::array all{Also{"KHCO3", "potassium", 39.098 / 100.115, kTurns},
                                  Also{"K2CO3", "potassium", 78.196 / 138.205, kTurns},
                                  Also{"KOH", "potassium", 39.098 / 56.105, kTurns},
                                  Also{"NaHCO3", "sodium", 22.990 / 84.006, kTurns},
                                  Also{"Na2CO3", "sodium", 45.980 / 105.988, kTurns},
                                  Also{"NaOH", "sodium", 22.990 / 39.997, kTurns},
                                  Also{"CaCO3", "calcium", 40.078 / 100.087, kTurns},
                                  Also{"Ca(OH)2", "calcium", 40.078 / 74.093, kTurns},
                                  Also{"CaO", "calcium", 40.078 / 56.077, kTurns},
                                  Also{"H3PO4", "phosphorus", 30.974 / 97.994, kNone},
                                  Also{"HNO3", "nitrogen as nitrate", 14.007 / 63.012, kNone},
                                  Also{"H2SO4", "sulphur as sulphate", 32.065 / 98.078, kNone}};
  for (const Also& one : all) {
    if (one.formula != reagent) continue;
    const double once = 1e3 * lift.si() * one.share / water.si(), daily = 1e3 * a_day.si() * one.share / water.si();
    std::string text = fmt::format("{} brings ", reagent);
    if (once > 0.0) text += fmt::format("{:.0f} mg/L of {} with the lift", once, one.name);
    if (daily > 0.0)
      text += fmt::format("{}{:.1f} mg/L of {} a day, {:.0f} in 60 days", once > 0.0 ? ", and " : "", daily, one.name,
                          60.0 * daily);
    return once + daily > 0.0 ? text + std::string(one.then) : "";
  }
  return {};
}

void tell_alkalinity(const DoseRequest& r, const Carbonate& water, Concentration<> in_air, DoseAnswer& a) {
  if (r.alkalinity) {
    a.alkalinity_now = *r.alkalinity;
    return;
  }
  if (!r.shaken_pH) return;
  a.alkalinity_now = water.alkalinity(*r.shaken_pH, in_air);
  a.alkalinity_low = water.alkalinity(*r.shaken_pH - 0.2, in_air);
  a.alkalinity_high = water.alkalinity(*r.shaken_pH + 0.2, in_air);
  a.lines.push_back(
      fmt::format("the shaken jar says {:.1f} mg/L as CaCO3 of alkalinity ({:.1f} to {:.1f} for 0.2 of pH either way)",
                  50.043 * a.alkalinity_now->si(), 50.043 * a.alkalinity_low->si(), 50.043 * a.alkalinity_high->si()));
}

/// A base where pH stands as high as is wanted.
void tell_holding(double pH, DoseAnswer& a) {
  a.lines.push_back(fmt::format("pH stands at {:.1f}: nothing is raised, the dose only holds it", pH));
  if (pH > 7.5)
    a.lines.push_back(
        "so high base is hardly wanted: nitrifying brings pH down by itself, and the higher it stands the more of the "
        "ammonia harms");
}

/// Carbon dioxide that makes this pH of that alkalinity.
Concentration<> carbon_dioxide_for(const Carbonate& water, double pH, Concentration<> alkalinity) {
  double low = 0.0, high = 10.0;
  for (int i = 0; i < 80; ++i) {
    const double middle = 0.5 * (low + high);
    (water.alkalinity(pH, Concentration<>(middle)) < alkalinity ? low : high) = middle;
  }
  return Concentration<>(0.5 * (low + high));
}

/// The cautions of this base or acid.
std::vector<std::string> cautions_of(const Reagent& reagent) {
  const auto is = [&](std::initializer_list<std::string_view> formulas) {
    return std::find(formulas.begin(), formulas.end(), reagent.formula) != formulas.end();
  };
  std::vector<std::string> all;
  const bool acid = reagent.equivalents < 0.0, slow = is({"CaCO3", "MgCO3", "CaMg(CO3)2", "MgO", "Mg(OH)2"});
  if (slow)
    all.push_back(
        "it hardly dissolves in a bucket: hang it in a bag where the water runs; it goes into solution over days, and "
        "stops by itself at a pH of 7.5 to 8");
  else
    all.push_back(
        "goggles and gloves; dissolve it in a bucket of loop water first, and add it to the sump, never to the fish");
  if (is({"NaOH", "KOH", "CaO"}))
    all.push_back(
        "it burns skin and eyes and gets hot as it dissolves: little by little into much cold water, never water onto "
        "it");
  if (is({"Ca(OH)2"})) all.push_back("it burns eyes and lungs: no dust, and a wind from behind");
  if (acid) {
    all.push_back(
        "acid into water, never water into acid, outdoors, for its fumes burn; gloves that stand acid; out of reach of "
        "children");
    all.push_back(
        "grams are of the pure acid: divide by the strength on its label, so that 10 g are 32 g of one with 31 %");
  }
  all.push_back("re-test each dusk; nitrifiers are slowed below pH 6.5, so take the smaller dose while in doubt");
  return all;
}

/// What the feed takes, and what holds against it.
void tell_feed(const DoseRequest& r, const Carbonate& water, const Reagent& reagent, double acid, Mass<> a_day,
               DoseAnswer& a) {
  if (acid <= 0.0) return;
  const Concentration<> co2 = *a.carbon_dioxide;
  a.lines.push_back(fmt::format(
      "the feed takes {:.2f} eq a day, {:.0f} g as CaCO3 or {:.1f} mg/L: {}", acid, 50.043 * acid,
      50.043 * acid / r.water.si(),
      reagent.equivalents > 0.0
          ? fmt::format("{:.0f} g of {} a day just to stand still", grams(a_day), r.reagent)
          : fmt::format("as much as {:.0f} g of {} a day, and that is taken off the dose", grams(a_day), r.reagent)));
  if (reagent.equivalents < 0.0) return;
  const auto jumps = [&](double pH) {
    const Concentration<> at = water.alkalinity(pH, co2), dose(acid / r.water.si());
    return std::max(water.pH(at + dose, co2), water.at_once(reagent, pH, co2, dose).first) - pH;
  };
  a.lines.push_back(fmt::format("that dose in one go would move pH by {:.2f} now, by {:.2f} once at {:.1f}",
                                jumps(r.pH), jumps(r.target_pH), r.target_pH));
}

/// What acid does to fish besides: bicarbonate turns into carbon dioxide until the air has taken it.
void tell_acid_gas(const DoseRequest& r, const Carbonate& water, const Reagent& reagent, DoseAnswer& a) {
  if (reagent.equivalents > 0.0 || a.days.empty()) return;
  const DoseDay& d = a.days.front();
  const Concentration<> one(-d.grams.si() / d.goes / science::molar_mass_of(reagent).si() *
                            std::abs(reagent.equivalents) / r.water.si());
  const double then = 44.009 * water.at_once(reagent, r.pH, *a.carbon_dioxide, one).second.si();
  a.lines.push_back(
      fmt::format("a go turns bicarbonate into carbon dioxide, up to {:.1f} mg/L at once: an hour or two of strong air "
                  "before the next",
                  then));
}

std::string verdict_of(const DoseRequest& r, const Reagent& reagent, Mass<> a_day, bool holds, DoseAnswer& a) {
  const double co2 = 44.009 * a.carbon_dioxide->si();
  const double share = science::unionised_ammonia_fraction(r.temperature, Number<>(r.target_pH)).si();
  if (co2 > kTooMuchCarbonDioxide) {
    a.days.clear();
    a.standing.reset();
    return fmt::format(
        "nothing is dosed on this: pH {:.1f} with that alkalinity means {:.0f} mg/L of carbon dioxide, more than "
        "breath "
        "makes; read both again, and give strong air meanwhile, for if it is true it kills",
        r.pH, co2);
  }
  if (reagent.equivalents > 0.0 && r.ammonia && 14.007 * share * r.ammonia->si() > kStopAmmonia &&
      r.target_pH > r.pH + 1e-6) {
    a.days.clear();
    return fmt::format(
        "pH is not raised now: at {:.1f} un-ionised ammonia would be {:.3f} mg/L as N, over {:.4f}. Bring ammonia down "
        "first: no feed, new water{}",
        r.target_pH, 14.007 * share * r.ammonia->si(), kStopAmmonia,
        a.standing && a.standing->si() > 0.0
            ? fmt::format("; {:.0f} g of {} a day only to stand still", grams(a_day), r.reagent)
            : "");
  }
  if (!holds)
    return fmt::format(
        "not with {}: even in {} goes a day each would move pH by more than {:.1f}. Take {}, or fewer steps of pH, or "
        "less feed on this water",
        r.reagent, kMostGoes, kMostInOneGo, reagent.equivalents > 0.0 ? "a bicarbonate" : "a weaker dose");
  if (!a.days.empty())
    return fmt::format("{:.0f} g of {} on the first day in {}, over {} in all", grams(a.days[0].grams), r.reagent,
                       counted(a.days[0].goes, "go", "goes"), counted(static_cast<int>(a.days.size()), "day", "days"));
  return reagent.equivalents > 0.0 && a.standing && a.standing->si() > 0.0
             ? fmt::format("no lift is wanted; {:.0f} g of {} a day to stand still", grams(a_day), r.reagent)
             : "nothing to dose";
}

/// Alkalinity and carbon dioxide as the readings have them, and what is to be said of them.
void take_readings(const DoseRequest& r, const Carbonate& water, DoseAnswer& a) {
  const Concentration<> in_air = science::carbon_dioxide_saturation(
      r.temperature, science::carbon_dioxide_pressure(Number<>(kAirCarbonDioxide), r.temperature, units::atmosphere));
  tell_alkalinity(r, water, in_air, a);
  Concentration<> co2 = a.alkalinity_now ? carbon_dioxide_for(water, r.pH, *a.alkalinity_now) : 2.0 * in_air;
  if (r.what == DoseRequest::For::base && co2 < in_air) {
    a.lines.push_back(
        fmt::format("pH {:.1f} with that alkalinity leaves less carbon dioxide than air holds: plants take it by day "
                    "and at night it "
                    "is back, so that of air was taken; or one of the readings is off",
                    r.pH));
    co2 = in_air;
  }
  if (!a.alkalinity_now) {
    a.alkalinity_now = water.alkalinity(r.pH, co2);
    a.lines.push_back("neither alkalinity nor a shaken jar is known: carbon dioxide was taken at twice that of air");
  }
  a.carbon_dioxide = co2;
  const double mg = 44.009 * co2.si();
  a.lines.push_back(fmt::format(
      "carbon dioxide stands at {:.1f} mg/L and is taken to come back there between the goes{}", mg,
      mg > kMuchCarbonDioxide
          ? fmt::format("; above {:.0f} it harms fish (common practice). Give air first: pH rises by itself "
                        "as it leaves, so read it again before dosing",
                        kMuchCarbonDioxide)
          : ""));
  if (r.what == DoseRequest::For::base && r.pH >= r.target_pH) tell_holding(r.pH, a);
}

/// The dose of a day's feed, and what brings pH to where it is wanted.
Mass<> take_wants(const DoseRequest& r, const Carbonate& water, const Reagent& reagent, double acid, DoseAnswer& a) {
  const Concentration<> target = water.alkalinity(r.target_pH, *a.carbon_dioxide);
  a.alkalinity_target = target;
  const Concentration<> lift = (target - *a.alkalinity_now) / taken_by(water, reagent, r.target_pH);
  a.lift = science::mass_for_alkalinity(reagent, r.water, Concentration<>(std::abs(lift.si())));
  a.net_acid_as_caco3 = MassRate<>(acid * 50.043e-3 / kPerDay);
  const Mass<> a_day = science::mass_for_alkalinity(reagent, r.water, Concentration<>(acid / r.water.si()));
  if (reagent.equivalents > 0.0) a.standing = a_day / units::day;
  if (std::abs(r.target_pH - r.pH) > 1e-6 && 44.009 * a.carbon_dioxide->si() <= kTooMuchCarbonDioxide)
    a.lines.push_back(fmt::format("pH {:.1f} wants {:.3f} meq/L: {:.0f} g of {} {} all", r.target_pH, target.si(),
                                  grams(a.lift), r.reagent, reagent.equivalents > 0.0 ? "of lift in" : "in"));
  return a_day;
}

void tell_ammonia(const DoseRequest& r, DoseAnswer& a) {
  if (!r.ammonia) return;
  const double share = science::unionised_ammonia_fraction(r.temperature, Number<>(r.target_pH)).si();
  a.lines.push_back(
      fmt::format("un-ionised ammonia at pH {:.1f}: {:.4f} mg/L as N; stop if total ammonia passes {:.1f} mg/L, "
                  "where it would be {:.4f}",
                  r.target_pH, share * 14.007 * r.ammonia->si(), kStopAmmonia / share, kStopAmmonia));
}

}  // namespace

DoseAnswer dose_acidity(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = r.reagent;
  const Carbonate water{science::mixed_constants(r.temperature, r.ionic_strength),
                        r.ammonia.value_or(Concentration<>(0.0)), r.phosphate};
  take_readings(r, water, a);
  const Reagent reagent = *science::find_reagent(r.reagent);
  const double acid = net_acid(r);  // eq/d
  const Mass<> a_day = take_wants(r, water, reagent, acid, a);
  tell_feed(r, water, reagent, acid, a_day, a);
  const bool holds = plan_days(r, water, acid, a);
  a.verdict = verdict_of(r, reagent, a_day, holds, a);
  tell_acid_gas(r, water, reagent, a);
  if (!a.days.empty() || a.standing)
    if (const std::string also = brings(r.reagent, a.days.empty() ? Mass<>(0.0) : a.lift,
                                        reagent.equivalents > 0.0 ? a_day : Mass<>(0.0), r.water);
        !also.empty())
      a.lines.push_back(also);
  tell_ammonia(r, a);
  a.cautions = cautions_of(reagent);
  return a;
}

}  // namespace leat::answers
