// What becomes of messages: taken, or dropped with a reason. Knows nothing of the network.
#pragma once

#include <deque>
#include <map>

#include "doors/listen/listen_file.h"

namespace leat::doors {

struct Tally {
  std::int64_t messages = 0, taken = 0;
  std::int64_t again = 0;    ///< by their id, or of a moment that the record holds
  std::int64_t late = 0;     ///< older than the newest of their sensor
  std::int64_t refused = 0;  ///< messages that could not be read
};

class Intake {
  record::Store& store_;
  const ListenFile& file_;
  const record::Context& context_;
  Tally tally_;
  std::map<std::string, std::deque<std::string>> ids_;  // the latest of each topic
  std::map<std::string, record::Moment> newest_;        // of each series

  bool seen(const std::string& topic, const std::string& id);

 public:
  Intake(record::Store& store, const ListenFile& file, const record::Context& context);
  /// Takes a message; when it returns, its readings are on the disk. A sentence when something should be told: why it
  /// was refused. Trouble when the record cannot be written.
  std::variant<std::string, record::Trouble> take(const Message& message);
  const Tally& tally() const { return tally_; }
};

/// "12 messages: 10 readings taken, 1 known already, 1 older than the newest, none refused."
std::string tally_text(const Tally& tally);

}  // namespace leat::doors
