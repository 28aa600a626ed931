import {ask, complain, el, keys_are_on, press_words, presses_told, say} from './common.js';

const inches = (points) => `${Math.round((points / 72) * 1000) / 1000} in`;

const facts_of = (facts) => el('dl', {}, facts.filter(([, value]) => value).map(([name, value]) => [el('dt', {}, name), el('dd', {}, String(value))]).flat());

const card = (name, facts) => el('div', {}, el('h3', {}, name), facts_of(facts));

const part = (title, rows, facts) => [el('h2', {}, title), rows.length ? el('div', {class: 'cards'}, rows.map((row) => card(row.name, facts(row)))) : el('p', {class: 'quiet'}, 'None.')];

const kReads = {wrong: 'mirrored', right: 'as it should', 'as-is': 'as it comes'}, kMirrors = {file: 'in the file', printer: 'at the press', rip: 'in the RIP'};
const kFeeds = {'short-edge': 'short edge first', 'long-edge': 'long edge first'};

try {
  const all = await ask('/api/settings');
  if (all.trouble) say(`The desk goes by the settings from before: ${all.trouble}`, true);
  document.getElementById('all').replaceChildren(
    facts_of([['layright', all.layright], ['File', all.configuration], ['Ledger', all.ledger]]),
    ...part('Sheets', all.sheets, (s) => [['Size', `${inches(s.width_pt)} x ${inches(s.length_pt)}`], ['Feeds', kFeeds[s.feed] || s.feed]]),
    ...part('Presses', all.presses, (p) => [['Driver', p.ppd], ['Address', p.ipp], ['Queue', p.queue], ['Tray', p.media_source], ['Media type', p.media_type], ['Exit', p.output_bin],
      ['White', p.prints_white ? 'prints white' : 'no white']]),
    ...part('Targets', all.targets, (t) => [['Sheet', t.sheet.name], ['Press', t.press], ['Sheet prints', kReads[t.reading] || t.reading], ['Mirroring is done', kMirrors[t.reverse_at] || t.reverse_at]]),
    ...part('Watched folders', all.intakes, (i) => [['Target', i.target], ['Arrivals', i.in], ['Ready', i.ready], ['Held', i.held], ['Originals', i.originals],
      ...Object.entries(i.settings)]));
  await presses_told(({configured, presses, asking, trouble}) => {
    document.getElementById('answers').replaceChildren(el('h2', {}, 'What the presses say'), configured.length
      ? el('div', {class: 'cards'}, configured.map((p) => card(p.press, [['Model', p.model], ['State', press_words({...p, targets: []}, asking)[0]],
        ...p.targets.map((t) => [`For ${t.target}`, `${t.suits ? 'suits' : 'does not suit'}: ${t.why}`])])))
      : el('p', {class: 'quiet'}, 'layright.toml names no press.'));
    document.getElementById('queues').replaceChildren(el('h2', {}, 'What the print queues of this machine say'), presses.length
      ? el('div', {class: 'cards'}, presses.map((p) => card(p.queue, [['Model', p.model], ['State', p.state], [p.suits ? 'Suits' : 'Does not suit', p.why]])))
      : el('p', {class: 'quiet'}, asking ? 'They are being asked …' : trouble || 'This machine has no print queues.'));
  });
} catch (error) { complain(error); }

const keys = document.getElementById('keys');
keys.checked = keys_are_on();
keys.addEventListener('change', () => localStorage.setItem('keys', keys.checked ? 'on' : 'off'));
