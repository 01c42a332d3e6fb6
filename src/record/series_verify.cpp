// Whether sums and seals are those of the readings: each reading is read once for both.
#include <fmt/core.h>

#include "record/guarded.h"
#include "record/pyramid.h"
#include "record/seal_parts.h"
#include "record/series_parts.h"

namespace leat::record {
namespace {

constexpr std::size_t kMost = 5;
constexpr Moment kAlways = Moment{1} << 60;

/// Whether every level holds what the lowest gives, worked out anew.
bool sums_agree(Database& db, std::int64_t series, std::vector<Summary> due) {
  for (int level = 0; level < kLevels; ++level) {
    if (level > 0) due = joined(due, level);
    std::size_t agree = 0, held = 0;
    each_span(db, series, level, -kAlways, kAlways, [&](const Summary& s) {
      if (held < due.size() && due[held] == s) ++agree;
      ++held;
    });
    if (agree != due.size() || held != due.size()) return false;
  }
  return true;
}

std::string sums_fault(Database& db, const Series& s) {
  std::string text = fmt::format("the sums of {} are not those of its readings", name_text(s.name));
  if (const auto quarter = first_difference(db, s.number, -kAlways, kAlways))
    text += fmt::format(", first in the quarter of an hour from {}", utc_text(*quarter));
  return text;
}

/// Reads one series from its first reading to its last: quarters of an hour, and the digest of each day.
class Reading {
  DaysHeld& days_;
  std::int64_t series_;
  std::vector<Summary> quarters_;
  DayDigest digest_;
  Moment day_ = 0, day_ends_ = 0, quarter_ends_ = 0;

 public:
  Reading(DaysHeld& days, std::int64_t series) : days_(days), series_(series) {}
  /// Whether a day was finished with it.
  bool take(const Sample& s) {
    const bool next = digest_.count() == 0 || s.at >= day_ends_;
    if (next) {
      finish_day();
      day_ = floor_to(s.at, kSealedDay);
      day_ends_ = day_ + kSealedDay;
    }
    digest_.add(s);
    if (quarters_.empty() || s.at >= quarter_ends_) {
      const Moment from = floor_to(s.at, width_of(0));
      quarter_ends_ = from + width_of(0);
      quarters_.push_back({from, quarter_ends_});
    }
    take_in(quarters_.back(), summary_of_one(s));
    return next;
  }
  void finish_day() {
    if (digest_.count() > 0) days_[{series_, day_}] = digest_.finish();
  }
  std::vector<Summary>& quarters() { return quarters_; }
};

}  // namespace

std::variant<ReadingsLooked, Trouble> look_at_readings(const Store& store, const Progress& progress) {
  const auto found = all_series(store);
  if (const auto* trouble = std::get_if<Trouble>(&found)) return *trouble;
  const auto& all = std::get<std::vector<Series>>(found);
  return guarded([&] {
    Database& db = store.database();
    ReadingsLooked looked;
    std::int64_t due = 0;
    for (const Series& s : all) due += s.count;
    DaysHeld days;
    for (const Series& s : all) {
      const Reuse rows(db, "SELECT at, value FROM sample WHERE series = ? ORDER BY at");
      rows->bind(s.number);
      Reading reading(days, s.number);
      while (rows->step()) {
        ++looked.count;
        if (reading.take({rows->whole(0), rows->real(1)}) && progress)
          progress(static_cast<double>(looked.count) / static_cast<double>(std::max(due, looked.count)));
      }
      reading.finish_day();
      if (!sums_agree(db, s.number, std::move(reading.quarters())) && looked.faults.size() < kMost)
        looked.faults.push_back(sums_fault(db, s));
    }
    for (std::string& fault : faults_of_seals(db, days)) looked.faults.push_back(std::move(fault));
    return looked;
  });
}

}  // namespace leat::record
