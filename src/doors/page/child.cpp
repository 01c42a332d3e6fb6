#include "doors/page/child.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <cstring>

extern char** environ;

namespace leat::doors {
namespace {

using Time = std::chrono::steady_clock;

struct Pipe {
  int read = -1, write = -1;
  Pipe() {
    int ends[2];
    if (pipe2(ends, O_CLOEXEC) == 0) read = ends[0], write = ends[1];
  }
  Pipe(const Pipe&) = delete;
  Pipe& operator=(const Pipe&) = delete;
  ~Pipe() {
    close_end(read);
    close_end(write);
  }
  static void close_end(int& end) {
    if (end >= 0) close(end);
    end = -1;
  }
};

/// Starts the child; its number, or -1 with the reason in errno.
pid_t start(const std::vector<std::string>& arguments, const std::string& folder, const Pipe& out, const Pipe& err) {
  std::vector<char*> argv;
  std::string own = "leat";
  argv.push_back(own.data());
  for (const std::string& a : arguments) argv.push_back(const_cast<char*>(a.c_str()));
  argv.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, out.write, STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, err.write, STDERR_FILENO);
  posix_spawn_file_actions_addchdir_np(&actions, folder.c_str());
  pid_t pid = -1;
  const int failed = posix_spawn(&pid, "/proc/self/exe", &actions, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed == 0) return pid;
  errno = failed;
  return -1;
}

/// Reads what is there; false at the end of the pipe or when there is too much.
bool take(int end, std::string& into, std::size_t most, bool& too_much) {
  std::array<char, 65536> buffer;
  const ssize_t n = read(end, buffer.data(), buffer.size());
  if (n < 0) return errno == EINTR;
  if (n == 0) return false;
  into.append(buffer.data(), static_cast<std::size_t>(n));
  too_much = into.size() > most;
  return !too_much;
}

/// Follows both pipes until they end or the run must be stopped.
void follow(Pipe& out, Pipe& err, Run& run, const RunLimits& limits, Time::time_point begun,
            const std::stop_token& stop) {
  while (out.read >= 0 || err.read >= 0) {
    run.stopped = stop.stop_requested();
    run.too_long = std::chrono::duration<double>(Time::now() - begun).count() > limits.seconds;
    if (run.stopped || run.too_long || run.too_much) return;
    std::array<pollfd, 2> both = {pollfd{out.read, POLLIN, 0}, pollfd{err.read, POLLIN, 0}};
    if (poll(both.data(), both.size(), 100) < 0 && errno != EINTR) return;
    if (both[0].revents != 0 && !take(out.read, run.out, limits.bytes, run.too_much)) Pipe::close_end(out.read);
    if (both[1].revents != 0 && !take(err.read, run.err, limits.bytes, run.too_much)) Pipe::close_end(err.read);
  }
}

}  // namespace

Run run_leat(const std::vector<std::string>& arguments, const std::string& folder, const RunLimits& limits,
             std::stop_token stop) {
  Run run;
  const auto begun = Time::now();
  Pipe out, err;
  if (out.read < 0 || err.read < 0) return run.err = std::strerror(errno), run;
  const pid_t pid = start(arguments, folder, out, err);
  if (pid < 0) return run.err = std::strerror(errno), run;
  Pipe::close_end(out.write);
  Pipe::close_end(err.write);
#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)  // these reserve far more than they use
  constexpr rlim_t kMostMemory = rlim_t{4} << 30;
  const rlimit memory{kMostMemory, kMostMemory};
  prlimit(pid, RLIMIT_AS, &memory, nullptr);
#endif
  follow(out, err, run, limits, begun, stop);
  if (run.stopped || run.too_long || run.too_much) kill(pid, SIGKILL);
  int status = 0;
  while (waitpid(pid, &status, 0) < 0 && errno == EINTR) {
  }
  run.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  run.seconds = std::chrono::duration<double>(Time::now() - begun).count();
  return run;
}

}  // namespace leat::doors
