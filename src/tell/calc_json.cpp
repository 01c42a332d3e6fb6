#include "tell/calc_json.h"

#include "science/catalogue.h"
#include "tell/json_writer.h"

namespace leat::tell {
namespace {

/// "-" stands for a pure number.
std::string unit_of(std::string_view unit) {
  return unit == "-" ? std::string() : std::string(unit);
}

ordered_json relation_json(const science::Entry& entry) {
  ordered_json inputs = ordered_json::array(), outputs = ordered_json::array();
  for (const science::InputRow& i : entry.inputs)
    inputs.push_back({{"name", i.name},
                      {"unit", unit_of(i.unit)},
                      {"is_word", i.unit.empty()},
                      {"meaning", i.meaning},
                      {"may_be_left_out", i.assumed.has_value() || i.optional}});
  for (const science::OutputRow& o : entry.outputs) outputs.push_back({{"name", o.name}, {"unit", unit_of(o.unit)}});
  return {{"relation", entry.name}, {"meaning", entry.meaning}, {"inputs", inputs}, {"outputs", outputs}};
}

}  // namespace

std::string calc_json(const answers::CalcAnswer& a) {
  ordered_json j{{"verb", "calc"}, {"relation", a.relation}, {"meaning", a.meaning}};
  for (const answers::CalcOutput& o : a.outputs)
    j["outputs"].push_back({{"name", o.name}, {"value", o.value}, {"unit", unit_of(o.unit)}});
  j["inputs"] = ordered_json::array();
  for (const answers::CalcInput& i : a.inputs) {
    ordered_json one{{"name", i.name}, {"shown", i.shown}, {"meaning", i.meaning}, {"assumed", i.assumed}};
    if (i.out_of_range) one["beyond"] = i.range;
    j["inputs"].push_back(std::move(one));
  }
  j["source"] = a.source;
  return written(j);
}

std::string relations_json() {
  ordered_json all = ordered_json::array();
  for (const science::Entry* entry : science::all_entries()) all.push_back(relation_json(*entry));
  return written({{"verb", "calc"}, {"relations", all}});
}

}  // namespace leat::tell
