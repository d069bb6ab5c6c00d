// SPDX-License-Identifier: Apache-2.0
#include "report/page_style.h"

#include "report/palette.h"

namespace swingloss {
namespace {

constexpr const char* kType = R"(
*, *::before, *::after { box-sizing: border-box; }
html { font-size: 100%; -webkit-text-size-adjust: 100%; scroll-behavior: smooth; }
body { margin: 0; background: var(--paper); color: var(--ink); line-height: 1.5;
  font-family: system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", sans-serif; }
h1, h2, h3, .verdict li, .lead, .equation {
  font-family: Charter, "Bitstream Charter", "Sitka Text", "Iowan Old Style", Cambria, serif; }
h1 { font-size: clamp(1.7rem, 1.2rem + 2.2vw, 2.7rem); line-height: 1.12; margin: 0 0 .6rem;
  font-weight: 600; letter-spacing: -.01em; overflow-wrap: anywhere; }
h2 { font-size: 1.55rem; line-height: 1.2; font-weight: 600; margin: 0 0 1.1rem;
  padding-top: .9rem;
  background: linear-gradient(var(--accent) 0 0) 0 0 / 3.2rem 3px no-repeat,
    linear-gradient(var(--rule) 0 0) 0 1px / 100% 1px no-repeat; }
h3 { font-size: 1.2rem; font-weight: 600; margin: 0; line-height: 1.3; overflow-wrap: anywhere; }
p { margin: 0 0 .9rem; max-width: 44rem; }
a { color: var(--accent); text-underline-offset: .18em; }
:focus-visible { outline: 3px solid var(--warm); outline-offset: 3px; border-radius: 2px; }
.num, dd, .value { font-variant-numeric: tabular-nums lining-nums; }
.muted, .unit { color: var(--muted); }
.skip { position: absolute; left: -99rem; }
.skip:focus { left: 1rem; top: 1rem; background: var(--paper); padding: .5rem 1rem; z-index: 2; }
)";

constexpr const char* kFrame = R"(
.sheet { max-width: 70rem; margin: 0 auto; padding: 0 clamp(1rem, 4vw, 2.5rem) 4rem; }
.masthead { display: grid; grid-template-columns: 1fr auto; gap: 1rem 2.5rem; align-items: end;
  padding: 2.2rem 0 1.4rem; }
.masthead .kind { margin: 0 0 .7rem; color: var(--accent); font-size: .82rem; font-weight: 600;
  letter-spacing: .09em; text-transform: uppercase; }
.masthead svg { width: 13.5rem; height: auto; display: block; }
.tally { display: flex; flex-wrap: wrap; gap: .35rem 1.6rem; list-style: none; padding: 0;
  margin: .9rem 0 0; }
.tally strong { font-size: 1.15rem; }
.demo { background: var(--warm); color: var(--paper); padding: .55rem 1rem; margin: 0;
  text-align: center; font-weight: 600; max-width: none; }
nav ul { display: flex; flex-wrap: wrap; gap: .3rem 1.4rem; list-style: none; margin: 0 0 2.4rem;
  padding: .7rem 0; border-block: 1px solid var(--rule); }
nav a { text-decoration: none; }
nav a:hover { text-decoration: underline; }
section { margin-bottom: 3.2rem; }
footer { border-top: 1px solid var(--rule); padding-top: 1rem; color: var(--muted);
  font-size: .9rem; }
figure { margin: 0; }
figcaption { color: var(--muted); font-size: .86rem; margin-top: .4rem; max-width: 52rem; }
svg text { font-family: inherit; }
.chart svg { width: 100%; height: auto; display: block; }
.narrow { display: none; }
)";

constexpr const char* kParts = R"(
.verdict { list-style: none; padding: 0; margin: 0 0 1.6rem; }
figure + .verdict { margin-top: 1.8rem; }
.verdict li { font-size: 1.08rem; line-height: 1.45; padding: .3rem 0 .3rem 1.2rem;
  border-left: 3px solid var(--rule); max-width: 48rem; overflow-wrap: anywhere; }
#verdict .lead { font-size: clamp(1.3rem, 1.1rem + 1vw, 1.75rem); line-height: 1.3;
  border-left: 3px solid var(--accent); padding: .2rem 0 .3rem 1.2rem; max-width: 48rem;
  margin-bottom: 1.4rem; overflow-wrap: anywhere; }
