import {complain} from './common.js';
import {checker} from './dropped.js';

const place = (name) => document.getElementById(name);
const drop = place('drop');

try {
  const {controls, result, take} = await checker();
  place('check').replaceChildren(controls, result);
  place('file').addEventListener('change', () => take(place('file').files));
  for (const event of ['dragenter', 'dragover']) drop.addEventListener(event, () => drop.classList.add('over'));
  for (const event of ['dragleave', 'drop']) drop.addEventListener(event, () => drop.classList.remove('over'));
  document.addEventListener('drop', (event) => { place('file').value = ''; if (event.dataTransfer.files.length) take(event.dataTransfer.files); });
} catch (error) { complain(error); }
