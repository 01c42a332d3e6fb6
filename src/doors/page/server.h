// The page's server: this machine only, or the home network over https. It hands questions to workers and files to the
// browser; it answers nothing itself.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "doors/page/home.h"

namespace leat::doors {

struct ServeSettings {
  std::string folder, loop;  ///< the loop's file is folder/loop
  std::string weather;       ///< whole path of a daily record, or ""
  int port = 8017;
  std::optional<Home> home{};  ///< serves the home network too, over https
  std::string version = "0.1.0";
  /// Beside the record: "/yard/loop" for loop.toml.
  std::string base() const { return folder + "/" + loop.substr(0, loop.rfind('.')); }
  std::string devices_path() const { return base() + ".devices"; }
};

class Server {
  struct Inside;
  std::unique_ptr<Inside> inside_;

 public:
  explicit Server(const ServeSettings& settings);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;
  /// False with the reason when the port cannot be had.
  bool start(std::string& why_not);
  /// The port that was taken, when 0 was asked for.
  int port() const;
};

}  // namespace leat::doors