.of-group { display: inline-block; min-width: 8.2rem; overflow-wrap: anywhere; }
.of-group .second, td > .second { display: block; font-weight: 400; color: var(--muted); font-size: .86rem; }
#comparisons .of-group { min-width: 8.6rem; }
td > .mixed { color: var(--warm); padding-left: 1.2rem; }
.of-group .dot ~ .second { padding-left: 1.4em; }
.notice { border: 1px solid var(--alarm); border-left-width: 5px; padding: .7rem 1rem;
  margin: 0 0 1.4rem; max-width: 48rem; }
.scroll { overflow-x: auto; margin: 0 0 1.2rem; }
.scroll, .pan {
  background: linear-gradient(90deg, var(--paper) 30%, transparent) 0 0 / 2.5rem 100% local,
    linear-gradient(270deg, var(--paper) 30%, transparent) 100% 0 / 2.5rem 100% local,
    linear-gradient(90deg, var(--rule), transparent) 0 0 / .9rem 100% scroll,
    linear-gradient(270deg, var(--rule), transparent) 100% 0 / .9rem 100% scroll;
  background-repeat: no-repeat; }
table { border-collapse: collapse; width: 100%; font-size: .94rem; }
caption { text-align: left; color: var(--muted); font-size: .86rem; padding-bottom: .5rem;
  max-width: calc(100vw - 2rem); }
th, td { text-align: left; vertical-align: top; padding: .5rem .9rem .5rem 0;
  border-bottom: 1px solid var(--rule); }
th:last-child, td:last-child { padding-right: 0; }
thead th { color: var(--muted); font-weight: 600; font-size: .82rem; vertical-align: bottom;
  border-bottom: 2px solid var(--ink); }
tbody th { font-weight: 600; min-width: 9rem; overflow-wrap: anywhere; }
.num { text-align: right; white-space: nowrap; }
.whole { white-space: nowrap; }
.dot { display: inline-block; width: .7em; height: .7em; border-radius: 50%; margin-right: .5em; }
.word { display: inline-block; white-space: nowrap; padding: .05rem .6rem; border-radius: 1rem;
  border: 1.5px solid var(--accent); font-weight: 600; font-size: .86rem; }
.word.clear { background: var(--accent); color: var(--paper); }
.word.likely { color: var(--accent); }
td .muted { font-size: .86rem; }
.word.fail { background: var(--alarm); border-color: var(--alarm); color: var(--paper); }
.word.even { border-color: var(--muted); }
.word.open { border-style: dashed; border-color: var(--muted); color: var(--muted); }
.facts { margin: 0 0 1.6rem; display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr));
  gap: .2rem 2rem; }
.facts div { padding: .45rem 0; border-bottom: 1px solid var(--rule); }
.facts dt { color: var(--muted); font-size: .84rem; }
.facts dd { margin: 0; overflow-wrap: anywhere; }
.remarks { list-style: none; padding: 0; margin: 1rem 0; }
.remarks li { display: flex; gap: .7rem; padding: .3rem 0; max-width: 52rem;
  overflow-wrap: anywhere; }
.sign { flex: none; width: 1.45rem; height: 1.45rem; border-radius: 50%; text-align: center;
  font-weight: 700; line-height: 1.35rem; border: 1.5px solid currentColor; color: var(--muted); }
.warning .sign { color: var(--warm); border-radius: 3px; }
.refusal .sign, .problem .sign { color: var(--alarm); border-radius: 3px; }
.equation { font-size: 1.12rem; margin: .2rem 0 .9rem 1.2rem; overflow-wrap: anywhere; }
var { font-style: italic; }
)";

constexpr const char* kBars = R"(
.bar { background: var(--panel); border-radius: 6px; padding: 1.2rem clamp(.9rem, 2.5vw, 1.6rem);
  margin: 0 0 1.3rem; }
.bar > :last-child { margin-bottom: 0; }
.bar > header { display: flex; flex-wrap: wrap; justify-content: space-between; gap: .2rem 2rem;
  align-items: baseline; padding: 0 0 .9rem; }
.bar .group { color: var(--muted); margin: 0; overflow-wrap: anywhere; }
.bar .value { margin: 0; text-align: right; font-size: 1.45rem; font-weight: 650; white-space: nowrap; }
.bar .value .unit { font-size: 1rem; font-weight: 400; }
.bar .second { color: var(--muted); margin: 0; font-size: .92rem; text-align: right; }
.strip { display: grid; grid-template-columns: repeat(3, 1fr); gap: .5rem; margin-bottom: 1.1rem; }
.strip img { width: 100%; height: auto; display: block; border-radius: 3px; }
.pair { display: grid; grid-template-columns: minmax(0, 1.55fr) minmax(0, 1fr);
  gap: 1.2rem 2rem; align-items: start; }
