// What a sensor sends: thousands of readings of one quantity at one place. They stand beside the entries, each once,
// and are summed on the way in, so that a year is drawn without reading a year.
#pragma once

#include <span>

#include "base/time/civil.h"
#include "record/store.h"

namespace leat::record {

/// What one sensor reads, in its own unit. Its first reading puts an entry into the record that says so.
struct SeriesName {
  std::string what;    ///< "temperature"
  std::string where;   ///< "tank.nursery"; empty: not said
  std::string sensor;  ///< "probe 1"; empty: not said
  std::string unit, basis;
  friend bool operator==(const SeriesName&, const SeriesName&) = default;
};

struct Sample {
  Moment at = 0;
  double value = 0.0;
  friend bool operator==(const Sample&, const Sample&) = default;
};

struct Series {
  std::int64_t number = 0;
  std::int64_t entry = 0;  ///< that says what it reads
  SeriesName name;
  std::int64_t count = 0;
  Sample first{}, last{};
};

/// Readings of a stretch of time, taken together.
struct Summary {
  Moment from = 0, to = 0;  ///< from the one up to, not including, the other
  std::int64_t count = 0;
  double low = 0.0, high = 0.0;
  double sum = 0.0;   ///< of all values, rounded once
  double rest = 0.0;  ///< what that rounding left over
  double mean() const { return count == 0 ? 0.0 : sum / static_cast<double>(count); }
  friend bool operator==(const Summary&, const Summary&) = default;
};

/// What became of readings that were handed over.
struct Put {
  std::int64_t fresh = 0;
  std::int64_t known = 0;  ///< left out: the series holds one of that moment
};

/// Readings of one sensor that were read or are to be put in.
struct Batch {
  SeriesName name;
  std::vector<Sample> samples;
};

/// Adds readings of several sensors in any order, all or none. One at a moment that its series holds already is left
/// out: nothing is changed. When this returns they are on the disk. A value that is no number is a trouble.
std::variant<Put, Trouble> put_batches(Store& store, std::vector<Batch> batches, Moment now);
/// The same of one sensor.
std::variant<Put, Trouble> put_samples(Store& store, const SeriesName& name, std::vector<Sample> samples, Moment now);
/// Every series, in the order of their first readings.
std::variant<std::vector<Series>, Trouble> all_series(const Store& store);
/// Readings of a stretch of time as they came, in order.
std::variant<std::vector<Sample>, Trouble> samples_of(const Store& store, std::int64_t series, Moment from, Moment to);

/// Summaries of equal width over a stretch of time, at least so many and fewer than twice as many where the readings
/// are as dense; stretches without a reading are left out. The first and the last may reach beyond it.
std::variant<std::vector<Summary>, Trouble> chart_of(const Store& store, std::int64_t series, Moment from, Moment to,
                                                     std::size_t points);
/// All readings of a stretch of time taken together, to the moment.
std::variant<Summary, Trouble> summary_of(const Store& store, std::int64_t series, Moment from, Moment to);
/// Summaries by the civil day of a clock, those with readings only.
std::variant<std::vector<Summary>, Trouble> days_of(const Store& store, std::int64_t series, Moment from, Moment to,
                                                    const Clock& clock);

}  // namespace leat::record
