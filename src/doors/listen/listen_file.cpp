#include "doors/listen/listen_file.h"

#include <fmt/core.h>
#include <sys/stat.h>
#include <toml++/toml.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace leat::doors {
namespace {

using Names = std::vector<std::string_view>;
const Names kTables = {"broker", "topic", "name"};
const Names kBroker = {"address", "port",   "tls",    "ca",       "certificate", "key",
                       "user",    "secret", "client", "protocol", "qos"};
const Names kTopic = {"what", "where", "sensor", "unit", "basis", "value", "time", "id", "late"};
const Names kName = {"what", "where"};

struct Decoder {
  const std::string& file;
  const record::Context& context;
  Problems& problems;

  void wrong(const toml::source_region& at, std::string path, std::string said) {
    problems.add(
        {file, static_cast<int>(at.begin.line), static_cast<int>(at.begin.column), std::move(path), std::move(said)});
  }

  /// Each key of a table must be known.
  void check(const toml::table& table, const std::string& path, const Names& known) {
    for (const auto& [key, node] : table) {
      if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
      if (key.str() == "password")
        wrong(key.source(), path + ".password",
              "a password does not stand in this file; put it alone into a file of mode 0600 and name that: secret = "
              "\"loop.secret\"");
      else
        wrong(key.source(), path.empty() ? std::string(key.str()) : path + "." + std::string(key.str()),
              fmt::format("is no key here{}", did_you_mean(key.str(), known)));
    }
  }

  void take(const toml::table& table, const char* key, const std::string& path, std::string& into) {
    const toml::node* node = table.get(key);
    if (!node) return;
    if (const auto text = node->value<std::string>(); node->is_string())
      into = *text;
    else
      wrong(node->source(), path + "." + key, "is no text; write it in quotes");
  }

  void take(const toml::table& table, const char* key, const std::string& path, bool& into) {
    const toml::node* node = table.get(key);
    if (!node) return;
    if (node->is_boolean())
      into = *node->value<bool>();
    else
      wrong(node->source(), path + "." + key, "is neither true nor false");
  }

  void take(const toml::table& table, const char* key, const std::string& path, int& into, int low, int high) {
    const toml::node* node = table.get(key);
    if (!node) return;
    const auto n = node->is_integer() ? node->value<std::int64_t>() : std::nullopt;
    if (n && *n >= low && *n <= high)
      into = static_cast<int>(*n);
    else
      wrong(node->source(), path + "." + key, fmt::format("is no whole number from {} to {}", low, high));
  }

  std::string beside(const std::string& path) const {
    if (path.empty() || std::filesystem::path(path).is_absolute()) return path;
    return (std::filesystem::path(file).parent_path() / path).string();
  }

  void take_broker(const toml::table& t, Broker& b) {
    check(t, "broker", kBroker);
    for (auto [key, into] : {std::pair{"address", &b.address},
                             {"ca", &b.ca},
                             {"certificate", &b.certificate},
                             {"key", &b.key},
                             {"user", &b.user},
                             {"secret", &b.secret},
                             {"client", &b.client},
                             {"protocol", &b.protocol}})
      take(t, key, "broker", *into);
    take(t, "tls", "broker", b.tls);
    take(t, "port", "broker", b.port, 1, 65535);
    take(t, "qos", "broker", b.qos, 0, 2);
    if (b.protocol != "3.1.1" && b.protocol != "5")
      wrong(t.source(), "broker.protocol", fmt::format("\"{}\" is not known; write \"3.1.1\" or \"5\"", b.protocol));
    for (std::string* path : {&b.ca, &b.certificate, &b.key}) *path = beside(*path);
    if (!b.secret.empty()) b.secret = read_secret(beside(b.secret), "broker.secret", problems);
    if (b.key.empty() != b.certificate.empty()) wrong(t.source(), "broker", "certificate and key go together");
    if (!b.key.empty()) read_secret(b.key, "broker.key", problems);
  }

  bool is_part(const std::string& where) const {
    return where.empty() || std::any_of(context.spots.begin(), context.spots.end(),
                                        [&](const record::Spot& s) { return s.path == where; });
  }

  void check_where(const toml::source_region& at, const std::string& path, const std::string& where) {
    if (is_part(where)) return;
    Names paths;
    for (const record::Spot& s : context.spots) paths.push_back(s.path);
    wrong(at, path + ".where", fmt::format("\"{}\" is no part of the loop file{}", where, did_you_mean(where, paths)));
  }

