// A description made whole: every vessel, pipe and pump with all it needs, what was assumed listed with its reason.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/units/quantity.h"
#include "model/loop/contents.h"
#include "model/loop/deeds.h"
#include "model/loop/description.h"
#include "model/weather/weather.h"
#include "science/hydraulics/pipe_loss.h"
#include "science/hydraulics/pump_curve.h"

namespace leat::model {

/// Something the grower did not say, what was taken instead, and why.
struct Assumption {
  std::string path;   ///< "tank.nursery.wall_thickness"
  std::string value;  ///< "2 mm"
  std::string reason;
};

enum class VesselKind { tank, sump, raft_bed, gravel_bed };
enum class Wall { polyethylene, clear_polyethylene, fibreglass, steel, concrete, timber };
enum class Cladding { none, timber, foam };
enum class Lid { none, clear, board, timber, foam };

/// A vessel with vertical walls. Heights are above the description's common mark.
struct Vessel {
  std::string path;
  VesselKind kind = VesselKind::tank;
  Area<> area;
  Length<> floor, rim;
  double porosity = 1.0;                             ///< share of the volume that water can fill; 1 but for gravel
  Length<> grain{};                                  ///< of gravel
  std::optional<Velocity<>> hydraulic_conductivity;  ///< of its stones; none: the water in them lies level
  std::optional<Length<>> level_at_rest;             ///< pumps off
  std::optional<Length<>> held_level;
  // heat
  Wall wall = Wall::polyethylene;
  Length<> wall_thickness{};
  Cladding cladding = Cladding::none;
  Length<> cladding_thickness{};
  double cladding_share = 0.0;
  Lid lid = Lid::none;
  Length<> lid_thickness{};
  double cover = 0.0;         ///< share of the surface under the lid or raft
  Length<> raft_thickness{};  ///< 0 unless a raft bed
  Length<> buried{};
  double shade = 0.0;
  double sun_through_wall = 0.0;  ///< 0 unless the wall is clear
  Area<> film_area{};             ///< wetted surface with nitrifiers
  Area<> limestone{};             ///< clean surface of limestone, coral or shell in the water
  Area<> sludge{};                ///< floor on which solids lie undisturbed

