#include "tell/common.h"

#include <fmt/core.h>

#include "tell/table.h"

namespace leat::tell {

const char* const caution_electricity =
    "Water and electricity: every circuit behind an RCD/GFCI, drip loops on the cords, unplug before hands go in; "
    "mains wiring is "
    "licensed work under your local code.";
const char* const caution_mass =
    "1 m3 of water weighs a tonne: stands, roofs and soil against a wall are for a competent person to judge. Open "
    "water needs a lid or a "
    "fence where children come.";

std::string_view verdict_word(answers::Verdict verdict) {
  switch (verdict) {
    case answers::Verdict::good:
      return "ok";
    case answers::Verdict::tight:
      return "CARE";
    case answers::Verdict::bad:
      return "NO";
    case answers::Verdict::cannot_tell:
      return "cannot tell";
  }
  return "";
}

std::string_view plan_word(answers::Verdict verdict) {
  switch (verdict) {
    case answers::Verdict::good:
      return "yes";
    case answers::Verdict::tight:
      return "yes if";
    case answers::Verdict::bad:
      return "no";
    case answers::Verdict::cannot_tell:
      return "cannot tell";
  }
  return "";
}

std::string_view change_word(answers::CheckChange::What what) {
  using What = answers::CheckChange::What;
  return what == What::worse ? "worse" : what == What::added ? "new" : what == What::better ? "better" : "gone";
}

std::string in_words(std::string statement) {
  for (char& c : statement)
    if (c == '_') c = ' ';
  if (statement.starts_with("unionised")) statement.insert(2, "-");  // an identifier has no hyphen, English has
  return statement;
}

std::string_view word_of_difference(std::string_view word) {
  return word == "temperature" ? "swing" : word;
}

std::string findings_text(const std::vector<answers::Finding>& findings, std::size_t most) {
  std::string out;
  std::size_t shown = 0;
  for (const answers::Finding& f : findings) {
    // All that is not well is shown; what is well only up to `most` lines.
    if (shown++ >= most && f.verdict == answers::Verdict::good) continue;
    out += fmt::format("  {:<4} {}: {}\n", verdict_word(f.verdict), f.path, in_words(f.statement));
    out += wrapped("       " + f.reason + ".", 100, "       ");
    if (!f.action.empty()) out += wrapped("       To do: " + f.action + ".", 100, "       ");
    if (f.verdict != answers::Verdict::good && !f.source.empty())
      out += wrapped("       Limit from: " + f.source + ".", 100, "       ");
  }
  return out;
}

std::string assumptions_text(const std::vector<model::Assumption>& assumptions, bool all) {
  if (assumptions.empty()) return "Nothing was assumed: all was said.\n";
  if (!all)
    return fmt::format("{} things were assumed, so this is rough: --assumptions lists them with their reasons.\n",
                       assumptions.size());
  std::string out = "Assumed, because it was not said:\n";
  for (const model::Assumption& a : assumptions) {
    const std::string head = a.value.empty() ? a.path : fmt::format("{} = {}", a.path, a.value);
    out += wrapped(fmt::format("  {}: {}", head, a.reason), 110, "      ");
  }
  return out;
}

}  // namespace leat::tell
