// How the report looks. Paper first: black on white, thin rules, nothing that a copier would lose.
#pragma once

#include <string_view>

namespace ligule::results {

inline constexpr std::string_view kReportStyle = R"(
:root { --ink: #16211b; --rule: #b9c4bb; --band: #eef3ee; --strong: #1f5a3a; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem; max-width: 80rem; color: var(--ink); background: #fff;
  font: 1rem/1.45 "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { margin: 0 0 .2rem; font-size: 1.7rem; }
h2 { margin: 2rem 0 .2rem; padding-top: .6rem; border-top: 3px solid var(--strong);
  font-size: 1.25rem; }
h3 { margin: .8rem 0 .2rem; font-size: 1rem; }
.place { margin: 0; color: #44514a; }
.demonstration { padding: .4rem .7rem; border: 2px solid var(--ink); font-weight: bold; }
.state { margin: .6rem 0; padding: .5rem .8rem; border: 2px solid var(--ink); }
.state b { letter-spacing: .06em; }
.wide { overflow-x: auto; margin: .8rem 0; }
small { font-size: .8em; font-weight: normal; color: #44514a; }
thead small { display: inline-block; max-width: 9rem; white-space: normal; }
.facts { display: grid; grid-template-columns: repeat(auto-fill, minmax(20rem, 1fr));
  gap: .15rem 1.6rem; margin: .6rem 0; padding: 0; font-size: .93rem; }
.facts li { display: grid; grid-template-columns: 8.2rem 1fr; }
.facts .long { grid-column: 1 / -1; }
.facts b { font-weight: normal; color: #44514a; }
.months th, .months td { padding: .15rem .45rem; }
.months thead th { white-space: nowrap; }
.beside { display: flex; flex-wrap: wrap; align-items: flex-start; gap: .4rem 2.2rem; }
.beside > * { max-width: 100%; }
figure { margin: .8rem 0; max-width: 44rem; }
.beside figure { width: 480px; }
figure.tall, .beside figure.tall { width: auto; max-width: 100%; }
.tall figcaption { max-width: 44rem; }
.parts { display: flex; flex-wrap: wrap; align-items: flex-start; gap: 0 2.2rem; }
figcaption { font-size: .93rem; }
svg { font: 12px "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
svg text { fill: var(--ink); }
svg .scale { fill: #44514a; font-size: 11px; }
svg .grid { stroke: #dfe6e0; }
svg .mean { fill: #fff; stroke: var(--ink); stroke-width: 1.5; }
svg .best { fill: var(--strong); stroke: var(--strong); stroke-width: 1.5; }
svg .lsd { stroke: var(--strong); stroke-width: 5; }
svg .edge { stroke: var(--strong); stroke-dasharray: 3 3; }
svg .cell { stroke: #fff; }
svg .even { fill: #f3f5f3; }
svg .above1 { fill: #dbe8f5; }
svg .above2 { fill: #a9cbea; }
svg .above3 { fill: #6fa8dc; }
svg .below1 { fill: #fbe6d0; }
svg .below2 { fill: #f5c48d; }
svg .below3 { fill: #e89a4a; }
svg .figure { font-size: 11px; font-variant-numeric: tabular-nums; }
svg .path { stroke: #8a978d; stroke-width: 2; }
svg .interval { stroke: #5d6b62; stroke-width: 3; }
table { border-collapse: separate; border-spacing: 0; font-variant-numeric: tabular-nums; }
caption { padding: .3rem 0; text-align: left; font-weight: bold; }
th, td { padding: .22rem 1.2rem .22rem .4rem; text-align: right; white-space: nowrap; }
th[scope=row], th:first-child, .text { text-align: left; }
tr.group th { padding-top: .6rem; font-style: italic; text-align: left; background: #fff; }
th[scope=row] { font-weight: normal; }
th.long { min-width: 18rem; white-space: normal; overflow-wrap: anywhere; }
td.note { min-width: 14rem; white-space: normal; }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
tbody tr:nth-child(even) { background: var(--band); }
tfoot tr:first-child > * { border-top: 2px solid var(--ink); }
tfoot th { font-style: italic; }
td.top { position: relative; font-weight: bold; }
td i { position: absolute; right: .3rem; font-size: .85em; color: var(--strong); font-style: normal; }
.notes { margin: .4rem 0; padding-left: 1.2rem; font-size: .93rem; }
nav ul { columns: 14rem; padding-left: 1.2rem; }
footer { margin-top: 2rem; border-top: 1px solid var(--rule); font-size: .85rem; }
ol.tests { columns: 24rem; padding: 0; font-size: .85rem; }
ol.tests li { margin-left: 1.8rem; }
#long-term th, #long-term td { padding: .15rem .4rem; }
@page { margin: 14mm; }
@page across { margin: 12mm; size: landscape; }
@media (max-width: 40rem) {
  svg { max-width: 100%; min-width: 22rem; height: auto; }
  body { padding: .7rem; }
  th, td { padding-right: 1.15rem; padding-left: .3rem; }
  .facts { grid-template-columns: 1fr; }
  .map svg { max-width: none; }
  .parts > * { max-width: 100%; }
  .wide th:first-child:not([colspan]) { position: sticky; left: 0; z-index: 1; background: #fff;
    background-clip: padding-box; min-width: 8.6rem; max-width: 9.6rem; padding-right: .4rem;
    white-space: normal; }
  .wide tbody tr:nth-child(even) th:first-child:not([colspan]) { background-color: var(--band); }
  #tests .wide th:first-child { min-width: 0; }
}
@media print {
  body { padding: 0; max-width: none; font-size: 9.5pt; }
  nav { display: none; }
  .wide { overflow: visible; }
  .beside { display: block; }
  .beside > * { display: inline-block; vertical-align: top; margin-right: 2rem; }
  th, td { padding: .15rem .85rem .15rem .15rem; }
  td i { right: .1rem; }
  thead th { white-space: normal; }
  table, figure, figcaption, .facts, .parts > * { page-break-inside: avoid; }
  figure.tall, .beside > figure.tall { display: block; page-break-inside: auto; }
  .parts { display: block; }
  .parts > * { display: inline-block; margin: 0 1% 0 0; }
  svg { max-width: 100%; height: auto; }
  .facts { grid-template-columns: 1fr 1fr; }
  h2, h3, .place, caption, figcaption { page-break-after: avoid; }
  #long-term { page: across; }
  #long-term .parts > * { width: 48%; }
  #long-term table { page-break-inside: auto; font-size: 7.5pt; line-height: 1.25; }
  #long-term tr, ol.tests li { page-break-inside: avoid; }
  #long-term th, #long-term td { padding: .3mm .8mm; }
  ol.tests { columns: 3; font-size: 7.5pt; line-height: 1.3; }
}
)";

}  // namespace ligule::results
