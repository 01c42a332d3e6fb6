#include "doors/page/work.h"

#include <fmt/core.h>
#include <sys/stat.h>

#include <algorithm>
#include <ctime>

#include "doors/page/plan_file.h"

namespace leat::doors {
namespace {

constexpr std::size_t kMostWaiting = 24, kMostNotesWaiting = 100, kMostKept = 32, kLargestKept = 2u << 20;

/// When and how long a file was last written, as text; "-" if it is not there.
std::string stamp_of(const std::string& path) {
  struct stat s {};
  if (stat(path.c_str(), &s) != 0) return "-";
  return fmt::format("{}.{}+{}", s.st_mtim.tv_sec, s.st_mtim.tv_nsec, s.st_size);
}

void replace_all(std::string& text, const std::string& what, const std::string& by) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
    text.replace(at, what.size(), by);
}

bool dry(const Question& q) {
  return std::find(q.flags.begin(), q.flags.end(), "--dry-run") != q.flags.end();
}

}  // namespace

Worker worker_of(const Route& route) {
  if (!route.steady) return Worker::record;
  const bool days = route.verb == "ahead" || route.verb == "season" || route.verb == "compare" || route.verb == "carry";
  return days ? Worker::days : Worker::quick;
}

Work::Work(std::string folder, std::string loop, std::string weather)
    : folder_(std::move(folder)), own_(std::move(loop)), loop_(own_), weather_(std::move(weather)) {
  for (const Worker one : {Worker::record, Worker::quick, Worker::days})
    threads_.emplace_back([this, one](std::stop_token stop) { work(stop, one); });
}

Work::~Work() {
  for (std::jthread& thread : threads_) thread.request_stop();
  stop_all();
  wake_.notify_all();
}

std::vector<std::string> Work::arguments_of(const Job& job, const std::string& plan_file) const {
  const Question& q = job.question;
  std::vector<std::string> arguments = {std::string(q.route->verb)};
  arguments.insert(arguments.end(), q.flags.begin(), q.flags.end());
  const bool runs_days = worker_of(*q.route) == Worker::days || (q.route->verb == "night" && q.flags.size() <= 1);
  if (!weather_.empty() && runs_days) arguments.push_back("--weather=" + weather_);
  if (!plan_file.empty() && !q.plan_flag.empty()) arguments.push_back(q.plan_flag + plan_file);
  if (q.route->of_loop && !q.route->loop_flag.empty()) arguments.push_back(std::string(q.route->loop_flag) + job.loop);
  arguments.emplace_back("--");  // what follows is no flag, whatever it looks like
  if (q.route->of_loop && q.route->loop_flag.empty()) arguments.push_back(job.loop);
  if (!plan_file.empty() && q.plan_flag.empty()) arguments.push_back(plan_file);
  arguments.insert(arguments.end(), q.words.begin(), q.words.end());
  return arguments;
}

std::string Work::memory_key(const Job& job) const {
  const Question& q = job.question;
  const std::string loop = folder_ + "/" + job.loop, record = loop.substr(0, loop.rfind('.')) + ".record.db";
  std::string key = fmt::format("{} {} {}", q.route->name, job.loop, std::time(nullptr) / 60);
  for (const std::string& file : {loop, record, record + "-wal", weather_}) key += ' ' + stamp_of(file);
  for (const std::string& flag : q.flags) key += '\0' + flag;
  return key + '\0' + q.plan;
}

Run Work::answer(const Job& job) {
  const Question& q = job.question;
  if (q.plan.empty()) return run_leat(arguments_of(job, ""), folder_, {}, job.stop.get_token());
  const PlanFile plan(q.plan);
  if (!plan.why_not().empty()) {
    Run none;
    none.could_not = plan.why_not();
    return none;
  }
  Run run = run_leat(arguments_of(job, plan.path()), folder_, {}, job.stop.get_token());
  replace_all(run.err, plan.path(), "the plan");
  replace_all(run.out, plan.path(), "the plan");
  return run;
}

std::shared_ptr<Job> Work::next(Worker mine) const {
  std::shared_ptr<Job> found;
  for (const auto& job : waiting_) {
    if (worker_of(*job->question.route) != mine) continue;
    if (job->question.route->writes) return job;  // what is put in goes before what is looked up
    if (!found) found = job;
  }
  return found;
}

std::vector<std::shared_ptr<Job>> Work::same_as(const Job& job) {
  std::vector<std::shared_ptr<Job>> same;
  if (job.question.route->writes) return same;
  std::erase_if(waiting_, [&](const std::shared_ptr<Job>& other) {
    const Question &a = job.question, &b = other->question;
    const bool alike = a.route == b.route && a.flags == b.flags && a.words == b.words && a.plan == b.plan &&
                       job.loop == other->loop && !other->stop.stop_requested();
    if (alike) same.push_back(other);
    return alike;
  });
  return same;
}

