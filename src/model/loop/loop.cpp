#include "model/loop/loop.h"

#include "model/loop/make.h"

namespace leat::model {

int Loop::vessel_index(std::string_view path) const {
  for (std::size_t i = 0; i < vessels.size(); ++i)
    if (vessels[i].path == path) return static_cast<int>(i);
  return -1;
}

Loop make_loop(const Description& description, Problems& problems) {
  Loop loop;
  Filling fill(description, problems, loop.assumptions);
  if (const Component* c = description.find("loop"))
    if (const Said* name = c->find("name")) loop.name = name->text;
  make_site(fill, loop);
  make_vessels(fill, loop);
  if (loop.vessels.empty() && problems.empty())
    problems.add({description.file, 0, 0, "",
                  "describes no vessel; add at least one table such as [tank.main] with volume = \"1000 L\""});
  make_plumbing(fill, loop);
  make_living(fill, loop);
  make_waters(fill, loop);
  make_limits(fill, loop);
  return loop;
}

}  // namespace leat::model