  void take_topic(const std::string& filter, const toml::table& t, std::vector<Topic>& all) {
    const std::string path = "topic.\"" + filter + "\"";
    check(t, path, kTopic);
    Topic topic;
    topic.filter = filter;
    for (auto [key, into] : {std::pair{"what", &topic.what},
                             {"where", &topic.where},
                             {"sensor", &topic.sensor},
                             {"unit", &topic.unit},
                             {"basis", &topic.basis},
                             {"value", &topic.value},
                             {"time", &topic.time},
                             {"id", &topic.id}})
      take(t, key, path, *into);
    take(t, "late", path, topic.late);
    if (!is_filter(filter))
      wrong(t.source(), path, "is no topic; + stands for a whole level, # for all levels at the end");
    check_where(t.source(), path, topic.where);
    const auto unit = topic.unit.empty() ? std::optional<SensorUnit>(SensorUnit{}) : sensor_unit(topic.unit);
    if (!unit)
      wrong(t.source(), path + ".unit", fmt::format("\"{}\" is not known; write such as \"degC\"", topic.unit));
    else if (!topic.what.empty())
      if (const auto fault = fault_of_unit(topic.what, unit->unit)) wrong(t.source(), path, *fault);
    all.push_back(std::move(topic));
  }

  void take_name(const std::string& name, const toml::table& t, std::vector<NameMeaning>& all) {
    const std::string path = "name.\"" + name + "\"";
    check(t, path, kName);
    NameMeaning m{name, "", ""};
    take(t, "what", path, m.what);
    take(t, "where", path, m.where);
    const auto kinds = sensor_kinds();
    if (std::find(kinds.begin(), kinds.end(), m.what) == kinds.end())
      wrong(t.source(), path + ".what",
            fmt::format("\"{}\" is nothing that a sensor may send{}; write such as \"temperature\"", m.what,
                        did_you_mean(m.what, kinds)));
    check_where(t.source(), path, m.where);
    all.push_back(std::move(m));
  }

  template <class Take>
  void each(const toml::table& root, const char* kind, Take&& take_one) {
    const toml::node* node = root.get(kind);
    if (!node) return;
    if (!node->is_table()) return wrong(node->source(), kind, fmt::format("is no table; write [{}.\"...\"]", kind));
    for (const auto& [key, one] : *node->as_table())
      if (one.is_table())
        take_one(std::string(key.str()), *one.as_table());
      else
        wrong(key.source(), kind, fmt::format("\"{}\" is no table; write [{}.\"{}\"]", key.str(), kind, key.str()));
  }
};

}  // namespace

std::string read_secret(const std::string& path, const std::string& said_at, Problems& problems) {
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0) {
    problems.add({path, 0, 0, said_at,
                  "is not there; put the secret alone into it and let nobody else read it: chmod "
                  "600"});
    return "";
  }
  if (!S_ISREG(status.st_mode) || (status.st_mode & 0077) != 0) {
    problems.add({path, 0, 0, said_at,
                  fmt::format("others may read it (mode {:04o}), so it is not taken: chmod 600 {}",
                              static_cast<unsigned>(status.st_mode & 07777), path)});
    return "";
  }
  std::ifstream in(path);
  std::string line;
  std::getline(in, line);
  if (line.empty()) problems.add({path, 0, 0, said_at, "its first line is empty; the secret stands there"});
  return line;
}

bool is_filter(std::string_view filter) {
  if (filter.empty() || filter.size() > 65535 || filter.find('\0') != std::string_view::npos) return false;
  for (std::size_t i = 0; i < filter.size(); ++i) {
    if (filter[i] != '+' && filter[i] != '#') continue;
    const bool starts = i == 0 || filter[i - 1] == '/', ends = i + 1 == filter.size() || filter[i + 1] == '/';
    if (!starts || !ends || (filter[i] == '#' && i + 1 != filter.size())) return false;
  }
  return true;
}

bool fits(std::string_view filter, std::string_view topic) {
  if (!topic.empty() && topic.front() == '$' && !filter.empty() && filter.front() != '$') return false;
  for (;;) {
    const std::string_view own = filter.substr(0, filter.find('/')), level = topic.substr(0, topic.find('/'));
    if (own == "#") return true;
    if (own != "+" && own != level) return false;
    const bool last = own.size() == filter.size(), end = level.size() == topic.size();
    if (end) return last || filter.substr(own.size()) == "/#";
    if (last) return false;
    filter.remove_prefix(own.size() + 1);
    topic.remove_prefix(level.size() + 1);
  }
}

ListenFile read_listen_file(std::string_view text, const std::string& file, const record::Context& context,
                            Problems& problems) {
  ListenFile read;
  Decoder decode{file, context, problems};
  try {
    const toml::table root = toml::parse(text, std::string_view(file));
    decode.check(root, "", kTables);
    if (const toml::node* broker = root.get("broker"); broker && broker->is_table())
      decode.take_broker(*broker->as_table(), read.broker);
    decode.each(root, "topic",
                [&](const std::string& name, const toml::table& t) { decode.take_topic(name, t, read.topics); });
    decode.each(root, "name",
                [&](const std::string& name, const toml::table& t) { decode.take_name(name, t, read.names); });
  } catch (const toml::parse_error& error) {
    decode.wrong(error.source(), "", std::string(error.description()));
    return read;
  }
  if (read.topics.empty())
    problems.add(
        {file, 0, 0, "",
         "names no topic; write such as [topic.\"yard/tank/temperature\"] with what = \"temperature\", where = "
         "\"tank.nursery\", unit = \"degC\""});
  return read;
}

}  // namespace leat::doors
