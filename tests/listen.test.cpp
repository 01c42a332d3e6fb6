// leat listen under SIGKILL: a real broker on the loopback, messages of QoS 1, and no reading lost that the broker no
// longer holds. Skipped, and counted as skipped, where there is no broker.
#include <mosquitto.h>

#include <atomic>
#include <random>

#include "doors/listen/broker.h"
#include "record/series.h"

namespace leat {
namespace {

using namespace std::chrono_literals;
using doors::tests::Broker, doors::tests::free_port, doors::tests::program, doors::tests::Scratch;

constexpr std::int64_t kFirst = 1'764'000'000'000;

pid_t listen_process(const Scratch& scratch, const std::vector<std::string>& more) {
  const pid_t process = fork();
  if (process != 0) return process;
  const std::string loop = scratch.file("loop.toml"), said = scratch.file("said.txt");
  if (!std::freopen(said.c_str(), "a", stdout)) _exit(127);
  std::vector<const char*> words = {LEAT_BINARY, "listen", loop.c_str()};
  for (const std::string& word : more) words.push_back(word.c_str());
  words.push_back(nullptr);
  ::execv(LEAT_BINARY, const_cast<char* const*>(words.data()));
  _exit(127);
}

/// Sends numbered readings, a few hundred a second, until it is told to stop; `sent` are those that the broker has
/// taken.
void send_readings(int port, const std::atomic<bool>& stop, std::atomic<int>& sent) {
  mosquitto* m = mosquitto_new("sensor", true, &sent);
  mosquitto_publish_callback_set(m, [](mosquitto*, void* count, int) { ++*static_cast<std::atomic<int>*>(count); });
  mosquitto_connect(m, "127.0.0.1", port, 60);
  int next = 0;
  while (!stop || sent < next) {
    if (!stop && next - sent < 20) {
      const std::string text = fmt::format(R"({{"value": {}, "time": {}}})", next, kFirst + 1000 * next);
      mosquitto_publish(m, nullptr, "yard/temp", static_cast<int>(text.size()), text.data(), 1, false);
      ++next;
      std::this_thread::sleep_for(2ms);
    }
    mosquitto_loop(m, 1, 1);
  }
  mosquitto_disconnect(m);
  mosquitto_destroy(m);
}

std::size_t times_said(const std::string& all, const std::string& word) {
  std::size_t count = 0;
  for (std::size_t at = all.find(word); at != std::string::npos; at = all.find(word, at + 1)) ++count;
  return count;
}

/// Starts it and waits until it is connected once more.
pid_t listening(const Scratch& scratch) {
  const std::size_t before = times_said(scratch.read("said.txt"), "connected to");
  const pid_t process = listen_process(scratch, {});
  for (int i = 0; i < 500 && times_said(scratch.read("said.txt"), "connected to") == before; ++i)
    std::this_thread::sleep_for(10ms);
  return process;
}

/// How many of so many numbered readings the record lacks.
int missing(const Scratch& scratch, int count) {
  const auto store = record::Store::open_to_read(scratch.file("loop.record.db"));
  const auto held = record::samples_of(std::get<record::Store>(store), 1, kFirst, kFirst + 1000LL * count);
  std::vector<bool> found(static_cast<std::size_t>(count), false);
  for (const record::Sample& s : std::get<std::vector<record::Sample>>(held)) {
    EXPECT_EQ(s.at, kFirst + 1000 * static_cast<std::int64_t>(s.value));
    found.at(static_cast<std::size_t>(s.value)) = true;
  }
  return static_cast<int>(std::count(found.begin(), found.end(), false));
}

TEST(Listen, KilledAtAnyMomentItLosesNothingThatTheBrokerGaveAway) {
  if (program("mosquitto").empty()) GTEST_SKIP() << "no broker (mosquitto) on this computer";
  mosquitto_lib_init();
  const Scratch scratch;
  const int port = free_port(),
            rounds = std::getenv("LEAT_KILL_ROUNDS") ? std::atoi(std::getenv("LEAT_KILL_ROUNDS")) : 12;
  const Broker broker(scratch, port, "allow_anonymous true\nmax_queued_messages 0\n");
  scratch.write("loop.toml", "[tank.nursery]\narea = \"1 m2\"\nfloor = \"0 m\"\nrim = \"1 m\"\n");
  scratch.write(
      "loop.listen.toml",
      fmt::format("[broker]\naddress = \"127.0.0.1\"\nport = {}\n[topic.\"yard/temp\"]\nwhat = \"temperature\"\n"
                  "where = \"tank.nursery\"\nunit = \"degC\"\nlate = true\n",
                  port));
  pid_t process = listening(scratch);
  std::atomic<bool> stop = false;
  std::atomic<int> sent = 0;
  std::thread sensor(send_readings, port, std::cref(stop), std::ref(sent));
  std::mt19937 random(static_cast<unsigned>(std::time(nullptr)));
  for (int round = 0; round < rounds; ++round) {
    std::this_thread::sleep_for(std::chrono::microseconds(20'000 + random() % 150'000));
    ASSERT_EQ(::kill(process, SIGKILL), 0);
    ::waitpid(process, nullptr, 0);
    process = listening(scratch);
  }
  stop = true;
  sensor.join();
  const int all = sent;
  // What the broker still holds comes now: until nothing is missing, or for half a minute.
  int lost = all;
  for (int i = 0; i < 300 && lost > 0; ++i, std::this_thread::sleep_for(100ms)) lost = missing(scratch, all);
  ::kill(process, SIGTERM);
  ::waitpid(process, nullptr, 0);
  fmt::print("# {} kills, {} messages sent, {} missing\n", rounds, all, lost);
  EXPECT_GT(all, rounds);
  EXPECT_EQ(lost, 0);
}

}  // namespace
}  // namespace leat
