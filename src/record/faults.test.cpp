// Power that fails, disks that fill, folders that may not be written: what was acknowledged is there afterwards.
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <random>
#include <thread>

#include "record/scratch.h"
#include "record/series.h"
#include "record/when.h"

namespace leat::record {
namespace {

using tests::fed;
using tests::opened;
using tests::Scratch;

/// A child process whose work writes into a pipe; it never comes back into the test.
struct Child {
  pid_t process = 0;
  int from = -1;

  explicit Child(const std::function<void(int)>& work) {
    int ends[2];
    if (pipe(ends) != 0) std::abort();
    process = fork();
    if (process == 0) {
      close(ends[0]);
      work(ends[1]);
      _exit(0);
    }
    close(ends[1]);
    from = ends[0];
  }
  /// All that it wrote until its end.
  std::string heard() const {
    std::string all;
    char some[4096];
    for (ssize_t n; (n = ::read(from, some, sizeof some)) > 0;) all.append(some, static_cast<std::size_t>(n));
    return all;
  }
  ~Child() {
    close(from);
    int status = 0;
    waitpid(process, &status, 0);
  }
};

void say(int to, const std::string& text) {
  if (write(to, text.data(), text.size()) < 0) _exit(1);
}

/// Notes without end, with a sensor's readings between, and says each number, or "s" of a reading, once it is
/// acknowledged.
void note_until_killed(const std::string& path, int to) {
  auto store = Store::open(path);
  if (std::holds_alternative<Trouble>(store)) _exit(1);
  const Moment start =
      std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch())
          .count();
  for (int i = 0;; ++i) {
    std::vector<Entry> some = {fed(1.0), fed(2.0)};
    if (std::get<Store>(store).append(some)) _exit(1);
    say(to, fmt::format("{}\n", some.back().number));
    // Each round in moments of its own.
    const auto put = put_samples(std::get<Store>(store), {"temperature", "tank.a", "", "degC", ""},
                                 {{start * 1000 + i, 9.5}}, start);
    if (std::holds_alternative<Trouble>(put)) _exit(1);
    say(to, "s");
  }
}

/// The last number that was said whole; an "s" may stand in front of it.
std::int64_t last_whole_line(const std::string& heard) {
  const std::size_t end = heard.rfind('\n');
  if (end == std::string::npos) return 0;
  const std::size_t start = end == 0 ? std::string::npos : heard.rfind('\n', end - 1);
  std::string line = heard.substr(start == std::string::npos ? 0 : start + 1, end);
  while (line.starts_with('s')) line.erase(0, 1);
  return std::stoll(line);
}

/// Rounds that a longer run asks for: LEAT_KILL_ROUNDS, and the seed of their moments: LEAT_KILL_SEED.
int asked(const char* name, int usual) {
  const char* text = std::getenv(name);
  return text ? std::atoi(text) : usual;
}

TEST(Faults, AKilledProgramLosesNothingAcknowledged) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  std::mt19937 random(static_cast<unsigned>(asked("LEAT_KILL_SEED", 1)));
  // From the first breath of a process, before it has opened the file, to well within its writing.
  std::exponential_distribution<double> wait(1.0 / 12.0);
  std::int64_t acknowledged = 0, sensed = 0;
  const int rounds = asked("LEAT_KILL_ROUNDS", 12);
  for (int round = 0; round < rounds; ++round) {
    {
      const Child child([&](int to) { note_until_killed(path, to); });
      std::this_thread::sleep_for(std::chrono::microseconds(static_cast<int>(1e3 * std::min(80.0, wait(random)))));
      kill(child.process, SIGKILL);
      const std::string heard = child.heard();
      acknowledged = std::max(acknowledged, last_whole_line(heard));
      sensed += static_cast<std::int64_t>(std::count(heard.begin(), heard.end(), 's'));
    }
    if (round % 10 != 9 && round + 1 < rounds && round > 12) continue;  // a look at all of it takes longer each time
    Store store = opened(path);
    const auto v = std::get<Verified>(store.verify());
    ASSERT_TRUE(v.faults.empty()) << "round " << round << ": " << v.faults[0];
    const auto series = std::get<std::vector<Series>>(all_series(store));
    ASSERT_GE(v.entries, acknowledged) << "round " << round;
    ASSERT_EQ((v.entries - std::ssize(series)) % 2, 0) << "round " << round << ": half of a note was kept";
    ASSERT_GE(series.empty() ? 0 : series[0].count, sensed) << "round " << round;
  }
  EXPECT_GT(acknowledged, 0);
  EXPECT_GT(sensed, 0);
  fmt::print(stderr, "# {} kills: {} entries and {} readings acknowledged, all there, the chain and the sums hold\n",
             rounds, acknowledged, sensed);
}

