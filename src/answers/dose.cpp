#include "answers/dose.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "science/carbonate/acidity.h"
#include "science/gas/carbon_dioxide.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/dosing.h"

namespace leat::answers {
namespace {

using science::MixedConstants;

constexpr double kPerDay = 86400.0;
constexpr double kAirCarbonDioxide = 420e-6;

double grams(Mass<> m) {
  return 1e3 * m.si();
}

std::string counted(int n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// The water as acid and base see it: carbon dioxide is held where breath and air hold it.
struct Carbonate {
  MixedConstants<> constants;
  Concentration<> ammonia, phosphate;

  Concentration<> alkalinity(double pH, Concentration<> carbon_dioxide) const {
    const science::AcidBaseTotals<> totals{Concentration<>(0.0),
                                           science::inorganic_carbon_of(Number<>(pH), constants, carbon_dioxide),
                                           ammonia, Concentration<>(0.0), phosphate};
    return science::alkalinity_of(Number<>(pH), constants, totals);
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
};

/// What a day's feed takes of the alkalinity: nitrifying takes 2, excreted ammonia brings 1, nitrate taken up brings 1.
///
///   n (1 - taken), n = feed protein 0.092 / 14.007
double net_acid(const DoseRequest& r) {
  const double nitrogen = r.feed.si() * kPerDay * r.protein * 0.092 / 14.007e-3;
  return nitrogen * (1.0 - r.plants_take);
}

/// Goes of equal grams so that the first, at the lowest alkalinity, moves pH by no more than it may.
int goes_for(const Carbonate& water, Concentration<> now, Concentration<> dose, Concentration<> carbon_dioxide,
             double& first) {
  const double from = water.pH(now, carbon_dioxide);
  for (int goes = 1;; ++goes) {
    first = std::abs(water.pH(now + dose / goes, carbon_dioxide) - from);
    if (first <= kMostInOneGo || goes == 24) return goes;
  }
}

void plan_days(const DoseRequest& r, const Carbonate& water, Concentration<> now, Concentration<> carbon_dioxide,
               double standing, double from, DoseAnswer& a) {
  const auto reagent = *science::find_reagent(a.reagent);
  const double sign = reagent.equivalents > 0.0 ? 1.0 : -1.0;
  double pH = from;
  for (int day = 1; day <= 30 && sign * (r.target_pH - pH) > 1e-6; ++day) {
    DoseDay d;
    d.day = day;
    d.pH_from = pH;
    d.pH_to = pH + sign * std::min(kMostInADay, sign * (r.target_pH - pH));
    const Concentration<> to = water.alkalinity(d.pH_to, carbon_dioxide);
    const Concentration<> all = to - now + Concentration<>(standing / r.water.si());
    if (sign * all.si() <= 0.0) {
      a.lines.push_back("what nitrifying takes by itself lowers pH that fast: no acid is needed, dose no base");
      return;
    }
    d.goes = goes_for(water, now, all, carbon_dioxide, d.first_jump);
    d.grams = science::mass_for_alkalinity(reagent, r.water, Concentration<>(std::abs(all.si())));
    a.days.push_back(d);
    now = to;
    pH = d.pH_to;
  }
}

/// What else a salt brings: mg/L a day of its metal.
std::string brings(const std::string& reagent, double equivalents_a_day, Volume<> water) {
  const struct {
    const char* begins;
    const char* name;
    double gram_per_equivalent;
  } metals[] = {{"KHCO3", "potassium", 39.098}, {"K2CO3", "potassium", 39.098}, {"KOH", "potassium", 39.098},
                {"NaHCO3", "sodium", 22.990},   {"Na2CO3", "sodium", 22.990},   {"NaOH", "sodium", 22.990},
                {"CaCO3", "calcium", 20.039},   {"Ca(OH)2", "calcium", 20.039}, {"CaO", "calcium", 20.039}};
  for (const auto& m : metals)
    if (reagent == m.begins) {
      const double a_day = equivalents_a_day * m.gram_per_equivalent / water.si();
      return fmt::format(
          "{} alone brings {:.1f} mg/L of {} a day, {:.0f} in 60 days: use potassium and calcium salts in turn",
          reagent, a_day, m.name, 60.0 * a_day);
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

DoseAnswer dose_acidity(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = r.reagent;
  const Carbonate water{science::mixed_constants(r.temperature, r.ionic_strength),
                        r.ammonia.value_or(Concentration<>(0.0)), r.phosphate};
  const Concentration<> in_air = science::carbon_dioxide_saturation(
      r.temperature, science::carbon_dioxide_pressure(Number<>(kAirCarbonDioxide), r.temperature, units::atmosphere));
  tell_alkalinity(r, water, in_air, a);
  const Concentration<> co2 = a.alkalinity_now ? carbon_dioxide_for(water, r.pH, *a.alkalinity_now) : 2.0 * in_air;
  if (!a.alkalinity_now) {
    a.alkalinity_now = water.alkalinity(r.pH, co2);
    a.lines.push_back("neither alkalinity nor a shaken jar is known: carbon dioxide was taken at twice that of air");
  }
  a.carbon_dioxide = co2;
  a.lines.push_back(fmt::format("carbon dioxide stands at {:.1f} mg/L and is taken to stay there", 44.009 * co2.si()));
  if (r.what == DoseRequest::For::base && r.pH >= r.target_pH) tell_holding(r.pH, a);
  const Concentration<> target = water.alkalinity(r.target_pH, co2);
  a.alkalinity_target = target;
  const auto reagent = *science::find_reagent(r.reagent);
  const double lift = (target - *a.alkalinity_now).si();
  a.lift = science::mass_for_alkalinity(reagent, r.water, Concentration<>(std::abs(lift)));
  const double acid = net_acid(r);  // eq/d
  a.net_acid_as_caco3 = MassRate<>(acid * 50.043e-3 / kPerDay);
  const Mass<> a_day = science::mass_for_alkalinity(reagent, r.water, Concentration<>(acid / r.water.si()));
  if (reagent.equivalents > 0.0) a.standing = a_day / units::day;
  a.lines.push_back(fmt::format("pH {:.1f} wants {:.3f} meq/L: {:.0f} g of {} of lift", r.target_pH, target.si(),
                                grams(a.lift), r.reagent));
  if (acid > 0.0)
    a.lines.push_back(fmt::format(
        "the feed takes {:.2f} eq a day, {:.0f} g as CaCO3 or {:.1f} mg/L: {}", acid, 50.043 * acid,
        50.043 * acid / r.water.si(),
        reagent.equivalents > 0.0
            ? fmt::format("{:.0f} g of {} a day just to stand still", grams(a_day), r.reagent)
            : fmt::format("as much as {:.0f} g of {} a day, and that is taken off the dose", grams(a_day), r.reagent)));
  if (acid > 0.0 && reagent.equivalents > 0.0) {
    double jump = 0.0;
    const auto jumps = [&](Concentration<> at) {
      return water.pH(at + Concentration<>(acid / r.water.si()), co2) - water.pH(at, co2);
    };
    jump = jumps(*a.alkalinity_now);
    a.lines.push_back(fmt::format("that dose in one go would move pH by {:.2f} now, by {:.2f} once at {:.1f}", jump,
                                  jumps(target), r.target_pH));
  }
  plan_days(r, water, *a.alkalinity_now, co2, reagent.equivalents > 0.0 ? acid : -acid, r.pH, a);
  if (const std::string also = brings(r.reagent, acid, r.water); !also.empty()) a.lines.push_back(also);
  if (r.ammonia) {
    const double share = science::unionised_ammonia_fraction(r.temperature, Number<>(r.target_pH)).si();
    a.lines.push_back(
        fmt::format("un-ionised ammonia at pH {:.1f}: {:.4f} mg/L as N; stop if total ammonia passes {:.1f} mg/L, "
                    "where it would be 0.0125",
                    r.target_pH, share * 14.007 * r.ammonia->si(), 0.0125 / share));
  }
  a.cautions = {"goggles; dissolve it in a bucket of loop water first, and add it to the sump, never to the fish",
                "re-test each dusk; nitrifiers are slowed below pH 6.5, so take the smaller dose while in doubt"};
  if (reagent.equivalents < 0.0)
    a.cautions.push_back("acid into water, never water into acid; out of reach of children");
  if (a.days.empty())
    a.verdict = reagent.equivalents > 0.0 && a.standing && a.standing->si() > 0.0
                    ? fmt::format("no lift is wanted; {:.0f} g of {} a day to stand still", grams(a_day), r.reagent)
                    : "nothing to dose";
  else
    a.verdict =
        fmt::format("{:.0f} g of {} on the first day in {}, over {} in all", grams(a.days[0].grams), r.reagent,
                    counted(a.days[0].goes, "go", "goes"), counted(static_cast<int>(a.days.size()), "day", "days"));
  return a;
}

DoseAnswer dose_nitrite(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = "NaCl";
  const Density<> wanted = science::chloride_against_nitrite(r.reading, Number<>(r.ratio));
  const Density<> missing = std::max(Density<>(0.0), wanted - r.source);
  const Mass<> salt = science::mass_for_rise(r.water, missing, Number<>(35.45 / 58.44));
  a.lines.push_back(
      fmt::format("{:.2g} mg/L of nitrite (as NO2) wants {:.0f} mg/L of chloride, {:g} times as much; {:.0f} is there",
                  1e3 * r.reading.si(), 1e3 * wanted.si(), r.ratio, 1e3 * r.source.si()));
  const double sodium = 22.99 / 35.45 * missing.si() * 1e3;
  a.lines.push_back(
      fmt::format("it brings {:.0f} mg/L of sodium: beans, strawberries and lettuce suffer above 50 to 100 (common "
                  "practice)",
                  sodium));
  a.verdict = salt.si() > 0.0
                  ? fmt::format("{:.0f} g of plain salt, in three goes over a day; feed nothing until nitrite falls",
                                grams(salt))
                  : "there is chloride enough; feed nothing until nitrite falls";
  if (salt.si() > 0.0) a.days.push_back({1, salt, 3, 0.0, 0.0, 0.0});
  a.cautions = {"salt without iodine or anti-caking agents, dissolved first; it stays until water is changed"};
  return a;
}

DoseAnswer dose_iron(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = "iron chelate";
  const Density<> missing = std::max(Density<>(0.0), r.target - r.reading);
  const Mass<> product = science::mass_for_rise(r.water, missing, Number<>(r.share));
  a.verdict = product.si() > 0.0
                  ? fmt::format("{:.0f} g of a chelate with {:.0f} % of iron", grams(product), 100.0 * r.share)
                  : "there is iron enough";
  if (product.si() > 0.0) a.days.push_back({1, product, 1, 0.0, 0.0, 0.0});
  a.lines.push_back(
      "EDTA holds iron to pH 6.5, DTPA to 7.5, EDDHA above (common practice); look at the youngest leaves in a week");
  a.cautions = {"add it at dusk, light breaks the chelate; the water turns red and clears"};
  return a;
}

DoseAnswer dose_chlorine(const DoseRequest& r) {
  DoseAnswer a;
  const bool bound = r.what == DoseRequest::For::chloramine;
  a.reagent = "sodium thiosulphate, Na2S2O3.5H2O";
  const science::ChlorineNeed need = science::chlorine_need();
  const Mass<> chlorine = r.new_water * r.reading, salt = chlorine * need.thiosulphate;
  a.verdict = fmt::format("{:.1f} g of thiosulphate for {:.0f} L of new water, or {:.1f} g of ascorbic acid",
                          grams(salt), r.new_water.in(units::litre), grams(chlorine * need.ascorbic_acid));
  a.days.push_back({1, salt, 1, 0.0, 0.0, 0.0});
  if (bound)
    a.lines.push_back(
        fmt::format("breaking chloramine leaves {:.2f} mg/L of ammonia nitrogen in the new water: let the film take it "
                    "before fish meet it, or add it little by little",
                    1e3 * r.reading.si() * need.nitrogen_left.si()));
  else
    a.lines.push_back("free chlorine also leaves by itself in a day or two of strong air and sun; chloramine does not");
  a.cautions = {"treat the new water before it meets fish or film; test it with a chlorine strip"};
  return a;
}

DoseAnswer dose_change(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = "new water";
  if (r.target <= r.source) {
    a.verdict = fmt::format("cannot be reached: the new water itself holds {:.3g} mg/L", 1e3 * r.source.si());
    return a;
  }
  const double share = 1.0 - ((r.target - r.source) / (r.reading - r.source)).si();
  if (share <= 0.0) {
    a.verdict = "nothing to change: it is below already";
    return a;
  }
  constexpr double most = 0.2;  // of the water a day
  const int days = static_cast<int>(std::ceil(std::log(1.0 - share) / std::log(1.0 - most) - 1e-9));
  const double each = 1.0 - std::pow(1.0 - share, 1.0 / days);
  a.verdict = fmt::format("{:.0f} % of the water at once, or {:.0f} L a day for {} day{}", 100.0 * share,
                          each * r.water.in(units::litre), days, days == 1 ? "" : "s");
  a.lines.push_back(
      "no more than a fifth of the water a day (common practice): temperature, pH and hardness move with it");
  a.cautions = {"take chlorine and chloramine out first, and bring it within 2 K of the loop"};
  return a;
}

}  // namespace

DoseAnswer dose(const DoseRequest& r) {
  switch (r.what) {
    case DoseRequest::For::base:
    case DoseRequest::For::acid:
      return dose_acidity(r);
    case DoseRequest::For::nitrite:
      return dose_nitrite(r);
    case DoseRequest::For::iron:
      return dose_iron(r);
    case DoseRequest::For::chlorine:
    case DoseRequest::For::chloramine:
      return dose_chlorine(r);
    case DoseRequest::For::change:
      return dose_change(r);
  }
  return {};
}

}  // namespace leat::answers
