#include "doors/page/guard.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

namespace leat::doors {
namespace {

std::string lower(std::string_view text) {
  std::string all(text);
  for (char& c : all) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return all;
}

bool is_own(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), lower(name)) != names.end();
}

bool is_own_origin(const std::vector<std::string>& names, std::string_view origin, std::string_view scheme) {
  const std::string start = std::string(scheme) + "://";
  return origin.starts_with(start) && is_own(names, origin.substr(start.size()));
}

}  // namespace

std::vector<std::string> own_names(int port) {
  std::vector<std::string> names;
  for (const char* name : {"127.0.0.1", "localhost", "[::1]"}) names.push_back(fmt::format("{}:{}", name, port));
  return names;
}

std::vector<std::string> own_names(int port, const std::vector<std::string>& more) {
  std::vector<std::string> names = own_names(port);
  for (const std::string& name : more) names.push_back(fmt::format("{}:{}", lower(name), port));
  return names;
}

std::optional<Refusal> refusal(const Said& said, bool write, const std::vector<std::string>& names,
                               std::string_view scheme) {
  if (!is_own(names, said.host))
    return Refusal{403, fmt::format("this page goes by the name {}, and by no other", names.front())};
  if (!said.fetch_site.empty() && said.fetch_site != "same-origin" && said.fetch_site != "none")
    return Refusal{403, "the request comes from another site"};
  if (!write) return std::nullopt;
  if (said.fetch_site == "none") return Refusal{403, "a note comes from the page itself"};
  if (!said.origin.empty() && !is_own_origin(names, said.origin, scheme))
    return Refusal{403, "the request comes from another site"};
  if (!lower(said.content_type).starts_with("application/json"))
    return Refusal{415, "what is sent must be application/json"};
  return std::nullopt;
}

}  // namespace leat::doors
