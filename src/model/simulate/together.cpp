#include "model/simulate/together.h"

#include <algorithm>
#include <atomic>
#include <thread>

#include "model/simulate/member.h"

extern "C" {
bool leat_run_pack_plain(leat::model::PackOfMembers* pack);
#if defined(__x86_64__)
bool leat_run_pack_avx2(leat::model::PackOfMembers* pack);
bool leat_run_pack_avx512(leat::model::PackOfMembers* pack);
#endif
}

namespace leat::model {
namespace {

constexpr std::size_t kLanes = 8;

struct Width {
  const char* name;
  bool (*run)(PackOfMembers*);
};

/// Those that this machine has, the widest first.
std::vector<Width> widths() {
  std::vector<Width> all;
#if defined(__x86_64__)
  if (__builtin_cpu_supports("x86-64-v4")) all.push_back({"AVX-512", &leat_run_pack_avx512});
  if (__builtin_cpu_supports("x86-64-v3")) all.push_back({"AVX2", &leat_run_pack_avx2});
  all.push_back({"SSE2", &leat_run_pack_plain});
#else
  all.push_back({"plain", &leat_run_pack_plain});
#endif
  return all;
}

/// One member with all that it is run with.
struct Ready {
  MemberInput input;
  Forcing forcing;
  Equations equations;
  std::unique_ptr<Member> member;

  Ready(const TogetherRequest& request, std::size_t m)
      : input(request.make(m)),
        forcing(input.loop.site, input.weather),
        equations(input.loop, request.plumbing, request.running, forcing, Slopes::elsewhere),
        member(make_member(input.loop, equations, request.from)) {}
};

/// By the reference integrator, from the start.
void run_alone(const TogetherRequest& request, std::size_t m) {
  const MemberInput input = request.make(m);
  const Forcing forcing(input.loop.site, input.weather);
  const Equations equations(input.loop, request.plumbing, request.running, forcing);
  request.take(m, input.loop, equations, forcing,
               simulate(input.loop, equations, request.from, request.to, request.options));
}

/// Members of one pack, the first of which is `from`; returns how many were run alone.
std::size_t run_pack(const TogetherRequest& request, const JacobianPlan& jacobian, std::size_t from) {
  const std::vector<Width> here_are = widths();
  const Width width = here_are[std::min(request.narrower, here_are.size() - 1)];
  const std::size_t here = std::min(kLanes, request.members - from);
  std::vector<std::unique_ptr<Ready>> ready;
  for (std::size_t i = 0; i < here; ++i) ready.push_back(std::make_unique<Ready>(request, from + i));
  PackOfMembers pack{{}, {}, {}, jacobian, request.from, request.to, request.options, request.tolerance, {}};
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    const Ready& one = *ready[std::min(lane, here - 1)];
    pack.members[lane] = one.member.get();
    pack.equations[lane] = &one.equations;
    pack.empty[lane] = lane >= here;
  }
  // Weather that does not reach over the whole run has no hours for the lanes; the reference holds on to its ends.
  const bool covered = std::all_of(ready.begin(), ready.end(), [&](const auto& one) {
    return one->forcing.start() <= request.from && request.to <= one->forcing.end();
  });
  if (!covered || !width.run(&pack)) {
    ready.clear();
    for (std::size_t i = 0; i < here; ++i) run_alone(request, from + i);
    return here;
  }
  for (std::size_t i = 0; i < here; ++i) {
    request.take(from + i, ready[i]->input.loop, ready[i]->equations, ready[i]->forcing, pack.trajectories[i]);
    pack.trajectories[i] = {};
  }
  return 0;
}

}  // namespace

std::vector<const char*> lane_widths() {
  std::vector<const char*> names;
  for (const Width& width : widths()) names.push_back(width.name);
  return names;
}

std::size_t simulate_together(const TogetherRequest& request) {
  if (request.members == 0) return 0;
  const MemberInput first = request.make(0);
  const Forcing forcing(first.loop.site, first.weather);
  const JacobianPlan jacobian(Equations(first.loop, request.plumbing, request.running, forcing, Slopes::elsewhere));
  const std::size_t packs = (request.members + kLanes - 1) / kLanes;
  std::atomic<std::size_t> next{0}, alone{0};
  const auto work = [&] {
    for (std::size_t p = next++; p < packs; p = next++) alone += run_pack(request, jacobian, p * kLanes);
  };
  std::vector<std::thread> threads;
  const std::size_t cores = request.threads > 0 ? request.threads : std::thread::hardware_concurrency();
  for (std::size_t i = 1; i < std::min(cores, packs); ++i) threads.emplace_back(work);
  work();
  for (std::thread& t : threads) t.join();
  return alone;
}

}  // namespace leat::model
