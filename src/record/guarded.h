// What SQLite refused, as a trouble that is handed back: no exception leaves this folder.
#pragma once

#include "record/entry.h"
#include "record/sqlite.h"

namespace leat::record {

template <class Made>
auto guarded(Made&& made) -> std::variant<decltype(made()), Trouble> {
  try {
    return made();
  } catch (const Failed& failed) {
    return Trouble{failed.what()};
  }
}

}  // namespace leat::record
