// Where everything stands in the state vector: the slots of each body of water, fish, planting, and the accounts of the
// outside world. Every slot knows what it holds of each ledger, so the books can be closed by one sum.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "model/loop/loop.h"

namespace leat::model {

/// What must balance. Oxygen is the dissolved gas alone; the element would drown in the water's own.
enum class Ledger {
  water,
  heat,
  nitrogen,
  carbon,
  oxygen,
  phosphorus,
  potassium,
  calcium,
  magnesium,
  sodium,
  chloride,
  sulphur,
  iron,
  nitrogen_gas
};
inline constexpr std::array kLedgers = {Ledger::water,     Ledger::heat,        Ledger::nitrogen,  Ledger::carbon,
                                        Ledger::oxygen,    Ledger::phosphorus,  Ledger::potassium, Ledger::calcium,
                                        Ledger::magnesium, Ledger::sodium,      Ledger::chloride,  Ledger::sulphur,
                                        Ledger::iron,      Ledger::nitrogen_gas};
std::string_view ledger_name(Ledger ledger);
std::string_view ledger_unit(Ledger ledger);
/// How much of each ledger one unit of a slot holds.
using LedgerContents = std::array<double, kLedgers.size()>;

struct Slot {
  std::string path;           ///< tank.nursery.dissolved_oxygen, or outside.air.oxygen
  LedgerContents contents{};  ///< of each ledger, per unit of the slot
  double nominal = 1.0;       ///< typical size
  double small = 0.01;        ///< share of it below which errors are no longer taken relative
  bool outside = false;       ///< an account: kept out of error control
};

/// Slots of one body of water; the carried ones follow each other in the order of `Contents`.
struct BodySlots {
  int water, heat, carried;
  int ammonia_film, nitrite_film;  ///< shares of a film grown in full

  int oxygen() const { return carried; }
  int carbon() const { return carried + 1; }
  int ammonia() const { return carried + 2; }
  int nitrite() const { return carried + 3; }
  int nitrate() const { return carried + 4; }
  int phosphorus() const { return carried + 5; }
  int potassium() const { return carried + 6; }
  int calcium() const { return carried + 7; }
  int magnesium() const { return carried + 8; }
  int sodium() const { return carried + 9; }
  int chloride() const { return carried + 10; }
  int sulphate() const { return carried + 11; }
  int iron() const { return carried + 12; }
  int nitrogen_gas() const { return carried + 13; }
  int solids_carbon() const { return carried + 14; }
  int solids_nitrogen() const { return carried + 15; }
  int solids_phosphorus() const { return carried + 16; }
  int algae() const { return carried + 17; }
};
/// Heat held beside the water: thick timber, one node a face; soil, a column outwards from the buried faces.
struct StoreSlots {
  std::vector<int> timber, soil;
};
/// The heat that each of a vessel's stores takes, J/K.
struct HeatStores {
  std::vector<double> timber, soil;
};
struct FishSlots {
  int biomass;
  std::array<int, 3> gut;
  int count = -1;  ///< -1: nobody moves them within the run, and their number is a constant
};
struct PlantSlots {
  int dry_mass, nitrogen, thermal_time;
};

/// Accounts of the outside. Each holds what has gone into it since the start; negative: what came from it.
struct Accounts {
  int air_water, rain_water, source_water, plant_water, spilt_water;
  int sun, sky, evaporation, convection, lids, walls, ground, rain_heat, source_heat, spilt_heat, pump_heat, drawn_heat,
      air_lines;
  int carried;  ///< first of those for what flows in and out with the water, as `Contents`
  int air_oxygen, fish_oxygen, film_oxygen, algae_oxygen, rot_oxygen;
  int air_carbon, feed_carbon, limestone_carbon;
  int feed_nitrogen, air_nitrogen, harvest_nitrogen, air_nitrogen_gas;
  int feed_minerals;   ///< first of seven: phosphorus, potassium, calcium, magnesium, sodium, chloride, sulphur
  int plant_minerals;  ///< first of five: phosphorus, potassium, calcium, magnesium, iron
  int limestone_calcium, settled_iron;
  int dosed_potassium, dosed_calcium, dosed_carbon;
  int harvest_carbon = -1;  ///< -1: no fish leave the loop
};

/// Carbon of algae holds so much nitrogen and phosphorus, mol/mol.
/// source   Redfield composition C106 N16 P1, Stumm & Morgan 1996
inline constexpr double algae_nitrogen = 16.0 / 106.0, algae_phosphorus = 1.0 / 106.0;

/// What feed and fish are made of, per kg.
struct FishMatter {
  double feed_nitrogen, feed_carbon;              ///< mol/kg of feed
  double body_nitrogen, body_carbon;              ///< mol/kg of live fish
  double digestible_nitrogen, digestible_carbon;  ///< shares of feed
  double feed_phosphorus, solid_phosphorus;       ///< mol/kg of feed: all, and what leaves with the faeces
  /// mol/kg of feed that fish give off dissolved: phosphorus, potassium, calcium, magnesium, sodium, chloride, sulphur
  std::array<double, 7> dissolved_minerals;
};

class Layout {
 public:
  /// `stores` as loop.vessels; empty: none.
  explicit Layout(const Loop& loop, const std::vector<HeatStores>& stores = {});

