#include "doors/command/hook.h"

#include <fmt/core.h>
#include <signal.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

namespace leat::doors {

int run_hook(const std::string& command, const std::string& words) {
  ::setenv("LEAT_URGENT", words.substr(0, words.find('\n')).c_str(), 1);
  ::signal(SIGPIPE, SIG_IGN);  // a command that does not read its input is no reason to die
  std::fflush(nullptr);
  std::FILE* pipe = ::popen(command.c_str(), "w");
  if (!pipe) return -1;
  std::fwrite(words.data(), 1, words.size(), pipe);
  const int status = ::pclose(pipe);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

Told::Told(std::string path) : path_(std::move(path)) {
  std::ifstream in(path_);
  std::string key;
  for (record::Moment at = 0; in >> key >> at;) told_.emplace_back(key, at);
}

std::vector<answers::Urgent> Told::fresh(const std::vector<answers::Urgent>& all, record::Moment now,
                                         record::Moment again) const {
  std::vector<answers::Urgent> left;
  std::copy_if(all.begin(), all.end(), std::back_inserter(left), [&](const answers::Urgent& u) {
    return std::none_of(told_.begin(), told_.end(),
                        [&](const auto& t) { return t.first == u.key && t.second <= now && now - t.second < again; });
  });
  return left;
}

bool Told::remember(const std::vector<answers::Urgent>& told, record::Moment now) {
  for (const answers::Urgent& u : told) {
    std::erase_if(told_, [&](const auto& t) { return t.first == u.key; });
    told_.emplace_back(u.key, now);
  }
  const std::string part = path_ + ".part";
  {
    std::ofstream out(part);
    for (const auto& [key, at] : told_) out << key << ' ' << at << '\n';
    if (!out) return false;
  }
  std::error_code error;
  std::filesystem::rename(part, path_, error);
  return !error;
}

}  // namespace leat::doors
