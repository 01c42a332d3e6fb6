// Questions wait here for one of three workers, one for those that only touch the record, one for those that run days,
// which use all cores, and one for the quick rest: neither a note nor a drawing waits behind a season that is run. What
// was answered is kept for a while.
#pragma once

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <stop_token>
#include <thread>

#include "doors/page/child.h"
#include "doors/page/routes.h"

namespace leat::doors {

/// Who answers a question.
enum class Worker { record, quick, days };
Worker worker_of(const Route& route);

/// A question on its way. `done` is called once, from a worker.
struct Job {
  Question question;
  std::string loop;    ///< the loop's file that it is asked of
  std::string client;  ///< who asked; only the same may stop it
  std::chrono::steady_clock::time_point asked = std::chrono::steady_clock::now();
  bool running = false;
  std::stop_source stop{};
  Run run{};
  std::function<void()> done{};
  std::function<bool()> gone{};  ///< whether who asked does not wait any more
};

struct JobShown {
  std::string job, name;
  bool running = false;
  double seconds = 0.0, usual_s = 0.0;  ///< since it was asked; what this question took last, 0 if not known
};

struct WorkCounts {
  std::map<std::string, std::pair<long, double>> answered;  ///< by question: how many, and seconds in all
  long refused = 0, stopped = 0, from_memory = 0, shared = 0;
};

class Work {
  std::string folder_, own_, loop_, weather_;  ///< own_: the grower's; loop_: what is shown, which may be the example
  mutable std::mutex mutex_;
  std::condition_variable_any wake_;
  std::deque<std::shared_ptr<Job>> waiting_;
  std::list<std::shared_ptr<Job>> running_;
  std::list<std::pair<std::string, Run>> kept_;
  std::map<std::string, double> usual_;
  WorkCounts counts_;
  std::vector<std::jthread> threads_;

  void work(std::stop_token stop, Worker mine);
  std::shared_ptr<Job> next(Worker mine) const;
  /// Takes out of those that wait all that ask the very same, nothing that writes.
  std::vector<std::shared_ptr<Job>> same_as(const Job& job);
  bool stop_those(const std::function<bool(const Job&)>& meant);
  void count(const Job& job, const std::string& key);
  Run answer(const Job& job);
  std::vector<std::string> arguments_of(const Job& job, const std::string& plan_file) const;
  std::string memory_key(const Job& job) const;
  std::string file_asked(const Route& route) const;

 public:
  /// `loop` is a file within `folder`; `weather` the path of a daily record, or "".
  Work(std::string folder, std::string loop, std::string weather);
  ~Work();
  /// False when too many wait already.
  bool ask(const std::shared_ptr<Job>& job);
  /// Stops what that client asked under that name. False if there is no such job.
  bool stop(const std::string& name, const std::string& client);
  void stop_all();
  /// Stops what nobody waits for any more.
  void stop_gone();
  std::vector<JobShown> shown() const;
  WorkCounts counts() const;
  std::string loop_path() const;
  /// Whether the example is shown in the place of the grower's own loop.
  bool shows_example() const;
  /// Shows the grower's own loop again.
  void show_own();
};

}  // namespace leat::doors
