#include "doors/listen/payload.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/time/civil.h"
#include "base/units/parse.h"

namespace leat::doors {
namespace {

using nlohmann::json;

constexpr std::size_t kLongest = 1'000'000;
constexpr record::Moment kFirst = 946'684'800'000;  // 2000; a clock that was never set says 1970
constexpr record::Moment kAhead = 5 * 60'000;       // clocks differ

bool is_shallow(int depth, json::parse_event_t, json&) {
  return depth <= 4;
}

std::string trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return std::string(text);
}

/// Seconds or milliseconds since 1970, or "2026-11-25T07:41:00Z".
std::optional<record::Moment> moment_of(const json& time, const Clock& clock) {
  if (time.is_number()) {
    const double n = time.get<double>();
    if (!std::isfinite(n) || n < 0.0 || n > 4e12) return std::nullopt;
    return static_cast<record::Moment>(std::llround(n < 1e11 ? 1e3 * n : n));
  }
  if (!time.is_string()) return std::nullopt;
  const auto read = read_time(time.get<std::string>());
  const auto* said = std::get_if<ReadTime>(&read);
  if (!said) return std::nullopt;
  const Clock by = said->utc_offset_hours ? Clock::fixed(*said->utc_offset_hours, "said") : clock;
  return static_cast<record::Moment>(std::llround(1e3 * by.instant(said->local).seconds));
}

std::string id_of(const json& object, const std::string& field) {
  const auto found = object.find(field);
  if (found == object.end()) return "";
  if (found->is_string()) return found->get<std::string>();
  return found->is_number() ? found->dump() : "";
}

Payload refuse(std::string why) {
  return {{}, std::move(why)};
}

struct Reader {
  const Message& message;
  const Topic& topic;
  const std::vector<NameMeaning>& meanings;
  const record::Context& context;

  Payload one(double value, std::optional<record::Moment> at, std::string id) const {
    if (topic.what.empty()) return refuse("the topic takes SenML only, because it says no \"what\" and \"unit\"");
    if (!at && message.retained) return refuse("it was kept by the broker and does not say from when it is");
    const auto unit = topic.unit.empty() ? std::optional<SensorUnit>(SensorUnit{}) : sensor_unit(topic.unit);
    if (!unit) return refuse(fmt::format("the unit \"{}\" of its topic is not known", topic.unit));
    const record::SeriesName name{topic.what, topic.where, topic.sensor.empty() ? message.topic : topic.sensor,
                                  unit->unit, topic.basis};
    return {{{name, {at.value_or(message.heard), unit->of(value)}, at.has_value(), std::move(id)}}, ""};
  }

  Payload object(const json& j) const {
    const auto value = j.find(topic.value);
    if (value == j.end()) return refuse(fmt::format("it has no \"{}\"", topic.value));
    double number = 0.0;
    if (value->is_number()) {
      number = value->get<double>();
    } else {
      const auto read = value->is_string() ? read_number(trimmed(value->get<std::string>()))
                                           : std::variant<double, Unreadable>(Unreadable{""});
      if (!std::holds_alternative<double>(read)) return refuse(fmt::format("its \"{}\" is no number", topic.value));
      number = std::get<double>(read);
    }
    const auto time = j.find(topic.time);
    if (time == j.end() || time->is_null()) return one(number, std::nullopt, id_of(j, topic.id));
    const auto at = moment_of(*time, context.clock);
    if (!at)
      return refuse(
          fmt::format("its \"{}\" is no time; it may be seconds or milliseconds since 1970, or such as "
                      "2026-11-25T07:41:00Z",
                      topic.time));
    return one(number, at, id_of(j, topic.id));
  }

  Payload senml() const {
    Problems problems;
    record::Context here = context;
    const Senml pack = read_senml(message.payload, message.topic, message.heard, problems);
    const auto batches = batches_of(pack, meanings, here, message.topic, problems);
    if (!problems.empty()) return refuse(problems.all().front().path + " " + problems.all().front().said);
    Payload read;
    for (const record::Batch& b : batches)
      for (const record::Sample& s : b.samples)
        read.readings.push_back({b.name, s, s.at != message.heard || !message.retained, ""});
    return read;
  }

  Payload whole() const {
    if (message.payload.size() > kLongest) return refuse("it is longer than a million bytes");
    const std::string text = trimmed(message.payload);
    if (text.empty()) return refuse("it is empty");
    if (text.front() == '[') return senml();
    if (text.front() == '{') {
      const json j = json::parse(text.begin(), text.end(), is_shallow, false);
      return j.is_object() ? object(j) : refuse("it is no JSON that can be read");
    }
    const auto read = read_number(text);
    if (const auto* n = std::get_if<double>(&read)) return one(*n, std::nullopt, "");
    return refuse("it is no number, no JSON object and no SenML");
  }
};

}  // namespace

Payload read_payload(const Message& message, const Topic& topic, const std::vector<NameMeaning>& meanings,
                     const record::Context& context) {
  Payload read = Reader{message, topic, meanings, context}.whole();
  for (const PayloadReading& r : read.readings) {
    if (!std::isfinite(r.sample.value)) return refuse("its number is beyond what can be held");
    if (!r.timed && message.retained) return refuse("it was kept by the broker and does not say from when it is");
    if (r.sample.at < kFirst) return refuse("its time is before 2000: a clock that was never set");
    if (r.sample.at > message.heard + kAhead) return refuse("its time lies ahead by more than five minutes");
  }
  return read;
}

}  // namespace leat::doors
