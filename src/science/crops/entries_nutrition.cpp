#include <stdexcept>

#include "science/crops/chemical_formula.h"
#include "science/crops/nutrition.h"
#include "science/crops/uptake.h"
#include "science/fish/entries.h"
#include "science/fish/entry_input.h"

namespace leat::science {
namespace {

constexpr double kShortTon = 907.18474;

template <class T>
T supported(const std::optional<T>& value, std::string_view input) {
  if (!value) throw std::out_of_range(std::string(input));
  return *value;
}

/// "15 short tons/acre", or any mass per area.
ArealMass<> yield_in(const Given& g) {
  const std::string_view text = g.word("yield");
  if (const std::size_t tons = text.find(" short tons/"); tons != std::string_view::npos) {
    Given as_kilograms;
    as_kilograms.words.emplace("yield",
                               std::string(text.substr(0, tons)) + " kg/" + std::string(text.substr(tons + 12)));
    return ArealMass<>(kShortTon * number_in(as_kilograms, "yield", "kg/m2"));
  }
  return ArealMass<>(number_in(g, "yield", "kg/m2"));
}

/// Element removed per fresh mass; `removal` is a form and a mass per area, "P2O5 35 lb/acre".
double removed(const Given& g, std::string_view element) {
  const std::string_view text = g.word("removal");
  const std::size_t space = text.find(' ');
  if (space == std::string_view::npos) throw std::out_of_range("removal");
  const Number<> share = supported(element_share(text.substr(0, space), element), "removal");
  if (share.si() == 0.0) throw std::out_of_range("removal");
  Given amount;
  amount.words.emplace("removal", std::string(text.substr(space + 1)));
  const ArealMass<> taken(number_in(amount, "removal", "kg/m2"));
  return content_from_removal(taken, yield_in(g), share).si() * 1e3;
}

OutputRow removal_output(std::string_view name, std::string_view element) {
  return {name, "g/kg fresh", [element](const Given& g) { return removed(g, element); }};
}

OutputRow dose_output(std::string_view name, std::string_view element) {
  return {name, "mg/L", [element](const Given& g) {
            return g("dose") * supported(element_share(g.word("compound"), element), "compound").si();
          }};
}

/// Contents come as g/kg when no unit is written.
const std::string kPerKilogram = "g/kg";

ArealMassRate<> uptake_in(const Given& g) {
  const ArealMass<> yield(number_in(g, "yield", "kg/m2"));
  return mean_nutrient_uptake(yield, days(g("cycle")), Number<>(1e-3 * number_in(g, "content", kPerKilogram)));
}

double shortfall(const Given& g) {
  const Number<> in_feed(1e-3 * number_in(g, "in_feed", kPerKilogram));
  return nutrient_shortfall(uptake_in(g), g("feed") * gram_per_square_metre_day, in_feed).in(gram_per_square_metre_day);
}

std::vector<Entry> content_entries() {
  return {
      {"content_from_removal",
       "Element per fresh mass from what a harvest removes",
       {optional_words("crop", "a remark"), words("yield", "fresh mass per area; short tons/acre are understood"),
        words("removal", "form and mass per area, as in: P2O5 35 lb/acre")},
       {removal_output("nitrogen", "N"), removal_output("phosphorus", "P"), removal_output("potassium", "K"),
        removal_output("calcium", "Ca"), removal_output("magnesium", "Mg")},
       "New England Vegetable Management Guide, table 4"},
      {"nitrogen_from_protein",
       "Nitrogen per fresh mass from protein",
       {words("protein", "as in: 1.35 g/100 g")},
       {{"nitrogen", "g/kg fresh",
         [](const Given& g) { return nitrogen_from_protein(Number<>(number_in(g, "protein", "g/g"))).si() * 1e3; }}},
       "protein / 6.25"},
      {"content_per_mass",
       "Content per kilogram from a food table's",
       {words("content", "as in: 238 mg/100 g")},
       {{"content", "g/kg fresh", [](const Given& g) { return number_in(g, "content", "g/kg"); }},
        {"trace", "mg/kg fresh", [](const Given& g) { return number_in(g, "content", "mg/kg"); }}},
       "definition"},
      {"content_of_dry_mass",
       "Content of dry mass from content of fresh mass",
       {words("content", "g/kg fresh"), input("water", "-", 0, 0.99, "share of fresh mass")},
       {{"content", "% of dry matter",
         [](const Given& g) {
           const Number<> fresh(1e-3 * number_in(g, "content", kPerKilogram));
           return 100.0 * content_of_dry_mass(fresh, Number<>(g("water"))).si();
         }}},
       "definition"},
  };
}

std::vector<Entry> balance_entries() {
  const InputRow yield = words("yield", "fresh mass per area, kg/m2");
  const InputRow cycle = input("cycle", "d", 1, 365, "time in the bed");
  const InputRow content = words("content", "element per fresh mass, g/kg");
  return {
      {"nitrogen_uptake_mean",
       "Nitrogen taken up by a bed, averaged over a crop",
       {yield, cycle, content},
       {{"uptake", "g N/m2/d", [](const Given& g) { return uptake_in(g).in(gram_per_square_metre_day); }}},
       "yield times content over time"},
      {"feed_nitrogen_taken",
       "Share of the feed's nitrogen that a bed takes up",
       {input("uptake", "g/m2/d", 0, 10, "nitrogen"), input("feed", "g/m2/d", 1, 200, "feed per area"),
        input("protein", "-", 0.2, 0.6, "share of feed")},
       {{"share", "-",
         [](const Given& g) {
           return feed_nitrogen_taken(g("uptake") * gram_per_square_metre_day, g("feed") * gram_per_square_metre_day,
                                      Number<>(g("protein")))
               .si();
         }}},
       "definition"},
      {"potassium_shortfall",
       "Potassium to add to a bed: uptake less what the feed brings",
       {yield, cycle, content, input("feed", "g/m2/d", 1, 200, "feed per area"),
        words("in_feed", "element in feed, g/kg")},
       {{"shortfall", "g K/m2/d", shortfall}},
       "mass balance"},
      {"dose_element",
       "Rise of an element from a dose of a pure compound",
       {words("compound", "formula, as in: MgSO4.7H2O"), input("dose", "g/m3", 0, 1e5, "mass per volume of water")},
       {dose_output("nitrogen", "N"), dose_output("phosphorus", "P"), dose_output("potassium", "K"),
        dose_output("calcium", "Ca"), dose_output("magnesium", "Mg"), dose_output("iron", "Fe"),
        dose_output("sulphur", "S"), dose_output("sodium", "Na"), dose_output("chloride", "Cl")},
       "molar masses, IUPAC"},
      {"product_for_rise",
       "Product to dissolve for a rise of an element",
       {input("rise", "mg/L", 0, 1000, "of the element"), input("volume", "L", 0, 1e7, "of water"),
        input("share", "-", 1e-4, 1, "element in the product")},
       {{"product", "g",
         [](const Given& g) {
           return product_for_rise(Density<>(1e-3 * g("rise")), g("volume") * units::litre, Number<>(g("share")))
               .in(units::gram);
         }}},
       "mass balance"},
  };
}

}  // namespace

std::vector<Entry> crop_nutrition_entries() {
  std::vector<Entry> all = content_entries();
  for (Entry& entry : balance_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
