#include "doors/page/body.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "base/units/parse.h"

namespace leat::doors {
namespace {

using nlohmann::json;
using nlohmann::ordered_json;

constexpr int kDeepest = 2;
constexpr std::size_t kMostFields = 40;

std::string written(const ordered_json& j) {
  return j.dump(-1, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

/// One value as text; false if it is none that a flag takes.
bool put(Values& values, const std::string& name, const json& value) {
  if (value.is_string())
    values.emplace_back(name, value.get<std::string>());
  else if (value.is_boolean())
    values.emplace_back(name, value.get<bool>() ? "true" : "false");
  else if (value.is_number_integer())
    values.emplace_back(name, std::to_string(value.get<std::int64_t>()));
  else if (value.is_number())
    values.emplace_back(name, shortest(value.get<double>()));
  else
    return false;
  return true;
}

}  // namespace

std::variant<Values, std::string> values_of_body(std::string_view body) {
  bool too_deep = false;
  const auto shallow = [&](int depth, json::parse_event_t, json&) {
    too_deep = too_deep || depth > kDeepest;
    return depth <= kDeepest;
  };
  const json sent = json::parse(body.begin(), body.end(), shallow, false);
  if (sent.is_discarded() || !sent.is_object() || too_deep)
    return std::string("the body is no flat JSON object; send such as {\"words\": \"fed 60 g\"}");
  Values values;
  for (const auto& [name, value] : sent.items()) {
    if (value.is_null()) continue;
    bool good = true;
    if (value.is_array())
      for (const json& one : value) good = good && put(values, name, one);
    else
      good = put(values, name, value);
    if (!good || values.size() > kMostFields)
      return fmt::format("\"{}\" must be a text, a number, true or false, or a list of these", name.substr(0, 60));
  }
  return values;
}

std::string problem_body(std::string_view said) {
  return written({{"problems", std::string(said)}});
}

std::string jobs_body(const std::vector<JobShown>& jobs) {
  ordered_json all = ordered_json::array();
  for (const JobShown& j : jobs)
    all.push_back(
        {{"job", j.job}, {"name", j.name}, {"running", j.running}, {"seconds", j.seconds}, {"usual_s", j.usual_s}});
  return written({{"jobs", all}});
}

std::string readings_body(const std::vector<LastReading>& readings, double now_s) {
  ordered_json all = ordered_json::array();
  for (const LastReading& r : readings)
    all.push_back(
        {{"what", r.what}, {"where", r.where}, {"unit", r.unit}, {"value", r.value}, {"ago_s", now_s - r.at_s}});
  return written({{"readings", all}});
}

std::string about_body(const About& a) {
  return written({{"program", "leat"},
                  {"version", a.version},
                  {"loop_file", a.loop_file},
                  {"has_loop", a.has_loop},
                  {"has_record", a.has_record},
                  {"example", a.example},
                  {"home", a.home},
                  {"paired", a.paired}});
}

std::string devices_body(const std::vector<Device>& devices, const std::string& own) {
  ordered_json all = ordered_json::array();
  for (const Device& d : devices)
    all.push_back({{"device", d.id}, {"name", d.name}, {"paired_s", d.paired}, {"this_one", d.id == own}});
  return written({{"devices", all}});
}

std::string texts_body(const Values& values) {
  ordered_json j = ordered_json::object();
  for (const auto& [name, value] : values) j[name] = value;
  return written(j);
}

}  // namespace leat::doors