.dial svg { width: 11.5rem; max-width: 100%; height: auto; display: block; margin: 0 auto; }
.ledger { width: 100%; }
.ledger th { font-weight: 400; min-width: 0; }
.ledger .sum th, .ledger .sum td { font-weight: 650; border-bottom: 2px solid var(--ink);
  border-top: 1px solid var(--ink); }
.sources { list-style: none; padding: 0; margin: 0 0 .9rem; display: grid; gap: .1rem 2rem;
  grid-template-columns: repeat(auto-fill, minmax(min(22rem, 100%), 1fr)); font-size: .88rem; }
.sources li { display: grid; grid-template-columns: minmax(0, 1fr) 4.5rem 6rem; gap: .6rem;
  align-items: center; }
.sources .track { height: .5rem; background: var(--rule); border-radius: 1px; overflow: hidden; }
.sources .track span { display: block; height: 100%; background: var(--muted); }
.sources .shared .track span { background: var(--accent); }
#budget h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
#rigs h3, .method h3 { margin: 1.4rem 0 .5rem; }
#groups .chart { max-width: 36rem; margin-bottom: 1.2rem; }
.effects { max-width: 44rem; margin-bottom: 1.4rem; }
.columns, #groups .columns { max-width: 56rem; margin-bottom: 1.6rem; }
.face { border-bottom: 1px solid var(--rule); }
.face summary { padding: .6rem 0; cursor: pointer; }
.bar h4 { margin: 1.1rem 0 .35rem; font-size: .86rem; font-weight: 600; color: var(--muted); }
)";

constexpr const char* kMedia = R"(
@media screen and (max-width: 44rem) {
  .masthead { grid-template-columns: 1fr; padding-top: 1.4rem; }
  .masthead svg { display: none; }
  .wide { display: none; }
  .narrow { display: block; }
  .pair { grid-template-columns: minmax(0, 1fr); }
  .bar { margin-inline: -.4rem; }
  .bar .second, .bar .value { text-align: left; }
  .strip figcaption { font-size: .74rem; line-height: 1.3; }
  tbody th { min-width: 7.5rem; }
  .pan { overflow-x: auto; }
  .pan svg { min-width: 40rem; }
  #corrections td { min-width: 8.5rem; }
}
@media (prefers-reduced-motion: reduce) { html { scroll-behavior: auto; } }
@media (forced-colors: active) {
  .sources .track, .sources .track span, .dot, .stage { forced-color-adjust: none; } }
@page { margin: 16mm 14mm; @bottom-right { content: counter(page) " / " counter(pages);
  font-size: 8pt; color: #566069; } }
@media print {
  :root { --paper: #ffffff; --panel: #ffffff; }
  html { font-size: 8.5pt; }
  .strip { grid-template-columns: repeat(3, auto); justify-content: start; gap: 4mm; }
  .strip img { width: auto; max-width: 100%; max-height: 42mm; }
  .dial svg { width: 9rem; }
  th, td { padding-block: .3rem; }
  nav, .skip { display: none; }
  .sheet { max-width: none; padding: 0; }
  .scroll, .pan { overflow: visible; background: none; }
  .scroll { break-inside: avoid; }
  details::details-content { content-visibility: visible; height: auto; }
  details.face { break-inside: avoid; }
  .bar { background: none; border: 1px solid var(--rule); break-inside: avoid; }
  section { margin-bottom: 1.6rem; }
  h2, h3, h4, caption { break-after: avoid; }
  tr, figure, .notice, .remarks li { break-inside: avoid; }
  a { color: inherit; text-decoration: none; }
  h2, .demo, .word.clear, .word.fail, .sources .track, .sources .track span, .dot {
    -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
)";

std::string variables(bool dark) {
  std::string rules = dark ? "color-scheme: dark;" : "color-scheme: light;";
  for (const Swatch& swatch : all_swatches()) {
    rules +=
        std::string(" --") + swatch.name + ": " + (dark ? swatch.dark : swatch.light) + ";";
  }
  return ":root { " + rules + " }\n";
}

}  // namespace

std::string page_style() {
  return variables(false) + "@media screen and (prefers-color-scheme: dark) { " +
         variables(true) + "}\n" + kType + kFrame + kParts + kBars + kMedia;
}

}  // namespace swingloss
