#include "record/seal.h"

#include <algorithm>
#include <bit>
#include <map>
#include <tuple>

#include "record/guarded.h"
#include "record/pyramid.h"
#include "record/seal_parts.h"
#include "record/series_parts.h"
#include "record/sha256.h"

namespace leat::record {
namespace {

struct Day {
  std::int64_t series;
  Moment start;
};

DayHeld day_of(std::span<const Sample> samples) {
  DayDigest day;
  for (const Sample& s : samples) day.add(s);
  return day.finish();
}

/// A day from what was just added, if that is all of it.
std::optional<DayHeld> day_among(Database& db, const Day& day, std::span<const Fresh> fresh) {
  const auto before = [](const Sample& s, Moment at) { return s.at < at; };
  for (const Fresh& f : fresh) {
    if (f.series != day.series) continue;
    const auto from = std::lower_bound(f.samples.begin(), f.samples.end(), day.start, before);
    const auto to = std::lower_bound(from, f.samples.end(), day.start + kSealedDay, before);
    const Reuse all(db, "SELECT sum(count) FROM span WHERE series = ? AND level = 0 AND start >= ? AND start < ?");
    all->bind(day.series).bind(day.start).bind(day.start + kSealedDay);
    if (from != to && all->step() && all->whole(0) == to - from) return day_of({from, to});
  }
  return std::nullopt;
}

std::optional<Moment> sealed_up_to(Database& db) {
  const Reuse row(db, "SELECT upto FROM sealing ORDER BY entry DESC LIMIT 1");
  return row->step() ? std::optional(row->whole(0)) : std::nullopt;
}

std::vector<Day> finished(Database& db, Moment limit) {
  const Reuse rows(db, "SELECT series, start FROM unsealed WHERE start < ? ORDER BY series, start");
  rows->bind(limit);
  std::vector<Day> days;
  while (rows->step()) days.push_back({rows->whole(0), rows->whole(1)});
  return days;
}

/// Whether the latest seal of a day says just this.
bool is_sealed_so(Database& db, const Day& day, const DayHeld& held) {
  const Reuse row(db, "SELECT count, digest FROM seal WHERE series = ? AND start = ? ORDER BY entry DESC LIMIT 1");
  row->bind(day.series).bind(day.start);
  return row->step() && row->whole(0) == held.count && row->text(1) == held.digest;
}

void put_seal(Database& db, const Seal& seal, std::int64_t series) {
  const Reuse row(db, "INSERT OR IGNORE INTO seal VALUES (?,?,?,?,?)");
  row->bind(series).bind(seal.start).bind(seal.entry).bind(seal.count).bind(std::string_view(seal.digest)).step();
}

void put_sealing(Database& db, std::int64_t entry, Moment upto) {
  const Reuse row(db, "INSERT OR IGNORE INTO sealing VALUES (?,?)");
  row->bind(entry).bind(upto).step();
}

/// The entry that carries the digest over all these seals.
std::int64_t enter(Database& db, const std::vector<Seal>& seals, Moment limit, Moment now) {
  Entry e;
  e.noted = now;
  e.kind = Kind::deed;
  e.what = "sealed";
  e.from = limit;
  e.to = limit;
  std::int64_t readings = 0;
  for (const Seal& s : seals) {
    e.from = std::min(e.from, s.start);
    readings += s.count;
  }
  e.count = static_cast<double>(readings);
  e.subject = digest_of(seals);
  e.said = "what sensors read, sealed by the day";
  std::vector<Entry> one = {std::move(e)};
  add_entries(db, one);
  return one[0].number;
}

/// The entry over just these seals that has none yet, with the moment up to which it sealed.
std::optional<Entry> entry_over(Database& db, const std::string& digest) {
  const Reuse row(db,
                  "SELECT number, happened_to FROM entry WHERE kind = 'deed' AND what = 'sealed' AND subject = ? AND "
                  "number NOT IN (SELECT entry FROM sealing) ORDER BY number LIMIT 1");
  row->bind(std::string_view(digest));
  if (!row->step()) return std::nullopt;
  Entry e;
  e.number = row->whole(0);
  e.to = row->whole(1);
  return e;
}

}  // namespace

void DayDigest::add(const Sample& s) {
  const std::uint64_t words[] = {static_cast<std::uint64_t>(s.at), std::bit_cast<std::uint64_t>(s.value)};
  for (const std::uint64_t word : words)
    for (int shift = 56; shift >= 0; shift -= 8) bytes_ += static_cast<char>((word >> shift) & 0xFF);
  ++count_;
}

DayHeld DayDigest::finish() {
  DayHeld held{count_, sha256(bytes_)};
  bytes_.clear();
  count_ = 0;
  return held;
}

bool is_seal(const Entry& entry) {
  return entry.kind == Kind::deed && entry.what == "sealed";
}

DayHeld day_held(Database& db, std::int64_t series, Moment start) {
  const Reuse rows(db, "SELECT at, value FROM sample WHERE series = ? AND at >= ? AND at < ? ORDER BY at");
  rows->bind(series).bind(start).bind(start + kSealedDay);
  std::vector<Sample> samples;
  while (rows->step()) samples.push_back({rows->whole(0), rows->real(1)});
  return day_of(samples);
}

std::string digest_of(std::vector<Seal> seals) {
  // By names and days: another copy may number its sensors otherwise.
  const auto place = [](const Seal& s) {
    return std::tie(s.name.what, s.name.where, s.name.sensor, s.name.unit, s.name.basis, s.start);
  };
  std::sort(seals.begin(), seals.end(), [&](const Seal& a, const Seal& b) { return place(a) < place(b); });
  std::string all;
  const auto add = [&](const std::string& text) { all += std::to_string(text.size()) + ":" + text + "\n"; };
  for (const Seal& s : seals) {
    for (const std::string* text : {&s.name.what, &s.name.where, &s.name.sensor, &s.name.unit, &s.name.basis})
      add(*text);
    for (const std::string& text : {utc_text(s.start), std::to_string(s.count), s.digest}) add(text);
  }
  return sha256(all);
}

SeriesName name_of_series(Database& db, std::int64_t series) {
  const Reuse row(db, "SELECT what, place, sensor, unit, basis FROM series WHERE number = ?");
  row->bind(series);
  if (!row->step()) return {};
  return {row->text(0), row->text(1), row->text(2), row->text(3), row->text(4)};
}

void note_unsealed(Database& db, std::int64_t series, std::span<const Sample> fresh) {
  const Reuse row(db, "INSERT OR IGNORE INTO unsealed VALUES (?,?)");
  std::optional<Moment> noted;
  for (const Sample& s : fresh) {
    const Moment start = floor_to(s.at, kSealedDay);
    if (noted == start) continue;
    noted = start;
    row->bind(series).bind(start).step();
    row->reset();
  }
}

namespace {

/// Seals these days in one entry; how many readings that were.
std::int64_t seal_those(Database& db, const std::vector<Day>& days, Moment limit, Moment now,
                        std::span<const Fresh> fresh) {
  std::vector<Seal> seals;
  std::vector<std::int64_t> series;
  std::int64_t readings = 0;
  for (const Day& day : days) {
    const auto among = day_among(db, day, fresh);
    const DayHeld held = among ? *among : day_held(db, day.series, day.start);
    const Reuse done(db, "DELETE FROM unsealed WHERE series = ? AND start = ?");
    done->bind(day.series).bind(day.start).step();
    if (is_sealed_so(db, day, held)) continue;
    seals.push_back({0, name_of_series(db, day.series), day.start, held.count, held.digest});
    series.push_back(day.series);
    readings += held.count;
  }
  if (seals.empty()) return 0;
  const std::int64_t entry = enter(db, seals, limit, now);
  put_sealing(db, entry, limit);
  for (std::size_t i = 0; i < seals.size(); ++i) {
    seals[i].entry = entry;
    put_seal(db, seals[i], series[i]);
  }
  return readings;
}

Moment finished_by(Moment now) {
  return floor_to(now - kSealedAfter, kSealedDay);
}

}  // namespace

void seal_days(Database& db, Moment now, std::span<const Fresh> fresh) {
  const Moment limit = finished_by(now);
  if (sealed_up_to(db) != limit) seal_those(db, finished(db, limit), limit, now, fresh);
}

std::variant<std::int64_t, Trouble> seal_all(Store& store, Moment now) {
  return guarded([&] {
    Transaction transaction(store.database());
    const auto sealed =
        seal_those(store.database(), finished(store.database(), Moment{1} << 60), finished_by(now), now, {});
    transaction.commit();
    return sealed;
  });
}

std::variant<std::vector<Seal>, Trouble> all_seals(const Store& store) {
  return guarded([&] {
    Database& db = store.database();
    std::vector<Seal> all;
    // A record of an older format, opened to be read, has no such table.
    if (db.number("SELECT count(*) FROM sqlite_schema WHERE name = 'seal'") == 0) return all;
    Statement rows(db, "SELECT entry, series, start, count, digest FROM seal ORDER BY entry, series, start");
    while (rows.step())
      all.push_back({rows.whole(0), name_of_series(db, rows.whole(1)), rows.whole(2), rows.whole(3), rows.text(4)});
    return all;
  });
}

std::variant<std::int64_t, Trouble> put_seals(Store& store, const std::vector<Seal>& seals) {
  return guarded([&] {
    Database& db = store.database();
    std::map<std::int64_t, std::vector<Seal>> sealings;
    for (const Seal& s : seals) sealings[s.entry].push_back(s);
    Transaction transaction(db);
    std::int64_t put = 0;
    for (auto& [number, all] : sealings) {
      const auto entry = entry_over(db, digest_of(all));
      if (!entry) continue;
      put_sealing(db, entry->number, entry->to);
      for (Seal& s : all) {
        s.entry = entry->number;
        put_seal(db, s, series_for(db, s.name, s.start, s.start));
        ++put;
      }
    }
    transaction.commit();
    return put;
  });
}

}  // namespace leat::record
