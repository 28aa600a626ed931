import {answer_of, complain} from './common.js';

const place = (name) => document.getElementById(name);

/** A path of this desk, whatever the address says. */
function wanted() {
  const to = new URL(new URLSearchParams(location.search).get('then') || '/', location.origin);
  return to.origin === location.origin && to.pathname !== '/login' ? to.pathname : '/';
}

place('login').addEventListener('submit', async (event) => {
  event.preventDefault();
  try {
    const body = JSON.stringify({name: place('name').value, password: place('password').value});
    await answer_of(await fetch('/api/login', {method: 'POST', headers: {'Content-Type': 'application/json'}, body}));
    location.replace(wanted());
  } catch (error) {
    complain(error);
    place('password').value = '';
    place('password').focus();
  }
});
place('name').focus();

// Who follows a link from elsewhere comes without the cookie (SameSite=Strict), but not from here.
try {
  const me = await fetch('/api/me', {headers: {Accept: 'application/json'}});
  if (me.ok && (await me.json()).user) location.replace(wanted());
} catch { /* the form stands there all the same */ }
