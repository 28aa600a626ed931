// What all pages share. Everything that comes from a file's name or inside goes into the page as text, never as markup.

/** An element: el('a', {href: '/'}, 'Today'). What is undefined or false is left out; `on` has listeners. */
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  return fill(node, props, children);
}

export function svg(tag, props = {}, ...children) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', tag), props, children);
}

function fill(node, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (name === 'on') for (const [event, listener] of Object.entries(value)) node.addEventListener(event, listener);
    else if (value !== undefined && value !== false && value !== null) node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.flat().filter((child) => child !== undefined && child !== null && child !== false));
  return node;
}

export async function ask(path) {
  return answer_of(await fetch(path, {headers: {Accept: 'application/json'}}));
}

/** Who works here, and the token that each change brings along: no page of another site can read it. */
let me = document.getElementById('who') ? ask('/api/me') : Promise.resolve({user: '', token: ''});

export async function send(path, type, body) {
  const go = async () => fetch(path, {method: 'POST', headers: {'Content-Type': type, 'X-Layright-Token': (await me).token}, body});
  const before = (await me).token;
  let response = await go();
  if (response.status === 403) {  // the desk may have started anew meanwhile
    me = ask('/api/me');
    if ((await me).token !== before) response = await go();
  }
  return answer_of(response);
}

export const tell = (path, body) => send(path, 'application/json', JSON.stringify(body));

export async function answer_of(response) {
  let json;
  try { json = await response.json(); } catch { json = {error: `The desk answered ${response.status}.`}; }
  if (response.status === 401) location.href = `/login?then=${encodeURIComponent(location.pathname)}`;
  if (!response.ok) throw Object.assign(new Error(json.error || `The desk answered ${response.status}.`), {status: response.status});
  return json;
}

const said = document.getElementById('said');
export function say(text, bad = false) {
  said.className = bad ? 'said bad' : 'said';
  said.textContent = text;
}
export function complain(error) {
  say(error instanceof TypeError ? 'The desk does not answer. Is layright desk still running?' : error.message, true);
}

export function time(text) {
  const at = new Date(text), today = new Date();
  const hour = at.toLocaleTimeString([], {hour: '2-digit', minute: '2-digit'});
  return at.toDateString() === today.toDateString() ? hour : `${at.toLocaleDateString([], {month: 'short', day: 'numeric'})}, ${hour}`;
}

