// What is done on a day within a run.
#include <algorithm>
#include <map>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/crops/crop.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Early, in the cool and the shade, is when fish are handled (common practice).
constexpr double kEarly = 7.0;

/// When a deed is done; nothing, and a complaint, when it does not say so.
std::optional<CivilTime> moment_of(Filling& fill, const Component& c) {
  const Said* on = c.find("on");
  if (!on) {
    fill.complain(c, "on", "is missing; say which day, such as on = \"2026-04-12\" or on = \"2026-04-12 07:00\"");
    return std::nullopt;
  }
  const auto date = read_date(on->text);
  CivilTime when{std::get<CivilDate>(date), kEarly};
  if (on->hours.empty())
    fill.assume(c, "on", "at 07:00", "early, in the cool (common practice)");
  else
    when.hour = on->hours.front();
  return when;
}

/// Groups by the heading that stands for them: [fish.NAME], or [fish_move.NAME] for those that a move made.
class Moving {
  Filling& fill_;
  Loop& loop_;
  std::map<std::string, std::size_t, std::less<>> groups_;

  FishGroup& group(std::size_t i) {
    return i < loop_.fish.size() ? loop_.fish[i] : loop_.fish_to_come[i - loop_.fish.size()];
  }

  std::optional<std::size_t> named(const Component& c, std::string_view key) {
    const Said* said = c.find(key);
    if (!said || c.refused.contains(key)) return std::nullopt;
    const auto found = groups_.find(said->text);
    if (found != groups_.end()) return found->second;
    if (said->text.starts_with("fish_move."))
      fill_.complain(c, key,
                     fmt::format("{} makes no group before that day; a move may follow one that is done earlier and "
                                 "leads to a tank",
                                 quoted(said->text)));
    return std::nullopt;
  }

  /// A new group of the fish that go to a tank.
  std::optional<std::size_t> found(const Component& c, std::size_t from, int tank) {
    const std::string path = "fish." + c.name;
    const auto is_it = [&](const FishGroup& g) { return g.path == path; };
    if (std::any_of(loop_.fish.begin(), loop_.fish.end(), is_it)) {
      fill_.complain(
          c, "", fmt::format("makes a group of its own name, but {} is there already; name the move otherwise", path));
      return std::nullopt;
    }
    if (group(from).vessel == tank) {
      fill_.complain(c, "to", fmt::format("{} is where they are already", loop_.vessels[at(tank)].path));
      return std::nullopt;
    }
    FishGroup made = group(from);
    made.path = path;
    made.vessel = tank;
    made.count = 0.0;
    made.feed.reset();
    loop_.fish_to_come.push_back(std::move(made));
    const std::size_t index = loop_.fish.size() + loop_.fish_to_come.size() - 1;
    groups_[c.path()] = index;
    return index;
  }

  /// The group that they join must be of their kind and on their feed: what is in their guts is entered as its feed.
  bool may_join(const Component& c, std::size_t from, std::size_t into) {
    const FishGroup &a = group(from), &b = group(into);
    std::string why;
    if (from == into)
      why = "is the group that they come from";
    else if (a.species != b.species)
      why = fmt::format("holds {}, and these are {}; let them be a group of their own: name the tank", b.species,
                        a.species);
    else if (a.feed_protein != b.feed_protein)
      why = fmt::format("is fed {:g} % of protein and these {:g} %; let them be a group of their own: name the tank",
                        100.0 * b.feed_protein, 100.0 * a.feed_protein);
    if (!why.empty()) fill_.complain(c, "to", fmt::format("{} {}", quoted(Filling::written(c, "to")), why));
    return why.empty();
  }

  /// Where they go: false when that was refused.
  bool take_end(const Component& c, FishMove& move) {
    if (c.refused.contains("to")) return false;
    if (!Filling::has(c, "to")) return true;
    const int tank = loop_.vessel_index(Filling::written(c, "to"));
    move.into = tank >= 0 ? found(c, move.from, tank) : named(c, "to");
    return move.into && may_join(c, move.from, *move.into);
  }

