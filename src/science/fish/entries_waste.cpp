
#include "science/fish/diel_pulse.h"
#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/nitrogen.h"

namespace leat::science {
namespace {

/// Feed per time in kg/d: as it is, or a mass over a period of one day unless given.
MassRate<> feed_in(const Given& g) {
  const std::string_view text = g.word("feed");
  const auto measured = measured_from(text);
  if (measured && measured->dimension == dim::mass)
    return MassRate<>(measured->si / (g.get("period", 1.0) * units::day.si()));
  return MassRate<>(number_in(g, "feed", "kg/d") / units::day.si());
}

const MassRate<> kGramPerDay(1e-3 / 86400.0);

NitrogenBudget<double> nitrogen(const Given& g) {
  const MassRate<> feed = feed_in(g);
  const NitrogenShares shares{g("protein"), g("digestible"), 1e-3 * number_in(g, "body", "g/kg", 27.0),
                              g("ammonia_share")};
  return nitrogen_budget(feed, Number<>(g("uneaten")), feed / g("feed_per_gain"), shares);
}

/// An output of the nitrogen balance, in g per day (g per kg of feed, for a kilogram a day).
OutputRow nitrogen_output(std::string_view name, MassRate<> NitrogenBudget<double>::*part) {
  return {name, "g N", [part](const Given& g) { return (nitrogen(g).*part).in(kGramPerDay); }};
}

double retained_phosphorus(const Given& g) {
  const MassRate<> feed(1.0);
  const PhosphorusShares shares{1e-3 * number_in(g, "in_feed", "g/kg"), 1e-3 * number_in(g, "body", "g/kg"), 0.5};
  const auto budget = phosphorus_budget(feed, Number<>(0.0), feed / g("feed_per_gain"), shares);
  return (budget.gained / budget.fed).si();
}

std::vector<Entry> balance_entries() {
  return {
      {"ammonia_factor",
       "Ammonia nitrogen per protein fed, from its parts",
       {input("nitrogen_in_protein", "-", 0.1, 0.2, "by mass"), input("assimilated", "-", 0, 1, "share of nitrogen"),
        input("excreted", "-", 0, 1, "share of assimilated"), input("as_ammonia", "-", 0, 1, "share of excreted")},
       {{"factor", "g TAN/g protein",
         [](const Given& g) { return g("nitrogen_in_protein") * g("assimilated") * g("excreted") * g("as_ammonia"); }}},
       "Timmons & Ebeling 2007"},
      {"ammonia_from_feed_rule",
       "Ammonia nitrogen from feed by the rule of thumb",
       {words("feed", "feed, mass per time or mass"), input("protein", "-", 0.2, 0.6, "share of feed"),
        assumed("factor", "-", 0.05, 0.16, 0.092, "ammonia nitrogen per protein"),
        optional_input("period", "d", 1e-3, 400, "in which a mass is fed; one day unless given")},
       {{"ammonia", "g/d",
         [](const Given& g) {
           return ammonia_from_feed_rule(feed_in(g), Number<>(g("protein")), g("factor")).in(kGramPerDay);
         }}},
       "Timmons & Ebeling 2007"},
      {"nitrogen_budget",
       "Where the nitrogen of feed goes",
       {words("feed", "feed given, mass or mass per day"), input("protein", "-", 0.2, 0.6, "share of feed"),
        assumed("digestible", "-", 0.5, 1, 0.90, "share of feed nitrogen"),
        input("feed_per_gain", "-", 0.5, 5, "feed given per live mass gained"),
        optional_words("body", "nitrogen in live fish, g/kg"), assumed("uneaten", "-", 0, 1, 0, "share of feed"),
        assumed("ammonia_share", "-", 0.5, 1, 0.79, "ammonia in dissolved nitrogen"),
        optional_input("period", "d", 1e-3, 400, "in which a mass is fed; one day unless given")},
       {nitrogen_output("fed", &NitrogenBudget<double>::fed),
        nitrogen_output("uneaten", &NitrogenBudget<double>::uneaten),
        nitrogen_output("faeces", &NitrogenBudget<double>::faeces),
        nitrogen_output("gained", &NitrogenBudget<double>::gained),
        nitrogen_output("dissolved", &NitrogenBudget<double>::dissolved),
        nitrogen_output("ammonia", &NitrogenBudget<double>::ammonia)},
       "balance after Cho & Bureau"},
      {"phosphorus_retained",
       "Share of feed phosphorus that fish keep",
       {words("in_feed", "phosphorus in feed, g/kg"), input("feed_per_gain", "-", 0.5, 5, "feed per gain"),
        words("body", "phosphorus in live fish, g/kg")},
       {{"share", "-", retained_phosphorus}},
       "mass balance"},
      {"solids_from_feed_share",
       "Suspended solids from feed by a share of it",
       {words("feed", "feed, mass per time or mass"), assumed("share", "-", 0.05, 0.6, 0.25, "dry solids per feed")},
       {{"solids", "g/d", [](const Given& g) { return (feed_in(g) * g("share")).in(kGramPerDay); }}},
       "Timmons & Ebeling 2007"},
  };
}

std::vector<Entry> excretion_entries() {
  return {
      {"ammonia_share_from_urea",
       "Ammonia in ammonia and urea, from their ratio",
       {input("urea_to_ammonia", "-", 0, 2, "urea nitrogen over ammonia nitrogen")},
       {{"share", "-", [](const Given& g) { return 1.0 / (1.0 + g("urea_to_ammonia")); }}},
       "definition"},
      {"nitrogen_excreted",
       "Nitrogen excreted from what is digested",
       {words("intake", "nitrogen eaten, g"), input("digestible", "-", 0, 1, "share of it"),
        words("excreted", "share of digestible nitrogen")},
       {{"excreted", "g N",
         [](const Given& g) { return number_in(g, "intake", "g") * g("digestible") * plain_number(g, "excreted"); }}},
       "Water Sci. Technol. 31(10):185"},
      {"fasting_share",
       "Share of the fed rate that remains without food",
       {input("fed", "-", 1e-9, 1e9, "rate when fed"), input("fasting", "-", 0, 1e9, "rate without food")},
       {{"share", "-", [](const Given& g) { return g("fasting") / g("fed"); }}},
       "definition"},
      {"daily_floor",
       "A steady hourly rate over a day",
       {words("rate", "steady rate, mg/kg/h")},
       {{"daily", "mg N/kg/d", [](const Given& g) { return number_in(g, "rate", "mg/kg/h") * 24.0; }}},
       "definition"},
      {"ammonia_peak_to_mean",
       "Highest rate of ammonia over the day's mean, one meal a day",
       {optional_words("shape", "gamma of shape 3"), input("peak", "h", 0.5, 24, "from the meal to the highest rate"),
        assumed("base_share", "-", 0, 1, ammonia_base_share, "share that does not depend on the meal")},
       {{"ratio", "-", [](const Given& g) { return ammonia_peak_to_mean(hours(g("peak")), g("base_share")).si(); }}},
       "form ours; share van Weerd et al. 1995"},
  };
}

}  // namespace

std::vector<Entry> fish_waste_entries() {
  std::vector<Entry> all = balance_entries();
  for (Entry& entry : excretion_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