void Work::count(const Job& job, const std::string& key) {
  const std::string name(job.question.route->name);
  auto& [n, seconds] = counts_.answered[name];
  ++n;
  seconds += job.run.seconds;
  if (job.run.stopped) ++counts_.stopped;
  const bool begins = name == "new" || name == "example";
  if (begins && job.run.code == 0 && !dry(job.question)) loop_ = job.loop;
  if (job.run.code >= 0) usual_[name] = job.run.seconds;
  if (!key.empty() && (job.run.code == 0 || job.run.code == 3) && job.run.out.size() < kLargestKept) {
    kept_.emplace_front(key, job.run);
    if (kept_.size() > kMostKept) kept_.pop_back();
  }
}

void Work::work(std::stop_token stop, Worker mine) {
  while (true) {
    std::unique_lock lock(mutex_);
    wake_.wait(lock, stop, [&] { return next(mine) != nullptr; });
    const auto job = next(mine);
    if (!job) return;
    std::erase(waiting_, job);
    auto same = same_as(*job);  // all were asked before this run begins: what it says holds for them as well
    job->running = true;
    running_.push_back(job);
    running_.insert(running_.end(), same.begin(), same.end());
    lock.unlock();
    const std::string key = job->question.route->steady ? memory_key(*job) : "";
    if (job->stop.stop_requested())
      job->run.stopped = true;
    else
      job->run = answer(*job);
    lock.lock();
    running_.remove(job);
    for (const auto& other : same) running_.remove(other);
    count(*job, key);
    if (job->run.stopped) {  // only the one who asked first has gone
      waiting_.insert(waiting_.begin(), same.begin(), same.end());
      same.clear();
    }
    counts_.shared += static_cast<long>(same.size());
    lock.unlock();
    job->done();
    for (const auto& other : same) {
      other->run = job->run;
      other->done();
    }
    wake_.notify_all();
  }
}

std::string Work::file_asked(const Route& route) const {
  const std::lock_guard lock(mutex_);
  return route.name == "new" ? own_ : route.name == "example" ? "example.toml" : loop_;
}

std::string Work::loop_path() const {
  const std::lock_guard lock(mutex_);
  return folder_ + "/" + loop_;
}

bool Work::shows_example() const {
  const std::lock_guard lock(mutex_);
  return loop_ != own_;
}

void Work::show_own() {
  const std::lock_guard lock(mutex_);
  loop_ = own_;
}

bool Work::ask(const std::shared_ptr<Job>& job) {
  job->loop = file_asked(*job->question.route);
  const std::string key = job->question.route->steady ? memory_key(*job) : "";
  std::unique_lock lock(mutex_);
  const auto kept = std::find_if(kept_.begin(), kept_.end(), [&](const auto& k) { return k.first == key; });
  if (!key.empty() && kept != kept_.end()) {
    job->run = kept->second;
    ++counts_.from_memory;
    lock.unlock();
    job->done();
    return true;
  }
  // Questions that pile up leave notes their place.
  const bool steady = job->question.route->steady;
  const auto before = std::count_if(waiting_.begin(), waiting_.end(),
                                    [&](const auto& w) { return w->question.route->steady == steady; });
  if (static_cast<std::size_t>(before) >= (steady ? kMostWaiting : kMostNotesWaiting)) {
    ++counts_.refused;
    return false;
  }
  waiting_.push_back(job);
  lock.unlock();
  wake_.notify_all();
  return true;
}

bool Work::stop_those(const std::function<bool(const Job&)>& meant) {
  std::vector<std::shared_ptr<Job>> ended;  // what waits still need not wait for its turn to end
  bool found = false;
  {
    const std::lock_guard lock(mutex_);
    std::erase_if(waiting_, [&](const std::shared_ptr<Job>& job) {
      const bool is = meant(*job);
      if (is) ended.push_back(job);
      return is;
    });
    for (const auto& job : running_)
      if (meant(*job)) found = true, job->stop.request_stop();
    counts_.stopped += static_cast<long>(ended.size());
  }
  for (const auto& job : ended) {
    job->run.stopped = true;
    job->done();
  }
  return found || !ended.empty();
}

bool Work::stop(const std::string& name, const std::string& client) {
  return !name.empty() && stop_those([&](const Job& job) { return job.question.job == name && job.client == client; });
}

void Work::stop_all() {
  const std::lock_guard lock(mutex_);
  for (const auto& job : running_) job->stop.request_stop();
  for (const auto& job : waiting_) job->stop.request_stop();
}

void Work::stop_gone() {
  stop_those([](const Job& job) { return !job.question.route->writes && job.gone && job.gone(); });
}

std::vector<JobShown> Work::shown() const {
  const std::lock_guard lock(mutex_);
  std::vector<JobShown> all;
  const auto add = [&](const auto& jobs) {
    for (const auto& job : jobs) {
      const std::string name(job->question.route->name);
      const auto usual = usual_.find(name);
      const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - job->asked).count();
      all.push_back({job->question.job, name, job->running, s, usual == usual_.end() ? 0.0 : usual->second});
    }
  };
  add(running_);
  add(waiting_);
  return all;
}

WorkCounts Work::counts() const {
  const std::lock_guard lock(mutex_);
  return counts_;
}

}  // namespace leat::doors
