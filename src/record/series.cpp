#include "record/series.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "record/guarded.h"
#include "record/pyramid.h"

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

std::int64_t begin(Database& db, const SeriesName& n, Moment first, Moment now) {
  std::vector<Entry> one = {beginning_of(n, first, now)};
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

/// Adds a batch within a transaction of the caller's.
Put add(Database& db, const Batch& batch, Moment now) {
  const auto held = number_of(db, batch.name);
  const std::int64_t series = held ? *held : begin(db, batch.name, batch.samples.front().at, now);
  const auto fresh = inserted(db, series, batch.samples);
  sum_up(db, series, fresh);
  const auto put = static_cast<std::int64_t>(fresh.size());
  return Put{put, static_cast<std::int64_t>(batch.samples.size()) - put};
}

Sample end_of(Database& db, std::int64_t series, const char* sql) {
  const Reuse row(db, sql);
  row->bind(series);
  return row->step() ? Sample{row->whole(0), row->real(1)} : Sample{};
}

}  // namespace

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
    for (const Batch& b : batches) {
      const Put put = add(store.database(), b, now);
      all.fresh += put.fresh;
      all.known += put.known;
    }
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
