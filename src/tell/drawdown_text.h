// How long the fish have, as text that fits a phone.
#pragma once

#include <string>

#include "answers/drawdown.h"

namespace leat::tell {

/// One tank's verdict: the earliest end first.
std::string drawdown_verdict(const answers::Drawdown& drawdown);
/// Times by state, what to do in which order, how the band was made, what was taken.
std::string drawdown_text(const answers::Drawdown& drawdown);

}  // namespace leat::tell
