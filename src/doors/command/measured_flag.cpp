#include "doors/command/measured_flag.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/units/parse.h"
#include "science/water/substances.h"

namespace leat::doors {
namespace {

/// Of a kind and with its unit, or nothing and why.
std::optional<Measured> read_flag(const std::string& text, const char* flag, Dimension dimension, const char* example,
                                  Problems& problems) {
  // Of a million parts of water one is a milligram in a litre.
  const bool parts = dimension == dim::density && text.ends_with("ppm");
  const auto read = read_measured(parts ? text.substr(0, text.size() - 3) + " mg/L" : text);
  if (const auto* bad = std::get_if<Unreadable>(&read)) {
    problems.add({flag, 0, 0, "", fmt::format("\"{}\" {}; write for example \"{}\"", text, bad->wrong, example)});
    return std::nullopt;
  }
  const Measured& m = std::get<Measured>(read);
  if (!(m.dimension == dimension)) {
    problems.add({flag, 0, 0, "", fmt::format("\"{}\" is of another kind; write for example \"{}\"", text, example)});
    return std::nullopt;
  }
  return m;
}

std::optional<double> in_range(double si, const std::string& text, const char* flag, double low, double high,
                               const char* example, Problems& problems) {
  if (si >= low && si <= high) return si;
  problems.add(
      {flag, 0, 0, "", fmt::format("\"{}\" is out of any likely range; write for example \"{}\"", text, example)});
  return std::nullopt;
}

std::string listed(const std::vector<std::string_view>& ways) {
  std::string all;
  for (const std::string_view way : ways)
    all += (all.empty() ? "" : way == ways.back() ? " or " : ", ") + fmt::format("as {}", way);
  return all;
}

/// "7 dKH" and "1.4 meq/L" as mg/L of CaCO3, of which 17.85 are a German degree.
std::string hardness_as_mass(const std::string& text) {
  for (const auto& [unit, milligrams] : {std::pair{"dKH", 17.848}, {"meq/L", 50.043}})
    if (text.ends_with(unit))
      if (const auto number = read_number(
              text.substr(0, text.find_last_not_of(' ', text.size() - std::string_view(unit).size() - 1) + 1));
          std::holds_alternative<double>(number))
        return fmt::format("{} mg/L", shortest(milligrams * std::get<double>(number)));
  return text;
}

}  // namespace

std::optional<double> measured(const std::string& text, const char* flag, Dimension dimension, double low, double high,
                               const char* example, Problems& problems) {
  if (text.empty()) return std::nullopt;
  const auto m = read_flag(text, flag, dimension, example, problems);
  if (!m) return std::nullopt;
  if (!m->basis.empty()) {
    problems.add({flag, 0, 0, "",
                  fmt::format("\"{}\" is counted as {}, which says nothing here; write for example \"{}\"", text,
                              m->basis, example)});
    return std::nullopt;
  }
  return in_range(m->si, text, flag, low, high, example, problems);
}

std::optional<double> counted(const std::string& text, const char* flag, const std::vector<std::string_view>& ways,
                              double low, double high, const char* example, Problems& problems) {
  if (text.empty()) return std::nullopt;
  const std::string_view meant = ways.front();
  const auto m = read_flag(meant == "CaCO3" ? hardness_as_mass(text) : text, flag, dim::density, example, problems);
  if (!m) return std::nullopt;
  const std::string_view said = m->basis.empty() ? meant : std::string_view(m->basis);
  if (std::find(ways.begin(), ways.end(), said) == ways.end()) {
    problems.add({flag, 0, 0, "",
                  fmt::format("\"{}\" is counted as {}; here it may be counted {}, such as \"{}\"", text, said,
                              listed(ways), example)});
    return std::nullopt;
  }
  const double ratio = (*science::mass_per_mole_of_basis(meant) / *science::mass_per_mole_of_basis(said)).si();
  return in_range(m->si * ratio, text, flag, low, high, example, problems);
}

}  // namespace leat::doors
