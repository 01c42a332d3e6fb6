// What an answer finds: one statement, its value against its limit, how sure, and what to do.
#pragma once

#include <string>
#include <vector>

namespace leat::answers {

enum class Verdict { good, tight, bad, cannot_tell };

/// `value` and `limit` in SI, of the quantity named; where the number came from is in `basis`.
struct Finding {
  std::string statement;  ///< oxygen_stays_above_need
  std::string path;       ///< which part of the loop
  std::string quantity;   ///< row of the vocabulary
  double value = 0.0;
  double limit = 0.0;
  bool wants_above = true;  ///< the value should lie above the limit
  Verdict verdict = Verdict::good;
  std::string reason;  ///< one sentence
  std::string action;  ///< what to do; empty when nothing needs doing
  std::string source;  ///< where the limit comes from

  double margin() const { return wants_above ? value - limit : limit - value; }
};

/// Good with at least `room` to spare, tight with less or a tenth of it beyond the limit, bad farther beyond.
Verdict verdict_of(double margin, double room);

}  // namespace leat::answers
