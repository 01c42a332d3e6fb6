#include "record/series.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "record/guarded.h"
#include "record/pyramid.h"
#include "record/seal.h"
#include "record/series_parts.h"

namespace leat::record {
namespace {

Entry beginning_of(const SeriesName& name, Moment first, Moment now) {
  Entry e;
  e.noted = now;
  e.from = e.to = first;
  e.kind = Kind::deed;
  e.what = "sensor";
  e.where = name.where;
  e.instrument = name.sensor;
  e.subject =
      fmt::format("{}{}{}{}", name.what, name.unit.empty() ? "" : " in " + name.unit,
                  name.basis.empty() ? "" : " as " + name.basis, name.sensor.empty() ? "" : " by " + name.sensor);
  e.said = "the first reading of a sensor";
  return e;
}

std::optional<std::int64_t> number_of(Database& db, const SeriesName& n) {
  const Reuse row(db,
                  "SELECT number FROM series WHERE what = ? AND place = ? AND sensor = ? AND unit = ? AND basis = ?");
  for (const std::string* text : {&n.what, &n.where, &n.sensor, &n.unit, &n.basis}) row->bind(std::string_view(*text));
  return row->step() ? std::optional(row->whole(0)) : std::nullopt;
}

/// The entry of another copy of this record that says what such a sensor reads, if it was brought in before its
/// readings.
std::optional<std::int64_t> begun_by(Database& db, const Entry& e) {
  const Reuse row(
      db,
      "SELECT number FROM entry WHERE kind = 'deed' AND what = 'sensor' AND place = ? AND instrument = ? AND "
      "subject = ? AND number NOT IN (SELECT entry FROM series) ORDER BY number LIMIT 1");
  row->bind(std::string_view(e.where)).bind(std::string_view(e.instrument)).bind(std::string_view(e.subject));
  return row->step() ? std::optional(row->whole(0)) : std::nullopt;
}

std::int64_t begin(Database& db, const SeriesName& n, Moment first, Moment now) {
  std::vector<Entry> one = {beginning_of(n, first, now)};
  if (const auto begun = begun_by(db, one[0]))
    one[0].number = *begun;
  else
    add_entries(db, one);
  const std::int64_t number = db.number("SELECT coalesce(max(number), 0) + 1 FROM series");
  const Reuse row(db, "INSERT INTO series VALUES (?,?,?,?,?,?,?)");
  row->bind(number).bind(one[0].number);
  for (const std::string* text : {&n.what, &n.where, &n.sensor, &n.unit, &n.basis}) row->bind(std::string_view(*text));
  row->step();
  return number;
}

/// Puts in what is not there yet, and hands that back.
std::vector<Sample> inserted(Database& db, std::int64_t series, const std::vector<Sample>& samples) {
  const Reuse row(db, "INSERT OR IGNORE INTO sample VALUES (?,?,?)");
  std::vector<Sample> fresh;
  for (const Sample& s : samples) {
    row->bind(series).bind(s.at).bind(s.value).step();
    if (db.changed() > 0) fresh.push_back(s);
    row->reset();
  }
  return fresh;
}

std::optional<Trouble> fault_of(const SeriesName& name, const std::vector<Sample>& samples) {
  if (name.what.empty()) return Trouble{"a sensor without a word for what it reads; write such as temperature"};
  for (const Sample& s : samples)
    if (!std::isfinite(s.value))
      return Trouble{fmt::format("the reading of {} is no number; nothing of this was kept", utc_text(s.at))};
  return std::nullopt;
}

SeriesName cleaned(SeriesName n) {
  for (std::string* text : {&n.what, &n.where, &n.sensor, &n.unit, &n.basis}) *text = clean_text(*text);
  return n;
}

/// Adds a batch within a transaction of the caller's, and hands back what was not there yet.
Fresh add(Database& db, const Batch& batch, Moment now) {
  const std::int64_t series = series_for(db, batch.name, batch.samples.front().at, now);
  Fresh fresh{series, inserted(db, series, batch.samples)};
  sum_up(db, series, fresh.samples);
  note_unsealed(db, series, fresh.samples);
  return fresh;
}

Sample end_of(Database& db, std::int64_t series, const char* sql) {
  const Reuse row(db, sql);
  row->bind(series);
  return row->step() ? Sample{row->whole(0), row->real(1)} : Sample{};
}

}  // namespace

std::int64_t series_for(Database& db, const SeriesName& name, Moment first, Moment now) {
  const auto held = number_of(db, name);
  return held ? *held : begin(db, name, first, now);
}

std::variant<Put, Trouble> put_batches(Store& store, std::vector<Batch> batches, Moment now) {
  for (Batch& b : batches) {
    b.name = cleaned(b.name);
    if (auto trouble = fault_of(b.name, b.samples)) return *trouble;
    std::stable_sort(b.samples.begin(), b.samples.end(), [](const Sample& x, const Sample& y) { return x.at < y.at; });
  }
  std::erase_if(batches, [](const Batch& b) { return b.samples.empty(); });
  if (batches.empty()) return Put{};
  return guarded([&] {
    Transaction transaction(store.database());
    Put all;
    std::vector<Fresh> fresh;
    for (const Batch& b : batches) {
      fresh.push_back(add(store.database(), b, now));
      const auto put = static_cast<std::int64_t>(fresh.back().samples.size());
      all.fresh += put;
      all.known += static_cast<std::int64_t>(b.samples.size()) - put;
    }
    seal_days(store.database(), now, fresh);
    transaction.commit();
    return all;
  });
}

std::variant<Put, Trouble> put_samples(Store& store, const SeriesName& name, std::vector<Sample> samples, Moment now) {
  std::vector<Batch> one;
  one.push_back({name, std::move(samples)});
  return put_batches(store, std::move(one), now);
}

std::variant<std::vector<Series>, Trouble> all_series(const Store& store) {
  return guarded([&] {
    Database& db = store.database();
    std::vector<Series> all;
    // A record of an older format, opened to be read, has no such table.
    if (db.number("SELECT count(*) FROM sqlite_schema WHERE name = 'series'") == 0) return all;
    Statement rows(db,
                   "SELECT number, entry, what, place, sensor, unit, basis, (SELECT coalesce(sum(count), 0) FROM span "
                   "WHERE series = number AND level = ?) FROM series ORDER BY number");
    rows.bind(std::int64_t{kLevels - 1});
    while (rows.step()) {
      Series s{rows.whole(0), rows.whole(1), {}, rows.whole(7), {}, {}};
      s.name = {rows.text(2), rows.text(3), rows.text(4), rows.text(5), rows.text(6)};
      s.first = end_of(db, s.number, "SELECT at, value FROM sample WHERE series = ? ORDER BY at LIMIT 1");
      s.last = end_of(db, s.number, "SELECT at, value FROM sample WHERE series = ? ORDER BY at DESC LIMIT 1");
      all.push_back(std::move(s));
    }
    return all;
  });
}

std::variant<std::vector<Sample>, Trouble> samples_of(const Store& store, std::int64_t series, Moment from, Moment to) {
  return guarded([&] {
    const Reuse rows(store.database(),
                     "SELECT at, value FROM sample WHERE series = ? AND at >= ? AND at < ? ORDER BY at");
    rows->bind(series).bind(from).bind(to);
    std::vector<Sample> all;
    while (rows->step()) all.push_back({rows->whole(0), rows->real(1)});
    return all;
  });
}

}  // namespace leat::record
