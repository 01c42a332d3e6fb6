#include <fmt/core.h>

#include <cmath>
#include <map>

#include "tell/page_style.h"
#include "tell/round_text.h"

namespace leat::tell {
namespace {

using answers::EmergencyTable;
using answers::FishState;

double mg(Density<> d) {
  return 1e3 * d.si();
}

/// Soonest and likely, as one cell: "40 min / 1.2 h".
std::string cell(const answers::TimeBand& t) {
  return fmt::format("<td class=\"n\">{} / {}</td>", answers::time_words(t.soonest), answers::time_words(t.likely));
}

/// One tank: temperature down, state of the fish across, with today's stock.
std::string today_table(const EmergencyTable& table, bool to_danger) {
  const Density<> level = to_danger ? table.levels.danger : table.levels.low;
  std::string out =
      fmt::format("<h2>{}: time to {:g} mg/L of oxygen, soonest / likely</h2>\n<table>\n<tr><th>water</th>",
                  html(table.tank), mg(level));
  constexpr FishState states[] = {FishState::frightened, FishState::fed, FishState::usual, FishState::fasted};
  for (const FishState s : states) out += fmt::format("<th class=\"n\">{}</th>", answers::state_name(s));
  out += "</tr>\n";
  std::map<double, std::string> rows;
  for (const FishState s : states)
    for (const EmergencyTable::Row& r : table.rows)
      if (r.stock == 1.0 && r.state == s) rows[r.temperature_c] += cell(to_danger ? r.to_danger : r.to_low);
  for (const auto& [celsius, cells] : rows) out += fmt::format("<tr><th>{:.0f} &deg;C</th>{}</tr>\n", celsius, cells);
  return out + "</table>\n";
}

/// The same for another stock, fed fish only.
std::string stock_table(const EmergencyTable& table) {
  std::string out = fmt::format(
      "<h2>{}: fed fish, time to {:g} mg/L with half, all and double of today's "
      "stock</h2>\n<table>\n<tr><th>water</th>",
      html(table.tank), mg(table.levels.danger));
  std::map<double, std::map<double, std::string>> rows;
  std::map<double, double> stock;
  for (const EmergencyTable::Row& r : table.rows)
    if (r.state == FishState::fed) {
      rows[r.temperature_c][r.stock] = cell(r.to_danger);
      stock[r.stock] = r.fish.si();
    }
  for (const auto& [share, kg] : stock) out += fmt::format("<th class=\"n\">{:.1f} kg</th>", kg);
  out += "</tr>\n";
  for (const auto& [celsius, cells] : rows) {
    out += fmt::format("<tr><th>{:.0f} &deg;C</th>", celsius);
    for (const auto& [share, text] : cells) out += text;
    out += "</tr>\n";
  }
  return out + "</table>\n";
}

std::string actions(const answers::Drawdown& d) {
  std::string out = fmt::format("<h2>{}: in this order</h2>\n<ol>\n", html(d.tank));
  for (const answers::Action& a : d.actions)
    out += fmt::format("<li><b>{}</b>: {}{}</li>\n", html(a.what), html(a.why),
                       a.caution.empty() ? "" : " <small>" + html(a.caution) + "</small>");
  return out + "</ol>\n";
}

}  // namespace

std::string emergency_card_html(const model::Loop& loop, const std::vector<EmergencyTable>& tables,
                                const std::vector<answers::Drawdown>& drawdowns, const std::string& today) {
  std::string out = page_head("Emergency card, " + loop.name);
  out += fmt::format(
      "<h1>{}: power or pump is off</h1>\n<p class=\"urgent\"><b>Gasping fish: air and splash first, then read on.</b> "
      "Note the time: ________ &nbsp; Power company: ______________ &nbsp; Neighbour with a generator: "
      "______________</p>\n",
      html(loop.name));
  if (tables.empty()) out += "<p>No fish are described in the loop file, so there are no times.</p>\n";
  for (const answers::Drawdown& d : drawdowns) out += actions(d);
  for (const EmergencyTable& t : tables) out += today_table(t, true) + today_table(t, false) + stock_table(t);
  if (!tables.empty()) {
    out += "<p><small>Counted from the failure, with ";
    for (std::size_t i = 0; i < tables.front().assumed.size(); ++i)
      out += (i == 0 ? "" : "; ") + html(tables.front().assumed[i]);
    out += fmt::format(
        ". \"Soonest\" has uptake and surface at their worst. Made on {}: print it anew when the fish have grown by a "
        "third.</small></p>\n",
        html(today));
  }
  out +=
      "<h2>When it is back</h2>\n<ol><li>One pump at a time; watch sump and siphons, which have lost their prime.</li>"
      "<li>No feed until oxygen is over 7 mg/L and the fish are calm.</li><li>Ammonia and nitrite on each of the next "
      "three days.</li></ol>\n"
      "<h2>Care</h2>\n<p>Every circuit behind an RCD/GFCI; unplug before hands go in. Batteries and inverters above "
      "and away from the water. "
      "A generator never runs indoors: its fumes kill. Ice and tap water may hold chlorine. Nobody alone at deep water "
      "in the "
      "dark. Local codes and licensed work come first.</p>\n";
  return out + "</body></html>\n";
}

}  // namespace leat::tell
