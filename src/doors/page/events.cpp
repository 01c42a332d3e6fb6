#include "doors/page/events.h"

#include <algorithm>
#include <cstring>

namespace leat::doors {
namespace {

constexpr std::size_t kMostListeners = 32, kMostPending = 64u << 10;

}  // namespace

struct Events::Listener {
  MHD_Connection* connection;
  std::shared_ptr<Shared> shared;
  std::string pending;
  bool suspended = false, ends = false;
};

/// Called by the server when the connection can take more. Sleeps until there is something.
ssize_t Events::read(void* who, std::uint64_t, char* into, std::size_t most) {
  auto* listener = static_cast<Listener*>(who);
  const std::lock_guard lock(listener->shared->mutex);
  if (listener->pending.empty()) {
    if (listener->shared->closing || listener->ends) return MHD_CONTENT_READER_END_OF_STREAM;
    listener->suspended = true;
    MHD_suspend_connection(listener->connection);
    return 0;
  }
  const std::size_t n = std::min(most, listener->pending.size());
  std::memcpy(into, listener->pending.data(), n);
  listener->pending.erase(0, n);
  return static_cast<ssize_t>(n);
}

void Events::free(void* who) {
  auto* listener = static_cast<Listener*>(who);
  {
    const std::lock_guard lock(listener->shared->mutex);
    std::erase(listener->shared->listeners, listener);
  }
  delete listener;
}

bool Events::open(MHD_Connection* connection, const std::string& first, MHD_Result& sent) {
  auto* listener = new Listener{connection, shared_, first};
  {
    const std::lock_guard lock(shared_->mutex);
    if (shared_->listeners.size() >= kMostListeners || shared_->closing) {
      delete listener;
      return false;
    }
    shared_->listeners.push_back(listener);
  }
  MHD_Response* response = MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, 4096, read, listener, free);
  MHD_add_response_header(response, "Content-Type", "text/event-stream");
  MHD_add_response_header(response, "Cache-Control", "no-store");
  MHD_add_response_header(response, "X-Content-Type-Options", "nosniff");
  sent = MHD_queue_response(connection, 200, response);
  MHD_destroy_response(response);
  return true;
}

void Events::tell(const std::string& event) {
  const std::lock_guard lock(shared_->mutex);
  for (Listener* listener : shared_->listeners) {
    if (listener->pending.size() < kMostPending) listener->pending += event;
    if (listener->suspended) MHD_resume_connection(listener->connection);
    listener->suspended = false;
  }
}

std::size_t Events::count() const {
  const std::lock_guard lock(shared_->mutex);
  return shared_->listeners.size();
}

void Events::close() {
  const std::lock_guard lock(shared_->mutex);
  shared_->closing = true;
  for (Listener* listener : shared_->listeners) {
    if (listener->suspended) MHD_resume_connection(listener->connection);
    listener->suspended = false;
  }
}

void Events::drop() {
  const std::lock_guard lock(shared_->mutex);
  for (Listener* listener : shared_->listeners) {
    listener->ends = true;
    if (listener->suspended) MHD_resume_connection(listener->connection);
    listener->suspended = false;
  }
}

std::string event_text(const std::string& name, const std::string& data) {
  std::string text = "event: " + name + "\ndata: ";
  for (const char c : data) text += c == '\n' ? std::string("\ndata: ") : std::string(1, c);
  return text + "\n\n";
}

}  // namespace leat::doors
