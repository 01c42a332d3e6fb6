#include "answers/judge/plumbing_statements.h"

#include <algorithm>

namespace leat::answers {

void judge_plumbing(const CheckStudy& study, CheckAnswer& a) {
  for (const auto judge : {judge_flows, judge_fish, judge_returns, judge_beds, judge_sump, judge_failures})
    judge(study, a);
  std::stable_sort(a.findings.begin(), a.findings.end(), [](const Finding& x, const Finding& y) {
    const auto rank = [](Verdict v) {
      return v == Verdict::bad ? 0 : v == Verdict::tight ? 1 : v == Verdict::cannot_tell ? 2 : 3;
    };
    return rank(x.verdict) < rank(y.verdict);
  });
}

}  // namespace leat::answers
