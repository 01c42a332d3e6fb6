#include <fmt/core.h>

#include <array>
#include <map>

#include "science/catalogue.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {

std::string calc_text(const answers::CalcAnswer& a) {
  std::string out = fmt::format("{}: {}\n", a.relation, a.meaning);
  for (const auto& o : a.outputs)
    out += fmt::format("  {} = {:.6g}{}{}\n", o.name, o.value, o.unit.empty() || o.unit == "-" ? "" : " ",
                       o.unit == "-" ? "" : o.unit);
  for (const auto& i : a.inputs) {
    out += fmt::format("  from {} = {}{}\n", i.name, i.shown, i.assumed ? " (assumed)" : "");
    if (i.out_of_range) out += fmt::format("       beyond {}, where it was found to hold\n", i.range);
  }
  return out + wrapped("  source: " + a.source, 110, "    ");
}

std::string relations_text() {
  Table table({"relation", "gives", "from"});
  for (const science::Entry* entry : science::all_entries()) {
    std::string gives, from;
    for (const auto& o : entry->outputs)
      gives += (gives.empty() ? "" : ", ") + std::string(o.name) +
               (o.unit.empty() || o.unit == "-" ? "" : " " + std::string(o.unit));
    for (const auto& i : entry->inputs) from += (from.empty() ? "" : ", ") + std::string(i.name);
    table.add({std::string(entry->name), gives, from});
  }
  return table.text();
}

std::string checks_text(const std::vector<answers::CheckedRow>& rows) {
  using science::Outcome;
  static constexpr std::array words = {"pass", "FAIL", "not implemented", "unreadable"};
  std::string out;
  std::map<std::string, std::array<int, 4>> by_proof;
  for (const auto& [row, result] : rows) {
    const auto outcome = static_cast<std::size_t>(result.outcome);
    ++by_proof[row.proof][outcome];
    out += fmt::format("{:<15} {}: {}: {}\n", words[outcome], row.id, row.relation, result.said);
  }
  Table table({"proof", "pass", "fail", "not implemented", "unreadable"});
  for (const auto& [proof, n] : by_proof)
    table.add({proof.empty() ? "not said" : proof, fmt::format("{}", n[0]), fmt::format("{}", n[1]),
               fmt::format("{}", n[2]), fmt::format("{}", n[3])});
  return out + "\n" + table.text();
}

}  // namespace leat::tell
