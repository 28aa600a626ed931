import {ask, complain, el, keys_are_on, say} from './common.js';

const inches = (points) => `${Math.round((points / 72) * 1000) / 1000} in`;

function part(title, rows, facts) {
  return [el('h2', {}, title), ...(rows.length ? rows : [null]).map((row) => (row
    ? el('div', {}, el('h3', {}, row.name), el('dl', {}, facts(row).filter(([, value]) => value).map(([name, value]) => [el('dt', {}, name), el('dd', {}, String(value))]).flat()))
    : el('p', {class: 'quiet'}, 'None.')))];
}

try {
  const all = await ask('/api/settings');
  if (all.trouble) say(`The desk goes by the settings from before: ${all.trouble}`, true);
  document.getElementById('all').replaceChildren(
    el('dl', {}, el('dt', {}, 'layright'), el('dd', {}, all.layright), el('dt', {}, 'File'), el('dd', {}, all.configuration), el('dt', {}, 'Ledger'), el('dd', {}, all.ledger)),
    ...part('Sheets', all.sheets, (s) => [['Size', `${inches(s.width_pt)} x ${inches(s.length_pt)}`], ['Feeds', s.feed]]),
    ...part('Presses', all.presses, (p) => [['Driver', p.ppd], ['Address', p.ipp], ['Queue', p.queue], ['Tray', p.media_source], ['Media type', p.media_type], ['Exit', p.output_bin],
      ['White', p.prints_white ? 'prints white' : 'no white']]),
    ...part('Targets', all.targets, (t) => [['Sheet', t.sheet.name], ['Press', t.press], ['Printed sheet reads', t.reading], ['Reversed in the', t.reverse_at]]),
    ...part('Watched folders', all.intakes, (i) => [['Target', i.target], ['Arrivals', i.in], ['Ready', i.ready], ['Held', i.held], ['Originals', i.originals],
      ...Object.entries(i.settings)]));
  const {presses, trouble} = await ask('/api/presses');
  document.getElementById('queues').replaceChildren(el('h2', {}, 'What the print queues say'), ...(presses.length ? presses.map((p) => el('div', {}, el('h3', {}, p.queue),
    el('dl', {}, [['Model', p.model], ['State', p.state], [p.suits ? 'Suits' : 'Does not suit', p.why]].filter(([, value]) => value).map(([name, value]) => [el('dt', {}, name), el('dd', {}, value)]).flat())))
    : [el('p', {class: 'quiet'}, trouble || 'This machine has no print queues.')]));
} catch (error) { complain(error); }

const keys = document.getElementById('keys');
keys.checked = keys_are_on();
keys.addEventListener('change', () => localStorage.setItem('keys', keys.checked ? 'on' : 'off'));