  Area<> water_area() const { return area * porosity; }
  Length<> depth() const { return rim - floor; }
  Volume<> capacity() const { return water_area() * depth(); }
  Volume<> volume_at(Length<> level) const;
  Length<> level_at(Volume<> water) const { return floor + water / water_area(); }
  /// Around the water's surface, for a square of the same area.
  Length<> perimeter() const;
};

/// Where a pipe starts or ends. A pipe to a valve ends at its inlet; a pipe from a valve starts at one of its outlets.
struct End {
  enum class What { vessel, junction, pump, valve } what = What::vessel;
  int index = 0;
};

using science::PipeRun;

/// A timer: on and off in turn for ever, the first start after `starts_after`.
struct Schedule {
  Duration<> on_for, off_for, starts_after;
  Duration<> period() const { return on_for + off_for; }
};

struct Pump {
  std::string path;
  int vessel = 0;
  science::PumpCurve curve = science::PumpCurve::parabola(Length<>(3.0), Flow<>(3.0 / 3600.0));
  std::optional<Power<>> power;
  double efficiency = 0.0;
  bool check_valve = true;
  double stopped_loss = 4.0;
  Length<> dry_run_level{};
  bool on = true;
  std::optional<Schedule> schedule{};
  std::optional<Length<>> float_on{}, float_off{};
};

struct Pipe {
  std::string path;
  End from, to;
  PipeRun run;  ///< as it is now: with its fouling and its hand valve
  std::optional<Length<>> outlet_level;
  bool blocked = false;
  Length<> lowest{}, highest{};           ///< points on its way
  std::optional<Length<>> inlet_level{};  ///< of its mouth in the vessel it starts from; none: the floor
  bool hand_valve = false;                ///< one that is not all open
  Number<> losses_open{};                 ///< of fittings, with the hand valve all open
};

/// One inlet, one outlet at a time; the next has its turn after each pause of the flow.
struct SequencingValve {
  std::string path;
  Length<> bore;
  double loss = 0.0;
  Flow<> lift_flow{};
  Duration<> lift_time{}, drop_time{};
  std::optional<Length<>> level, drop_head;
  bool stuck = false;
  int first = 0;             ///< which of the outlets has the first turn
  std::vector<int> outlets;  ///< pipes, in the order of their turns
};

struct Sleeve {
  Length<> bore, standpipe_outside;
  double loss = 2.0;
};

struct Overflow {
  std::string path;
  int from = 0, to = 0;
  Length<> rim, standpipe_bore;
  double rim_coefficient = 1.70;  ///< m0.5/s on pi D
  std::optional<Sleeve> sleeve;
  std::optional<PipeRun> back;  ///< the return pipe; none: it falls freely
  std::optional<Length<>> outlet_level;
  bool vented = true;
  bool blocked = false;
};

/// A bell siphon: over its rim while it idles, as a full pipe once primed, until the level falls to where it breaks.
struct Siphon {
  std::string path;
  int from = 0, to = 0;
  Length<> rim, break_level;
  PipeRun run;
  std::optional<Length<>> outlet_level;
  double priming = 0.54;  ///< V / sqrt(g D) over the rim that primes it
  double rim_coefficient = 1.70;
  bool blocked = false;
};

struct DrainHole {
  std::string path;
  int from = 0, to = 0;
  Length<> diameter, level;
  double count = 1.0, coefficient = 0.61;
  bool blocked = false;
};

struct Weir {
  std::string path;
  int from = 0, to = 0;
  Length<> crest, width;
  double coefficient = 1.84;  ///< m0.5/s
  bool blocked = false;
};

/// A sloping pipe that runs partly full.
struct GravityReturn {
  std::string path;
  int from = 0, to = 0;
  PipeRun run;
  Length<> inlet_level, outlet_level;  ///< inverts
  bool blocked = false;
};

struct Junction {
  std::string path;
};

struct AirLine {
  std::string path;
  int vessel = 0;
  Flow<> flow;
  Length<> depth;
  double transfer_per_metre = 0.0;
  std::optional<Power<>> power;
};

struct FishGroup {
  std::string path, species;
  int vessel = 0;
  double count = 0.0;
  Mass<> mass;
  std::optional<MassRate<>> feed;  ///< for the whole group
  double feed_protein = 0.45;
  std::vector<double> meals;               ///< local hours
  double growth = 1.0, respiration = 1.0;  ///< over those of their species
  double spread = 0.25;                    ///< of the masses of the single fish, over their mean
};

/// Rates over their middle values: 1 but in the members of an ensemble.
struct Unsure {
  double reaeration = 1.0, algae = 1.0, denitrification = 1.0;
};

struct Planting {
  std::string path, crop;
  int vessel = 0;
  double places = 0.0;
  Area<> area;
  Duration<> age;
  bool picked = false;  ///< again and again, where it is harvested within a run; else cut whole
};

/// What is dissolved in a water. Concentrations per volume.
struct WaterQuality {
  Temperature<> temperature;
  double pH = 7.0;
  Concentration<> alkalinity;  ///< equivalents
  Concentration<> dissolved_oxygen, ammonia, nitrite, nitrate;
  bool temperature_said = false, pH_said = false, alkalinity_said = false, oxygen_said = false, ammonia_said = false,
       nitrite_said = false;  ///< in the description; else assumed
  Contents<> minerals;  ///< phosphorus, the ions, iron, algae; with the nitrogen their charge makes the alkalinity
};

enum class TopUp { held, daily, none };
struct Source {
  std::string path;
  int vessel = 0;
  WaterQuality water;
  TopUp top_up = TopUp::held;
  std::optional<Length<>> float_level;  ///< none: it only makes good what is lost
  Flow<> float_flow{};
  std::optional<Length<>> bore, outlet_level;
  bool stuck_open = false;
};

struct Limits {
  Temperature<> temperature_high, temperature_low;
  Concentration<> oxygen_low, unionised_ammonia_high, nitrite_high, nitrate_high, alkalinity_low;
  double pH_low = 6.5, pH_high = 8.5;
  double gas_pressure_high = 1.10;  ///< of the air's
  Length<> freeboard;
  Frequency<> turnover_low;
};

struct Laws {
  Quantity<dim::acceleration> gravity{9.80665};
  KinematicViscosity<> viscosity{1.3e-6};
  Density<> density{999.7};
  Length<> roughness{1.5e-6};
};

struct Site {
  Place place;
  double wind_shelter = 0.5;
  Temperature<> ground;
};

/// The nitrifiers at the start: grown in full, or hardly there.
enum class Film { grown, fresh };

/// What things cost, where the grower said so.
struct Prices {
  std::string currency;
  std::optional<double> energy, water, feed;  ///< of a kWh, a m3, a kg
};

struct Loop {
  std::string name;
  Film film = Film::grown;
  Site site;
  Laws laws;
  Limits limits;
  WaterQuality water;
  std::optional<Volume<>> total_water;
  std::vector<Vessel> vessels;
  std::vector<Junction> junctions;
  std::vector<Pump> pumps;
  std::vector<Pipe> pipes;
  std::vector<Overflow> overflows;
  std::vector<SequencingValve> valves;
  std::vector<Siphon> siphons;
  std::vector<DrainHole> drain_holes;
  std::vector<Weir> weirs;
  std::vector<GravityReturn> returns;
  std::vector<AirLine> airs;
  std::vector<FishGroup> fish;
  std::vector<FishGroup> fish_to_come;  ///< groups that moves make; none is there at first
  std::vector<Planting> plantings;
  std::vector<Source> sources;
  Deeds deeds;
  Prices prices;
  Unsure unsure;
  std::vector<Assumption> assumptions;

  int vessel_index(std::string_view path) const;  ///< -1 if there is none
};

/// The same loop with the fish to come among its fish.
Loop with_fish_to_come(Loop loop);

/// Makes the description whole. Contradictions (a rim below its floor, a bed without a way out) become problems.
Loop make_loop(const Description& description, Problems& problems);

}  // namespace leat::model
