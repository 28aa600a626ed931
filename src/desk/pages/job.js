import {ask, complain, el, findings_list, on_keys, picture_of, say, tell, time, when_news} from './common.js';
import {questions} from './questions.js';

const number = location.pathname.split('/')[2];
const place = (name) => document.getElementById(name);
const kState = {held: 'held', moving: 'on its way', waiting: 'waits to share a sheet', taken: 'being laid', placing: 'being put into place', ready: 'ready', discarded: 'rejected', skipped: 'skipped', missing: 'its original is gone'};
const link_to = (id, words) => el('a', {href: `/job/${id}`}, words);
const kViews = {came: 'As it came', lies: 'As it will lie', worn: 'As worn'};
const kShows = {came: 'The page as it came, on a sheet.', worn: 'The art as it will be worn, with its size.'};
let job = null, page = 1, view = 'lies', looked = '', told = '', asked = {}, turn = 0;

async function decide(what, body) {
  try {
    await tell(`/api/jobs/${number}/${what}`, {history: job.history, ...body});
    say(what === 'spoiled' ? 'Counted.' : 'Noted; it is being done.');
  } catch (error) { complain(error); }
  asked = {};
  await refresh();
}

const look_at = (said, shown) => ask(`/api/jobs/${number}/look?${new URLSearchParams({page, view: shown, ...said})}`);

function with_reason(label, button, what, more = {}) {
  const id = `why-${what}`, input = el('input', {type: 'text', id, maxlength: '200', autocomplete: 'off'});
  const go = () => { if (input.value.trim()) decide(what, {why: input.value.trim(), ...more}); else { say('Say why first.', true); input.focus(); } };
  input.addEventListener('keydown', (event) => { if (event.key === 'Enter') go(); });
  return el('div', {class: 'row'}, el('label', {for: id}, label, el('br'), input), el('button', {type: 'button', on: {click: go}}, button));
}

/** The text is copied, and stands there for browsers that do not let it be. */
function request({what, text}) {
  const words = el('textarea', {readonly: true, rows: '8', 'aria-label': 'Text for the customer'}, text);
  const copy = async () => {
    words.hidden = false;
    try { await navigator.clipboard.writeText(text); say('Copied: paste it into a message to the customer.'); } catch { words.select(); say('Copy the text below.'); }
  };
  words.hidden = true;
  return [el('p', {}, el('button', {type: 'button', on: {click: copy}}, `Ask the customer for ${what}`)), words];
}

function show() {
  const shape = {held: 'hold', ready: 'ready'}[job.state] || 'fix';
  document.title = `${job.name} - layright desk`;
  place('name').replaceChildren(el('span', {class: `mark ${shape}`}, String(job.job)), ' ', job.name);
  const from = job.handed_in && [`handed in by ${job.handed_in.who}`, job.handed_in.order && `order ${job.handed_in.order}`].filter(Boolean).join(', ');
  place('state').replaceChildren(...[
    el('p', {}, el('strong', {}, job.decided ? 'decided, about to be done' : kState[job.state] || job.state), job.reason ? `: ${job.reason}` : ''),
    el('p', {class: 'quiet'}, [job.folder && `folder ${job.folder}`, from, `for ${job.target}`, `arrived ${time(job.arrived)}`].filter(Boolean).join(' · ')),
    job.batch && job.batch !== job.job && el('p', {}, 'It lies on the sheets of ', link_to(job.batch, `job ${job.batch}`), '.'),
    job.pieces.length > 0 && el('p', {}, 'Pieces: ', job.pieces.flatMap((piece, at) => [at > 0 && ', ', link_to(piece.job, `${piece.job} ${piece.name}`)]).filter(Boolean))].filter(Boolean));
  place('decide').hidden = !job.may_reject;
  place('questions').replaceChildren(...(job.may_reject ? [
    job.may_lay_now && el('p', {}, el('button', {type: 'button', class: 'main', on: {click: () => decide('now', {})}}, 'Lay it now')), ...questions(job.questions, {
    release: (body) => decide('release', body), outcome: (said) => look_at(said, 'sheet'), show: (said) => { asked = said; view = 'lies'; look(); },
  }), with_reason('Reject it, because', 'Reject', 'discard')].filter(Boolean) : []));
  place('asking').hidden = !job.ask_customer;
  place('ask').replaceChildren(...(job.ask_customer ? request(job.ask_customer) : []));
  const label = {laid: 'Laid sheet', sheet: 'Job sheet', original: 'Original'};
  place('files').replaceChildren(...job.files.map((file) => el('a', {class: 'button', href: `/api/jobs/${number}/files/${file}`, download: true}, label[file])));
  const printed = [];
  if (job.may_print) printed.push(el('p', {}, el('button', {type: 'button', class: 'main', on: {click: () => decide('print', {})}}, 'Print')));
  if (job.may_lay_again) printed.push(el('p', {}, el('button', {type: 'button', on: {click: () => decide('again', {})}}, job.sends ? 'Print again' : 'Lay again')));
  if (job.may_decide_anew) printed.push(el('p', {}, el('button', {type: 'button', on: {click: () => decide('anew', {})}}, 'Decide it anew')));
  if (job.may_count_spoiled) printed.push(with_reason('A sheet was spoiled: wrong tray, crooked, jam …', 'Count it', 'spoiled'));
  place('after').hidden = !printed.length;
  place('printed').replaceChildren(...printed);
  place('past').replaceChildren(...job.events.map((event) => el('li', {}, `${time(event.time)} `, el('strong', {}, event.who), ` ${event.words}`)));
}

function show_views() {
  place('views').replaceChildren(...Object.entries(kViews).map(([name, words]) => el('button', {type: 'button', 'aria-pressed': String(view === name), 'data-view': name,
    on: {click: () => { view = name; look(); place('views').querySelector(`[data-view=${name}]`).focus(); }}}, words)));
}

async function look() {
  const key = JSON.stringify([job.state, job.runs, page, view, asked]);
  if (key === looked) return;
  looked = key;
  show_views();
  const mine = ++turn;
  const held = job.state === 'held';
  place('shown').textContent = 'It is being drawn …';
  place('art').setAttribute('aria-busy', 'true');
  const shown = view !== 'lies' ? kShows[view] : asked.words ? `What “${asked.words}” comes to.` : held ? 'As it would lie, before anything is decided.' : '';
  const {words, ...said} = asked;
  try {
    const seen = await look_at(view === 'came' ? {} : said, view);
    if (mine !== turn) return;
    place('art').removeAttribute('aria-busy');
    place('shown').textContent = seen.picture ? shown : '';
    place('art').replaceChildren(picture_of(seen, kShows[view]), ...pager(seen));
    if (view !== 'lies') return;
    place('found').replaceChildren(findings_list(seen));
    place('toner').textContent = seen.toner ? `Toner: ${seen.toner}.` : '';
  } catch (error) {
    if (mine !== turn) return;
    place('art').removeAttribute('aria-busy');
    place('shown').textContent = '';
    place('art').replaceChildren(el('p', {class: 'wait'}, error.message));
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
    job = await ask(`/api/jobs/${number}`);
    const now = JSON.stringify(job);
    if (told !== now) show();
    told = now;
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
