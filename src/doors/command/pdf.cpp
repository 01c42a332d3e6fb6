#include "doors/command/pdf.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <thread>
#include <vector>

extern char** environ;

namespace leat::doors {
namespace {

namespace fs = std::filesystem;

/// The browser in the folders of PATH, or "".
std::string browser() {
  const char* path = std::getenv("PATH");
  std::string folders = path ? path : "";
  for (const char* name : {"chromium", "chromium-browser"})
    for (std::size_t at = 0; at < folders.size();) {
      const std::size_t end = std::min(folders.find(':', at), folders.size());
      const fs::path file = fs::path(folders.substr(at, end - at)) / name;
      if (::access(file.c_str(), X_OK) == 0) return file.string();
      at = end + 1;
    }
  return "";
}

/// Runs it without a shell and without its chatter, for at most a minute.
bool ran(const std::vector<std::string>& words) {
  std::vector<char*> argv;
  for (const std::string& word : words) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  const bool started = ::posix_spawn(&child, words[0].c_str(), &quiet, nullptr, argv.data(), environ) == 0;
  posix_spawn_file_actions_destroy(&quiet);
  if (!started) return false;
  for (int tenths = 0; tenths < 600; ++tenths) {
    int status = 0;
    if (::waitpid(child, &status, WNOHANG) == child) return WIFEXITED(status) && WEXITSTATUS(status) == 0;
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  ::kill(child, SIGKILL);
  ::waitpid(child, nullptr, 0);
  return false;
}

/// A folder of its own for the browser's settings, taken away again.
struct Profile {
  std::string folder = (fs::temp_directory_path() / "leat-page-XXXXXX").string();
  Profile() {
    if (!::mkdtemp(folder.data())) folder.clear();
  }
  ~Profile() {
    std::error_code none;
    if (!folder.empty()) fs::remove_all(folder, none);
  }
};

}  // namespace

bool write_pdf(const std::string& page, const std::string& pdf, std::string& why_not) {
  const std::string program = browser();
  if (program.empty()) {
    why_not = "chromium is not on this computer, which makes the PDF; open the page in any browser and print it";
    return false;
  }
  const Profile profile;
  std::error_code none;
  const std::string part = fs::absolute(pdf + ".part", none).string();
  fs::remove(part, none);
  std::vector<std::string> words = {program,
                                    "--headless",
                                    "--disable-gpu",
                                    "--no-first-run",
                                    "--disable-extensions",
                                    "--user-data-dir=" + profile.folder,
                                    "--no-pdf-header-footer",
                                    "--print-to-pdf=" + part,
                                    "file://" + fs::absolute(page, none).string()};
  // Its own fence does not work for the superuser. The page is ours and runs nothing.
  if (::geteuid() == 0) words.insert(words.begin() + 1, "--no-sandbox");
  const bool done = ran(words) && fs::file_size(part, none) > 0 && !none;
  if (done) fs::rename(part, pdf, none);
  if (done && !none) return true;
  fs::remove(part, none);
  why_not = fmt::format("{} could not make {}; open the page in any browser and print it", program, pdf);
  return false;
}

}  // namespace leat::doors
