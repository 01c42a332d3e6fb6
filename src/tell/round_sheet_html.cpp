#include <fmt/core.h>

#include "learn/present.h"
#include "record/when.h"
#include "tell/page_style.h"
#include "tell/round_text.h"

namespace leat::tell {
namespace {

std::string row(const std::string& what, const std::string& why, const std::string& blank) {
  return fmt::format(
      "<tr><td class=\"tick\">&#9744;</td><td><b>{}</b><br><small>{}</small></td><td class=\"blank\">{}</td></tr>\n",
      html(what), html(why), html(blank));
}

/// What is to be written in, by the kind of task.
std::string blank_for(const answers::Task& t) {
  using answers::Cadence;
  if (t.cadence == Cadence::dawn || t.cadence == Cadence::dusk)
    return "now ____ min ____ max ____  dead ____  mark ____";
  if (t.cadence == Cadence::meal) return "fed ____ g   left? ____";
  if (t.id == "tests") return "pH ____ KH ____ NH ____ NO2 ____ NO3 ____";
  if (t.id == "weigh") return "____ fish ____ g together";
  return t.id == "flow" ? "____ L in ____ s" : "";
}

}  // namespace

std::string html(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string round_sheet_html(const answers::RoundAnswer& a, const Clock& clock) {
  const std::string day = record::span_text(clock, {a.now, a.now}).substr(0, 10);
  std::string out = page_head(fmt::format("Round, {}, {}", a.loop_name, day));
  out += fmt::format("<h1>{}: round of {}</h1>\n", html(a.loop_name), day);
  for (const answers::Urgent& u : a.urgent)
    out += fmt::format("<p class=\"urgent\"><b>Urgent: {}</b>{}. {}. To do: {}.</p>\n", html(u.what),
                       u.at ? html(", about " + record::span_text(clock, {*u.at, *u.at}).substr(11)) : "",
                       html(u.reason), html(u.action));
  out += "<table>\n<tr><th></th><th>Due today</th><th>Write down</th></tr>\n";
  for (const answers::Task& t : a.due)
    out += row(fmt::format("{} {}", record::span_text(clock, {t.due, t.due}).substr(11), t.what), t.why, blank_for(t));
  out += "</table>\n";
  if (!a.odd.empty()) out += "<h2>Does not fit</h2>\n<ol>\n";
  for (const learn::Oddity& o : a.odd)
    out += fmt::format("<li><b>{}</b>: {}. To do: {}.</li>\n", html((o.where.empty() ? "" : o.where + ": ") + o.what),
                       html(o.reason), html(o.action));
  if (!a.odd.empty()) out += "</ol>\n";
  out +=
      "<h2>Anything else</h2>\n<p class=\"lines\">gasping? &nbsp; colour of the water? &nbsp; smell? &nbsp; roots? "
      "&nbsp; leaks?</p>\n"
      "<div class=\"ruled\"></div><div class=\"ruled\"></div><div class=\"ruled\"></div>\n"
      "<p><small>Gasping fish come first: air, then questions. Type it in later: leat note ... --at "
      "\"07:30\".</small></p>\n";
  return out + "</body></html>\n";
}

}  // namespace leat::tell
