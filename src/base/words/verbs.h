// The verbs: one verb is one answer, asked the same way on the command line, over HTTP and on a page.
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace leat::words {

struct Verb {
  std::string_view name;
  std::string_view answers;  ///< the question, as a grower would ask it
};

inline constexpr std::array kVerbs = {
    Verb{"new", "a starter loop file to fill in"},
    Verb{"check", "is this plumbing sound, before a pipe is cut?"},
    Verb{"outage", "power, or one part, fails now: what spills, how long do the fish have?"},
    Verb{"compare", "today's loop against a plan: will it work, and what does it take?"},
    Verb{"ahead", "what will the water do in the next days?"},
    Verb{"season", "over months: what may go wrong, what is ready when, what runs short?"},
    Verb{"carry", "how many fish, how much bed, and what limits first?"},
    Verb{"feed", "how much today?"},
    Verb{"night", "will oxygen be low before dawn?"},
    Verb{"dose", "how much of what, over how many days?"},
    Verb{"note", "put in what you did or read, in plain words"},
    Verb{"record", "look up what was noted, correct it, take it elsewhere"},
    Verb{"trial", "what do the plantings say: is the raft really better?"},
    Verb{"round", "what do I look at and do now?"},
    Verb{"odd", "what in the record does not fit?"},
    Verb{"cause", "what killed them?"},
    Verb{"helped", "did that change help, once the weather is taken out?"},
    Verb{"week", "the week on one page, every number with its readings"},
    Verb{"serve", "the page, for the phone beside the tank and for the desk"},
    Verb{"listen", "what do the sensors send? Their MQTT messages go into the record"},
    Verb{"backup", "a copy of the record, looked at and dated"},
    Verb{"restore", "bring a backup back, and keep what was"},
    Verb{"calc", "one relation of the trade, with its source"},
    Verb{"words", "every word that a loop file and an answer may hold"},
};

/// What a verb answers; empty for none.
inline std::string answers_of(std::string_view verb) {
  for (const Verb& v : kVerbs)
    if (v.name == verb) return std::string(v.answers);
  return {};
}

}  // namespace leat::words