TEST(Faults, AFullDiskSaysSoAndKeepsWhatWasThere) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  { Store made = opened(path); }
  const Child child([&](int to) {
    // Files of this process may not grow further: what a full disk looks like to it.
    signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{400'000, 400'000};
    setrlimit(RLIMIT_FSIZE, &limit);
    auto store = Store::open(path);
    if (std::holds_alternative<Trouble>(store)) return say(to, std::get<Trouble>(store).said);
    for (int i = 0; i < 100'000; ++i) {
      std::vector<Entry> some = {fed(i)};
      some[0].said = std::string(2000, 'x');
      if (const auto trouble = std::get<Store>(store).append(some)) return say(to, trouble->said);
      say(to, fmt::format("{}\n", some[0].number));
    }
  });
  const std::string heard = child.heard();
  EXPECT_NE(heard.find("nothing of this was kept, all that was noted before is"), std::string::npos)
      << heard.substr(heard.size() - std::min<std::size_t>(heard.size(), 300));
  Store store = opened(path);
  const auto v = std::get<Verified>(store.verify());
  EXPECT_TRUE(v.faults.empty()) << v.faults[0];
  EXPECT_EQ(v.entries, last_whole_line(heard));
  EXPECT_GT(v.entries, 10);
  std::vector<Entry> more = {fed(1.0)};
  EXPECT_FALSE(store.append(more)) << "with room again it goes on";
}

/// In a process that may not write there, even when the tests are run by root.
std::string said_without_rights(const std::function<void(int)>& work) {
  const Child child([&](int to) {
    if (getuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) _exit(1);
    work(to);
  });
  return child.heard();
}

TEST(Faults, AFolderThatMayNotBeWrittenCanStillBeRead) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  {
    Store store = opened(path);
    std::vector<Entry> some = {fed(1.0), fed(2.0)};
    ASSERT_FALSE(store.append(some));
  }
  chmod(path.c_str(), 0444);
  chmod(scratch.folder().c_str(), 0555);
  EXPECT_EQ(said_without_rights([&](int to) {
              const auto store = Store::open_to_read(path);
              if (std::holds_alternative<Trouble>(store)) return say(to, std::get<Trouble>(store).said);
              say(to, fmt::format("{} entries", std::get<std::int64_t>(std::get<Store>(store).size())));
            }),
            "2 entries");
  const std::string said = said_without_rights([&](int to) {
    auto store = Store::open(path);
    if (std::holds_alternative<Trouble>(store)) return say(to, std::get<Trouble>(store).said);
    std::vector<Entry> some = {fed(3.0)};
    const auto trouble = std::get<Store>(store).append(some);
    say(to, trouble ? trouble->said : "kept");
  });
  EXPECT_NE(said.find(path), std::string::npos) << said;
  EXPECT_NE(said.find("may be read but not written"), std::string::npos) << said;
  const std::string fresh = said_without_rights([&](int to) {
    const auto store = Store::open(scratch.file("new.db"));
    say(to, std::holds_alternative<Trouble>(store) ? std::get<Trouble>(store).said : "kept");
  });
  EXPECT_NE(fresh.find("the folder may not be written"), std::string::npos) << fresh;
}

/// In a process with a disk of its own of so many bytes, in memory; "skip" where this computer does not allow that.
std::string said_on_a_small_disk(const std::string& folder, const char* size, const std::function<void(int)>& work) {
  const Child child([&](int to) {
    const bool root = getuid() == 0;
    if (unshare(root ? CLONE_NEWNS : CLONE_NEWNS | CLONE_NEWUSER) != 0 ||
        mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
        mount("leat", folder.c_str(), "tmpfs", 0, size) != 0)
      return say(to, "skip");
    work(to);
  });
  return child.heard();
}

