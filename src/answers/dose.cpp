#include "answers/dose.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "science/water/dosing.h"

namespace leat::answers {
namespace {

double grams(Mass<> m) {
  return 1e3 * m.si();
}

DoseAnswer dose_nitrite(const DoseRequest& r) {
  DoseAnswer a;
  a.reagent = "NaCl";
  const Density<> wanted = science::chloride_against_nitrite(r.reading, Number<>(r.ratio));
  const Density<> missing = std::max(Density<>(0.0), wanted - r.source);
  const Mass<> salt = science::mass_for_rise(r.water, missing, Number<>(35.45 / 58.44));
  a.lines.push_back(
      fmt::format("{:.3g} mg/L of nitrite (as NO2) wants {:.0f} mg/L of chloride, {:g} times as much; {:.0f} is there",
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
