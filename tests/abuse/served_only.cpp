// The page's server alone, to be built with a sanitizer: what it asks is answered by the program that LEAT_ANSWERS
// names, which needs none and is quick.
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "doors/command/serve_verb.h"

int main(int argc, char** argv) {
  if (argc < 2 || std::string_view(argv[1]) != "serve") {
    const char* answers = std::getenv("LEAT_ANSWERS");
    if (answers) execv(answers, argv);
    std::perror("LEAT_ANSWERS names no program");
    return 127;
  }
  CLI::App app;
  int code = 0;
  leat::doors::add_serve_verb(app, code);
  CLI11_PARSE(app, argc, argv);
  return code;
}
