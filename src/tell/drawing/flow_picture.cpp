// Where heat, oxygen, nitrogen, carbon and phosphorus came from and went, as bands between what gave and what took.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/ahead.h"
#include "tell/drawing/svg.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using namespace drawing;

constexpr double kLeft = 290.0, kMiddle = 510.0, kRight = 730.0, kWide = 1030.0, kBar = 14.0;
constexpr double kTall = 150.0;  ///< of all that came in
constexpr double kRow = 19.0;    ///< least room for one line of text

struct Part {
  std::string name;
  double amount = 0.0;
};

/// One ledger as parts that gave and parts that took, the largest first; what is under a hundredth goes together.
struct Balance {
  std::vector<Part> gave, took;
  double total = 0.0;
  std::string title, unit;
};

void gather(std::vector<Part>& parts, double total) {
  std::sort(parts.begin(), parts.end(), [](const Part& a, const Part& b) { return a.amount > b.amount; });
  Part rest{"other", 0.0};
  while (!parts.empty() && parts.back().amount < 0.01 * total) {
    rest.amount += parts.back().amount;
    parts.pop_back();
  }
  if (rest.amount > 0.002 * total) parts.push_back(rest);
}

struct Shown {
  model::Ledger ledger;
  const char *title, *unit;
  double per_unit;  ///< shown amount of one unit of the ledger
};
constexpr Shown kShown[] = {{model::Ledger::heat, "Heat", "MJ", 1e-6},
                            {model::Ledger::oxygen, "Dissolved oxygen", "g", 31.998},
                            {model::Ledger::nitrogen, "Nitrogen", "g", 14.007},
                            {model::Ledger::carbon, "Carbon", "g", 12.011},
                            {model::Ledger::phosphorus, "Phosphorus", "g", 30.974}};

Balance balance_of(const answers::LedgerTable& table, const Shown& shown) {
  Balance b;
  b.title = shown.title;
  b.unit = shown.unit;
  const auto add = [&](const std::string& name, double amount) {
    if (amount > 0.0) b.gave.push_back({name, amount * shown.per_unit});
    if (amount < 0.0) b.took.push_back({name, -amount * shown.per_unit});
  };
  for (const answers::LedgerLine& line : table.lines) {
    std::string name = line.account;
    std::replace(name.begin(), name.end(), '_', ' ');
    add(name, line.amount);
  }
  for (const answers::LedgerLine& part : table.kept)
    add(part.amount > 0.0 ? "kept " + part.account : "from what was " + part.account, -part.amount);
  double gave = 0.0, took = 0.0;
  for (const Part& p : b.gave) gave += p.amount;
  for (const Part& p : b.took) took += p.amount;
  b.total = std::max(gave, took);
  gather(b.gave, b.total);
  gather(b.took, b.total);
  return b;
}

std::string label(const Part& part, const Balance& b) {
  const double share = 100.0 * part.amount / b.total;
  return fmt::format("{}  {:.{}f} {}, {:.0f} %", part.name, part.amount, part.amount < 9.95 ? 1 : 0, b.unit, share);
}

/// One side of a panel: a bar and a band for each part. Returns how far down it reaches.
double draw_side(Svg& svg, const Balance& b, const std::vector<Part>& parts, double top, bool left) {
  double outer = top, inner = top;
  const double edge = left ? kLeft : kRight, centre = left ? kMiddle : kMiddle + kBar, bend = 0.5 * (kMiddle - kLeft);
  const double from = left ? edge + kBar : edge, toward = left ? 1.0 : -1.0;
  for (const Part& part : parts) {
    const double tall = kTall * part.amount / b.total, low = outer + tall, in_low = inner + tall;
    svg.curve(left ? "water" : "raft", "MCLCZ",
              {{from, outer},
               {from + toward * bend, outer},
               {centre - toward * bend, inner},
               {centre, inner},
               {centre, in_low},
               {centre - toward * bend, in_low},
               {from + toward * bend, low},
               {from, low}});
    svg.box("solid", {edge, outer, edge + kBar, low});
    const double text = outer + 0.5 * tall + 5.0;
    svg.text("", {left ? edge - 8.0 : edge + kBar + 8.0, text}, label(part, b), left ? Anchor::end : Anchor::start);
    outer += std::max(tall + 4.0, kRow);
    inner = in_low;
  }
  return outer;
}

double draw_panel(Svg& svg, const Balance& b, double top) {
  svg.text("bold", {24.0, top}, b.title);
  const double start = top + 14.0;
  const double down = std::max(draw_side(svg, b, b.gave, start, true), draw_side(svg, b, b.took, start, false));
  svg.box("solid", {kMiddle, start, kMiddle + kBar, start + kTall});
  svg.text("quiet", {kMiddle + 0.5 * kBar, start + kTall + 16.0}, fmt::format("{:.0f} {}", b.total, b.unit),
           Anchor::middle);
  return std::max(down, start + kTall + 20.0) + 30.0;
}

}  // namespace

std::string flow_picture_svg(const answers::AheadAnswer& a) {
  Svg svg;
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  const std::string title = a.dates.empty() ? name
                                            : fmt::format("{}: where it came from and where it went, {} to {}", name,
                                                          a.dates.front().text(), a.dates.back().text());
  svg.text("title", {24.0, 34.0}, title);
  svg.text("quiet", {24.0, 56.0},
           "What gave stands left, what took right; bands as wide as the amounts. Sums of one run with middle values.");
  double top = 92.0;
  for (const Shown& shown : kShown)
    for (const answers::LedgerTable& table : a.books)
      if (table.ledger == shown.ledger)
        if (const Balance b = balance_of(table, shown); b.total > 0.0) top = draw_panel(svg, b, top);
  return svg.document(kWide, top, title);
}

}  // namespace leat::tell
