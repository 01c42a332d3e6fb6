#include <fmt/core.h>

#include "doors/command/files.h"
#include "doors/command/verbs.h"

namespace leat::doors {
namespace {

constexpr std::string_view kStarter = R"(# Your loop. Lines that start with # are notes. Every value carries its unit.
# What you leave out is assumed and listed with the answer; `leat words` shows all that may stand here.

[loop]
name = "My loop"

[place]
latitude = 52.0            # degrees, north positive; south is negative
longitude = 0.0            # degrees, east positive
altitude = "50 m"

[tank.main]                # the fish tank
volume = "1000 L"
depth = "1.0 m"

[sump.main]                # the lowest vessel, where the pump sits
volume = "300 L"

[raft_bed.main]
area = "2.4 m2"

[pump.main]
shut_off_head = "3 m"      # both stand on its label
largest_flow = "3000 L/h"

[pipe.delivery]
from = "pump.main"
to = "tank.main"
bore = "27 mm"
length = "5 m"
fittings = ["entry", "4 x elbow", "exit"]

[overflow.tank]            # what sets the level in the tank
from = "tank.main"
to = "raft_bed.main"
standpipe_bore = "68 mm"

[overflow.raft]
from = "raft_bed.main"
to = "sump.main"
standpipe_bore = "68 mm"

[fish.trout]
in = "tank.main"
species = "rainbow trout"
count = 40
mass = "60 g"

[planting.lettuce]
in = "raft_bed.main"
crop = "lettuce"
places = 40
)";

}  // namespace

int verb_new(const std::string& path) {
  std::string why_not;
  if (!write_new_file(path, std::string(kStarter), why_not)) {
    fmt::print(stderr, "leat new: {}.\n", why_not);
    return 2;
  }
  fmt::print("Wrote {}. Put in what you know, then ask:\n  leat check {}\n  leat ahead {}\n", path, path, path);
  return 0;
}

}  // namespace leat::doors
