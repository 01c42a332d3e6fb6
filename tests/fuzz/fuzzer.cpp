// One fuzzer for each target; LEAT_TARGET names it at build time.
#include <cstddef>
#include <cstdint>

#include "tests/fuzz/targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  leat::fuzz::LEAT_TARGET(std::string_view(reinterpret_cast<const char*>(data), size));
  return 0;
}
