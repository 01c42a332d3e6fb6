// A year of readings, one a minute, drawn at 1,000 points: from the sums that are kept, beside the same stretches
// summed by SQLite over an index that covers the question. Both answers are compared, number by number, before a time
// is printed. Usage: year_of_minutes FOLDER
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <functional>

#include "record/pyramid.h"

namespace {

using namespace leat::record;

constexpr Moment kFirst = 1'704'067'200'000, kMinute = 60'000;
constexpr int kMinutes = 366 * 1440;  // 2024
constexpr std::size_t kPoints = 1000;

double ms_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

[[noreturn]] void wrong(const std::string& what) {
  fmt::print(stderr, "wrong: {}\n", what);
  std::exit(1);
}

template <class T>
T good(std::variant<T, Trouble> made) {
  if (const auto* trouble = std::get_if<Trouble>(&made)) wrong(trouble->said);
  return std::move(std::get<T>(made));
}

std::vector<Sample> year() {
  std::vector<Sample> all;
  for (int i = 0; i < kMinutes; ++i)
    all.push_back({kFirst + i * kMinute,
                   std::round(120.0 + 60.0 * std::sin(i * 1.195e-5) + 15.0 * std::sin(i * 4.3633e-3) + i % 7) / 10.0});
  return all;
}

/// The peer: a plain table with an index that holds all that is asked.
void fill(Database& db, const std::vector<Sample>& samples) {
  db.run("PRAGMA journal_mode = WAL");
  db.run("CREATE TABLE reading (series INTEGER NOT NULL, at INTEGER NOT NULL, value REAL NOT NULL)");
  Transaction transaction(db);
  Statement row(db, "INSERT INTO reading VALUES (1,?,?)");
  for (const Sample& s : samples) {
    row.bind(s.at).bind(s.value).step();
    row.reset();
  }
  db.run("CREATE INDEX reading_all ON reading (series, at, value)");
  db.run("ANALYZE");
  transaction.commit();
}

std::vector<Summary> by_index(Statement& rows, Moment from, Moment to, Moment width) {
  rows.bind(width).bind(from).bind(to);
  std::vector<Summary> all;
  while (rows.step()) {
    const Moment start = rows.whole(0) * width;
    all.push_back({start, start + width, rows.whole(1), rows.real(2), rows.real(3), rows.real(4), 0.0});
  }
  rows.reset();
  return all;
}

void compare(const std::vector<Summary>& a, const std::vector<Summary>& b) {
  if (a.size() != b.size()) wrong(fmt::format("{} points and {}", a.size(), b.size()));
  for (std::size_t i = 0; i < a.size(); ++i)
    if (a[i].from != b[i].from || a[i].count != b[i].count || a[i].low != b[i].low || a[i].high != b[i].high ||
        std::abs(a[i].sum - b[i].sum) > 1e-9 * std::abs(a[i].sum))
      wrong(fmt::format("point {}", i));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "usage: year_of_minutes FOLDER\n");
    return 2;
  }
  const std::filesystem::path folder = std::filesystem::path(argv[1]) / "leat-year-of-minutes";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  {
    const auto samples = year();
    Store store = good(Store::open((folder / "loop.record.db").string()));
    const double put = ms_of([&] {
      good(put_samples(store, {"temperature", "tank.a", "probe", "degC", ""}, samples, kFirst + kMinutes * kMinute));
    });
    Database peer((folder / "peer.db").string(), Access::create);
    const double filled = ms_of([&] { fill(peer, samples); });
    const Moment to = kFirst + kMinutes * kMinute;
    Statement rows(peer,
                   "SELECT at / ?1 AS stretch, count(*), min(value), max(value), sum(value) FROM reading WHERE series "
                   "= 1 AND at >= ?2 AND at < ?3 GROUP BY stretch");
    std::vector<double> ours, theirs;
    std::vector<Summary> chart, wanted;
    for (int i = 0; i < 25; ++i) {
      ours.push_back(ms_of([&] { chart = good(chart_of(store, 1, kFirst, to, kPoints)); }));
      const Moment width = chart.at(0).to - chart[0].from;
      theirs.push_back(ms_of([&] { wanted = by_index(rows, kFirst, to, width); }));
      compare(chart, wanted);
    }
    if (chart.size() < kPoints) wrong("too few points");
    fmt::print(
        "{} readings, {} points, count, low, high and sum of each, the same from both\n"
        "from the sums kept       {:9.3f} ms\nover a covering index    {:9.3f} ms\nratio                    {:9.0f}\n"
        "put in at once: {:.0f} ms with the sums, {:.0f} ms for the plain table and its index\n",
        samples.size(), chart.size(), median(ours), median(theirs), median(theirs) / median(ours), put, filled);
  }
  std::filesystem::remove_all(folder);
  return 0;
}
