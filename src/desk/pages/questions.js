// What a person may decide about a held job, as buttons; beside each the picture of what it comes to.
import {el} from './common.js';

const body_of = (said) => {
  const body = Object.assign({}, ...said);
  const accept = said.flatMap((each) => each.accept || []);
  if (accept.length) body.accept = accept;
  return body;
};
/** The same as words of an address. */
const address_of = ({accept, ...body}) => (accept ? {...body, accept: accept.join(',')} : body);

/** A small picture of what `said()` comes to, and the words that tell it: drawn again when it changes. */
function outcome_of(said, outcome, words, alone, sized) {
  const picture = el('img', {alt: '', hidden: true, class: 'outcome'}), told = el('span', {class: 'quiet told'}, 'being drawn …');
  let turn = 0;
  const draw = async () => {
    const mine = ++turn, body = said();
    if (!body) {
      [picture.hidden, told.textContent] = [true, 'write how wide, such as 4in'];
      return;
    }
    try {
      const look = await outcome(address_of(body));
      if (mine !== turn) return;
      picture.hidden = !look.picture;
      if (look.picture) picture.src = look.picture;
      picture.alt = `What “${words}” comes to`;
      const size = look.scale_pct ? `${Math.round(look.scale_pct * 10) / 10} %` : '';
      sized(size);
      told.textContent = `${size || 'has no place on the sheet'}${alone && look.verdict === 'hold' ? ', still held' : ''}`;
    } catch (error) {
      if (mine === turn) [picture.hidden, told.textContent] = [true, error.message];
    }
  };
  draw();
  return {node: el('span', {class: 'comes'}, picture, told), draw};
}

/** One question alone is answered by its button; of several each is answered first, then the job is laid. */
export function questions(list, {release, outcome, show}) {
  if (list === null) return [el('p', {}, 'Nothing that can be said here would let it go on: ask the customer for the file again, and reject this one.')];
  const several = list.length > 1, said = new Map();
  // Of a question that is not answered yet its first choice, so that a picture shows the whole.
  const others = (at) => list.map((question, other) => (other === at ? {} : said.get(other) || question.choices.find((each) => !each.needs)?.set || {}));
  const pictures = [];
  const lay = el('button', {type: 'button', class: 'main', disabled: true, on: {click: () => release(body_of([...said.values()]))}}, 'Lay it');
  const parts = list.map((question, at) => {
    const buttons = [];
    const choices = question.choices.map((choice) => {
      const input = choice.needs && el('input', {type: 'text', class: 'short', value: choice.value, 'aria-label': `${choice.words}, such as 4in`, placeholder: '4in', autocomplete: 'off'});
      const value = () => ({...choice.set, ...(input && input.value.trim() ? {[choice.needs]: input.value.trim()} : {})});
      const comes = outcome_of(() => (input && !input.value.trim() ? null : body_of([...others(at), value()])), outcome, choice.words, !several, (size) => { if (choice.set.scale && size) button.textContent = `${choice.words} (${size})`; });
      const look = () => show({...address_of(body_of([...others(at), value()])), words: named()});
      const choose = () => {
        if (input && !input.value.trim()) return input.focus();
        if (!several) return release(value());
        said.set(at, value());
        for (const each of buttons) each.setAttribute('aria-pressed', String(each === button));
        lay.disabled = said.size < list.length;
        for (const [other, draw] of pictures) if (other !== at) draw();
        return look();
      };
      pictures.push([at, comes.draw]);
      const named = () => (input ? `${choice.words} ${input.value.trim() || '…'}` : choice.words);
      const button = el('button', {type: 'button', class: several ? '' : 'main', 'aria-pressed': several ? 'false' : undefined, on: {click: choose, focus: look}}, named());
      let resting = 0;
      button.addEventListener('pointerenter', (event) => { if (event.pointerType === 'mouse') resting = setTimeout(look, 250); });
      button.addEventListener('pointerleave', () => clearTimeout(resting));
      buttons.push(button);
      input?.addEventListener('keydown', (event) => { if (event.key === 'Enter') button.click(); });
      input?.addEventListener('input', () => { button.textContent = named(); });
      input?.addEventListener('change', () => { comes.draw(); if (button.getAttribute('aria-pressed') === 'true') choose(); });
      return el('div', {class: 'choice'}, comes.node, el('span', {class: 'row'}, input, button));
    });
    return el('fieldset', {}, el('legend', {}, question.ask || 'Once you have looked:'), el('div', {class: 'choices'}, choices));
  });
  return several ? [...parts, el('p', {}, lay)] : parts;
}
