// What each verb does once its flags are read. All return an exit code: 0 answered, 2 the input needs mending, 3 the
// answer could not be finished.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "doors/command/from_record.h"

namespace leat::doors {

struct AheadFlags {
  std::string loop = "loop.toml", weather, hourly, location, forecast, tomorrow, start, month, today;
  int days = 14;
  int members = -1;  ///< below 0: as many as fit
  std::uint64_t seed = 1;
  bool json = false, csv = false, assumptions = false;
  std::string picture;
  FromFlags from{};
  std::vector<model::WeatherDay> noted{};  ///< days that the record knows
};

struct CheckFlags {
  std::string loop = "loop.toml", drawing;
  bool json = false, assumptions = false, all = false;
};
int verb_check(const CheckFlags& flags);
int verb_ahead(const AheadFlags& flags);
int verb_carry(AheadFlags flags);
struct SeasonFlags {
  AheadFlags ahead;
  int months = 6, years = -1;  ///< years below 0: as many as fit
  std::string size;
  bool no_base = false;
};
int verb_season(const SeasonFlags& flags);
/// `flags.loop` against a plan: another description, or a patch.
int verb_compare(const AheadFlags& flags, const std::string& plan);
struct OutageFlags {
  std::string loop = "loop.toml", fails = "power", since = "now", seen, returns, again, hours, temperature, oxygen, fed,
              air, battery;
  bool table = false, json = false, assumptions = false;
  int members = -1;  ///< below 0: as many as fit
  std::uint64_t seed = 1;
  FromFlags from{};
};
int verb_outage(const OutageFlags& flags);
struct NightFlags {
  std::string loop = "loop.toml", dawn, temperature, reaeration, kit, pH, ammonia, demand;
  std::vector<std::string> readings;
  AheadFlags model;  ///< the evening and its weather, when there are no readings; seed and members of both
};
int verb_night(const NightFlags& flags);
struct FeedFlags {
  std::string loop = "loop.toml", temperature, oxygen, ammonia, pH, nitrite;
  bool left_over = false, json = false;
  FromFlags from{};
};
int verb_feed(const FeedFlags& flags);
struct NoteFlags {
  std::vector<std::string> words;  ///< the loop's file, if it ends in .toml, then the phrases
  std::vector<std::string> photos;
  std::string at, kit, now, key;
  bool dry = false, json = false;
};
int verb_note(const NoteFlags& flags);
struct RecordFlags {
  std::string loop = "loop.toml", since, until, what, where, search, why, export_to, import_from, map, dates, head, now;
  std::vector<std::string> correct;  ///< none, or a number and a phrase
  int latest = 0, points = 0;
  bool all = false, superseded = false, dry = false, verify = false, json = false, sensors = false;
};
/// 1 when a look at the record finds a fault.
int verb_record(const RecordFlags& flags);
struct BackupFlags {
  std::string loop = "loop.toml", folder, file, now;
  int keep = 10;
};
int verb_backup(const BackupFlags& flags);
int verb_restore(const BackupFlags& flags);
struct DoseFlags {
  std::string what, loop, water, temperature, pH, target_pH, shaken, alkalinity, ammonia, feed, protein, plants, ionic,
      phosphorus, reagent, reading, target, source, ratio, share, new_water;
  bool json = false;
  FromFlags from{};
};
int verb_dose(const DoseFlags& flags);
struct CalcFlags {
  std::vector<std::string> words;  ///< the relation, then name=value
  std::string checks;
  bool list = false, json = false;
};
/// 1 when a row of a table fails.
int verb_calc(const CalcFlags& flags);
int verb_words(const std::string& kind, bool schema);

}  // namespace leat::doors
