// The round in words, as a calendar, as a sheet to print, and the card for the day the phone is dead.
#pragma once

#include <string>

#include "answers/emergency_table.h"
#include "answers/round.h"

namespace leat::tell {

/// What was taken from the record and what not, each with its age; "" for nothing.
std::string taken_text(const std::vector<learn::Taken>& taken);
std::string round_text(const answers::RoundAnswer& answer, const Clock& clock);
/// Only what cannot wait; "" when there is nothing.
std::string urgent_text(const answers::RoundAnswer& answer, const Clock& clock);
std::string round_json(const answers::RoundAnswer& answer);
/// iCalendar (RFC 5545): each task of the routine with its repetition, as to-dos or as events. Times are those of the
/// clock on the wall, so that they keep their hour when clocks change.
std::string round_ical(const answers::RoundAnswer& answer, const Clock& clock, bool as_events);
/// One page of HTML with nothing from elsewhere, for paper.
std::string round_sheet_html(const answers::RoundAnswer& answer, const Clock& clock);
/// What to do when the power is off, with times worked out beforehand; the same kind of page.
std::string emergency_card_html(const model::Loop& loop, const std::vector<answers::EmergencyTable>& tables,
                                const std::vector<answers::Drawdown>& drawdowns, const std::string& today);

/// & < > " as HTML wants them.
std::string html(std::string_view text);

}  // namespace leat::tell