  std::size_t size() const { return slots.size(); }
  std::vector<Slot> slots;
  std::vector<BodySlots> bodies;   ///< as loop.vessels
  std::vector<StoreSlots> stores;  ///< as loop.vessels
  std::vector<FishSlots> fish;     ///< as loop.fish
  std::vector<FishMatter> matter;  ///< as loop.fish
  std::vector<PlantSlots> plants;  ///< as loop.plantings
  Accounts outside{};

  /// Sum over all slots of what they hold of a ledger.
  double total(Ledger ledger, std::span<const double> y) const;
  /// How far a run's books are from closing, relative to the larger of the stock and what passed through.
  double closure(Ledger ledger, std::span<const double> start, std::span<const double> end) const;

 private:
  int add(std::string path, double nominal, LedgerContents contents, bool is_outside = false);
  void add_bodies(const Loop& loop);
  void add_stores(const Loop& loop, const std::vector<HeatStores>& all);
  void add_life(const Loop& loop);
  void add_outside();
};

/// Posts rates of change. Every flux has a from and a to.
template <class N>
class Posting {
  struct Cleared {};
  Posting(std::span<N> d, std::size_t inner, std::size_t accounts, Cleared)
      : d_(d), inner_(inner), accounts_(accounts) {}
  std::span<N> d_;
  std::size_t inner_, accounts_, shift_ = 0;

 public:
  /// `d` holds `inner` slots and then the accounts of the outside, either once or once for each body; in the second
  /// case each body posts to its own.
  Posting(std::span<N> d, std::size_t inner, std::size_t size)
      : Posting(d, inner, d.size() > size ? size - inner : 0, Cleared{}) {
    for (N& x : d_) x = N(0.0);
  }
  /// The same with the accounts once, on top of what `d` holds.
  static Posting onto(std::span<N> d, std::size_t inner) { return Posting(d, inner, 0, Cleared{}); }
  /// What follows is posted by a body.
  void by_body(std::size_t body) { shift_ = body * accounts_; }
  /// Moves an amount per time; negative moves it back.
  void move(int from, int to, const N& rate) {
    N &a = d_[place(from)], &b = d_[place(to)];
    a = a - rate;
    b = b + rate;
  }
  /// Adds to one slot: for the terms of a reaction whose contents balance only as a whole.
  void add(int slot, const N& rate) {
    N& a = d_[place(slot)];
    a = a + rate;
  }

 private:
  std::size_t place(int slot) const {
    const auto i = static_cast<std::size_t>(slot);
    return i < inner_ ? i : i + shift_;
  }
};

}  // namespace leat::model