TEST(Faults, ADiskThatIsReallyFullKeepsWhatWasThereAndCanBeRead) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  const std::string heard = said_on_a_small_disk(scratch.folder(), "size=1m", [&](int to) {
    std::int64_t kept = 0;
    std::string refused;
    {
      auto store = Store::open(path);
      for (int i = 0; i < 100'000 && refused.empty(); ++i) {
        std::vector<Entry> some = {fed(i)};
        some[0].said = std::string(2000, 'x');
        if (const auto trouble = std::get<Store>(store).append(some)) refused = trouble->said;
        if (refused.empty()) kept = some[0].number;
      }
    }
    // The rest of the disk, to the last byte.
    for (std::size_t block : {4096u, 1u}) {
      std::ofstream rest(scratch.file("rest"), std::ios::app | std::ios::binary);
      while (rest << std::string(block, 'r') << std::flush) {
      }
    }
    const auto again = Store::open_to_read(path);
    if (std::holds_alternative<Trouble>(again)) return say(to, std::get<Trouble>(again).said);
    const auto v = std::get<Verified>(std::get<Store>(again).verify());
    const auto listed = std::get<Store>(again).entries({.latest = 5});
    std::filesystem::remove(scratch.file("rest"));
    say(to, fmt::format("{} kept, {} there, {} faults, {} listed; {}", kept, v.entries, v.faults.size(),
                        std::holds_alternative<std::vector<Entry>>(listed) ? 5 : 0, refused));
  });
  if (heard == "skip") GTEST_SKIP() << "this computer lets no test mount a disk in memory";
  const std::int64_t kept = std::atoll(heard.c_str());
  EXPECT_GT(kept, 10) << heard;
  EXPECT_TRUE(heard.starts_with(fmt::format("{0} kept, {0} there, 0 faults, 5 listed; ", kept))) << heard;
  EXPECT_NE(heard.find("no room left on the disk; nothing of this was kept, all that was noted before is"),
            std::string::npos)
      << heard;
}

TEST(Faults, AClockThatStepsBackLosesNothingAndKeepsTheOrder) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  for (const Moment noted :
       {Moment{1'764'056'460'000}, Moment{1'764'052'860'000}, Moment{1'000}, Moment{1'764'060'060'000}}) {
    std::vector<Entry> some = {fed(1.0)};
    some[0].noted = some[0].from = some[0].to = noted;
    ASSERT_FALSE(store.append(some));
  }
  const auto v = std::get<Verified>(store.verify());
  EXPECT_TRUE(v.faults.empty());
  EXPECT_EQ(v.entries, 4);
  const auto listed = std::get<std::vector<Entry>>(store.entries({}));
  std::vector<std::int64_t> order;
  for (const Entry& e : listed) order.push_back(e.number);
  EXPECT_EQ(order, (std::vector<std::int64_t>{3, 2, 1, 4})) << "by the time they say; the numbers say how they came";
  const SeriesName probe{"temperature", "", "", "degC", ""};
  put_samples(store, probe, {{1'764'056'460'000, 9.5}}, 1);
  put_samples(store, probe, {{1'764'052'860'000, 9.4}}, 1);
  EXPECT_EQ(std::get<std::vector<Series>>(all_series(store))[0].count, 2);
}

TEST(Faults, TheHourThatComesTwiceAndTheOneThatIsNotAreTold) {
  const Clock london = std::get<Clock>(Clock::named("Europe/London"));
  // 2026-10-25: 01:30 comes at 00:30Z and at 01:30Z. Two notes by the clock an hour apart stay an hour apart.
  const Moment first = 1'792'888'200'000, second = first + 3'600'000;
  EXPECT_EQ(utc_text(first), "2026-10-25T00:30:00.000Z");
  EXPECT_EQ(span_text(london, {first, first}), span_text(london, {second, second}));
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  for (const Moment at : {second, first}) {
    std::vector<Entry> some = {fed(1.0)};
    some[0].noted = some[0].from = some[0].to = at;
    ASSERT_FALSE(store.append(some));
  }
  const auto listed = std::get<std::vector<Entry>>(store.entries({}));
  EXPECT_EQ(listed[0].from, first);
  EXPECT_EQ(listed[1].from, second);
  // Typed, it is the first of the two; one that the clock jumps over is where it lands.
  EXPECT_EQ(std::get<Span>(read_when("2026-10-25 01:30", london, second)).from, first);
  EXPECT_EQ(utc_text(std::get<Span>(read_when("2026-03-29 01:30", london, second)).from), "2026-03-29T01:00:00.000Z");
}

}  // namespace
}  // namespace leat::record
