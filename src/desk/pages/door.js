const place = (name) => document.getElementById(name);

function say(text, bad = false) {
  place('said').className = bad ? 'said bad' : 'said';
  place('said').textContent = text;
}

/** XMLHttpRequest, because fetch does not tell how much has been sent. */
function send(file) {
  return new Promise((resolve, reject) => {
    const words = new URLSearchParams({who: place('who').value, order: place('order').value, name: file.name});
    const request = new XMLHttpRequest();
    request.open('POST', `/api/files?${words}`);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.responseType = 'json';
    request.upload.addEventListener('progress', (event) => { if (event.lengthComputable) place('way').value = (100 * event.loaded) / event.total; });
    request.addEventListener('load', () => (request.status === 200 ? resolve() : reject(new Error(request.response?.error || 'It was not taken. Try again later.'))));
    request.addEventListener('error', () => reject(new Error('It could not be sent. Is the file too large, or the connection gone?')));
    request.send(file);
  });
}

place('door').addEventListener('submit', async (event) => {
  event.preventDefault();
  const file = place('file').files[0], button = place('door').querySelector('button');
  button.disabled = true;
  place('way').hidden = false;
  say(`${file.name} is being sent …`);
  try {
    await send(file);
    say(`Thank you. We have ${file.name}.`);
    place('file').value = '';
  } catch (error) {
    say(error.message, true);
  }
  button.disabled = false;
  place('way').hidden = true;
  place('way').value = 0;
});
