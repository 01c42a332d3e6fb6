// Numbers with their units as people type them: "60g", "between 0.25 and 0.5 mg/L as N", "<1", "about 70 g", "4 drops".
#pragma once

#include <functional>

#include "record/entry.h"
#include "record/tokens.h"

namespace leat::record {

/// Takes a unit off the front and hands it back as the program writes it ("litres" is "L"), with its basis if it says
/// one. Empty when none stands there.
struct UnitSaid {
  std::string unit, basis;
  std::string doubt;  ///< why it cannot be taken: a bare "gal"
};
UnitSaid take_unit(const Tokens& tokens, std::size_t& at, std::size_t end);

/// Takes a number or an interval with its unit off the front. Nothing when there is none; a doubt says why a number
/// that stands there cannot be taken.
struct AmountSaid {
  Amount amount;
  std::string doubt;
};
std::optional<AmountSaid> take_amount(const Tokens& tokens, std::size_t& at, std::size_t end);

/// What kind of thing a unit measures: 'm' mass, 'v' volume, 't' temperature, 'c' per volume of water, 'l' length, 'f'
/// flow, '%', 'k' degrees or drops of hardness, 'e' conductivity, 's' time; 0 for another or none.
char kind_of_unit(const std::string& unit);

/// "60 g", "0.25 to 0.5 mg/L as N", "below 1 dKH", "about 70 g"
std::string amount_text(const Amount& amount);

}  // namespace leat::record
