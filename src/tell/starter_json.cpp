// The starter as JSON: its text, what was guessed in it, and the words to choose from.
#include "science/crops/crop.h"
#include "science/fish/species.h"
#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {

std::string starter_json(const std::string& file, const answers::Starter& starter) {
  ordered_json guesses = ordered_json::array();
  for (const answers::Guess& g : starter.guesses)
    guesses.push_back({{"path", g.path}, {"value", g.value}, {"reason", g.why}, {"better", g.better}});
  ordered_json species = ordered_json::array(), crops = ordered_json::array();
  for (const std::string_view name : science::species_names()) species.push_back(std::string(name));
  for (const std::string_view name : science::crop_names()) crops.push_back(std::string(name));
  return written({{"verb", "new"},
                  {"file", file},
                  {"text", starter.text},
                  {"guesses", guesses},
                  {"species", species},
                  {"crops", crops}});
}

}  // namespace leat::tell
