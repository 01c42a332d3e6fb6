// One relation of the trade, and the list of all, as JSON.
#pragma once

#include <string>

#include "answers/calc.h"

namespace leat::tell {

std::string calc_json(const answers::CalcAnswer& answer);
/// Every relation with what it gives and takes.
std::string relations_json();

}  // namespace leat::tell
