import {ask, complain, el, findings_list, picture_of, say, send} from './common.js';

const place = (name) => document.getElementById(name);
const target = place('target'), file = place('file'), drop = place('drop');

async function check(dropped) {
  if (!dropped) return;
  say(`${dropped.name} is being checked …`);
  place('result').hidden = true;
  try {
    const path = `/api/checks?target=${encodeURIComponent(target.value)}&name=${encodeURIComponent(dropped.name)}`;
    const look = await send(path, 'application/octet-stream', dropped);
    const words = {ready: 'is ready as it is', fix: 'would be laid; layright mends what was found', hold: 'would be held for a person'};
    say(`${look.name} ${words[look.verdict]}.`);
    place('result-head').textContent = `${look.name}${look.page_count > 1 ? `, the first of ${look.page_count} pages` : ''}`;
    place('art').replaceChildren(picture_of(look));
    place('found').replaceChildren(el('h3', {}, 'Found'), findings_list(look));
    place('result').hidden = false;
  } catch (error) { complain(error); }
}

file.addEventListener('change', () => check(file.files[0]));
target.addEventListener('change', () => check(file.files[0]));
for (const event of ['dragenter', 'dragover']) drop.addEventListener(event, (e) => { e.preventDefault(); drop.classList.add('over'); });
for (const event of ['dragleave', 'drop']) drop.addEventListener(event, () => drop.classList.remove('over'));
drop.addEventListener('drop', (e) => { e.preventDefault(); file.value = ''; check(e.dataTransfer.files[0]); });

try {
  const {targets} = await ask('/api/settings');
  target.replaceChildren(...targets.map((t) => el('option', {value: t.name}, t.name)));
  if (!targets.length) say('layright.toml names no target.', true);
} catch (error) { complain(error); }