export function ago(text) {
  const minutes = Math.max(0, Math.round((Date.now() - new Date(text)) / 60000));
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} h` : `${Math.round(hours / 24)} days`;
}

/** Calls `change` when the ledger has changed: new arrivals, decisions of others. */
export function when_news(change) {
  const news = new EventSource('/api/events');
  news.addEventListener('news', change);
  news.addEventListener('open', change);  // what came while nobody listened
  addEventListener('pagehide', () => news.close());
}

export const keys_are_on = () => localStorage.getItem('keys') !== 'off';

/** Single letters, while nobody writes; they can be switched off in the settings (WCAG 2.2, 2.1.4). */
export function on_keys(keys) {
  document.addEventListener('keydown', (event) => {
    const writes = event.target.closest('input:not([type=checkbox]), select, textarea');
    if (writes || event.ctrlKey || event.altKey || event.metaKey || !keys_are_on() || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  });
}

/** j and k: the next and the one before. */
export function walk(selector, by) {
  const all = [...document.querySelectorAll(selector)];
  const at = all.indexOf(document.activeElement);
  const next = all[at < 0 ? (by > 0 ? 0 : all.length - 1) : Math.min(Math.max(at + by, 0), all.length - 1)];
  if (next) next.focus();
}

/** "1.24 crowns", of toner; empty where nobody knows it. */
export function toner_words(rows) {
  const known = rows.filter((row) => row.toner_cost !== null && row.used > 0), sums = new Map();
  for (const row of known) sums.set(row.currency, (sums.get(row.currency) || 0) + row.toner_cost);
  return [...sums].map(([currency, cost]) => `${cost < 1 ? cost.toFixed(3) : cost.toFixed(2)} ${currency}`.trim()).join(' and ');
}

/** A press of layright.toml: its state in words, and whether that needs a person. */
export function press_words(press, asking) {
  if (!press.address) return ['cannot be asked: layright.toml gives no address for it', false];
  if (!press.state) return asking && !press.troubles.length ? ['is being asked …', false] : [`does not answer${press.troubles.length ? `: ${press.troubles[0]}` : ''}`, true];
  const unfit = press.targets.filter((t) => !t.suits).map((t) => `does not suit ${t.target}: ${t.why}`);
  return [[press.state, ...press.troubles, ...unfit].join(' · '), press.state === 'stopped' || press.troubles.length + unfit.length > 0];
}

/** Asks after the presses until all have answered. */
export async function presses_told(show) {
  for (let tries = 0; tries < 60; ++tries) {
    const told = await ask('/api/presses');
    show(told);
    if (!told.asking) return;
    await new Promise((resolve) => { setTimeout(resolve, 1000); });
  }
}

/** A page as it was found: its picture and the list beside it. */
export function findings_list(look) {
  if (!look.findings.length) return el('p', {}, 'Nothing was found.');
  return el('ol', {class: 'found'}, look.findings.map((f) => el('li', {},
    el('span', {class: `mark ${f.level}`}, String(f.number)),
    el('div', {}, f.message, ' ', el('span', {class: 'id'}, `${f.accepted ? 'accepted' : f.level} · ${f.check}`)))));
}

export function picture_of(look, shows = `The sheet as it will lie in the tray, with ${look.findings.length} numbered findings; they are listed on this page.`) {
  if (!look.picture) return el('p', {class: 'wait'}, 'There is no picture: the page cannot be drawn.');
  const window = el('div', {class: 'window', tabindex: '0', role: 'region', 'aria-label': `Picture of ${look.name}, may be scrolled`}, el('img', {src: look.picture, alt: shows}));
  const steps = ['', 'large', 'huge'];
  let step = 0;
  const size = (by) => {
    step = Math.min(Math.max(step + by, 0), steps.length - 1);
    const across = (window.scrollLeft + window.clientWidth / 2) / window.scrollWidth, down = (window.scrollTop + window.clientHeight / 2) / window.scrollHeight;
    window.className = `window ${steps[step]}`;
    window.scrollTo(across * window.scrollWidth - window.clientWidth / 2, down * window.scrollHeight - window.clientHeight / 2);
    [smaller.disabled, larger.disabled] = [step === 0, step === steps.length - 1];
  };
  const larger = el('button', {type: 'button', on: {click: () => size(1)}}, 'Larger');
  const smaller = el('button', {type: 'button', disabled: true, on: {click: () => size(-1)}}, 'Smaller');
  drag(window);
  return el('div', {}, window, el('p', {class: 'row'}, larger, smaller));
}

/** The picture is moved with a mouse as on a table; fingers and keys scroll it anyway. */
function drag(window) {
  let from = null;
  window.addEventListener('pointerdown', (event) => {
    if (event.pointerType !== 'mouse' || event.button !== 0) return;
    from = {x: event.clientX + window.scrollLeft, y: event.clientY + window.scrollTop};
    event.preventDefault();
    window.focus();
    window.setPointerCapture(event.pointerId);
  });
  window.addEventListener('pointermove', (event) => { if (from) window.scrollTo(from.x - event.clientX, from.y - event.clientY); });
  for (const end of ['pointerup', 'pointercancel']) window.addEventListener(end, () => { from = null; });
}

me.then(({user}) => {
  if (!user) return;
  const end = async () => { try { await tell('/api/logout', {}); location.href = '/login'; } catch (error) { complain(error); } };
  document.getElementById('who').replaceChildren(user, el('button', {type: 'button', on: {click: end}}, 'Log out'));
}).catch(complain);

/** Files may be dropped on any page; what is then shown comes when it is needed. */
if (document.getElementById('who')) {
  document.addEventListener('dragover', (event) => { if (event.dataTransfer.types.includes('Files')) event.preventDefault(); });
  document.addEventListener('drop', async (event) => {
    if (!event.dataTransfer.files.length) return;
    event.preventDefault();
    const files = [...event.dataTransfer.files];  // gone when this waits
    (await import('./dropped.js')).receive(files);
  });
}
