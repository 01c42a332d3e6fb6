// For tests: a broker of this computer on its loopback.
#pragma once

#include <arpa/inet.h>
#include <fmt/core.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <thread>

#include "record/scratch.h"

namespace leat::doors::tests {

using record::tests::Scratch;

/// Where a program of this computer is; empty: nowhere.
inline std::string program(const char* name) {
  for (const char* folder : {"/usr/sbin/", "/usr/bin/", "/usr/local/sbin/", "/usr/local/bin/"})
    if (::access((std::string(folder) + name).c_str(), X_OK) == 0) return std::string(folder) + name;
  return "";
}

inline int free_port() {
  const int s = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in at{};
  at.sin_family = AF_INET;
  at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof at;
  ::bind(s, reinterpret_cast<sockaddr*>(&at), size);
  ::getsockname(s, reinterpret_cast<sockaddr*>(&at), &size);
  ::close(s);
  return ntohs(at.sin_port);
}

/// A broker that keeps what it holds in memory only, so it must not be stopped while that matters.
class Broker {
  std::string config_;
  pid_t process_ = 0;

 public:
  Broker(const Scratch& scratch, int port, const std::string& more) : config_(scratch.file("broker.conf")) {
    scratch.write("broker.conf", fmt::format("listener {} 127.0.0.1\npersistence false\nlog_dest none\n{}{}", port,
                                             getuid() == 0 ? "user root\n" : "", more));
    start();
  }
  void start() {
    process_ = fork();
    if (process_ == 0) {
      const std::string path = program("mosquitto");
      ::execl(path.c_str(), path.c_str(), "-c", config_.c_str(), nullptr);
      _exit(127);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
  }
  void stop() {
    if (process_ <= 0) return;
    ::kill(process_, SIGKILL);
    ::waitpid(process_, nullptr, 0);
    process_ = 0;
  }
  ~Broker() { stop(); }
};

}  // namespace leat::doors::tests
