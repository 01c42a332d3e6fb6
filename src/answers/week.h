// leat week: what the record says of a week, every figure with the entries that it was made of.
#pragma once

#include <string>
#include <vector>

#include "answers/fish_lives.h"
#include "answers/windows.h"
#include "record/places.h"

namespace leat::answers {

/// A line about one entry or several.
struct WeekLine {
  std::string text;
  std::vector<std::int64_t> entries{};
};

struct WeekRequest {
  CivilDate last{};  ///< the last day of it
  int days = 7;
  std::vector<FishAtStart> fish{};  ///< of the loop file, where the record has no stocking
  std::vector<WeekLine> odd{};      ///< what does not fit, as leat odd has it, weightiest first
  std::vector<WeekLine> ahead{};    ///< what the model sees of the week to come
};

/// One number of the report. `low` and `high` differ where a kit has steps; "below" has no low side.
struct Figure {
  std::string name;   ///< by which wording refers to it: "fed", "swing-tank.nursery"
  std::string label;  ///< in words
  std::optional<double> low, high;
  std::string unit;
  int places = 0;
  std::vector<std::int64_t> entries{};
};

/// Min and max of one place in one window of the week, or of the week before.
struct WeekWindows {
  std::string where;  ///< "outside" is the air
  std::vector<Window> now, before;
};

struct DayFed {
  CivilDate date;
  double grams = 0;
  bool noted = false;
  std::vector<std::int64_t> entries{};
};

struct WeekAnswer {
  CivilDate first, last;
  record::Moment from = 0, to = 0;
  std::vector<Figure> figures;
  std::vector<WeekWindows> windows;
  std::vector<DayFed> fed;
  std::vector<record::Entry> changed, died, plants, tests, words;  ///< of the week, in order of time
  std::vector<WeekLine> odd;                                       ///< at most three
  std::vector<WeekLine> next;                                      ///< what is ahead, then at most three to do
  std::vector<record::Entry> cited;                                ///< all of the week, and what figures name
  std::size_t in_record = 0;

  const Figure* find(std::string_view name) const;
};

WeekAnswer week(const std::vector<record::Entry>& entries, const record::Context& context, const WeekRequest& request);

}  // namespace leat::answers
