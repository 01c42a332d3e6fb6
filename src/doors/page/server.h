// The page's server: this machine only. It hands questions to workers and files to the browser; it answers nothing
// itself.
#pragma once

#include <memory>
#include <string>

namespace leat::doors {

struct ServeSettings {
  std::string folder, loop;  ///< the loop's file is folder/loop
  std::string weather;       ///< whole path of a daily record, or ""
  int port = 8017;
  std::string version = "0.1.0";
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
