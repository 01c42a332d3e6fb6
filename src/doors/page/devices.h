// The devices that may read and write over the home network, and the code by which one becomes known. Kept in a file
// beside the record that only grows: what was said of codes and devices, their secrets as hashes only. Another leat
// may write into it at any moment.
#pragma once

#include <ctime>
#include <mutex>
#include <string>
#include <vector>

namespace leat::doors {

struct Device {
  std::string id, hash, name;
  std::time_t paired = 0;
};

class Devices {
 public:
  static constexpr std::time_t kCodeLasts_s = 600;
  static constexpr int kMostWrong = 5;  ///< then the code is void

  explicit Devices(std::string path) : path_(std::move(path)) {}
  /// A new code of eight digits, good for one device; the one before is void. "" if the file cannot be written.
  std::string new_code(std::time_t now);
  enum class Tried { paired, wrong, no_code, too_soon, not_kept };
  /// Tries a code. When it is right the device is known from then on by `token`.
  Tried pair(const std::string& code, const std::string& name, std::time_t now, std::string& token);
  /// The device that this token belongs to, or "".
  std::string device_of(const std::string& token) const;
  std::vector<Device> all() const;
  /// False when there is no such device.
  bool forget(const std::string& id, std::time_t now);
  const std::string& path() const { return path_; }

 private:
  struct State {
    std::vector<Device> devices;
    std::string code;  ///< its hash; "" when there is none
    std::time_t until = 0;
    int wrong = 0;
  };
  std::string path_;
  mutable std::mutex mutex_;
  mutable State state_;
  mutable std::string stamp_;
  std::time_t last_try_ = 0;

  static State read(const std::string& path);
  const State& now_so() const;
};

}  // namespace leat::doors
