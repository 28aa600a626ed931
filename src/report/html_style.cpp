// Colours: text is at least 7 to 1 against its ground, shapes 3 to 1 (WCAG 2.2, 1.4.6 and 1.4.11), in light and dark.
#include "report/html_report.h"

namespace layright {

char const* const kHtmlStyle = R"(
:root { color-scheme: light dark; --paper: #fff; --ink: #16181d; --quiet: #43474f; --edge: #6d727c; --soft: #f1f2f4;
  --hold: #8c0d1a; --fix: #5c4000; --note: #0d4073; --ready: #12502b; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #15171b; --ink: #f2f3f5; --quiet: #c3c7cf; --edge: #8b909b; --soft: #212429;
    --hold: #ffb3b8; --fix: #f2cf7e; --note: #a8d1ff; --ready: #a3e0ba; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 72rem; padding: 1.5rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 system-ui, "DejaVu Sans", sans-serif; }
h1 { font-size: 1.6rem; margin: 0 0 .25rem; } h2 { font-size: 1.2rem; margin: 0; overflow-wrap: anywhere; } h3 { font-size: 1.05rem; margin: 0; }
p { margin: .35rem 0; } .quiet { color: var(--quiet); }
.hold { color: var(--hold); } .fix { color: var(--fix); } .note { color: var(--note); } .ready { color: var(--ready); }
.word { font-weight: 700; white-space: nowrap; }
.word.hold::before { content: "\25A0\00A0"; content: "\25A0\00A0" / ""; } .word.fix::before { content: "\25CF\00A0"; content: "\25CF\00A0" / ""; }
.word.note::before { content: "\25C6\00A0"; content: "\25C6\00A0" / ""; } .word.ready::before { content: "\2713\00A0"; content: "\2713\00A0" / ""; }
.index { border-top: 2px solid var(--edge); padding: 1rem 0; } .index ul { padding: 0; margin: .4rem 0; list-style: none; columns: 20rem; }
.index li { break-inside: avoid; padding: .25rem 0; overflow-wrap: anywhere; } .index a { color: inherit; } summary { padding: .25rem 0; }
.index li > .quiet { display: block; } .found { border-collapse: collapse; margin: .5rem 0 1rem; font-size: .9375rem; }
.found th, .found td { text-align: left; padding: .15rem 1rem .15rem 0; border-bottom: 1px solid var(--soft); overflow-wrap: anywhere; }
.counts { display: flex; flex-wrap: wrap; gap: 1rem; padding: 0; margin: 1rem 0; list-style: none; }
.counts li { border: 1px solid var(--edge); border-radius: .4rem; padding: .5rem .9rem; } .counts strong { font-size: 1.4rem; display: block; }
.file { border-top: 2px solid var(--edge); padding: 1.25rem 0; }
.page { display: grid; grid-template-columns: minmax(9rem, 16rem) 1fr; gap: 1.25rem; padding: 1rem 0; border-top: 1px solid var(--soft); }
.page.bare { grid-template-columns: 1fr; }
.page.large { grid-template-columns: 1fr; }
figure { margin: 0; } figure svg { width: 100%; height: auto; border: 1px solid var(--edge); background: #fff; display: block; }
figure.reading { max-width: 36rem; } figure.reading svg { width: 49%; max-height: 16rem; display: inline-block; } figure.reading svg + svg { margin-left: 2%; }
.line { fill: none; stroke: #8c0d1a; stroke-width: 1; vector-effect: non-scaling-stroke; }
figcaption { font-size: .875rem; color: var(--quiet); }
ol.findings { margin: .5rem 0 0; padding: 0; list-style: none; }
ol.findings > li { border-left: .35rem solid; padding: .2rem 0 .2rem .8rem; margin: .7rem 0; border-color: var(--note); }
ol.findings > li.is-hold { border-color: var(--hold); } ol.findings > li.is-fix { border-color: var(--fix); border-left-style: double; }
ol.findings > li.is-note { border-left-style: dotted; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0 1rem; margin: .3rem 0; font-size: .9375rem; } dt { color: var(--quiet); } dd { margin: 0; }
code { font-family: "DejaVu Sans Mono", monospace; font-size: .9375rem; overflow-wrap: anywhere; }
pre { background: var(--soft); padding: .6rem .8rem; border-radius: .3rem; overflow-x: auto; white-space: pre-wrap; margin: .4rem 0; }
button, select { font: inherit; color: inherit; background: var(--paper); border: 1px solid var(--edge); border-radius: .3rem; padding: .35rem .7rem; min-height: 2rem; }
:focus-visible { outline: 3px solid var(--note); outline-offset: 2px; }
.place, .lead { fill: none; stroke-width: 1.5; vector-effect: non-scaling-stroke; } .lead { stroke-width: 1; }
.rim { fill: none; stroke: #fff; stroke-width: 3; stroke-opacity: .85; vector-effect: non-scaling-stroke; }
.edge { fill: none; stroke: #6d727c; stroke-width: 1; vector-effect: non-scaling-stroke; }
.lead.hold { stroke: #8c0d1a; } .lead.fix { stroke: #5c4000; } .lead.note { stroke: #0d4073; }
.place.hold { stroke: #8c0d1a; } .place.fix { stroke: #5c4000; stroke-dasharray: 6 3; } .place.note { stroke: #0d4073; stroke-dasharray: 2 2; }
.badge.hold { fill: #8c0d1a; } .badge.fix { fill: #5c4000; } .badge.note { fill: #0d4073; } .badge { stroke: #fff; stroke-width: 1; vector-effect: non-scaling-stroke; }
.badge-number { fill: #fff; font-weight: 700; text-anchor: middle; dominant-baseline: central; font-family: "DejaVu Sans", sans-serif; }
.many { fill: #16181d; font-family: "DejaVu Sans", sans-serif; }
.away { display: none; }
@media (max-width: 40rem) { .page { grid-template-columns: 1fr; } body { padding: 1rem; } }
@media print { :root { --paper: #fff; --ink: #000; --quiet: #333; --edge: #666; --soft: #eee; --hold: #8c0d1a; --fix: #5c4000; --note: #0d4073; --ready: #12502b; }
  body { max-width: none; padding: 0; font-size: 10pt; } .tools, .zoom { display: none; }
  /* No grid: its rows are not broken over pages, and leave them half empty. */
  .page, .page.large { display: flow-root; } .page > figure { float: left; width: 5cm; margin: 0 .6cm .3cm 0; }
  .page > figure svg { width: auto; max-width: 5cm; height: auto; max-height: 6.5cm; } .page > div { overflow: visible; }
  .file { padding: .4cm 0; } .page { padding: .25cm 0; } ol.findings > li { display: flow-root; margin: .15cm 0; } ol.findings { margin: .2cm 0; }
  li.is-fix, li.is-note { padding-block: 0; } li.is-fix > p, li.is-note > p { display: inline; margin: 0 0 0 .5em; } figure.reading { max-width: 9cm; }
  ol.findings > li, figure, h2, h2 + p, h3, h3 + dl, pre, tr { break-inside: avoid; }
  h1, h2, h3, h2 + p, h3 + dl, .file > p, .file > pre { break-after: avoid; }
  ol.findings > li:first-child { break-before: avoid; } li > details > summary, dt:has(+ dd > details:not([open])), dd > details { display: none; }
  dd > details[open] { display: block; } dd > details > summary { display: none; }
  @page { margin: 15mm; } }
)";

char const* const kHtmlScript = R"(
const tools = document.querySelector('.tools'), select = document.getElementById('show'), said = document.getElementById('said');
tools.hidden = false;
select.addEventListener('change', () => {
  let n = 0;
  for (const file of document.querySelectorAll('.file')) {
    const away = select.value !== 'all' && file.dataset.verdict !== select.value;
    file.classList.toggle('away', away);
    if (!away) ++n;
  }
  said.textContent = n + (n === 1 ? ' file is shown.' : ' files are shown.');
});
for (const button of document.querySelectorAll('.zoom')) {
  button.hidden = false;
  button.addEventListener('click', () => {
    const large = button.closest('.page').classList.toggle('large');
    button.setAttribute('aria-pressed', large);
  });
}
/* On paper nobody can open what is folded; what layright mends by itself, and notes, stay short there. */
let folded = [];
addEventListener('beforeprint', () => {
  folded = [...document.querySelectorAll('details:not([open])')].filter(part => !part.closest('.is-fix, .is-note, dd'));
  for (const part of folded) part.open = true;
});
addEventListener('afterprint', () => {
  for (const part of folded) part.open = false;
});
)";

}  // namespace layright
