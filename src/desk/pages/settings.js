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
} catch (error) { complain(error); }

const keys = document.getElementById('keys');
keys.checked = keys_are_on();
keys.addEventListener('change', () => localStorage.setItem('keys', keys.checked ? 'on' : 'off'));
