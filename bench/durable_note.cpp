// What a note costs that is on the disk before it is said back, beside the least that any program could do: append the
// same bytes to a file and wait for the disk. Then three years of notes: put in, listed, looked at. Checks its own
// answer: every entry is there and the chain holds. Usage: durable_note FOLDER   (on the disk that is meant)
#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <functional>

#include "record/store.h"

namespace {

using namespace leat;
using record::Entry;
using record::Store;

constexpr int kNotes = 2000;  // the log is begun anew after some 500, as it is in a long session
constexpr int kDays = 3 * 365, kADay = 12;
constexpr record::Moment kFirst = 1'700'000'000'000;

double ms_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

double processor_ms() {
  timespec t{};
  ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
}

double median(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

Entry fed(int i) {
  Entry e;
  e.noted = e.from = e.to = kFirst + record::Moment{i} * (86'400'000 / kADay);
  e.kind = record::Kind::deed;
  e.what = i % 2 ? "fed" : "temperature";
  e.where = "tank.nursery";
  e.amount = {60.0 + i % 7, 60.0 + i % 7, "g", "", false};
  e.said = "fed 60 g";
  return e;
}

std::string bytes_of(const Entry& e) {
  std::string all;
  for (const auto& field : record::fields_of(e)) all += field.second + ",";
  return all + "\n";
}

[[noreturn]] void wrong(const std::string& what) {
  fmt::print(stderr, "wrong: {}\n", what);
  std::exit(1);
}

template <class T>
T good(std::variant<T, record::Trouble> made) {
  if (const auto* trouble = std::get_if<record::Trouble>(&made)) wrong(trouble->said);
  return std::move(std::get<T>(made));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "usage: durable_note FOLDER\n");
    return 2;
  }
  const std::filesystem::path folder = std::filesystem::path(argv[1]) / "leat-durable-note";
  std::filesystem::create_directories(folder);
  const std::string path = (folder / "loop.record.db").string(), log = (folder / "raw.log").string();
  std::filesystem::remove(path);
  std::filesystem::remove(log);

  std::vector<double> kept, raw, busy;
  const int file = ::open(log.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0644);
  {
    Store store = good(Store::open(path));
    // Turn about, so that a busy disk is busy for both.
    for (int i = 0; i < kNotes; ++i) {
      std::vector<Entry> one = {fed(i)};
      const std::string bytes = bytes_of(one[0]);
      const double before = processor_ms();
      kept.push_back(ms_of([&] {
        if (const auto trouble = store.append(one)) wrong(trouble->said);
      }));
      busy.push_back(processor_ms() - before);
      raw.push_back(ms_of([&] {
        if (::write(file, bytes.data(), bytes.size()) < 0 || ::fdatasync(file) != 0) wrong("the raw file");
      }));
    }
    std::vector<Entry> years;
    for (int i = kNotes; i < kDays * kADay; ++i) years.push_back(fed(i));
    const double put = ms_of([&] {
      if (const auto trouble = store.append(years)) wrong(trouble->said);
    });
    std::size_t week = 0;
    const double listed =
        ms_of([&] { week = good(store.entries({.since = years.back().from - 7 * 86'400'000, .what = "fed"})).size(); });
    record::Verified v;
    const double looked = ms_of([&] { v = good(store.verify()); });
    if (v.entries != kDays * kADay || !v.faults.empty()) wrong("the record");
    if (week != 7 * kADay / 2 + 1) wrong(fmt::format("the week has {} meals", week));
    fmt::print(
        "one note, on the disk      {:8.3f} ms, {:.3f} ms of it the processor's\nraw append and fdatasync   {:8.3f} "
        "ms\nratio                      {:8.2f}\n",
        median(kept), median(busy), median(raw), median(kept) / median(raw));
    const std::size_t part = 500;
    for (std::size_t i = 0; i + part <= kept.size(); i += part) {
      const auto some = [&](const std::vector<double>& all) {
        return median(
            {all.begin() + static_cast<std::ptrdiff_t>(i), all.begin() + static_cast<std::ptrdiff_t>(i + part)});
      };
      fmt::print("notes {:4} to {:4}         {:8.3f} ms, raw {:.3f} ms\n", i + 1, i + part, some(kept), some(raw));
    }
    fmt::print(
        "three years, {} entries: put in at once {:.0f} ms, a week's meals listed {:.1f} ms, looked at {:.0f} ms\n",
        v.entries, put, listed, looked);
  }
  ::close(file);
  std::filesystem::remove_all(folder);
  return 0;
}
