#include "model/books/layout.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "science/fish/species.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

constexpr double kNitrogenMolar = science::molar_mass::nitrogen.si(), kCarbonMolar = science::molar_mass::carbon.si();

/// Carbon in feed and fish, kg/kg. Protein 0.53, fat 0.77, starch 0.44 of their dry mass; ash and water none (general
/// biochemistry, from memory): a 45/18/17 feed holds 0.45 kg/kg, a trout of 17 % protein and 8 % fat 0.15 kg/kg.
constexpr double kFeedCarbon = 0.45, kBodyCarbon = 0.15;
constexpr double kDigestibleCarbon = 0.80;  // fish-and-crops 4.4: 0.2 to 0.3 of the dry matter leaves as faeces

/// Phosphorus in feed (9.1 and 13.6 g/kg seen in labels), and where it goes: a third stays in the fish, a half leaves
/// with the faeces, the rest is dissolved (Cho & Bureau 2001, from memory: 25-40, 40-60 and 10-25 %).
constexpr double kFeedPhosphorus = 0.0113, kSolidPhosphorus = 0.50, kDissolvedPhosphorus = 0.17;
/// What fish give off dissolved of the other minerals of feed, kg/kg of feed: potassium nearly all of 0.9 %, calcium a
/// seventh of 1.8 %, magnesium half of 0.2 %, salt nearly all (common practice, no source).
constexpr double kPotassium = 0.0080, kCalcium = 0.0026, kMagnesium = 0.0010, kSodium = 0.0027, kChloride = 0.0042;
/// Sulphur is a hundredth of protein; about six tenths of it is burnt to sulphate (general biochemistry, from memory).
constexpr double kSulphurOfProtein = 0.01, kSulphurBurnt = 0.6;

LedgerContents holds(Ledger ledger, double amount = 1.0) {
  LedgerContents contents{};
  contents[static_cast<std::size_t>(ledger)] = amount;
  return contents;
}

struct CarriedRow {
  const char* word;
  LedgerContents contents;
};

/// As `Contents`.
std::array<CarriedRow, Contents<>::size> carried_rows() {
  LedgerContents algae = holds(Ledger::carbon);
  algae[static_cast<std::size_t>(Ledger::nitrogen)] = algae_nitrogen;
  algae[static_cast<std::size_t>(Ledger::phosphorus)] = algae_phosphorus;
  return {{{"dissolved_oxygen", holds(Ledger::oxygen)},
           {"inorganic_carbon", holds(Ledger::carbon)},
           {"ammonia", holds(Ledger::nitrogen)},
           {"nitrite", holds(Ledger::nitrogen)},
           {"nitrate", holds(Ledger::nitrogen)},
           {"phosphorus", holds(Ledger::phosphorus)},
           {"potassium", holds(Ledger::potassium)},
           {"calcium", holds(Ledger::calcium)},
           {"magnesium", holds(Ledger::magnesium)},
           {"sodium", holds(Ledger::sodium)},
           {"chloride", holds(Ledger::chloride)},
           {"sulphate", holds(Ledger::sulphur)},
           {"iron", holds(Ledger::iron)},
           {"nitrogen_gas", holds(Ledger::nitrogen_gas)},
           {"solids_carbon", holds(Ledger::carbon)},
           {"solids_nitrogen", holds(Ledger::nitrogen)},
           {"solids_phosphorus", holds(Ledger::phosphorus)},
           {"algae", algae}}};
}

FishMatter matter_of(const FishGroup& group) {
  const science::Species* species = science::find_species(group.species);
  const double body_nitrogen = species ? species->body_nitrogen.value_or(0.027) : 0.027;
  const double digestible = species ? species->digestible_nitrogen.value_or(0.90) : 0.90;
  return {group.feed_protein / 6.25 / kNitrogenMolar,
          kFeedCarbon / kCarbonMolar,
          body_nitrogen / kNitrogenMolar,
          kBodyCarbon / kCarbonMolar,
          digestible,
          kDigestibleCarbon,
          kFeedPhosphorus / science::molar_mass::phosphorus.si(),
          kFeedPhosphorus * kSolidPhosphorus / science::molar_mass::phosphorus.si(),
          {kFeedPhosphorus * kDissolvedPhosphorus / science::molar_mass::phosphorus.si(),
           kPotassium / science::molar_mass::potassium.si(), kCalcium / science::molar_mass::calcium.si(),
           kMagnesium / science::molar_mass::magnesium.si(), kSodium / science::molar_mass::sodium.si(),
           kChloride / science::molar_mass::chlorine_atom.si(),
           group.feed_protein * kSulphurOfProtein * kSulphurBurnt / science::molar_mass::sulphur.si()}};
}

