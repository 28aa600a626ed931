// What becomes of files that somebody chose, or dropped on a page: checked one after the other, and handed in where that is wanted.
import {ask, complain, el, findings_list, picture_of, say, send} from './common.js';

const kWords = {ready: 'is ready as it is', fix: 'would be laid, and fixed on the way', hold: 'would be held for a person'};
const kMarks = {ready: ['ready', 'ready'], fix: ['fix', 'fix'], hold: ['hold', 'hold']};

/** The choices, and what they lead to: {controls, result, take}. */
export async function checker() {
  const {targets, intakes} = await ask('/api/settings');
  const target = el('select', {id: 'for-target'}, targets.map((t) => el('option', {value: t.name}, t.name)));
  const intake = el('select', {id: 'for-folder'}, intakes.map((i) => el('option', {value: i.name}, i.name)));
  const give = el('button', {type: 'button', disabled: true}, 'Hand it in');
  const controls = el('div', {class: 'row'}, el('label', {for: 'for-target'}, 'Check for target', el('br'), target),
    el('label', {for: 'for-folder'}, 'Watched folder', el('br'), intake), give);
  const result = el('div', {'aria-live': 'polite'});
  let files = [], turn = 0;

  /** One file alone is shown large; of several each is a line that opens. */
  function told(look, alone) {
    const [shape, word] = kMarks[look.verdict], mark = el('span', {class: `mark ${shape}`}, word);
    const words = `${look.name} ${kWords[look.verdict]}.${look.page_count > 1 ? ` This is the first of ${look.page_count} pages.` : ''}`;
    const seen = el('div', {class: 'job'}, el('div', {class: 'art'}, picture_of(look)), el('div', {}, el('h3', {}, 'Found'), findings_list(look)));
    return alone ? [el('p', {class: 'said'}, mark, ' ', words), seen] : [el('details', {}, el('summary', {}, mark, el('span', {}, words)), seen)];
  }
  async function check() {
    const mine = ++turn, chosen = files;
    result.replaceChildren();
    for (const file of chosen) {
      const place = el('div', {}, el('p', {class: 'wait'}, `${file.name} is being checked …`));
      result.append(place);
      try {
        const look = await send(`/api/checks?${new URLSearchParams({target: target.value, name: file.name})}`, 'application/octet-stream', file);
        if (mine !== turn) return;
        place.replaceChildren(...told(look, chosen.length === 1));
      } catch (error) {
        if (mine !== turn) return;
        place.replaceChildren(el('p', {class: 'said bad'}, `${file.name}: ${error.message}`));
      }
    }
  }
  give.addEventListener('click', async () => {
    give.disabled = true;
    const taken = [];
    try {
      for (const file of files) taken.push((await send(`/api/arrivals?${new URLSearchParams({intake: intake.value, name: file.name})}`, 'application/octet-stream', file)).name);
    } catch (error) { complain(error); }
    if (taken.length) result.prepend(el('p', {class: 'said'}, `Handed in to ${intake.value}: ${taken.join(', ')}. Today shows what becomes of it.`));
  });
  target.addEventListener('change', check);
  if (!targets.length) say('layright.toml names no target.', true);
  const take = (chosen) => {
    files = [...chosen];
    give.disabled = !files.length;
    give.textContent = files.length > 1 ? `Hand all ${files.length} in` : 'Hand it in';
    return check();
  };
  return {controls, result, take};
}

/** On a page that is not about it: in a window of its own. */
export async function receive(files) {
  if (location.pathname === '/check') return;
  try {
    const {controls, result, take} = await checker();
    const close = el('button', {type: 'button', on: {click: () => window.close()}}, 'Close');
    const window = el('dialog', {'aria-label': 'Check a file', on: {close: () => window.remove()}}, el('h2', {}, files.length === 1 ? files[0].name : `${files.length} files`), controls, result, el('p', {}, close));
    document.body.append(window);
    window.showModal();
    take(files);
  } catch (error) { complain(error); }
}
