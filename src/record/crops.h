// Names of crops, for what is written of them: those that the loop or the record has go before those of the tables.
#pragma once

#include <string>
#include <vector>

namespace leat::record {

/// Whether it is a crop: of the grower's own, of the table, or another plain word for one; many as well ("lettuces").
bool is_crop(const std::string& subject, const std::vector<std::string>& own);

/// The crop that was likely meant where the subject is none: one of the grower's own first. A crop that the grower
/// has under another name ("arugula" beside "rocket") gives that name. Empty when the subject stands as it is.
std::string likely_crop(const std::string& subject, const std::vector<std::string>& own);

}  // namespace leat::record
