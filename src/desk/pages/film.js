import {ask, complain, el, svg, toner_words} from './common.js';

const kDays = 31, kKinds = ['used', 'planned', 'spoiled'];

function by_day(rows, days) {
  const sums = new Map(days.map((day) => [day, {used: 0, planned: 0, spoiled: 0}]));
  for (const row of rows) for (const kind of kKinds) if (sums.has(row.day)) sums.get(row.day)[kind] += row[kind];
  return [...sums];
}

/** A sheet of film lies beside the other: one bar a day, its parts one on the other. The table below says the same. */
function plot(rows, dates, most, words) {
  const rem = parseFloat(getComputedStyle(document.documentElement).fontSize), room = document.getElementById('plot').clientWidth;
  const days = by_day(rows, dates), wide = Math.min(room, 60 * rem), high = 10 * rem, foot = 1.5 * rem, left = 2.5 * rem, labels = Math.max(1, Math.floor((wide - left) / (3.5 * rem)));
  const step = (wide - left) / Math.max(days.length, 7), bars = [];
  days.forEach(([day, sums], at) => {
    let top = high;
    for (const kind of kKinds) {
      const tall = (sums[kind] / most) * (high - rem);
      top -= tall;
      if (tall > 0) bars.push(svg('rect', {class: `bar ${kind}`, x: left + at * step + 3, y: top, width: Math.max(step - 6, 2), height: Math.max(tall - 1, 1)}));
    }
    if (at % Math.ceil(Math.max(days.length, 7) / labels) === 0) {
      const x = left + at * step + 3, ends = x + 2.75 * rem > wide;
      bars.push(svg('text', {x: ends ? wide : x, y: high + rem, 'text-anchor': ends ? 'end' : 'start'}, day.slice(5)));
    }
  });
  return svg('svg', {class: 'film', viewBox: `0 0 ${wide} ${high + foot}`, role: 'img', 'aria-label': `Sheets ${words} of ${days.length} ${days.length === 1 ? 'day' : 'days'}; the table below has the numbers.`},
    svg('line', {class: 'axis', x1: left, x2: wide, y1: high, y2: high}), svg('text', {x: 0, y: rem}, String(most)), svg('text', {x: 0, y: high}, '0'), ...bars);
}

/** One plot for each target, all of one height for a sheet, so that they can be compared. */
function plots(rows) {
  const dates = [...new Set(rows.map((row) => row.day))].sort().slice(-kDays), targets = [...new Set(rows.map((row) => row.target))].sort();
  const of = (target) => rows.filter((row) => row.target === target);
  const most = Math.max(1, ...targets.flatMap((target) => by_day(of(target), dates).map(([, d]) => d.used + d.planned + d.spoiled)));
  return targets.map((target) => el('figure', {}, el('figcaption', {}, el('strong', {}, target)), plot(of(target), dates, most, `for ${target}`)));
}

const key = () => el('ul', {class: 'key'}, kKinds.map((kind) => el('li', {}, svg('svg', {viewBox: '0 0 12 12', 'aria-hidden': 'true'},
  svg('rect', {class: `bar ${kind}`, x: 1, y: 1, width: 10, height: 10})), kind)));

try {
  const {sheets} = await ask('/api/film');
  if (!sheets.length) {
    document.getElementById('rows').replaceChildren(el('p', {}, 'No film was used yet.'));
  } else {
    const draw = () => document.getElementById('plot').replaceChildren(key(), ...plots(sheets));
    draw();
    addEventListener('resize', draw);
    const rows = [...sheets].reverse().slice(0, 400), number = {scope: 'col', class: 'n'}, word = {scope: 'col'};
    document.getElementById('rows').replaceChildren(el('table', {}, el('caption', {}, 'The latest day first'),
      el('thead', {}, el('tr', {}, ['Day', 'Target'].map((t) => el('th', word, t)), kKinds.map((t) => el('th', number, t[0].toUpperCase() + t.slice(1))), el('th', number, 'Toner of the used'), el('th', word, 'Why spoiled'))),
      el('tbody', {}, rows.map((row) => el('tr', {}, el('td', {}, row.day), el('td', {}, row.target), kKinds.map((kind) => el('td', {class: 'n'}, String(row[kind]))),
        el('td', {class: 'n'}, toner_words([row]) || '-'), el('td', {}, row.why))))));
  }
} catch (error) { complain(error); }
