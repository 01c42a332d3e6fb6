// What is new, told to every page that listens, as server-sent events. No thread a page.
#pragma once

#include <microhttpd.h>

#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace leat::doors {

class Events {
 public:
  struct Listener;
  /// Answers with a stream; false when too many listen already.
  bool open(MHD_Connection* connection, const std::string& first, MHD_Result& sent);
  /// Tells all of an event.
  void tell(const std::string& event);
  std::size_t count() const;
  /// Lets every stream end, before the server stops.
  void close();
  /// Lets the streams that are open end; new ones may come.
  void drop();

 private:
  struct Shared {
    std::mutex mutex;
    std::vector<Listener*> listeners;
    bool closing = false;
  };
  std::shared_ptr<Shared> shared_ = std::make_shared<Shared>();
  static ssize_t read(void* listener, std::uint64_t at, char* into, std::size_t most);
  static void free(void* listener);
};

/// "event: NAME\ndata: ...\n\n"
std::string event_text(const std::string& name, const std::string& data);

}  // namespace leat::doors
