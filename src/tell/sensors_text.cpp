#include "tell/sensors_text.h"

#include <fmt/core.h>

#include "base/units/parse.h"
#include "record/when.h"
#include "tell/json_writer.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

std::string unit_of(const record::SeriesName& n) {
  return n.unit + (n.basis.empty() ? "" : " as " + n.basis);
}

std::string time_of(const Clock& clock, record::Moment at) {
  return record::span_text(clock, {at, at});
}

std::string title_of(const record::SeriesName& n) {
  return fmt::format("{}{}{}{}", n.what, n.where.empty() ? "" : ", " + n.where,
                     n.sensor.empty() ? "" : ", by " + n.sensor, unit_of(n).empty() ? "" : ", in " + unit_of(n));
}

ordered_json series_json(const record::Series& s) {
  ordered_json j = {{"series", s.number},      {"entry", s.entry},    {"what", s.name.what},   {"where", s.name.where},
                    {"sensor", s.name.sensor}, {"unit", s.name.unit}, {"basis", s.name.basis}, {"count", s.count}};
  if (s.count > 0) {
    j["first"] = record::utc_text(s.first.at);
    j["last"] = record::utc_text(s.last.at);
    j["value"] = s.last.value;
  }
  return j;
}

}  // namespace

std::string sensors_text(const std::vector<record::Series>& all, const Clock& clock) {
  if (all.empty()) return "No sensor has sent anything yet.\n";
  std::string text;
  for (const record::Series& s : all)
    text += fmt::format("{:>5}  {}: {} readings, {} to {}; the last {} {}\n", s.entry, title_of(s.name), s.count,
                        time_of(clock, s.first.at), time_of(clock, s.last.at), shortest(s.last.value), s.name.unit);
  return text;
}

std::string sensors_json(const std::vector<record::Series>& all) {
  ordered_json j = {{"sensors", ordered_json::array()}};
  for (const record::Series& s : all) j["sensors"].push_back(series_json(s));
  return written(j);
}

std::string stretch_text(const record::Series& series, const std::vector<record::Summary>& points, const Clock& clock) {
  std::string text = title_of(series.name) + "\n";
  if (points.empty()) return text + "Nothing was read in that time.\n";
  Table table({"from", "readings", "low", "mean", "high"});
  for (const record::Summary& s : points)
    table.add({time_of(clock, s.from), fmt::format("{}", s.count), shortest(s.low), fmt::format("{:.4g}", s.mean()),
               shortest(s.high)});
  return text + table.text();
}

std::string stretch_json(const record::Series& series, const std::vector<record::Summary>& points) {
  ordered_json j = series_json(series);
  j["points"] = ordered_json::array();
  for (const record::Summary& s : points)
    j["points"].push_back({{"from", record::utc_text(s.from)},
                           {"to", record::utc_text(s.to)},
                           {"count", s.count},
                           {"low", s.low},
                           {"mean", s.mean()},
                           {"high", s.high}});
  return written(j);
}

}  // namespace leat::tell
