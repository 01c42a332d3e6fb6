#include <fmt/core.h>

#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string upper_first(std::string text) {
  if (!text.empty() && !text.starts_with("pH"))
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

/// Three digits, and all of a thousand or more.
std::string in_grams(double grams) {
  return grams < 1000.0 ? fmt::format("{:.3g}", grams) : fmt::format("{:.0f}", grams);
}

std::string days(const answers::DoseAnswer& a) {
  if (a.days.empty()) return "";
  const bool acidity = a.alkalinity_target.has_value();
  Table t(acidity ? std::vector<std::string>{"day", "g in all", "in goes of g", "first go moves pH by", "pH from", "to"}
                  : std::vector<std::string>{"day", "g in all", "in goes of g"});
  for (const answers::DoseDay& d : a.days) {
    const double grams = 1e3 * d.grams.si();
    std::vector<std::string> row{fmt::format("{}", d.day), in_grams(grams),
                                 fmt::format("{} x {}", d.goes, in_grams(grams / d.goes))};
    if (acidity)
      for (const std::string& cell :
           {fmt::format("{:.2f}", d.first_jump), fmt::format("{:.1f}", d.pH_from), fmt::format("{:.1f}", d.pH_to)})
        row.push_back(cell);
    t.add(row);
  }
  std::string out = "\n" + t.text();
  if (a.standing && a.standing->si() > 0.0)
    out += fmt::format("  then {:.0f} g a day, spread over it\n", a.standing->si() * 86400.0 * 1e3);
  return out;
}

}  // namespace

std::string dose_text(const answers::DoseAnswer& a) {
  std::string out = wrapped(upper_first(a.verdict) + ".", 100, "  ") + days(a) + "\n";
  for (const std::string& line : a.lines) out += wrapped(upper_first(line) + ".", 100, "  ");
  out += "\n";
  for (const std::string& caution : a.cautions) out += wrapped("Caution: " + caution + ".", 100, "  ");
  if (!a.assumed.empty()) out += "\n";
  for (const std::string& one : a.assumed) out += wrapped("Taken: " + one + ".", 100, "  ");
  return out;
}

}  // namespace leat::tell
