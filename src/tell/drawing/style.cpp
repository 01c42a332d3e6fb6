#include "tell/drawing/style.h"

#include <fmt/core.h>

#include "tell/drawing/layout/text.h"

namespace leat::tell::drawing {
namespace {

struct Colours {
  const char *paper, *ink, *quiet, *faint, *gravel, *pumped, *falls, *water;
};
constexpr Colours kLight{"#FFFFFF", "#1A1E23", "#4A525B", "#DCE1E6", "#7C848D", "#0072B2", "#009E73", "0.38"};
constexpr Colours kDark{"#14181D", "#E9ECEF", "#B4BCC5", "#303840", "#8A929B", "#56B4E9", "#009E73", "0.30"};

std::string colours(const Colours& c) {
  return fmt::format(
      ".paper{{fill:{0}}} .inside,.gap{{stroke:{0}}} .symbol,.unsure{{fill:{0}}}\n"
      "text{{fill:{1}}} .wall,.symbol,.sign,.tube,.mark-edge{{stroke:{1}}} .solid{{fill:{1}}}\n"
      ".quiet{{fill:{2}}} .axis{{stroke:{2}}} .grid{{stroke:{3}}} .gravel{{fill:{4}}}\n"
      ".pumped{{stroke:{5}}} .pumped-head{{fill:{5}}} .surface{{stroke:{5}}}\n"
      ".falls,.leaf{{stroke:{6}}} .falls-head{{fill:{6}}} .water{{fill-opacity:{7}}}\n",
      c.paper, c.ink, c.quiet, c.faint, c.gravel, c.pumped, c.falls, c.water);
}

}  // namespace

std::string style_sheet() {
  return fmt::format(
             "text{{font-family:sans-serif;font-size:{}px}} .bold{{font-weight:bold}}\n"
             ".title{{font-size:{}px;font-weight:bold}}\n",
             number(kPlain), number(kTitle)) +
         ".pumped,.falls,.inside,.gap,.wall,.sign,.tube,.leaf,.axis,.grid,.surface,.ring{fill:none}\n"
         ".wall{stroke-width:2.5} .symbol,.sign,.surface,.axis{stroke-width:1.5} .tube{stroke-width:1.2;"
         "stroke-dasharray:4 3}\n"
         ".leaf{stroke-width:2;stroke-linecap:round} .grid{stroke-width:1} .dry{stroke-dasharray:6 4}\n"
         ".water{fill:#56B4E9} .raft{fill:#E69F00;fill-opacity:0.55}\n"
         ".bad{fill:#D55E00} .tight{fill:#E69F00} .mark-edge{stroke-width:1.2} .number{font-weight:bold}\n"
         ".on-mark{fill:#000000} .ring{stroke:#D55E00;stroke-width:4}\n" +
         colours(kLight) + "@media (prefers-color-scheme:dark){\n" + colours(kDark) + "}\n";
}

}  // namespace leat::tell::drawing
