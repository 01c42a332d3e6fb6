// What one MQTT message says: a plain number, JSON with time and value, or SenML.
#pragma once

#include "doors/listen/meaning.h"

namespace leat::doors {

/// How the messages of a topic are read.
struct Topic {
  std::string filter;  ///< "yard/tank/temperature"; + and # as MQTT has them
  std::string what, where, sensor, unit, basis;
  std::string value = "value", time = "time", id = "id";  ///< fields of a JSON payload
  bool late = false;                                      ///< take readings that are older than the newest as well
};

struct Message {
  std::string topic, payload;
  bool retained = false;
  record::Moment heard = 0;
};

struct PayloadReading {
  record::SeriesName name;
  record::Sample sample;
  bool timed = false;  ///< the payload says when; otherwise it was when the message came
  std::string id;
};

struct Payload {
  std::vector<PayloadReading> readings;
  std::string refused;  ///< why nothing of it can be taken; "" when all is well
};

/// Reads a message of any bytes. SenML names mean what `meanings` or they themselves say.
Payload read_payload(const Message& message, const Topic& topic, const std::vector<NameMeaning>& meanings,
                     const record::Context& context);

}  // namespace leat::doors
