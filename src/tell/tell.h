// Answers as text for a terminal, as JSON, as CSV. The words and units come from the vocabulary; nothing is computed
// here.
#pragma once

#include <string>

#include "answers/ahead.h"
#include "answers/calc.h"
#include "answers/carry.h"
#include "answers/check.h"
#include "answers/compare.h"
#include "answers/dose.h"
#include "answers/feed.h"
#include "answers/night.h"
#include "answers/night_ahead.h"
#include "answers/outage.h"
#include "answers/season.h"
#include "answers/starter.h"

namespace leat::tell {

std::string compare_text(const answers::CompareAnswer& answer);
std::string compare_json(const answers::CompareAnswer& answer);
std::string carry_text(const answers::CarryAnswer& answer, bool with_assumptions = false);
std::string carry_json(const answers::CarryAnswer& answer);
std::string season_text(const answers::SeasonAnswer& answer, bool with_assumptions);
std::string season_json(const answers::SeasonAnswer& answer);
std::string feed_text(const answers::FeedAnswer& answer);
std::string feed_json(const answers::FeedAnswer& answer);
std::string dose_text(const answers::DoseAnswer& answer);
std::string night_ahead_text(const answers::NightAheadAnswer& answer, bool with_assumptions);
std::string night_ahead_json(const answers::NightAheadAnswer& answer);
std::string night_text(const answers::NightAnswer& answer);
std::string night_json(const answers::NightAnswer& answer);
std::string outage_text(const answers::OutageAnswer& answer, bool with_assumptions);
std::string outage_json(const answers::OutageAnswer& answer);
std::string emergency_text(const std::vector<answers::EmergencyTable>& tables);
std::string emergency_json(const std::string& loop_name, const std::vector<answers::EmergencyTable>& tables);
std::string check_text(const answers::CheckAnswer& answer, bool with_assumptions, bool all = false);
std::string check_json(const answers::CheckAnswer& answer);
/// The loop as a drawing, SVG 1.1: vessels at their true heights, pipes as wide as their flow, the findings where they
/// belong. The same bytes for the same loop.
std::string drawing_svg(const model::Loop& loop, const answers::CheckAnswer& answer);

std::string ahead_text(const answers::AheadAnswer& answer, bool with_assumptions);
std::string ahead_json(const answers::AheadAnswer& answer);
/// Where heat, oxygen, nitrogen, carbon and phosphorus came from and went, SVG 1.1. The same bytes for the same answer.
std::string flow_picture_svg(const answers::AheadAnswer& answer);
/// One row a vessel and day; columns are the words of the vocabulary with their units.
std::string ahead_csv(const answers::AheadAnswer& answer);

std::string starter_json(const std::string& file, const answers::Starter& starter);
/// JSON Schema of a loop file.
std::string loop_schema();

std::string calc_text(const answers::CalcAnswer& answer);
/// Every relation with what it gives and takes.
std::string relations_text();
/// One line a row, and totals by kind of proof.
std::string checks_text(const std::vector<answers::CheckedRow>& rows);

}  // namespace leat::tell
