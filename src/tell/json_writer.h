// What all answers as JSON share. For the files that write them only.
#pragma once

#include <nlohmann/json.hpp>

#include "answers/ahead.h"
#include "answers/drawdown.h"
#include "answers/spread.h"
#include "base/words/quantities.h"
#include "model/loop/loop.h"
#include "record/entry.h"

namespace leat::learn {
struct Taken;
}

namespace leat::tell {

using nlohmann::ordered_json;

/// Collects values under their words, and the unit of each word that was used.
class Writer {
  ordered_json units_ = ordered_json::object();

 public:
  double value(std::string_view word, double si) {
    const words::QuantityRow& row = words::quantity_row(word);
    units_[std::string(word)] = std::string(row.shown_unit);
    return words::shown(row, si);
  }
  void put(ordered_json& into, std::string_view key, std::string_view word, double si) {
    into[std::string(key)] = value(word, si);
  }
  void put(ordered_json& into, std::string_view word, double si) { put(into, word, word, si); }
  const ordered_json& units() const { return units_; }
};

ordered_json spread_json(Writer& w, std::string_view word, const answers::Spread& s);
/// How many runs, what was drawn in each, and how far a rank correlation goes by chance, as fields of `into`.
void put_how_drawn(ordered_json& into, const answers::HowDrawn& how);
ordered_json owed_things_json(const std::vector<answers::Owed>& things);
ordered_json owed_json(Writer& w, const std::vector<answers::OwedMost>& all);
ordered_json findings_json(const std::vector<answers::Finding>& findings, Writer& w);
ordered_json assumptions_json(const std::vector<model::Assumption>& assumptions);
/// An entry of the record, fields that are empty left out.
ordered_json entry_json(const record::Entry& entry);
/// What was taken from the record, and what not, each with its reason.
ordered_json taken_json(const std::vector<learn::Taken>& taken);
/// A time with the ends of its band, under key, key_soonest and key_latest; null: never.
void put_band(Writer& w, ordered_json& into, const std::string& key, const answers::TimeBand& band);
void put_time(Writer& w, ordered_json& into, const std::string& key, Duration<> time);
/// The whole as text. Replaces bytes that are no UTF-8 instead of throwing: names come from the grower's file.
std::string written(const ordered_json& j);

}  // namespace leat::tell