/// Whether a move takes fish from a group or brings some to it.
bool is_moved(const Loop& loop, std::size_t group) {
  return std::any_of(loop.deeds.moves.begin(), loop.deeds.moves.end(),
                     [&](const FishMove& m) { return m.from == group || m.into == group; });
}

}  // namespace

std::string_view ledger_name(Ledger ledger) {
  static constexpr std::array names = {"water",      "heat",      "nitrogen", "carbon",      "dissolved oxygen",
                                       "phosphorus", "potassium", "calcium",  "magnesium",   "sodium",
                                       "chloride",   "sulphur",   "iron",     "nitrogen gas"};
  return names[static_cast<std::size_t>(ledger)];
}

std::string_view ledger_unit(Ledger ledger) {
  return ledger == Ledger::water ? "m3" : ledger == Ledger::heat ? "J" : "mol";
}

/// 0 degC is no absence: a millikelvin there counts hardly more than elsewhere.
constexpr double kSmallHeat = 0.3;
/// Of heat stores, above freezing. Thin timber may be further off: it holds little beside the water.
constexpr double kTypicalDegrees = 10.0, kTypicalDegreesOfTimber = 100.0;

int Layout::add(std::string path, double nominal, LedgerContents contents, bool is_outside) {
  slots.push_back({.path = std::move(path), .contents = contents, .nominal = nominal, .outside = is_outside});
  return static_cast<int>(slots.size()) - 1;
}

Layout::Layout(const Loop& loop, const std::vector<HeatStores>& heat_stores) {
  add_bodies(loop);
  add_stores(loop, heat_stores);
  add_life(loop);
  add_outside();
  if (std::any_of(loop.deeds.moves.begin(), loop.deeds.moves.end(), [](const FishMove& m) { return !m.into; }))
    outside.harvest_carbon = add("outside.harvest.carbon", 1.0, holds(Ledger::carbon), true);
}

void Layout::add_bodies(const Loop& loop) {
  for (const Vessel& v : loop.vessels) {
    const double volume = std::max(v.capacity().si(), 1e-3);
    const auto in_water = [&](const char* word, const LedgerContents& contents) {
      return add(v.path + "." + word, words::quantity_row(word).nominal * volume, contents);
    };
    BodySlots b{};
    b.water = in_water("water", holds(Ledger::water));
    b.heat = in_water("heat", holds(Ledger::heat));
    slots.back().small = kSmallHeat;
    b.carried = static_cast<int>(slots.size());
    for (const CarriedRow& row : carried_rows()) in_water(row.word, row.contents);
    b.ammonia_film = add(v.path + ".ammonia_film", words::quantity_row("ammonia_film").nominal, {});
    b.nitrite_film = add(v.path + ".nitrite_film", words::quantity_row("nitrite_film").nominal, {});
    bodies.push_back(b);
  }
}

void Layout::add_stores(const Loop& loop, const std::vector<HeatStores>& all) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    StoreSlots s;
    const HeatStores stores_here = v < all.size() ? all[v] : HeatStores{};
    const auto add_nodes = [&](const char* where, double degrees, const std::vector<double>& capacities,
                               std::vector<int>& into) {
      for (std::size_t i = 0; i < capacities.size(); ++i) {
        into.push_back(add(fmt::format("{}.{}.heat_{}", loop.vessels[v].path, where, i + 1), degrees * capacities[i],
                           holds(Ledger::heat)));
        slots.back().small = kSmallHeat;
      }
    };
    add_nodes("timber", kTypicalDegreesOfTimber, stores_here.timber, s.timber);
    add_nodes("soil", kTypicalDegrees, stores_here.soil, s.soil);
    stores.push_back(std::move(s));
  }
}

void Layout::add_life(const Loop& loop) {
  for (const FishGroup& group : loop.fish) {
    const FishMatter m = matter_of(group);
    LedgerContents body = holds(Ledger::nitrogen, m.body_nitrogen), feed = holds(Ledger::nitrogen, m.feed_nitrogen);
    body[static_cast<std::size_t>(Ledger::carbon)] = m.body_carbon;
    feed[static_cast<std::size_t>(Ledger::carbon)] = m.feed_carbon;
    const double biomass = std::max(group.count * group.mass.si(), 1e-3);
    FishSlots f{};
    f.biomass = add(group.path + ".biomass", biomass, body);
    for (std::size_t i = 0; i < 3; ++i)
      f.gut[i] = add(group.path + ".gut_feed_" + std::to_string(i + 1), 0.01 * biomass, feed);
    if (is_moved(loop, fish.size())) f.count = add(group.path + ".count", std::max(group.count, 1.0), {});
    fish.push_back(f);
    matter.push_back(m);
  }
  for (const Planting& p : loop.plantings) {
    const double dry = std::max(0.1 * p.area.si(), 1e-3);
    plants.push_back({add(p.path + ".dry_mass", dry, {}), add(p.path + ".nitrogen", 3.0 * dry, holds(Ledger::nitrogen)),
                      add(p.path + ".thermal_time", 1e6, {})});
  }
}

