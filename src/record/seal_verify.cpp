// Whether the readings are as they were sealed, and where they are not.
#include <fmt/core.h>

#include <map>

#include "record/pyramid.h"
#include "record/seal_parts.h"
#include "record/series_parts.h"

namespace leat::record {
namespace {

constexpr std::size_t kMost = 5;

std::string date_text(Moment start) {
  return utc_text(start).substr(0, 10);
}

/// Seals that stand under one entry, and whether they are those that it was made over.
void look_at_entries(Database& db, std::vector<std::string>& faults) {
  std::map<std::int64_t, std::vector<Seal>> sealings;
  Statement rows(db, "SELECT entry, series, start, count, digest FROM seal ORDER BY entry, series, start");
  while (rows.step())
    sealings[rows.whole(0)].push_back(
        {rows.whole(0), name_of_series(db, rows.whole(1)), rows.whole(2), rows.whole(3), rows.text(4)});
  Statement entries(db, "SELECT number, subject FROM entry WHERE kind = 'deed' AND what = 'sealed' ORDER BY number");
  while (entries.step() && faults.size() < kMost) {
    const auto found = sealings.find(entries.whole(0));
    if (found == sealings.end())
      faults.push_back(
          fmt::format("what entry {} seals is not there: readings were lost, or only the entries of another "
                      "record were brought in; bring all of it with leat record --import FOLDER",
                      entries.whole(0)));
    else if (digest_of(found->second) != entries.text(1))
      faults.push_back(fmt::format("the seals of entry {} are not those that it was made over", entries.whole(0)));
  }
}

std::string what_differs(Database& db, std::int64_t series, const Seal& seal, const DayHeld& held) {
  std::string text = fmt::format("{}: of {} readings of {} (UTC) that entry {} seals, ", name_text(seal.name),
                                 seal.count, date_text(seal.start), seal.entry);
  text += held.count < seal.count   ? fmt::format("{} are there", held.count)
          : held.count > seal.count ? fmt::format("there are {}", held.count)
                                    : "at least one was changed";
  if (const auto quarter = first_difference(db, series, seal.start, seal.start + kSealedDay))
    text += fmt::format("; first between {} and {}", utc_text(*quarter).substr(11, 5),
                        utc_text(*quarter + width_of(0)).substr(11, 5));
  return text;
}

bool is_open(Database& db, std::int64_t series, Moment start) {
  const Reuse row(db, "SELECT 1 FROM unsealed WHERE series = ? AND start = ?");
  row->bind(series).bind(start);
  return row->step();
}

/// The latest seal of each day against what is held. A day that got late readings since may only have more.
void look_at_days(Database& db, const DaysHeld& days, std::vector<std::string>& faults) {
  Statement rows(db,
                 "SELECT max(entry), series, start, count, digest FROM seal GROUP BY series, start ORDER BY series, "
                 "start");
  while (rows.step() && faults.size() < kMost) {
    const std::int64_t series = rows.whole(1);
    const Seal seal{rows.whole(0), name_of_series(db, series), rows.whole(2), rows.whole(3), rows.text(4)};
    const auto there = days.find({series, seal.start});
    const DayHeld held = there == days.end() ? DayHeld{} : there->second;
    const bool more = held.count > seal.count && is_open(db, series, seal.start);
    if (!more && (held.count != seal.count || held.digest != seal.digest))
      faults.push_back(what_differs(db, series, seal, held));
  }
}

void look_for_days_without(Database& db, std::vector<std::string>& faults) {
  Statement rows(db,
                 "SELECT series, start - (start % 86400000 + 86400000) % 86400000 AS day FROM span WHERE level = 0 "
                 "EXCEPT SELECT series, start FROM unsealed EXCEPT SELECT series, start FROM seal ORDER BY 1, 2");
  while (rows.step() && faults.size() < kMost)
    faults.push_back(fmt::format("{}: the readings of {} (UTC) have lost their seal",
                                 name_text(name_of_series(db, rows.whole(0))), date_text(rows.whole(1))));
}

bool has_seals(Database& db) {
  return db.number("SELECT count(*) FROM sqlite_schema WHERE name = 'seal'") > 0;
}

}  // namespace

std::vector<std::string> faults_of_seals(Database& db, const DaysHeld& days) {
  std::vector<std::string> faults;
  if (!has_seals(db)) return faults;
  look_at_entries(db, faults);
  look_at_days(db, days, faults);
  look_for_days_without(db, faults);
  return faults;
}

std::int64_t sealed_readings(Database& db) {
  if (!has_seals(db)) return 0;
  return db.number("SELECT coalesce(sum(count), 0) FROM (SELECT count, max(entry) FROM seal GROUP BY series, start)");
}

std::optional<std::pair<Moment, Moment>> not_sealed(Database& db) {
  std::optional<std::pair<Moment, Moment>> open;
  if (!has_seals(db)) return open;
  // Of a day that was sealed before it was over, what came behind the seal; all of it when some came late.
  Statement rows(
      db,
      "SELECT min(x.at), max(x.at) FROM (SELECT u.series, u.start, (SELECT max(noted) FROM seal JOIN entry ON number = "
      "seal.entry WHERE seal.series = u.series AND seal.start = u.start) AS noted, (SELECT count FROM seal WHERE "
      "seal.series = u.series AND seal.start = u.start ORDER BY entry DESC LIMIT 1) AS held FROM unsealed u) o JOIN "
      "sample x ON x.series = o.series WHERE x.at >= o.start AND x.at < o.start + 86400000 AND (o.noted IS NULL OR "
      "x.at > o.noted OR o.held <> (SELECT count(*) FROM sample y WHERE y.series = o.series AND y.at >= o.start AND "
      "y.at <= o.noted))");
  if (rows.step() && !rows.is_null(0)) open = {rows.whole(0), rows.whole(1)};
  return open;
}

}  // namespace leat::record
