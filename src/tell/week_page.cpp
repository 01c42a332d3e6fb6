// A week as one HTML file: nothing is loaded from elsewhere and nothing runs in it.
#include <fmt/core.h>

#include "record/when.h"
#include "tell/drawing/layout/text.h"
#include "tell/markdown.h"
#include "tell/record_text.h"
#include "tell/week_text.h"

namespace leat::tell {
namespace {

using answers::WeekAnswer;
using drawing::escaped;

constexpr const char* kStyle = R"(
:root { color-scheme: light; }
body { font: 17px/1.45 sans-serif; color: #111; background: #fff; margin: 0 auto; max-width: 46rem; padding: 1rem; }
h1 { font-size: 1.6rem; line-height: 1.2; } h2 { font-size: 1.15rem; margin: 1.4rem 0 .3rem; }
a { color: #004b87; text-decoration-thickness: 1px; } a:focus { outline: 3px solid #e69f00; }
blockquote { margin: .4rem 0; padding-left: .8rem; border-left: 4px solid #999; }
figure { margin: 1rem 0; } figcaption { font-size: .9rem; } svg { width: 100%; height: auto; }
svg .grid { stroke: #ccc; } svg .tick { font: 12px sans-serif; fill: #333; }
svg .water { fill: #0072b2; } svg .air { fill: #fff; stroke: #b36200; stroke-width: 2; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; } th, td { text-align: left; vertical-align: top;
  padding: .2rem .5rem .2rem 0; border-bottom: 1px solid #ccc; overflow-wrap: anywhere; }
:target { background: #fff2c2; } footer { margin-top: 1.5rem; font-size: .85rem; overflow-wrap: anywhere; }
.fault { border: 3px solid #a00; padding: .5rem; }
@media print {
  @page { margin: 16mm; } body { max-width: none; padding: 0; font-size: 10.5pt; } a { color: inherit; text-decoration: none; }
  h2, figcaption { break-after: avoid; } figure, tr, li { break-inside: avoid; } thead { display: table-header-group; }
}
)";

std::string entry_links(const std::vector<std::int64_t>& entries) {
  std::string text;
  for (const std::int64_t n : entries) text += fmt::format("{0}<a href=\"#e{1}\">{1}</a>", text.empty() ? "" : " ", n);
  return text;
}

std::string figures_table(const WeekAnswer& w) {
  if (w.figures.empty()) return "";
  std::string out =
      "<h2>Where each number comes from</h2>\n<table><thead><tr><th>what<th>number<th>entries</thead><tbody>\n";
  for (const answers::Figure& f : w.figures)
    out += fmt::format("<tr id=\"{}\"><td>{}<td>{}<td>{}\n", anchor_of(f.name), escaped(f.label),
                       escaped(figure_text(f)), entry_links(f.entries));
  return out + "</tbody></table>\n";
}

std::string entries_table(const WeekAnswer& w, const Clock& clock) {
  if (w.cited.empty()) return "";
  std::string out =
      "<h2>The readings and notes</h2>\n<table><thead><tr><th>entry<th>what was understood<th>as it was "
      "typed</thead><tbody>\n";
  for (const record::Entry& e : w.cited)
    out += fmt::format("<tr id=\"e{0}\"><td>{0}<td>{1}<td>{2}\n", e.number, escaped(entry_line(e, clock)),
                       escaped(e.said));
  return out + "</tbody></table>\n";
}

}  // namespace

std::string week_page(const WeekAnswer& w, const WeekFrame& frame, const Clock& clock) {
  std::string faults;
  for (const std::string& fault : frame.faults)
    faults += fmt::format("<p class=\"fault\">The record is not as it was put in: {}</p>\n", escaped(fault));
  return fmt::format(
      "<!doctype html>\n<!-- leat week -->\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
      "<title>{} {}</title>\n<style>{}</style></head>\n<body><main>\n{}{}</main>\n{}{}{}{}"
      "<footer>Record: {} entries that stand. Head of its chain: <code>{}</code><br>Whoever keeps this head can show "
      "later with <code>leat record --verify --head</code> that nothing before it was "
      "changed.</footer>\n</body></html>\n",
      escaped(frame.loop), w.last.text(), kStyle, faults, html_of_markdown(frame.wording), swing_plot(w, clock),
      feed_plot(w), figures_table(w), entries_table(w, clock), w.in_record, escaped(frame.head));
}

}  // namespace leat::tell