void Layout::add_outside() {
  const auto account = [&](const char* path, Ledger ledger) {
    return add(std::string("outside.") + path, 1.0, holds(ledger), true);
  };
  Accounts& o = outside;
  o.air_water = account("air.water", Ledger::water);
  o.rain_water = account("rain.water", Ledger::water);
  o.source_water = account("source.water", Ledger::water);
  o.plant_water = account("plants.water", Ledger::water);
  o.spilt_water = account("ground.water", Ledger::water);
  o.sun = account("sun.heat", Ledger::heat);
  o.sky = account("sky.heat", Ledger::heat);
  o.evaporation = account("evaporation.heat", Ledger::heat);
  o.convection = account("air.heat", Ledger::heat);
  o.lids = account("lids_and_rafts.heat", Ledger::heat);
  o.walls = account("walls.heat", Ledger::heat);
  o.ground = account("ground.heat", Ledger::heat);
  o.rain_heat = account("rain.heat", Ledger::heat);
  o.source_heat = account("source.heat", Ledger::heat);
  o.spilt_heat = account("spilt.heat", Ledger::heat);
  o.pump_heat = account("power.heat", Ledger::heat);
  o.drawn_heat = account("plants.heat", Ledger::heat);
  o.air_lines = account("air_lines.heat", Ledger::heat);
  o.carried = static_cast<int>(slots.size());
  for (const CarriedRow& row : carried_rows()) add(std::string("outside.carried.") + row.word, 1.0, row.contents, true);
  o.air_oxygen = account("air.dissolved_oxygen", Ledger::oxygen);
  o.fish_oxygen = account("fish.dissolved_oxygen", Ledger::oxygen);
  o.film_oxygen = account("film.dissolved_oxygen", Ledger::oxygen);
  o.algae_oxygen = account("algae.dissolved_oxygen", Ledger::oxygen);
  o.rot_oxygen = account("rot.dissolved_oxygen", Ledger::oxygen);
  o.air_carbon = account("air.carbon", Ledger::carbon);
  o.feed_carbon = account("feed.carbon", Ledger::carbon);
  o.limestone_carbon = account("limestone.carbon", Ledger::carbon);
  o.feed_nitrogen = account("feed.nitrogen", Ledger::nitrogen);
  o.air_nitrogen = account("air.nitrogen", Ledger::nitrogen);
  o.air_nitrogen_gas = account("air.nitrogen_gas", Ledger::nitrogen_gas);
  o.harvest_nitrogen = account("harvest.nitrogen", Ledger::nitrogen);
  o.feed_minerals = static_cast<int>(slots.size());
  for (const Ledger ledger : {Ledger::phosphorus, Ledger::potassium, Ledger::calcium, Ledger::magnesium, Ledger::sodium,
                              Ledger::chloride, Ledger::sulphur})
    account(("feed." + std::string(ledger_name(ledger))).c_str(), ledger);
  o.plant_minerals = static_cast<int>(slots.size());
  for (const Ledger ledger : {Ledger::phosphorus, Ledger::potassium, Ledger::calcium, Ledger::magnesium, Ledger::iron})
    account(("plants." + std::string(ledger_name(ledger))).c_str(), ledger);
  o.limestone_calcium = account("limestone.calcium", Ledger::calcium);
  o.settled_iron = account("settled.iron", Ledger::iron);
  o.dosed_potassium = account("dosed.potassium", Ledger::potassium);
  o.dosed_calcium = account("dosed.calcium", Ledger::calcium);
  o.dosed_carbon = account("dosed.carbon", Ledger::carbon);
}

double Layout::total(Ledger ledger, std::span<const double> y) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < slots.size(); ++i) sum += slots[i].contents[static_cast<std::size_t>(ledger)] * y[i];
  return sum;
}

double Layout::closure(Ledger ledger, std::span<const double> start, std::span<const double> end) const {
  const auto l = static_cast<std::size_t>(ledger);
  double difference = 0.0, stock = 0.0, through = 0.0;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const double change = slots[i].contents[l] * (end[i] - start[i]);
    difference += change;
    if (slots[i].outside)
      through += std::abs(change);
    else
      stock += std::abs(slots[i].contents[l] * start[i]);
  }
  return difference / std::max({stock, through, 1e-300});
}

}  // namespace leat::model
