import {ask, complain, el, findings_list, in_shop_words, on_keys, picture_of, say, tell, time, when_news} from './common.js';

const number = location.pathname.split('/')[2];
const place = (name) => document.getElementById(name);
const kState = {held: 'held', moving: 'on its way', taken: 'being laid', placing: 'being put into place', ready: 'ready', discarded: 'rejected', skipped: 'skipped', missing: 'its original is gone'};
let job = null, page = 1, looked = '';

async function decide(what, body) {
  try {
    await tell(`/api/jobs/${number}/${what}`, {history: job.history, ...body});
    say(what === 'spoiled' ? 'Counted.' : 'Noted; it is being done.');
  } catch (error) { complain(error); }
  await refresh();
}

/** One question alone is answered by its button; of several each is answered first, then the job is laid. */
function questions() {
  if (job.questions === null) return [el('p', {}, 'Nothing that can be said here would let it go on: ask the customer for the file again, and reject this one.')];
  const several = job.questions.length > 1, said = new Map();
  const lay = el('button', {type: 'button', class: 'main', disabled: true, on: {click: () => release([...said.values()])}}, 'Lay it');
  const parts = job.questions.map((question, at) => {
    const buttons = [];
    const choose = (choice, value) => {
      if (!several) return release([{...choice.set, ...value}]);
      said.set(at, {...choice.set, ...value});
      for (const each of buttons) each.setAttribute('aria-pressed', each.choice === choice);
      lay.disabled = said.size < job.questions.length;
      return undefined;
    };
    const choices = question.choices.map((choice) => {
      const input = choice.needs && el('input', {type: 'text', class: 'short', value: choice.value, 'aria-label': `${choice.words}, such as 4in`, autocomplete: 'off'});
      const button = el('button', {type: 'button', class: several ? '' : 'main', 'aria-pressed': several ? 'false' : undefined,
        on: {click: () => choose(choice, input ? {[choice.needs]: input.value.trim()} : {})}}, choice.words);
      button.choice = choice;
      buttons.push(button);
      input?.addEventListener('keydown', (event) => { if (event.key === 'Enter') button.click(); });
      return input ? el('span', {class: 'row'}, input, button) : button;
    });
    return el('fieldset', {}, el('legend', {}, in_shop_words(question.ask) || 'Once you have looked:'), el('div', {class: 'row'}, choices));
  });
  return several ? [...parts, el('p', {}, lay)] : parts;
}

function release(said) {
  const body = Object.assign({}, ...said);
  const accept = said.flatMap((each) => each.accept || []);
  if (accept.length) body.accept = accept;
  return decide('release', body);
}

function with_reason(label, button, what, more = {}) {
  const id = `why-${what}`, input = el('input', {type: 'text', id, maxlength: '200', autocomplete: 'off'});
  const go = () => { if (input.value.trim()) decide(what, {why: input.value.trim(), ...more}); else { say('Say why first.', true); input.focus(); } };
  input.addEventListener('keydown', (event) => { if (event.key === 'Enter') go(); });
  return el('div', {class: 'row'}, el('label', {for: id}, label, el('br'), input), el('button', {type: 'button', on: {click: go}}, button));
}

function show() {
  const shape = {held: 'hold', ready: 'ready'}[job.state] || 'fix';
  document.title = `${job.name} - layright desk`;
  place('name').replaceChildren(el('span', {class: `mark ${shape}`}, String(job.job)), ' ', job.name);
  place('state').replaceChildren(
    el('p', {}, el('strong', {}, job.decided ? 'decided, about to be done' : kState[job.state] || job.state), job.reason ? `: ${in_shop_words(job.reason)}` : ''),
    el('p', {class: 'quiet'}, [job.folder && `folder ${job.folder}`, `for ${job.target}`, `arrived ${time(job.arrived)}`].filter(Boolean).join(' · ')));
  place('decide').hidden = !job.may_reject;
  place('questions').replaceChildren(...(job.may_reject ? [...questions(), with_reason('Reject it, because', 'Reject', 'discard')] : []));
  const label = {laid: 'Laid sheet', sheet: 'Job sheet', original: 'Original'};
  place('files').replaceChildren(...job.files.map((file) => el('a', {class: 'button', href: `/api/jobs/${number}/files/${file}`, download: true}, label[file])));
  const printed = [];
  if (job.may_lay_again) printed.push(el('p', {}, el('button', {type: 'button', on: {click: () => decide('again', {})}}, job.sends ? 'Print again' : 'Lay again')));
  if (job.may_count_spoiled) printed.push(with_reason('A sheet was spoiled: wrong tray, crooked, jam …', 'Count it', 'spoiled'));
  place('after').hidden = !printed.length;
  place('printed').replaceChildren(...printed);
  place('past').replaceChildren(...job.events.map((event) => el('li', {}, `${time(event.time)} `, el('strong', {}, event.who), ` ${in_shop_words(event.words)}`)));
}

async function look() {
  const key = `${job.state} ${job.runs} ${page}`;
  if (key === looked) return;
  looked = key;
  try {
    const seen = await ask(`/api/jobs/${number}/look?page=${page}`);
    place('art').replaceChildren(picture_of(seen), ...pager(seen));
    place('found').replaceChildren(findings_list(seen));
  } catch (error) {
    place('art').replaceChildren(el('p', {class: 'wait'}, error.message));
    place('found').replaceChildren();
  }
}

function pager(seen) {
  if (seen.page_count < 2) return [];
  const go = (by) => () => { page += by; look(); };
  return [el('div', {class: 'pager'}, el('button', {type: 'button', disabled: page === 1, on: {click: go(-1)}}, 'Page before'),
    el('button', {type: 'button', disabled: page >= seen.page_count, on: {click: go(1)}}, 'Next page'), el('span', {}, `Page ${page} of ${seen.page_count}`))];
}

async function refresh() {
  try {
    const before = job && JSON.stringify(job);
    job = await ask(`/api/jobs/${number}`);
    if (before !== JSON.stringify(job)) show();
    await look();
  } catch (error) { complain(error); }
}

async function other(by) {
  try {
    const held = (await ask('/api/jobs?list=held&most=200')).jobs.map((each) => each.job).filter((each) => String(each) !== number);
    const next = by > 0 ? held.find((each) => each > Number(number)) ?? held[0] : held.filter((each) => each < Number(number)).pop() ?? held.pop();
    if (next) location.href = `/job/${next}`; else say('No other job waits.');
  } catch (error) { complain(error); }
}

on_keys({a: () => document.querySelector('#questions button')?.focus(), r: () => place('why-discard')?.focus(), j: () => other(1), k: () => other(-1)});
when_news(refresh);
refresh();
