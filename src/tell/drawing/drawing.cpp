// leat check --drawing: the whole sheet, from the title to the legend.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tell/common.h"
#include "tell/drawing/layout/text.h"
#include "tell/drawing/legend.h"
#include "tell/drawing/parts.h"
#include "tell/tell.h"

namespace leat::tell {
namespace drawing {
namespace {

constexpr double kMargin = 16.0;

/// Text from the left, broken to the sheet; what follows stands under it.
class TextColumn {
  Svg& svg_;
  double left_, width_, y_;

 public:
  TextColumn(Svg& svg, double left, double width, double y) : svg_(svg), left_(left), width_(width), y_(y) {}
  double y() const { return y_; }
  void skip(double by) { y_ += by; }
  void add(std::string_view css_class, std::string_view text, double size, bool bold, double indent = 0.0) {
    for (const std::string& line : broken(text, width_ - indent, size, bold)) {
      y_ += size * 1.35;
      svg_.text(css_class, {left_ + indent, y_}, line);
    }
  }
  void add_marked(const Mark& mark, const answers::Finding& f) {
    draw_mark(svg_, {left_ + 10.0, y_ + 13.0}, mark);
    add("bold", fmt::format("{} {}: {}", verdict_word(f.verdict), f.path, in_words(f.statement)), kPlain, true, 28.0);
    add("plain", f.reason + ".", kPlain, false, 28.0);
    y_ += 4.0;
  }
};

std::string round_note(const answers::CheckAnswer& answer) {
  if (!answer.running_settled) return "The levels found no rest; what is shown is where they were left.";
  if (!answer.cycle.switches) return "Levels and flows with the pumps running.";
  if (!answer.cycle.periodic) return "Levels and flows are the highest of a long stretch: it has no common period.";
  return fmt::format("Levels and flows are the highest of a round of {:.1f} min.", answer.cycle.period.si() / 60.0);
}

void write_head(TextColumn& text, const answers::CheckAnswer& answer) {
  std::string title = headline(answer);
  title.erase(title.find_last_not_of('\n') + 1);
  text.skip(8.0);
  text.add("title", title, kTitle, true);
  text.skip(6.0);
  if (!answer.findings.empty() && answer.findings.front().verdict != answers::Verdict::good)
    text.add_marked({1, answer.findings.front().verdict}, answer.findings.front());
  text.add("quiet", round_note(answer), kPlain, false);
  text.skip(12.0);
}

Sign sign_of(answers::Verdict verdict) {
  return verdict == answers::Verdict::bad ? Sign::bad : verdict == answers::Verdict::tight ? Sign::tight : Sign::unsure;
}

/// All but the first, in two columns where the sheet is wide enough; returns where they end.
double write_findings(Svg& svg, double width, double top, const std::vector<answers::Finding>& findings, Signs& signs) {
  const auto unwell = std::count_if(findings.begin(), findings.end(),
                                    [](const auto& f) { return f.verdict != answers::Verdict::good; });
  const bool two = width > 860.0 && unwell > 4;
  const double each = two ? (width - 3.0 * kMargin) / 2.0 : width - 2.0 * kMargin;
  TextColumn left(svg, kMargin, each, top), right(svg, 2.0 * kMargin + each, each, top);
  int number = 0;
  for (const answers::Finding& f : findings) {
    if (f.verdict == answers::Verdict::good) continue;
    signs.insert(sign_of(f.verdict));
    if (++number > 1) (two && number > 1 + unwell / 2 ? right : left).add_marked({number, f.verdict}, f);
  }
  return std::max(left.y(), right.y());
}

void write_left_out(TextColumn& text, const std::vector<WordLine>& left_out) {
  if (left_out.empty()) return;
  std::string all = "No room beside the pipe: ";
  for (const WordLine& words : left_out) {
    all += (&words == &left_out.front() ? "" : "; ") + words.text;
    for (const Mark& mark : words.marks) all += fmt::format(" ({})", mark.number);
  }
  text.add("plain", all + ".", kPlain, false);
  text.skip(6.0);
}

void draw_loop(Pen& pen, const answers::CheckAnswer& answer) {
  draw_scale(pen);
  draw_vessels(pen);
  draw_pipes(pen);
  draw_symbols(pen);
  if (!answer.findings.empty() && answer.findings.front().verdict != answers::Verdict::good)
    draw_ring(pen, answer.findings.front().path);
  draw_labels(pen);
}

}  // namespace
}  // namespace drawing

std::string drawing_svg(const model::Loop& loop, const answers::CheckAnswer& answer) {
  using namespace drawing;
  Sheet sheet = make_sheet(loop, answer, false);
  if (sheet.area.right > kWidest) sheet = make_sheet(loop, answer, true);
  const double width = sheet.area.right;
  Svg svg;
  Signs signs;
  TextColumn head(svg, kMargin, width - 2.0 * kMargin, 0.0);
  write_head(head, answer);
  svg.set_down(head.y() - sheet.area.top);
  Pen pen{svg, sheet, loop, answer, signs};
  draw_loop(pen, answer);
  svg.set_down(0.0);
  TextColumn foot(svg, kMargin, width - 2.0 * kMargin, head.y() + sheet.area.height() + 10.0);
  write_left_out(foot, sheet.left_out);
  const double listed = write_findings(svg, width, foot.y(), answer.findings, signs);
  const double end = draw_legend(svg, signs, listed + 8.0, width);
  TextColumn last(svg, kMargin, width - 2.0 * kMargin, end);
  last.add(
      "quiet",
      "Heights are to scale, in metres above your mark; the ways of pipes are not. A vessel is wider for more area, a "
      "pipe for more flow.",
      kPlain, false);
  return svg.document(width, last.y() + 16.0, answer.loop_name.empty() ? "Loop" : answer.loop_name);
}

}  // namespace leat::tell
