// Power that fails, disks that fill, folders that may not be written: what was acknowledged is there afterwards.
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <functional>
#include <thread>

#include "record/scratch.h"

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

/// Notes without end, and says each number once it is acknowledged.
void note_until_killed(const std::string& path, int to) {
  auto store = Store::open(path);
  if (std::holds_alternative<Trouble>(store)) _exit(1);
  for (;;) {
    std::vector<Entry> some = {fed(1.0), fed(2.0)};
    if (std::get<Store>(store).append(some)) _exit(1);
    say(to, fmt::format("{}\n", some.back().number));
  }
}

std::int64_t last_whole_line(const std::string& heard) {
  const std::size_t end = heard.rfind('\n');
  if (end == std::string::npos) return 0;
  const std::size_t start = heard.rfind('\n', end - 1);
  return std::stoll(heard.substr(start == std::string::npos ? 0 : start + 1, end));
}

TEST(Faults, AKilledProgramLosesNothingAcknowledged) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  std::int64_t acknowledged = 0;
  for (int round = 0; round < 12; ++round) {
    {
      const Child child([&](int to) { note_until_killed(path, to); });
      // Killed at another moment each time, sometimes while the file is made.
      std::this_thread::sleep_for(std::chrono::microseconds(500 + 7919 * round));
      kill(child.process, SIGKILL);
      acknowledged = std::max(acknowledged, last_whole_line(child.heard()));
    }
    Store store = opened(path);
    const auto v = std::get<Verified>(store.verify());
    EXPECT_TRUE(v.faults.empty()) << v.faults[0];
    EXPECT_GE(v.entries, acknowledged);
    EXPECT_EQ(v.entries % 2, 0) << "half of a note was kept";
  }
  EXPECT_GT(acknowledged, 0);
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

}  // namespace
}  // namespace leat::record
