// leat odd: what in the record does not fit?
#pragma once

#include "answers/finding.h"
#include "learn/odd.h"
#include "model/loop/loop.h"
#include "record/store.h"

namespace leat::answers {

struct OddRequest {
  record::Moment now = 0;
  int days = 14;                    ///< what could first be seen within these is told
  std::size_t most = 3;             ///< items
  model::WeatherSources weather{};  ///< beside what the record has
};

struct OddAnswer {
  std::string loop_name;
  std::vector<learn::Oddity> told;  ///< weightiest first
  std::size_t more = 0;             ///< seen within these days and not told
  std::vector<learn::Oddity> all;   ///< ever seen, in the order of time
  std::size_t entries = 0;
  record::Moment from = 0, now = 0;
  int days = 14, days_in_record = 0, days_with_weather = 0;
  std::string no_warmth;  ///< why nothing could be said of the thermometer
  std::vector<std::string> assumed;
};

/// What model and loop file expect of this record: one run of the model from its first reading on.
learn::Expected expected_of(const model::Loop& loop, const learn::History& history, const OddRequest& request,
                            OddAnswer& answer);

OddAnswer odd(const model::Loop& loop, const std::vector<record::Entry>& entries, const OddRequest& request);

}  // namespace leat::answers
