// What every text answer shares: verdicts in words, findings, assumptions, cautions.
#pragma once

#include <string>
#include <vector>

#include "answers/check.h"
#include "answers/compare.h"
#include "model/loop/loop.h"

namespace leat::tell {

/// The verdict on a whole loop: "Alder yard: yes, if ..." and an end of line.
std::string headline(const answers::CheckAnswer& answer);
std::string_view verdict_word(answers::Verdict verdict);
/// Of a plan: "no", "yes if", "yes", "cannot tell".
std::string_view plan_word(answers::Verdict verdict);
/// "worse", "new", "better", "gone"
std::string_view change_word(answers::CheckChange::What what);
/// "NO", "CARE", "ok" with the statement's reason, action, source.
/// "tank_turns_over_often_enough" as words.
std::string in_words(std::string statement);
/// The quantity that a difference of two is: of temperatures, none.
std::string_view word_of_difference(std::string_view word);
std::string findings_text(const std::vector<answers::Finding>& findings, std::size_t most);
std::string assumptions_text(const std::vector<model::Assumption>& assumptions, bool all);

/// Said where an answer leads to mains power beside water.
extern const char* const caution_electricity;
/// Said where an answer leads to heavy vessels.
extern const char* const caution_mass;

}  // namespace leat::tell
