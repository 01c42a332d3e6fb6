#include "doors/command/measured_flag.h"

#include <fmt/core.h>

#include "base/units/parse.h"

namespace leat::doors {

std::optional<double> measured(const std::string& text, const char* flag, Dimension dimension, double low, double high,
                               const char* example, Problems& problems) {
  if (text.empty()) return std::nullopt;
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
  if (m.si < low || m.si > high) {
    problems.add(
        {flag, 0, 0, "", fmt::format("\"{}\" is out of any likely range; write for example \"{}\"", text, example)});
    return std::nullopt;
  }
  return m.si;
}

}  // namespace leat::doors
