#include "doors/listen/intake.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat::doors {
namespace {

constexpr std::size_t kIds = 1000;

std::string key_of(const record::SeriesName& n) {
  std::string key;
  for (const std::string* part : {&n.what, &n.where, &n.sensor, &n.unit, &n.basis}) key += *part + "\n";
  return key;
}

}  // namespace

Intake::Intake(record::Store& store, const ListenFile& file, const record::Context& context)
    : store_(store), file_(file), context_(context) {
  const auto all = record::all_series(store);
  if (const auto* series = std::get_if<std::vector<record::Series>>(&all))
    for (const record::Series& s : *series) newest_[key_of(s.name)] = s.last.at;
}

bool Intake::seen(const std::string& topic, const std::string& id) {
  if (id.empty()) return false;
  auto& known = ids_[topic];
  if (std::find(known.begin(), known.end(), id) != known.end()) return true;
  known.push_back(id);
  if (known.size() > kIds) known.pop_front();
  return false;
}

std::variant<std::string, record::Trouble> Intake::take(const Message& message) {
  ++tally_.messages;
  const auto topic = std::find_if(file_.topics.begin(), file_.topics.end(),
                                  [&](const Topic& t) { return fits(t.filter, message.topic); });
  if (topic == file_.topics.end()) return "";
  const Payload read = read_payload(message, *topic, file_.names, context_);
  if (!read.refused.empty()) {
    ++tally_.refused;
    return fmt::format("{}: not taken, {}", message.topic, read.refused);
  }
  std::vector<record::Batch> batches;
  // What is late counts from before this message: a pack may bring its readings in any order.
  const auto before = newest_;
  for (const PayloadReading& r : read.readings) {
    const std::string key = key_of(r.name);
    const auto newest = before.find(key);
    if (newest != before.end() && r.sample.at < newest->second && !topic->late) {
      ++tally_.late;
      continue;
    }
    if (seen(message.topic, r.id)) {
      ++tally_.again;
      continue;
    }
    auto found = std::find_if(batches.begin(), batches.end(), [&](const record::Batch& b) { return b.name == r.name; });
    if (found == batches.end()) found = batches.insert(batches.end(), record::Batch{r.name, {}});
    found->samples.push_back(r.sample);
    auto& last = newest_.try_emplace(key, r.sample.at).first->second;
    last = std::max(last, r.sample.at);
  }
  const auto put = record::put_batches(store_, batches, message.heard);
  if (const auto* trouble = std::get_if<record::Trouble>(&put)) return *trouble;
  tally_.taken += std::get<record::Put>(put).fresh;
  tally_.again += std::get<record::Put>(put).known;
  return "";
}

std::string tally_text(const Tally& t) {
  return fmt::format(
      "{} messages: {} readings taken, {} known already, {} older than the newest, {} messages refused.\n", t.messages,
      t.taken, t.again, t.late, t.refused);
}

}  // namespace leat::doors
