#include "doors/page/devices.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "doors/page/authority.h"
#include "record/sha256.h"

namespace leat::doors {
namespace {

std::string stamp_of(const std::string& path) {
  struct stat s {};
  if (stat(path.c_str(), &s) != 0) return "-";
  return fmt::format("{}.{}+{}", s.st_mtim.tv_sec, s.st_mtim.tv_nsec, s.st_size);
}

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> parts;
  std::istringstream in(line);
  for (std::string part; std::getline(in, part, '\t');) parts.push_back(part);
  return parts;
}

std::time_t time_of(const std::string& text) {
  return static_cast<std::time_t>(std::strtoll(text.c_str(), nullptr, 10));
}

/// A name as it can stand in a line.
std::string clean(const std::string& name) {
  std::string out;
  for (const char c : name.substr(0, 40)) out += static_cast<unsigned char>(c) < ' ' || c == 0x7f ? ' ' : c;
  return out.empty() ? "a device" : out;
}

/// The digits alone: people put blanks between.
std::string digits(const std::string& code) {
  std::string out;
  for (const char c : code.substr(0, 40))
    if (c >= '0' && c <= '9') out += c;
  return out;
}

/// Nobody else writes while this lives.
class Locked {
  int file_;

 public:
  explicit Locked(const std::string& path)
      : file_(open(path.c_str(), O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600)) {
    if (file_ >= 0) flock(file_, LOCK_EX);
  }
  Locked(const Locked&) = delete;
  Locked& operator=(const Locked&) = delete;
  ~Locked() {
    if (file_ >= 0) close(file_);
  }
  /// One line, on the disk when it returns true.
  bool append(const std::string& line) const {
    const std::string text = line + "\n";
    return file_ >= 0 && write(file_, text.data(), text.size()) == static_cast<ssize_t>(text.size()) &&
           fdatasync(file_) == 0;
  }
};

}  // namespace

Devices::State Devices::read(const std::string& path) {
  State state;
  std::ifstream in(path);
  for (std::string line; std::getline(in, line);) {
    const auto p = split(line);
    if (p.size() == 3 && p[0] == "code") {
      state.code = p[1], state.until = time_of(p[2]), state.wrong = 0;
    } else if (p.size() == 1 && p[0] == "wrong") {
      if (++state.wrong >= kMostWrong) state.code.clear();
    } else if (p.size() == 5 && p[0] == "paired") {
      state.devices.push_back({p[1], p[2], p[4], time_of(p[3])});
      state.code.clear();
    } else if (p.size() == 3 && p[0] == "forgotten") {
      std::erase_if(state.devices, [&](const Device& d) { return d.id == p[1]; });
    }
  }
  return state;
}

const Devices::State& Devices::now_so() const {
  const std::string stamp = stamp_of(path_);
  if (stamp != stamp_) {
    state_ = read(path_);
    stamp_ = stamp;
  }
  return state_;
}

std::string Devices::new_code(std::time_t now) {
  const std::lock_guard lock(mutex_);
  const unsigned long number = std::stoul(random_hex(6), nullptr, 16) % 100'000'000ul;
  const std::string code = fmt::format("{:08}", number);
  const Locked file(path_);
  stamp_.clear();
  if (!file.append(fmt::format("code\t{}\t{}", record::sha256(code), now + kCodeLasts_s))) return "";
  return code;
}

Devices::Tried Devices::pair(const std::string& code, const std::string& name, std::time_t now, std::string& token) {
  const std::lock_guard lock(mutex_);
  if (now == last_try_) return Tried::too_soon;  // one try a second, whoever tries
  last_try_ = now;
  const Locked file(path_);
  stamp_.clear();
  const State state = read(path_);
  if (state.code.empty() || now >= state.until) return Tried::no_code;
  if (record::sha256(digits(code)) != state.code) return file.append("wrong") ? Tried::wrong : Tried::not_kept;
  const std::string fresh = random_hex(32);
  if (!file.append(fmt::format("paired\t{}\t{}\t{}\t{}", random_hex(3), record::sha256(fresh), now, clean(name))))
    return Tried::not_kept;
  token = fresh;
  return Tried::paired;
}

std::string Devices::device_of(const std::string& token) const {
  if (token.size() != 64) return "";
  const std::string hash = record::sha256(token);
  const std::lock_guard lock(mutex_);
  for (const Device& d : now_so().devices)
    if (d.hash == hash) return d.id;
  return "";
}

std::vector<Device> Devices::all() const {
  const std::lock_guard lock(mutex_);
  return now_so().devices;
}

bool Devices::forget(const std::string& id, std::time_t now) {
  const std::lock_guard lock(mutex_);
  const Locked file(path_);
  stamp_.clear();
  for (const Device& d : read(path_).devices)
    if (d.id == id) return file.append(fmt::format("forgotten\t{}\t{}", d.id, now));
  return false;
}

}  // namespace leat::doors
