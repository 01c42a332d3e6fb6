#include <fmt/core.h>

#include "answers/trial.h"
#include "doors/command/record_flags.h"
#include "doors/command/refused.h"
#include "doors/command/trial_verbs.h"
#include "tell/trial_text.h"

namespace leat::doors {
namespace {

/// "15 %" or "0.15" as a share.
double share_flag(const std::string& text, double usual, Problems& problems) {
  if (text.empty()) return usual;
  const auto read = read_measured(text, true);
  const Measured* m = std::get_if<Measured>(&read);
  if (m && m->dimension == Dimension{} && m->si >= 0.01 && m->si <= 2.0) return m->si;
  problems.add({"--wanted", 0, 0, "", fmt::format("\"{}\" is no share from 1 to 200 %; write such as \"15 %\"", text)});
  return usual;
}

/// "lagged: raft 1, raft 2"
void read_treatment(const std::string& text, const record::Context& context, answers::TrialRequest& request,
                    Problems& problems) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos || colon == 0) {
    problems.add(
        {"--treatment", 0, 0, "", fmt::format("\"{}\" names no beds; write such as \"lagged: raft 1, raft 2\"", text)});
    return;
  }
  answers::Treatment t{text.substr(0, colon), {}};
  for (std::size_t at = colon + 1; at < text.size();) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const std::string path = place_flag(text.substr(at, end - at), "--treatment", context, problems);
    if (!path.empty()) t.beds.push_back(path);
    at = end + 1;
  }
  request.treatments.push_back(std::move(t));
}

}  // namespace

int verb_trial(const TrialFlags& flags) {
  const auto read = read_whole_record(flags.loop, flags.now, "trial");
  if (!read) return 2;
  const record::Context& context = read->loop.context;
  Problems problems;
  answers::TrialRequest request;
  request.crop = flags.crop;
  for (const auto& [where, count] : read->loop.fish) request.fish.push_back({where, count});
  request.wanted = share_flag(flags.wanted, request.wanted, problems);
  if (const auto since = time_flag(flags.since, "--since", context, problems)) request.since = since->from;
  if (const auto until = time_flag(flags.until, "--until", context, problems)) request.until = until->to;
  for (const std::string& text : flags.treatments) read_treatment(text, context, request, problems);
  if (flags.json && flags.csv) problems.add({"leat trial", 0, 0, "", "--json and --csv are asked one at a time"});
  if (!problems.empty()) return refused(problems);
  const answers::TrialAnswer answer = answers::trial(read->entries, context, request);
  fmt::print("{}", flags.json  ? tell::trial_json(answer, context.clock)
                   : flags.csv ? tell::trial_csv(answer, context.clock)
                               : tell::trial_text(answer, context.clock));
  return 0;
}

}  // namespace leat::doors
