import {ask, complain, el, svg} from './common.js';

const kDays = 31, kKinds = ['used', 'planned', 'spoiled'];

function by_day(rows) {
  const days = new Map();
  for (const row of rows) {
    const day = days.get(row.day) || {used: 0, planned: 0, spoiled: 0};
    for (const kind of kKinds) day[kind] += row[kind];
    days.set(row.day, day);
  }
  return [...days].sort((a, b) => (a[0] < b[0] ? -1 : 1)).slice(-kDays);
}

/** A sheet of film lies beside the other: one bar a day, its parts one on the other. The table below says the same. */
function plot(rows) {
  const days = by_day(rows), wide = 720, high = 200, foot = 24, left = 40;
  const most = Math.max(1, ...days.map(([, d]) => d.used + d.planned + d.spoiled));
  const step = (wide - left) / Math.max(days.length, 7), bars = [];
  days.forEach(([day, sums], at) => {
    let top = high;
    for (const kind of kKinds) {
      const tall = (sums[kind] / most) * (high - 16);
      top -= tall;
      if (tall > 0) bars.push(svg('rect', {class: `bar ${kind}`, x: left + at * step + 3, y: top, width: Math.max(step - 6, 2), height: Math.max(tall - 1, 1)}));
    }
    if (at % Math.ceil(days.length / 10) === 0) bars.push(svg('text', {x: left + at * step + 3, y: high + 16}, day.slice(5)));
  });
  return svg('svg', {class: 'film', viewBox: `0 0 ${wide} ${high + foot}`, role: 'img', 'aria-label': `Sheets of the last ${days.length} days; the table below has the numbers.`},
    svg('line', {class: 'axis', x1: left, x2: wide, y1: high, y2: high}), svg('text', {x: 0, y: 16}, String(most)), svg('text', {x: 0, y: high}, '0'), ...bars);
}

const key = () => el('ul', {class: 'key'}, kKinds.map((kind) => el('li', {}, svg('svg', {viewBox: '0 0 12 12', 'aria-hidden': 'true'},
  svg('rect', {class: `bar ${kind}`, x: 1, y: 1, width: 10, height: 10})), kind)));

try {
  const {sheets} = await ask('/api/film');
  if (!sheets.length) {
    document.getElementById('rows').replaceChildren(el('p', {}, 'No film was used yet.'));
  } else {
    document.getElementById('plot').replaceChildren(key(), plot(sheets));
    const rows = [...sheets].reverse().slice(0, 400);
    document.getElementById('rows').replaceChildren(el('table', {}, el('caption', {}, 'The latest day first'),
      el('thead', {}, el('tr', {}, ['Day', 'Target'].map((t) => el('th', {scope: 'col'}, t)), kKinds.map((t) => el('th', {scope: 'col', class: 'n'}, t)), el('th', {scope: 'col'}, 'Why spoiled'))),
      el('tbody', {}, rows.map((row) => el('tr', {}, el('td', {}, row.day), el('td', {}, row.target), kKinds.map((kind) => el('td', {class: 'n'}, String(row[kind]))), el('td', {}, row.why))))));
  }
} catch (error) { complain(error); }
