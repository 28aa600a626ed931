// What becomes of a file that somebody chose, or dropped on a page: checked, and handed in where that is wanted.
import {ask, complain, el, findings_list, picture_of, say, send} from './common.js';

const kWords = {ready: 'is ready as it is', fix: 'would be laid; layright mends what was found', hold: 'would be held for a person'};

/** The choices, and what they lead to: {controls, result, take}. */
export async function checker() {
  const {targets, intakes} = await ask('/api/settings');
  const target = el('select', {id: 'for-target'}, targets.map((t) => el('option', {value: t.name}, t.name)));
  const intake = el('select', {id: 'for-folder'}, intakes.map((i) => el('option', {value: i.name}, i.name)));
  const give = el('button', {type: 'button', disabled: true}, 'Hand it in');
  const controls = el('div', {class: 'row'}, el('label', {for: 'for-target'}, 'Check for target', el('br'), target),
    el('label', {for: 'for-folder'}, 'Watched folder', el('br'), intake), give);
  const result = el('div', {'aria-live': 'polite'});
  let file = null;
  async function check() {
    if (!file) return;
    result.replaceChildren(el('p', {class: 'wait'}, `${file.name} is being checked …`));
    try {
      const look = await send(`/api/checks?${new URLSearchParams({target: target.value, name: file.name})}`, 'application/octet-stream', file);
      result.replaceChildren(el('p', {class: 'said'}, `${look.name} ${kWords[look.verdict]}.${look.page_count > 1 ? ` This is the first of ${look.page_count} pages.` : ''}`),
        el('div', {class: 'job'}, el('div', {class: 'art'}, picture_of(look)), el('div', {}, el('h3', {}, 'Found'), findings_list(look))));
    } catch (error) { result.replaceChildren(el('p', {class: 'said bad'}, error.message)); }
  }
  give.addEventListener('click', async () => {
    give.disabled = true;
    try {
      const taken = await send(`/api/arrivals?${new URLSearchParams({intake: intake.value, name: file.name})}`, 'application/octet-stream', file);
      result.prepend(el('p', {class: 'said'}, `${taken.name} lies in the watched folder ${intake.value} now.`));
    } catch (error) { complain(error); }
  });
  target.addEventListener('change', check);
  if (!targets.length) say('layright.toml names no target.', true);
  const take = (chosen) => { file = chosen; give.disabled = !file; return check(); };
  return {controls, result, take};
}

/** On a page that is not about it: in a window of its own. */
export async function receive(file) {
  if (location.pathname === '/check') return;
  try {
    const {controls, result, take} = await checker();
    const close = el('button', {type: 'button', on: {click: () => window.close()}}, 'Close');
    const window = el('dialog', {'aria-label': 'Check a file', on: {close: () => window.remove()}}, el('h2', {}, file.name), controls, result, el('p', {}, close));
    document.body.append(window);
    window.showModal();
    take(file);
  } catch (error) { complain(error); }
}
