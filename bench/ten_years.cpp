// Ten years of daily notes and ten million readings of two sensors: how long each verb that reads them takes, as a
// process of its own, warm. Each must end with exit code 0 (or 3: an answer that says what it lacks).
// Usage: ten_years FOLDER LEAT LOOP.toml    (the loop has tank.nursery)
#include <fmt/core.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>

#include "record/pyramid.h"

namespace {

using namespace leat::record;

constexpr Moment kFirst = 1'448'409'600'000;  // 2015-11-25T00:00Z
constexpr Moment kMinute = 60'000, kDay = 86'400'000;
constexpr int kDays = 3653, kReadings = 5'000'000;  // of each of two sensors

double ms_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
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

Entry entry(Moment at, Kind kind, const char* what, double amount, const char* unit, const char* basis = "") {
  Entry e;
  e.noted = e.from = e.to = at;
  e.kind = kind;
  e.what = what;
  e.where = "tank.nursery";
  e.amount = {amount, amount, unit, basis, false};
  e.said = what;
  return e;
}

double season(int day) {
  return 11.0 + 6.0 * std::sin(day * 2.0 * 3.14159265 / 365.25);
}

void note_day(std::vector<Entry>& all, int day) {
  const Moment morning = kFirst + day * kDay + 8 * 3'600'000, evening = morning + 9 * 3'600'000;
  const Kind read = Kind::reading;
  all.push_back(entry(morning, Kind::deed, "fed", 50 + day % 20, "g"));
  for (const char* which : {"min", "max"}) {
    all.push_back(entry(morning, read, "temperature", season(day) + (which[1] == 'i' ? -1.0 : 1.0), "degC"));
    all.back().extreme = which;
    all.back().since = morning - kDay;
  }
  if (day % 7 == 2) {
    all.push_back(entry(morning, read, "pH", 6.8, ""));
    all.push_back(entry(morning, read, "ammonia", 0.25, "mg/L", "N"));
    all.push_back(entry(morning, read, "nitrite", 0.1, "mg/L", "N"));
    all.push_back(entry(morning, read, "nitrate", 20 + day % 11, "mg/L", "N"));
    all.push_back(entry(morning, read, "alkalinity", 60, "mg/L", "CaCO3"));
  }
  all.push_back(entry(evening, Kind::deed, "topped_up", 20, "L"));
  all.push_back(entry(evening, Kind::deed, "fed", 40 + day % 20, "g"));
}

void fill(const std::string& path, const std::string& description) {
  Store store = good(Store::open(path));
  std::vector<Entry> all = {entry(kFirst, Kind::chapter, "begun", 0, "")};
  all[0].amount = {};
  all[0].description = description;
  for (int day = 0; day < kDays; ++day) note_day(all, day);
  if (const auto trouble = store.append(all)) wrong(trouble->said);
  const Moment first = kFirst + kDays * kDay - kReadings * kMinute;
  for (const bool oxygen : {false, true}) {
    std::vector<Sample> samples;
    for (int i = 0; i < kReadings; ++i) {
      const Moment at = first + i * kMinute;
      const double warm = season(static_cast<int>((at - kFirst) / kDay)) + std::sin(i * 4.3633e-3);
      samples.push_back({at, std::round(10.0 * (oxygen ? 14.0 - 0.3 * warm : warm)) / 10.0});
    }
    const SeriesName name{oxygen ? "dissolved_oxygen" : "temperature", "tank.nursery", "probe",
                          oxygen ? "mg/L" : "degC", ""};
    if (good(put_samples(store, name, std::move(samples), kFirst + kDays * kDay)).fresh != kReadings) wrong("the readings");
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) {
    fmt::print(stderr, "usage: ten_years FOLDER LEAT LOOP.toml\n");
    return 2;
  }
  const std::filesystem::path folder = std::filesystem::path(argv[1]) / "leat-ten-years";
  std::filesystem::create_directories(folder);
  const std::string loop = (folder / "loop.toml").string(), path = (folder / "loop.record.db").string();
  std::filesystem::copy_file(argv[3], loop, std::filesystem::copy_options::overwrite_existing);
  std::ostringstream text;
  text << std::ifstream(loop).rdbuf();
  if (!std::filesystem::exists(path)) fmt::print("put in: {:.0f} ms\n", ms_of([&] { fill(path, text.str()); }));
  const std::string now = " --now 2025-11-24T20:00";
  for (const char* verb : {"record LOOP", "record LOOP --since 2025-11-01 --what fed", "record LOOP --sensors",
                           "record LOOP --what temperature --since 2024-11-24 --points 1000",
                           "record LOOP --what ammonia --all", "note LOOP --dry-run fed 60 g", "round LOOP", "odd LOOP",
                           "week LOOP", "feed LOOP", "helped LOOP", "trial LOOP", "cause LOOP", "night LOOP"}) {
    std::string command = verb;
    command.replace(command.find("LOOP"), 4, loop);
    command = fmt::format("{} {}{} >{}/said.txt 2>&1", argv[2], command, now, folder.string());
    int code = 0;
    std::vector<double> times;
    for (int i = 0; i < 3; ++i) times.push_back(ms_of([&] { code = std::system(command.c_str()); }));
    std::sort(times.begin(), times.end());
    fmt::print("{:>7.0f} ms  leat {}   (exit code {})\n", times[1], verb, WEXITSTATUS(code));
  }
  return 0;
}