  void take_which(const Component& c, FishMove& move) {
    if (const Said* count = c.find("count")) move.count = count->number;
    move.larger_than = fill_.said<dim::mass>(c, "larger_than");
    move.smaller_than = fill_.said<dim::mass>(c, "smaller_than");
    const std::string take = Filling::written(c, "take");
    move.taken = take == "largest" ? Taken::largest : take == "smallest" ? Taken::smallest : Taken::any;
    if (move.larger_than && move.smaller_than && *move.larger_than >= *move.smaller_than)
      fill_.complain(
          c, "larger_than",
          fmt::format("{} is not under smaller_than, {}; no fish is between them",
                      quoted(Filling::written(c, "larger_than")), quoted(Filling::written(c, "smaller_than"))));
    if (move.taken != Taken::any && !move.count)
      fill_.complain(c, "take", "needs a count beside it, such as count = 20");
    if (move.taken != Taken::any && (move.larger_than || move.smaller_than))
      fill_.complain(c, "take", "stands beside larger_than or smaller_than; keep one of the two");
  }

 public:
  Moving(Filling& fill, Loop& loop) : fill_(fill), loop_(loop) {
    for (std::size_t g = 0; g < loop.fish.size(); ++g) groups_[loop.fish[g].path] = g;
  }

  void take(const Component& c, const CivilTime& when) {
    FishMove move;
    move.path = c.path();
    move.when = when;
    if (!Filling::has(c, "fish")) {
      fill_.complain(c, "fish", "is missing; say which fish, such as fish = \"fish.trout\"");
      return;
    }
    const auto from = named(c, "fish");
    if (!from) return;
    move.from = *from;
    take_which(c, move);
    if (!take_end(c, move)) return;
    if (const auto over = fill_.said<dim::time>(c, "tempering"))
      move.tempering = *over;
    else if (move.into)
      fill_.assume(c, "tempering", "0 min", "not said: straight from one water into the other");
    loop_.deeds.moves.push_back(std::move(move));
  }
};

bool earlier(const CivilTime& a, const CivilTime& b) {
  return a.date == b.date ? a.hour < b.hour : a.date < b.date;
}

void make_moves(Filling& fill, Loop& loop) {
  std::vector<std::pair<CivilTime, const Component*>> all;
  for (const Component* c : fill.description().of_kind("fish_move"))
    if (const auto when = moment_of(fill, *c)) all.emplace_back(*when, c);
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return earlier(a.first, b.first); });
  Moving moving(fill, loop);
  for (const auto& [when, c] : all) moving.take(*c, when);
  const bool graded = std::any_of(loop.deeds.moves.begin(), loop.deeds.moves.end(), [](const FishMove& m) {
    return m.larger_than || m.smaller_than || m.taken != Taken::any;
  });
  for (const FishGroup& g : loop.fish)
    if (const Component* c = fill.description().find(g.path); graded && c && !Filling::has(*c, "spread"))
      fill.assume(*c, "spread", "25 %", "fish of one age differ by a fifth to a third (common practice)");
}

/// A picked crop is cut as it is picked, any other whole.
double share_cut(Filling& fill, const Component& c, const Planting& planting) {
  if (const Said* share = c.find("share")) return share->number;
  const science::Crop* crop = science::find_crop(planting.crop);
  const double share = planting.picked && crop && crop->pick_share ? *crop->pick_share : 1.0;
  if (share < 1.0)
    fill.assume(c, "share", fmt::format("{:.0f} %", 100.0 * share),
                fmt::format("{} is picked and grows on (table of crops)", crop->name));
  return share;
}

}  // namespace

void make_deeds(Filling& fill, Loop& loop) {
  make_moves(fill, loop);
  for (const Component* c : fill.description().of_kind("algae_death")) {
    const auto when = moment_of(fill, *c);
    if (!when) continue;
    AlgaeDeath death{c->path(), *when, 0.9, std::nullopt};
    death.share = fill.number(*c, "share", 0.9, "most of a bloom goes at once (common practice)");
    if (const int vessel = vessel_of(fill, *c, "in", loop); vessel >= 0) death.vessel = vessel;
    loop.deeds.algae_deaths.push_back(std::move(death));
  }
  for (const Component* c : fill.description().of_kind("cut")) {
    const auto when = moment_of(fill, *c);
    const std::string& path = Filling::written(*c, "planting");
    if (path.empty())
      fill.complain(*c, "planting", "is missing; say which plants, such as planting = \"planting.greens\"");
    for (std::size_t p = 0; p < loop.plantings.size() && when; ++p) {
      if (loop.plantings[p].path != path) continue;
      loop.deeds.cuts.push_back({c->path(), p, *when, share_cut(fill, *c, loop.plantings[p])});
    }
  }
}

}  // namespace leat::model
