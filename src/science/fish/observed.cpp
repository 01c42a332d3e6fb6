#include "science/fish/observed.h"

#include <cstddef>

#include "science/fish/feeding.h"

namespace leat::science {

std::optional<double> between_points(const std::vector<std::pair<double, double>>& points, double x) {
  if (points.empty()) return std::nullopt;
  if (x <= points.front().first) return points.front().second;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (x > points[i].first) continue;
    const double share = (x - points[i - 1].first) / (points[i].first - points[i - 1].first);
    return points[i - 1].second + share * (points[i].second - points[i - 1].second);
  }
  return points.back().second;
}

std::optional<Frequency<>> maintenance_ration(const Species& species, Temperature<> water) {
  std::vector<std::pair<double, double>> logs;
  for (const auto& [celsius, percent] : species.maintenance_ration) logs.emplace_back(celsius, std::log(percent));
  const auto found = between_points(logs, water.celsius());
  return found ? std::optional(std::exp(*found) * percent_per_day) : std::nullopt;
}

std::optional<Temperature<>> lethal_temperature_half(const Species& species, Temperature<> acclimated) {
  const Datum* row = find_datum(species_data(), species.name, "t_half_die_14d_C");
  if (!row) return std::nullopt;
  const auto found = between_points(read_points(row->value), acclimated.celsius());
  return found ? std::optional(Temperature<>::from_celsius(*found)) : std::nullopt;
}

}  // namespace leat::science
