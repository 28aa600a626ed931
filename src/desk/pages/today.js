import {ago, ask, complain, el, on_keys, press_words, presses_told, say, tell, time, toner_words, walk, when_news} from './common.js';

const kPart = 50;
const kShape = {held: 'hold', waiting: 'note', working: 'fix', ready: 'ready'};
const first = {held: 0, waiting: 0, working: 0, ready: 0};  // what each list begins with
let known = null;                               // numbers of the jobs that were there before

function doing(job) {
  if (job.state === 'held') return job.decided ? 'decided, about to be done' : `since ${time(job.changed)} (${ago(job.changed)})`;
  if (job.since) return job.decided ? 'about to be laid' : `since ${time(job.since)} (${ago(job.since)})`;
  if (job.state === 'waiting') return `its sheet is being made, arrived ${time(job.arrived)}`;
  if (job.state !== 'ready') return `arrived ${time(job.arrived)}`;
  const film = {wanted: 'waits for the press', sending: 'at the press', sent: 'printed', refused: 'the press refused it', 'film missing': 'film is missing', 'film spoiled': 'film was spoiled'};
  return `${film[job.send] || 'ready'}, ${time(job.changed)}${job.send_told && job.send !== 'sent' ? `: ${job.send_told}` : ''}`;
}

/** Drawn when it comes into sight; there is none of a file that cannot be read. */
function thumb(job) {
  const picture = el('img', {class: 'thumb', src: `/api/jobs/${job.job}/picture?${job.changed}`, alt: '', loading: 'lazy', width: '72', height: '72'});
  picture.addEventListener('error', () => picture.remove());
  return picture;
}

function strip(job, list) {
  const is_new = known && !known.has(job.job);
  return el('li', {}, el('a', {class: is_new ? 'strip new' : 'strip', href: `/job/${job.job}`, 'data-job': job.job},
    el('span', {class: 'number'}, el('span', {class: `mark ${kShape[list]}`}, String(job.job)), list !== 'working' && thumb(job)),
    el('span', {class: 'name'}, job.name),
    job.reason && list !== 'ready' && !job.since && el('span', {class: 'why'}, job.reason),
    el('span', {class: 'when'}, [job.folder && `folder ${job.folder}`, job.order && `order ${job.order}`, doing(job), `for ${job.target}`].filter(Boolean).join(' · '))));
}

const kEmpty = {held: 'Nothing waits for you.', waiting: '', working: 'Nothing is in hand.', ready: 'Nothing yet today.'};

function show(list) {
  const section = document.getElementById(list.list), focused = document.activeElement?.dataset?.job;
  section.querySelector('.count').textContent = String(list.total);
  const strips = list.jobs.map((job) => strip(job, list.list));
  const told = JSON.stringify([list.jobs, Math.floor(Date.now() / 60000)]);
  if (section.dataset.told !== told) section.querySelector('.strips').replaceChildren(...strips);
  section.dataset.told = told;
  const pager = section.querySelector('.pager');
  const go = (by) => () => { first[list.list] += by; refresh(); };
  const last = list.from + list.jobs.length;
  pager.replaceChildren();
  if (list.list === 'waiting') section.hidden = !list.total;
  if (!list.total) pager.append(el('p', {class: 'quiet'}, kEmpty[list.list]));
  if (list.total > kPart) pager.append(
    el('button', {type: 'button', disabled: list.from === 0, on: {click: go(-kPart)}}, `Previous ${kPart}`),
    el('button', {type: 'button', disabled: last >= list.total, on: {click: go(kPart)}}, `Next ${kPart}`),
    el('span', {class: 'quiet'}, `${list.from + 1} to ${last} of ${list.total}`));
  if (focused) section.querySelector(`[data-job="${focused}"]`)?.focus();
}

async function lay_now(sheet) {
  try {
    const {jobs} = await tell('/api/waiting/now', {intake: sheet.intake, target: sheet.target});
    say(jobs === 1 ? 'Noted: 1 job waits no more.' : `Noted: ${jobs} jobs wait no more.`);
  } catch (error) { complain(error); }
  await refresh();
}

