#include "tell/page_style.h"

#include "tell/round_text.h"

namespace leat::tell {

std::string page_head(const std::string& title) {
  return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
         html(title) +
         "</title>\n<style>\n"
         "body{font:12pt/1.35 sans-serif;color:#000;background:#fff;margin:1em auto;max-width:52em;padding:0 1em}\n"
         "h1{font-size:1.5em;margin:.3em 0}h2{font-size:1.15em;margin:.8em 0 .2em}\n"
         "table{border-collapse:collapse;width:100%}td,th{border:1px solid #000;padding:.25em .5em;text-align:left;"
         "vertical-align:top}\n"
         "td.n,th.n{text-align:right}td.tick{width:1.5em;font-size:1.4em}td.blank{width:22em}\n"
         ".urgent{border:3px solid #000;padding:.5em}.ruled{border-bottom:1px solid #000;height:2em}\n"
         "small{font-size:.85em}ol{margin:.2em 0 .2em 1.3em;padding:0}\n"
         "@media print{@page{margin:12mm}body{font-size:10.5pt;margin:0;max-width:none;padding:0}"
         "tr,li,.urgent{break-inside:avoid}h2{break-after:avoid}}\n"
         "</style></head>\n<body>\n";
}

}  // namespace leat::tell
