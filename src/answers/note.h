// leat note: put in what was done or read. Nothing is refused; what is not plain is kept as words.
#pragma once

#include <string>
#include <vector>

#include "record/phrase.h"
#include "record/store.h"

namespace leat::answers {

struct NoteRequest {
  std::vector<std::string> phrases;
  std::string instrument{};             ///< of the readings, unless the phrase says
  std::string description{};            ///< the loop file as it is, for a new chapter
  bool dry = false;                     ///< say what was understood, keep nothing
  std::string key{};                    ///< of this sending; sent twice it is kept once
  double fish_grams = 0.0;              ///< what all fish weigh by the loop file; 0: not known
  std::vector<record::Entry> photos{};  ///< that are on the disk already; they get the place of what was noted
};

struct NoteAnswer {
  std::vector<record::Understood> understood;  ///< numbered, when they were kept
  bool dry = false;
  bool again = false;         ///< it had been kept under this key before; nothing was added
  std::int64_t chapter = 0;   ///< the entry that keeps the loop file, if the record had no chapter before this note
  bool loop_changed = false;  ///< the loop file is another than when the present chapter was opened
};

/// Min/max readings of the last days, whose times are when the thermometer was reset.
std::vector<record::Reset> resets_in(const record::Store& store, record::Moment now);

/// What was planted by the record, as it was written.
std::vector<std::string> crops_in(const record::Store& store);

/// Reads the phrases and keeps what they say, all at once or nothing. Without a store, as when it is dry, nothing is
/// kept.
std::variant<NoteAnswer, record::Trouble> note(record::Store* store, const record::Context& context,
                                               const NoteRequest& request);

}  // namespace leat::answers