/** How full the sheets are that jobs wait to share, each with its button. */
function show_sheets(sheets, jobs) {
  const place = document.getElementById('sheets'), told = JSON.stringify([sheets, jobs]), several = new Set(sheets.map((s) => s.intake)).size > 1;
  if (place.dataset.told === told) return;
  place.dataset.told = told;
  place.replaceChildren(...sheets.map((sheet) => {
    const asked = jobs.filter((job) => job.target === sheet.target && job.intake === sheet.intake);
    const words = `${sheet.jobs === 1 ? '1 job waits' : `${sheet.jobs} jobs wait`} for ${sheet.target}${several ? `, ${sheet.intake}` : ''}: ${Math.round(sheet.fill_pct)} % of a sheet. It is laid at ${Math.round(sheet.wanted_pct)} %.`;
    return el('li', {class: 'row'}, el('span', {}, words), el('button', {type: 'button', disabled: asked.length > 0 && asked.every((job) => job.decided), on: {click: () => lay_now(sheet)}, 'aria-label': `Lay them now, for ${sheet.target}`}, sheet.jobs === 1 ? 'Lay it now' : 'Lay them now'));
  }));
}

function show_film(rows) {
  const sum = (what) => rows.reduce((all, row) => all + row[what], 0), toner = toner_words(rows), unknown = sum('toner_not_known');
  document.getElementById('film').replaceChildren(...[
    el('p', {}, rows.length ? `Film: ${sum('used')} used, ${sum('planned')} planned, ${sum('spoiled')} spoiled. ` : 'No film yet. ', el('a', {href: '/film'}, 'By day and target')),
    toner && el('p', {}, `Toner: about ${toner}${unknown ? `, without ${unknown} ${unknown === 1 ? 'sheet' : 'sheets'}` : ''}.`),
    !toner && sum('used') > 0 && el('p', {class: 'quiet'}, 'Toner is not counted: layright.toml has no prices of it.')].filter(Boolean));
}

async function refresh() {
  try {
    const today = await ask('/api/today');
    for (const [name, from] of Object.entries(first))
      if (from > 0) today.lists[name] = await ask(`/api/jobs?list=${name}&from=${from}&most=${kPart}`);
    document.getElementById('day').textContent = new Date(`${today.day}T12:00`).toLocaleDateString([], {weekday: 'long', month: 'short', day: 'numeric'});
    document.getElementById('watcher').hidden = today.watcher;
    const trouble = document.getElementById('trouble');
    trouble.hidden = !today.trouble;
    trouble.textContent = `The desk goes by the settings from before: ${today.trouble}`;
    const jobs = Object.values(today.lists).flatMap((list) => list.jobs);
    const fresh = known ? today.lists.held.jobs.filter((job) => !known.has(job.job)) : [];
    for (const list of Object.values(today.lists)) show(list);
    show_sheets(today.waiting, today.lists.waiting.jobs);
    if (fresh.length) say(fresh.length === 1 ? `New: ${fresh[0].name} waits for you.` : `${fresh.length} more wait for you.`);
    known = new Set([...(known || []), ...jobs.map((job) => job.job)]);
    show_film(today.film);
  } catch (error) { complain(error); }
}

function show_presses({configured, presses, asking, trouble}) {
  const own = configured.map((press) => {
    const [words, bad] = press_words(press, asking);
    return el('li', {class: bad && 'bad'}, bad && el('span', {class: 'mark hold'}, 'Look'), el('span', {}, el('strong', {}, press.press), ` ${words}`));
  });
  const queues = presses.map((press) => el('li', {}, el('span', {}, el('strong', {}, press.queue), ` ${[press.state, press.suits ? 'suits the sheet' : press.why].filter(Boolean).join(' · ')}`)));
  const rows = own.length ? own : queues;
  document.getElementById('presses').replaceChildren(rows.length ? el('ul', {class: 'plain'}, rows)
    : el('p', {class: 'quiet'}, asking ? 'They are being asked …' : trouble || 'layright.toml names no press, and this machine has no print queues.'));
}

const look_at_presses = () => presses_told(show_presses).catch(complain);

on_keys({j: () => walk('.strip', 1), k: () => walk('.strip', -1)});
when_news(refresh);
refresh();
look_at_presses();
setInterval(look_at_presses, 60000);
