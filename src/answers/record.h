// leat record: look up, correct, take in. Nothing is erased.
#pragma once

#include "record/phrase.h"
#include "record/store.h"

namespace leat::answers {

struct Correction {
  std::int64_t number = 0;
  std::string phrase;  ///< what should stand there; "nothing": it never was
  std::string why;
  std::string description{};  ///< the loop file as it is, if the phrase opens a chapter
};

struct Corrected {
  record::Entry old;
  std::vector<record::Entry> instead;
};

/// Puts entries in that supersede one. Time and place are those of the old entry unless the phrase says. What is not
/// plain is not kept: the old entry still stands.
std::variant<Corrected, record::Trouble> correct(record::Store& store, const record::Context& context,
                                                 const Correction& correction);

/// Every entry, in the order in which they were put in.
std::variant<std::vector<record::Entry>, record::Trouble> whole_record(const record::Store& store,
                                                                       record::Filter filter = {});

}  // namespace leat::answers
