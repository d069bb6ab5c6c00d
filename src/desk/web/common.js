// SPDX-License-Identifier: Apache-2.0
// What all pages share: elements without markup from texts, requests, and watching the run.

/// An element. Properties that begin with "on" are listeners, the others attributes; children
/// are nodes or texts, and a text is never taken for markup.
export function el(tag, properties = {}, ...children) {
  const node = document.createElement(tag);
  fill(node, properties, children);
  return node;
}

/// The same for pictures drawn on pictures.
export function svg(tag, properties = {}, ...children) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', tag);
  fill(node, properties, children);
  return node;
}

function fill(node, properties, children) {
  for (const [name, value] of Object.entries(properties)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? '' : value);
  }
  for (const child of children.flat()) {
    if (child !== null && child !== undefined && child !== false) node.append(child);
  }
}

export const byId = (id) => document.getElementById(id);

async function answer(reply) {
  const type = reply.headers.get('Content-Type') || '';
  const data = type.startsWith('application/json') ? await reply.json() : { error: await reply.text() };
  if (!reply.ok) throw new Error(data.error || 'The desk did not answer.');
  return data;
}

export async function get(path) {
  return answer(await fetch(path));
}

export async function post(path, body) {
  return answer(await fetch(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  }));
}

export async function put(path, file) {
  return answer(await fetch(path, { method: 'PUT', body: file }));
}

/// Says something to everybody, screen readers too.
export function say(text) {
  byId('live').textContent = text;
}

export function showFault(text) {
  const place = byId('fault');
  place.textContent = text;
  place.hidden = !text;
}

/// A listener that shows what goes wrong in it.
export function guarded(work) {
  return async (event) => {
    try {
      showFault('');
      await work(event);
    } catch (error) {
      showFault(error.message);
    }
  };
}

export function head(title, subtitle, label) {
  document.title = `${title}: desk`;
  byId('title').replaceChildren(el('bdi', {}, title));
  byId('subtitle').textContent = subtitle || '';
  const demo = byId('demo');
  demo.hidden = !label;
  demo.textContent = label ? `Demonstration: ${label}. No real product was tested.` : '';
}

/// A labelled field; `control` gets the label's id.
export function field(words, control, hint) {
  const id = control.id || `field-${Math.random().toString(36).slice(2)}`;
  control.id = id;
  const parts = [el('label', { for: id }, words), control];
  if (hint) {
    control.setAttribute('aria-describedby', `${id}-hint`);
    parts.push(el('small', { id: `${id}-hint`, class: 'muted' }, hint));
  }
  return el('div', { class: 'field' }, parts);
}

export function select(options, chosen) {
  return el('select', {}, options.map(([value, words]) =>
    el('option', { value, selected: value === chosen }, words)));
}

/// A table with caption, in a frame that scrolls sideways. Cells: texts or nodes; first is head.
export function table(caption, heads, rows) {
  return el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': caption },
    el('table', {},
      el('caption', {}, caption),
      el('thead', {}, el('tr', {}, heads.map((h) => el('th', { scope: 'col' }, h)))),
      el('tbody', {}, rows.map((cells) => el('tr', {}, cells.map((cell, i) =>
        i === 0 ? el('th', { scope: 'row' }, cell) : el('td', {}, cell)))))));
}

const phases = { measuring: 'Measuring', writing: 'Writing report and charts', idle: '' };

function showWork(work) {
  const busy = work.phase !== 'idle' || work.waiting;
  byId('work').hidden = !busy;
  const bar = byId('work-bar');
  if (work.phase === 'measuring' && work.count > 0) {
    bar.max = work.count;
    bar.value = work.done;
  } else {
    bar.removeAttribute('value');
  }
  const count = work.phase === 'measuring' && work.count > 0 ? `: ${work.done} of ${work.count} bars` : '';
  const ending = work.stopping ? '. Stopping when the bars in work are done' : '';
  byId('work-words').textContent = `${phases[work.phase] || 'Waiting'}${count}${ending}`;
  byId('stop').hidden = work.phase !== 'measuring' || work.stopping;
  return busy;
}

/// What became of a run that is over.
function endWords(work) {
  if (work.stopped) return 'The run was stopped. What was measured is kept; the next run goes on from there.';
  return work.fault ? 'The run ended without a result.' : 'Done. The report is written.';
}

function stopRun() {
  return guarded(async () => {
    await post('/api/stop', {});
    say('The run stops when the bars in work are done: a minute or two.');
    byId('main').focus({ preventScroll: true });
  });
}

/// Asks how far the run is; calls `changed` when a run gave a result, `moved` on every news.
export function watchWork(first, changed, moved = () => {}) {
  let last = first;
  showWork(first);
  showFault(first.fault);
  const ask = async () => {
    let busy = false;
    try {
      const work = await get('/api/work');
      busy = showWork(work);
      if (work.fault !== last.fault) showFault(work.fault);
      const ended = last.phase !== 'idle' && work.phase === 'idle';
      if (ended) say(endWords(work));
      if (work.finished !== last.finished || ended) await changed(work);
      else if (work.done !== last.done || work.phase !== last.phase) moved(work);
      last = work;
    } catch (error) {
      showFault(`The desk does not answer: ${error.message}. Was it ended in the terminal?`);
    }
    setTimeout(ask, busy ? 700 : 3000);
  };
  setTimeout(ask, 500);
}

const pages = { '/': '/series.js', '/bar': '/bar.js', '/ranking': '/ranking.js', '/plan': '/plan.js' };

async function begin() {
  byId('stop').addEventListener('click', stopRun());
  for (const link of document.querySelectorAll('nav a')) {
    if (link.getAttribute('href') === location.pathname) link.setAttribute('aria-current', 'page');
  }
  try {
    const page = await import(pages[location.pathname]);
    await page.show(byId('main'));
  } catch (error) {
    byId('main').replaceChildren();
    showFault(error.message);
  }
}

begin();
