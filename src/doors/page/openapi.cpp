// The description of /api, made from the table of routes.
#include <nlohmann/json.hpp>

#include "doors/page/body.h"

namespace leat::doors {
namespace {

using nlohmann::ordered_json;

ordered_json schema_of(const Parameter& p) {
  if (p.form == Form::flag) return {{"type", "boolean"}};
  if (p.form == Form::list || p.form == Form::each) return {{"type", "array"}, {"items", {{"type", "string"}}}};
  return {{"type", "string"}};
}

ordered_json query_of(const Route& route) {
  ordered_json all = ordered_json::array();
  for (const Parameter& p : route.parameters)
    all.push_back({{"name", p.name},
                   {"in", "query"},
                   {"description", p.meaning},
                   {"schema", schema_of(p)},
                   {"example", p.form == Form::flag ? ordered_json(true) : ordered_json(p.example)}});
  all.push_back({{"name", "job"},
                 {"in", "query"},
                 {"description", "a name by which /api/stop can stop it"},
                 {"schema", {{"type", "string"}}}});
  return all;
}

ordered_json body_of(const Route& route) {
  ordered_json properties = ordered_json::object();
  for (const Parameter& p : route.parameters) {
    ordered_json s = schema_of(p);
    s["description"] = p.meaning;
    properties[std::string(p.name)] = s;
  }
  const ordered_json object{{"type", "object"}, {"additionalProperties", false}, {"properties", properties}};
  return {{"required", true}, {"content", {{"application/json", {{"schema", object}}}}}};
}

ordered_json answers_of(const Route& route) {
  const ordered_json problem{
      {"application/json", {{"schema", {{"type", "object"}, {"properties", {{"problems", {{"type", "string"}}}}}}}}}};
  ordered_json r;
  r["200"] = {{"description", "the answer of `leat " + std::string(route.verb) +
                                  "`, as the command line gives it; the header Leat-Exit holds its exit code"},
              {"content", {{std::string(route.type), ordered_json::object()}}}};
  r["403"] = {{"description", "not from this page, or not paired"}, {"content", problem}};
  r["422"] = {{"description", "the question needs mending: what was read, what is wanted, an example"},
              {"content", problem}};
  r["503"] = {{"description", "too many questions wait already, or this one was stopped"}, {"content", problem}};
  return r;
}

}  // namespace

std::string openapi(std::string_view version) {
  ordered_json j;
  j["openapi"] = "3.1.0";
  j["info"] = {{"title", "leat"},
               {"version", version},
               {"description", "Each path is one verb of the command line and gives the same answer."}};
  j["paths"] = ordered_json::object();
  for (const Route& route : routes()) {
    ordered_json one{{"summary", route.asks},
                     {"operationId", std::string(route.method) + "_" + std::string(route.name)}};
    if (route.method == "GET")
      one["parameters"] = query_of(route);
    else
      one["requestBody"] = body_of(route);
    one["responses"] = answers_of(route);
    j["paths"]["/api/" + std::string(route.name)][route.method == "GET" ? "get" : "post"] = one;
  }
  return j.dump(1, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace leat::doors
