// leat ahead: what will the water do in the next days?
#pragma once

#include <optional>

#include "answers/drawn.h"
#include "answers/finding.h"
#include "answers/spread.h"
#include "answers/sun_band.h"
#include "model/loop/loop.h"
#include "model/simulate/simulate.h"

namespace leat::answers {

/// A value of one day with the hour at which it stood there.
struct AtHour {
  double value = 0.0;  ///< SI
  double hour = 0.0;   ///< local clock
};

/// One vessel on one day. Concentrations in mol/m3, temperature in kelvin.
struct VesselDay {
  AtHour temperature_low, temperature_high;
  double swing = 0.0;
  AtHour oxygen_low;
  double oxygen_low_share = 0.0;                       ///< of saturation, at that moment's temperature
  double ammonia = 0.0, nitrite = 0.0, nitrate = 0.0;  ///< means of the day
  AtHour unionised_ammonia_high;
  double pH_low = 0.0, pH_high = 0.0;
  AtHour gas_pressure_high;  ///< of all dissolved gases, over that of the air
  double carbon_dioxide_high = 0.0;
  double alkalinity = 0.0;  ///< at the day's end
};

struct VesselAhead {
  std::string path;
  bool dry = false;  ///< it usually holds next to no water: what is said of it means nothing
  std::vector<VesselDay> days;
  std::vector<double> hourly_temperature;  ///< kelvin, for the plot
  std::vector<double> hourly_oxygen;       ///< mol/m3
};

struct FishAhead {
  std::string path, species;
  double count = 0.0;
  std::vector<double> mean_mass;  ///< kg, at the end of each day
  std::vector<double> fed;        ///< kg a day
  double mass_at_start = 0.0;
  std::vector<double> counts{};  ///< at the end of each day
};

struct PlantsAhead {
  std::string path, crop;
  std::vector<double> fresh_mass;    ///< kg, at the end of each day
  double nitrogen_taken = 0.0;       ///< mol, over the run
  std::optional<int> ready_in_days;  ///< by warmth, if within the run
  struct Cut {
    CivilDate date;
    double fresh = 0.0;  ///< kg
    bool whole = true;   ///< else the rest grows on
  };
  std::vector<Cut> harvests;  ///< when each is cut; whole, and planted anew, or a share of it
};

/// Where one ledger's amounts came from and went, over the whole run.
struct LedgerLine {
  std::string account;
  double amount = 0.0;  ///< into the loop is positive
};
struct LedgerTable {
  model::Ledger ledger{};
  double stock_start = 0.0, stock_end = 0.0;
  std::vector<LedgerLine> lines;
  std::vector<LedgerLine> kept;  ///< what each part of the loop holds more at the end than at the start
  double closure = 0.0;
};

/// What the loop's water holds, mean over all of it: a quantity of the vocabulary, SI, at the start and at the end of
/// each day.
struct InWater {
  std::string word;
  double start = 0.0;
  std::vector<double> days;
  bool assumed = false;  ///< nobody said what it was at the start
};

/// What one fish tank may do, day by day, over all runs of an ensemble.
struct TankBands {
  std::string path;
  std::vector<Spread> temperature_low, temperature_high, oxygen_low, ammonia;
  struct Run {
    double coldest, warmest, least_oxygen, most_ammonia;  ///< K, K, mol/m3, mol/m3 (a day's mean)
  };
  std::vector<Run> runs;  ///< as `Bands::ran`
};

/// A limit that some runs go beyond.
struct Crossing {
  std::string statement, path, quantity;
  double limit = 0.0;
  bool wants_above = false;
  int members = 0;  ///< of those that finished
};

/// Runs with everything that is not known drawn anew, each from its own range.
struct Bands : HowDrawn {
  std::vector<std::size_t> ran;  ///< numbers of those that finished: the same number, the same draws in another loop
  std::vector<TankBands> tanks;
  std::vector<Spread> fish_mass;  ///< kg, of each group's mean fish at the end
  std::vector<Crossing> crossings;
  std::vector<OwedMost> owed;  ///< numbers of the first tank
};

struct AheadAnswer {
  std::string loop_name;
  std::vector<CivilDate> dates;
  std::vector<std::string> weather_sources;  ///< of each day, in words
  std::vector<double> air_low, air_high;     ///< kelvin, of each day
  std::vector<VesselAhead> vessels;
  std::vector<FishAhead> fish;
  std::vector<PlantsAhead> plants;
  std::vector<InWater> in_water;
  std::vector<LedgerTable> books;
  std::vector<Finding> findings;  ///< the first is what limits first
  std::optional<SunBand> sun_band;
  std::optional<Bands> bands;
  std::vector<model::Happening> happenings;
  std::vector<model::Happening> deeds;  ///< of the loop file
  std::vector<model::FishMoved> moved{};
  std::vector<model::Assumption> assumptions;
  numerics::Counts counts;
  std::size_t states = 0;
  bool finished = true;
  std::string said;             ///< why it stopped early
  bool mean_of_pulses = false;  ///< pulsed water was taken by its mean flows
};

struct AheadRequest {
  CivilDate first;
  int days = 14;
  bool with_sun_band = true;                         ///< two more runs where the sun's share was not said
  std::optional<Concentration<>> hold_alkalinity{};  ///< base is dosed to keep it; see RunOptions
  bool resow = false;                                ///< plantings are harvested when they are ready, and planted anew
  int members = 0;                                   ///< of the ensemble that its bands come from; 0: none
  std::uint64_t seed = 1;                            ///< of their draws
  double budget = 2.0;                               ///< seconds that their number was chosen for
  std::vector<model::Given> given{};                 ///< feed that the record has
  std::optional<Instant> given_until{};              ///< up to when nothing else is fed
};

/// Runs the loop under the weather. Days start at local midnight.
AheadAnswer ahead(const model::Loop& loop, const model::Weather& weather, const AheadRequest& request);

}  // namespace leat::answers
