// How sure a run is: the same run many times over, with all that is not known drawn anew each time.
#pragma once

#include "answers/ahead.h"
#include "model/flow/paths.h"

namespace leat::answers {

/// Runs on all cores; the answer depends on the seed and the number of members, not on how many cores there are.
Bands bands(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
            const model::Weather& weather, const AheadRequest& request);

/// How many members a run of so many days gets when nobody says: what two cores do in about a second and a half, at
/// least 20 and at most 200; none where 20 would take more than ten seconds.
int usual_members(const model::Loop& loop, int days);

/// Spearman's rank correlation; ties share their mean rank. 0 where one side does not vary.
double rank_correlation(const std::vector<double>& x, const std::vector<double>& y);

}  // namespace leat::answers
