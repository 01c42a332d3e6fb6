// Seals over what sensors sent: once a day the digests of finished days of readings go into the chain of entries, so
// that a reading that is lost or changed later shows, and where.
#pragma once

#include "record/series.h"
#include "record/sqlite.h"

namespace leat::record {

inline constexpr Moment kSealedDay = 86'400'000;         ///< a day of UTC
inline constexpr Moment kSealedAfter = 6 * 3'600'000LL;  ///< its end, for what comes late

/// A day of one sensor's readings as it was sealed.
struct Seal {
  std::int64_t entry = 0;  ///< that holds the digest over all seals of one sealing
  SeriesName name;
  Moment start = 0;
  std::int64_t count = 0;
  std::string digest;  ///< SHA-256 over all readings in the order of time: 8 bytes of the moment, 8 of the number, the
                       ///< high ones first
};

/// Whether an entry is one that seals readings. Lists leave it out unless it is asked for.
bool is_seal(const Entry& entry);

/// Remembers of which days readings were added, within a transaction of the caller's.
void note_unsealed(Database& db, std::int64_t series, std::span<const Sample> fresh);
/// Readings that were just added to one series, in the order of time.
struct Fresh {
  std::int64_t series = 0;
  std::vector<Sample> samples;
};
/// Seals what is finished by now, once a day; what came late for a day that was sealed is sealed once more, with all of
/// that day. Days of which `fresh` is all need not be read back. Within a transaction of the caller's.
void seal_days(Database& db, Moment now, std::span<const Fresh> fresh = {});

/// Seals all that is held by now, days that are not over too; they are sealed once more when they are.
std::variant<std::int64_t, Trouble> seal_all(Store& store, Moment now);

/// All seals, in the order of their entries.
std::variant<std::vector<Seal>, Trouble> all_seals(const Store& store);
/// Puts seals in that another copy of the same record had; those whose entry is not here are left out.
std::variant<std::int64_t, Trouble> put_seals(Store& store, const std::vector<Seal>& seals);

/// How many readings the latest seals cover.
std::int64_t sealed_readings(Database& db);
/// From when to when there are readings that no seal covers.
std::optional<std::pair<Moment, Moment>> not_sealed(Database& db);

}  // namespace leat::record
