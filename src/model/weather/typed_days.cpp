#include "model/weather/typed_days.h"

namespace leat::model {

std::vector<TypedDay> split_days(std::string_view text) {
  std::vector<TypedDay> days{{1, {}}};
  int line = 1, column = 1;
  bool in_word = false;
  for (const char c : text) {
    const bool ends_day = c == ';' || c == '\n';
    const bool blank = c == ' ' || c == '\t' || c == '\r';
    if (!ends_day && !blank) {
      if (!in_word) days.back().words.push_back({"", column});
      days.back().words.back().text += c;
    }
    in_word = !ends_day && !blank;
    if (c == '\n') ++line;
    column = c == '\n' ? 1 : column + 1;
    if (ends_day) days.push_back({line, {}});
  }
  for (TypedDay& l : days) {
    for (TypedWord& t : l.words)
      while (t.text.ends_with(',') || t.text.ends_with(':')) t.text.pop_back();
    std::erase_if(l.words, [](const TypedWord& t) { return t.text.empty() || t.text == "="; });
  }
  std::erase_if(days, [](const TypedDay& l) { return l.words.empty() || l.words.front().text.starts_with('#'); });
  return days;
}

}  // namespace leat::model
