// A server of the page, started on a free port, and a plain client that sends just what a test writes.
#pragma once

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <signal.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string>
#include <vector>

extern char** environ;

namespace leat::tests {

struct Heard {
  int status = 0;
  std::string head, body;
  /// A header's value, or "". `name` as the server writes it.
  std::string header(const std::string& name) const {
    const std::size_t at = head.find("\r\n" + name + ": ");
    if (at == std::string::npos) return "";
    const std::size_t start = at + name.size() + 4;
    return head.substr(start, head.find("\r\n", start) - start);
  }
};

class Served {
  pid_t pid_ = -1;
  int port_ = 0;

 public:
  Served(const std::string& folder, const std::string& loop) {
    int ends[2];
    if (pipe2(ends, O_CLOEXEC) != 0) return;
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
    posix_spawn_file_actions_addchdir_np(&actions, folder.c_str());
    std::string words[] = {LEAT_BINARY, "serve", loop, "--port", "0"};
    char* argv[] = {words[0].data(), words[1].data(), words[2].data(), words[3].data(), words[4].data(), nullptr};
    posix_spawn(&pid_, LEAT_BINARY, &actions, nullptr, argv, environ);
    posix_spawn_file_actions_destroy(&actions);
    close(ends[1]);
    std::string said;
    for (char c; read(ends[0], &c, 1) == 1 && c != '\n';) said += c;
    close(ends[0]);
    const std::string start = "http://127.0.0.1:";
    if (const std::size_t at = said.find(start); at != std::string::npos)
      port_ = std::atoi(said.c_str() + at + start.size());
  }
  Served(const Served&) = delete;
  Served& operator=(const Served&) = delete;
  ~Served() { stop(); }
  /// Ends it; its exit code.
  int stop() {
    if (pid_ < 0) return -1;
    kill(pid_, SIGTERM);
    int status = 0;
    waitpid(pid_, &status, 0);
    pid_ = -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  int port() const { return port_; }
  std::string host() const { return "127.0.0.1:" + std::to_string(port_); }

  /// Sends these bytes and reads until the server closes.
  std::string raw(const std::string& bytes) const {
    const int s = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port_));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    std::string back;
    if (connect(s, reinterpret_cast<sockaddr*>(&to), sizeof to) == 0) {
      for (std::size_t at = 0; at < bytes.size();) {
        const ssize_t n = ::send(s, bytes.data() + at, bytes.size() - at, MSG_NOSIGNAL);
        if (n <= 0) break;
        at += static_cast<std::size_t>(n);
      }
      char buffer[65536];
      for (ssize_t n; (n = recv(s, buffer, sizeof buffer, 0)) > 0;) back.append(buffer, static_cast<std::size_t>(n));
    }
    close(s);
    return back;
  }
  Heard said(const std::string& request) const {
    const std::string back = raw(request);
    const std::size_t end = back.find("\r\n\r\n");
    if (end == std::string::npos || !back.starts_with("HTTP/1.1 ")) return {0, "", back};
    return {std::atoi(back.c_str() + 9), back.substr(0, end + 2), back.substr(end + 4)};
  }
  Heard get(const std::string& path, const std::string& headers = "") const {
    return said("GET " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nConnection: close\r\n" + headers + "\r\n");
  }
  Heard post(const std::string& path, const std::string& body, const std::string& headers = "") const {
    return said("POST " + path + " HTTP/1.1\r\nHost: " + host() +
                "\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: " +
                std::to_string(body.size()) + "\r\n" + headers + "\r\n" + body);
  }
};

}  // namespace leat::tests
