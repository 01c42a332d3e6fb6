// The weekly report: wording in Markdown that may be edited, a page with plots, plain text, a table of figures.
#pragma once

#include <string>

#include "answers/week.h"

namespace leat::tell {

/// What stands on every form of the report beside the answer.
struct WeekFrame {
  std::string loop;                   ///< its name
  std::string head;                   ///< of the record's chain
  std::string wording{};              ///< Markdown; as `week_wording` writes it, or as it was edited
  std::string usual{};                ///< as `week_wording` writes it
  std::vector<std::string> faults{};  ///< of the record
};

/// "5.4 K", "6.8 to 7.0", "below 0.25 mg/L as N"
std::string figure_text(const answers::Figure& figure);

/// The wording as the program would say it: each number a link to where it came from.
std::string week_wording(const answers::WeekAnswer& week, const std::string& loop, const Clock& clock);

/// Numbers of a wording that the record no longer says, a sentence each.
std::vector<std::string> stale_numbers(const answers::WeekAnswer& week, const std::string& wording);

/// One HTML file that needs nothing else, with style for paper.
std::string week_page(const answers::WeekAnswer& week, const WeekFrame& frame, const Clock& clock);
std::string week_plain(const answers::WeekAnswer& week, const WeekFrame& frame);
std::string week_json(const answers::WeekAnswer& week, const WeekFrame& frame, const Clock& clock);
/// One row a figure, with its entries.
std::string week_csv(const answers::WeekAnswer& week);

/// Plots as SVG, every mark a link to its entry; empty without anything to show.
std::string swing_plot(const answers::WeekAnswer& week, const Clock& clock);
std::string feed_plot(const answers::WeekAnswer& week);

}  // namespace leat::tell
