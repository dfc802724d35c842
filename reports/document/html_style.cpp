#include <array>
#include <utility>

#include "reports/document/html.hpp"
#include "reports/document/markup.hpp"
#include "reports/document/styles.hpp"

namespace steelyard::reports::document {
namespace {

constexpr const char* colours =
    R"(:root { color-scheme: light dark; --page: #FFFFFF; --ink: #22313A; --quiet: #55626B;
  --band: #E9EDEF; --line: #C5CDD2; --brass: #B07A1E; --link: #0F6B5C; }
@media screen and (prefers-color-scheme: dark) {
  :root { --page: #172026; --ink: #E6ECEF; --quiet: #AAB6BD; --band: #26323A; --line: #41505A; --brass: #D9A441;
    --link: #7CCBBB; }
}
)";

constexpr const char* rules = R"(* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: var(--page); color: var(--ink);
  font: 15px/1.4 Arial, Helvetica, sans-serif; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
a { color: var(--link); }
h1 { font-size: 1.7rem; margin: .4rem 0 .2rem; }
h2 { font-size: 1.25rem; margin: 1.6rem 0 .3rem; }
h3, caption { font-size: 1rem; font-weight: bold; margin: 1.1rem 0 .3rem; text-align: left; }
.first h2 { font-size: 1rem; margin: 1.1rem 0 .3rem; }
p { margin: .3rem 0; }
p, li, td, th, dd { white-space: pre-line; overflow-wrap: anywhere; }
td, th { overflow-wrap: break-word; }
ul { margin: .3rem 0; padding-left: 1.3rem; }
.standing, .note, .subtitle, .end, footer { color: var(--quiet); font-size: .87rem; }
.subtitle { border-bottom: 2px solid var(--brass); padding-bottom: .3rem; }
section + section { border-top: 2px solid var(--brass); margin-top: 1.8rem; }
.warning { font-weight: bold; padding: .4rem .6rem; }
dl { margin: .4rem 0; }
dl div { display: flex; gap: .8rem; padding: .1rem 0; }
dt { flex: 0 0 11rem; color: var(--quiet); }
dd { margin: 0; }
dl.two { display: grid; grid-template-columns: 1fr 1fr; column-gap: 1.5rem; }
dl.two dt { flex-basis: 6.5rem; }
.banner { padding: .5rem 1rem .7rem; margin: .7rem 0; }
.first .banner h2 { font-size: 1.6rem; margin: .2rem 0; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: .9rem 0 .3rem; font-size: .87rem; }
th, td { padding: .2rem .45rem; border-bottom: 1px solid var(--line); text-align: left; vertical-align: top;
  font-weight: normal; }
thead th { background: var(--band); border-bottom: 1px solid var(--brass); font-weight: bold; vertical-align: bottom; }
th.right, td.right { text-align: right; }
td.right { white-space: nowrap; }
.bold { font-weight: bold; }
figure { margin: 1rem 0; }
svg { max-width: 100%; height: auto; display: block; }
.bar { display: grid; grid-template-columns: 14rem 1fr; column-gap: .6rem; align-items: center; font-size: .87rem;
  margin: .2rem 0; }
.bar .name { text-align: right; }
.track { position: relative; display: block; background: var(--band); height: 1.35rem; }
.fill { position: absolute; left: 0; top: 0; height: 100%; }
.reads { position: absolute; left: .4rem; top: .05rem; padding: 0 .3rem; font-weight: bold; background: #FFFFFF;
  color: #22313A; }
.rated { position: absolute; top: -3px; bottom: -3px; border-left: 3px solid var(--ink); }
.signature { display: grid; grid-template-columns: 2fr 3fr 1fr; column-gap: 2rem; margin-top: 2.5rem; }
.signature span { border-bottom: 1px solid var(--ink); min-height: 1.4rem; }
.signature small { color: var(--quiet); }
.end { text-align: center; margin-top: 1.5rem; }
@media (max-width: 40rem) {
  dl.two { display: block; }
  dl div { display: block; }
  .bar { grid-template-columns: 1fr; }
  .bar .name { text-align: left; }
  table { width: max-content; min-width: 100%; }
  td, th { max-width: 16rem; }
}
@media print {
  body { font-size: 10.5px; max-width: none; padding: 0; }
  nav { display: none; }
  section + section { break-before: page; border: none; margin: 0; }
  .wide { page: wide; }
  tr, .banner, figure, .signature { break-inside: avoid; }
  h2, h3, caption { break-after: avoid; }
  .scroll { overflow: visible; }
}
)";

std::string tones() {
  constexpr std::array<std::pair<const char*, Tone>, 5> names{{{"within", Tone::within},
                                                               {"close-within", Tone::close_within},
                                                               {"close-over", Tone::close_over},
                                                               {"over", Tone::over},
                                                               {"unknown", Tone::unknown}}};
  std::string text;
  for (const auto& [name, tone] : names) {
    const std::string solid = colour_words(solid_colour(tone));
    text += std::string(".pale.") + name + " { background: " + colour_words(pale_colour(tone)) +
            "; color: " + solid + "; font-weight: bold; }\n.solid." + name + " { background: " + solid +
            "; color: #FFFFFF; }\n";
  }
  return text + ".warning { background: " + colour_words(pale_colour(Tone::close_over)) +
         "; color: " + colour_words(ink) + "; }\n";
}

/// Number and page on every printed page, where the browser can.
std::string paper(const Report& report) {
  return "@page { margin: 16mm 14mm; @top-right { content: " +
         style_string("Report " + report.number + (report.standing.empty() ? "" : " - " + report.standing)) +
         "; font: 8px Arial, sans-serif; } @bottom-left { content: " +
         style_string("Steelyard " + report.engine) +
         "; font: 8px Arial, sans-serif; } @bottom-right { content: \"Page \" counter(page) \" of \" "
         "counter(pages); "
         "font: 8px Arial, sans-serif; } }\n@page wide { size: landscape; }\n";
}

}  // namespace

std::string page_style(const Report& report) {
  return colours + std::string(rules) + tones() + paper(report);
}

}  // namespace steelyard::reports::document
