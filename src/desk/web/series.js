// SPDX-License-Identifier: Apache-2.0
// All bars with their state; starting the run; one more bar.
import { byId, el, field, get, guarded, head, post, put, say, table, watchWork } from '/common.js';

const states = {
  waiting: ['waiting', 'not measured yet'],
  stored: ['waiting', 'measured before'],
  measured: ['good', 'measured'],
  typed: ['good', 'typed value'],
  refused: ['bad', 'could not be measured'],
  'left-out': ['out', 'left out'],
};

function stateCell(bar, work) {
  let [kind, words] = states[bar.state];
  if (work.phase === 'measuring' && bar.clip) {
    const known = work.bars[bar.id];
    if (known === true) [kind, words] = states.measured;
    else if (known === false) [kind, words] = states.refused;
    else [kind, words] = ['waiting', 'in work or waiting'];
  }
  return el('span', { class: `state ${kind}` }, words);
}

function valueCell(bar) {
  const sign = bar.limit ? `${bar.limit} ` : '';
  if (bar.strength) return `${sign}${bar.strength}`;
  return bar.energy ? `${sign}${bar.energy}` : '–';
}

function notesCell(bar) {
  const notes = [];
  if (bar.problem) notes.push(el('div', { class: 'cause' }, bar.problem));
  if (bar.left_out) notes.push(el('div', {}, `Left out: ${bar.left_out}`));
  if (bar.corrections > 0) {
    notes.push(el('div', { class: 'muted' },
      `${bar.corrections} ${bar.corrections === 1 ? 'correction' : 'corrections'} by hand`));
  }
  return notes.length ? notes : '';
}

const group = (bar) => [bar.material, bar.condition, bar.orientation].filter(Boolean).join(', ');

function barsTable(series, work) {
  return table('Bars of the series, as specimens.csv lists them',
    ['Bar', 'Group', 'State', 'Value', 'Notes'],
    series.bars.map((bar) => [
      el('a', { href: `/bar?id=${encodeURIComponent(bar.id)}` }, el('bdi', {}, bar.id)),
      el('bdi', {}, group(bar)), stateCell(bar, work), valueCell(bar), notesCell(bar)]));
}

function runButtons(series) {
  const waiting = series.bars.filter((bar) => bar.state === 'waiting').length;
  const start = el('button', { type: 'button', class: 'main', id: 'start',
    onclick: guarded(async () => { await post('/api/run', {}); say('The run was started.'); }) },
  waiting ? 'Start the run' : 'Run again');
  const fresh = el('button', { type: 'button', id: 'fresh',
    onclick: guarded(async () => {
      await post('/api/run', { fresh: true });
      say('Everything is measured again. Corrections by hand stay.');
    }) }, 'Measure everything again');
  const words = waiting
    ? `${waiting} ${waiting === 1 ? 'clip waits' : 'clips wait'} to be measured; each takes about a minute or two, once.`
    : 'Every clip is measured. Running again takes up what has changed in the folder.';
  return el('div', { class: 'actions' }, start, fresh, el('p', { class: 'muted' }, words));
}

function input(name, properties = {}) {
  return el('input', { name, id: `new-${name}`, type: 'text', autocomplete: 'off', ...properties });
}

const textFields = [
  ['id', 'Name of the bar', 'letters, digits and . _ - +', { required: true, maxlength: 64 }],
  ['material', 'Material', '', { required: true }],
  ['condition', 'Condition', 'as-made, annealed …', {}],
  ['orientation', 'Orientation', 'flat, on-edge, upright', {}],
  ['thickness_mm', 'Thickness h along the notch [mm]', '', { inputmode: 'decimal' }],
  ['width_mm', 'Width b under the notch [mm]', '', { inputmode: 'decimal' }],
  ['note', 'Note', '', {}],
];

/// A place for files: dropped on it, or chosen with its button.
function dropPlace(name, words, properties) {
  const chooser = el('input', { type: 'file', id: `new-${name}`, ...properties });
  const place = el('div', { class: 'drop' }, el('label', { for: chooser.id }, words), chooser);
  place.addEventListener('dragover', (event) => { event.preventDefault(); place.classList.add('over'); });
  place.addEventListener('dragleave', () => place.classList.remove('over'));
  place.addEventListener('drop', (event) => {
    event.preventDefault();
    place.classList.remove('over');
    chooser.files = event.dataTransfer.files;
  });
  return { place, chooser };
}

async function upload(shelf, file) {
  say(`Taking ${file.name} …`);
  const reply = await put(`/api/upload?shelf=${shelf}&name=${encodeURIComponent(file.name)}`, file);
  return reply.name;
}

async function addBar(form, clip, photos, reload) {
  const bar = {};
  for (const [name] of textFields) bar[name] = form.elements[name].value.trim().replace(',', '.');
  bar.note = form.elements.note.value.trim();
  if (clip.files.length === 0) throw new Error('Drop the clip of the blow, or choose it: a bar needs one.');
  bar.clip = await upload('clips', clip.files[0]);
  const names = [];
  for (const file of photos.files) names.push(await upload('photos', file));
  bar.photos = names.join('|');
  await post('/api/bars', bar);
  form.reset();
  say(`Bar ${bar.id} was added and is being measured.`);
  await reload();
}

function addForm(reload) {
  const clip = dropPlace('clip', 'Clip of the blow', { accept: 'video/*' });
  const photos = dropPlace('photos', 'Photographs of the broken faces (any number)',
    { accept: 'image/*', multiple: true });
  const form = el('form', { class: 'form', id: 'add' },
    el('div', { class: 'fields' }, textFields.map(([name, words, hint, properties]) =>
      field(words, input(name, properties), hint))),
    el('div', { class: 'fields' }, clip.place, photos.place),
    el('button', { type: 'submit', class: 'main' }, 'Add this bar'));
  form.addEventListener('submit', guarded(async (event) => {
    event.preventDefault();
    await addBar(form, clip.chooser, photos.chooser, reload);
  }));
  return form;
}

export async function show(main) {
  const bars = el('div', { id: 'bars' });
  const buttons = el('div', {});
  let series = null;
  const reload = async (work) => {
    series = await get('/api/series');
    head(series.title, series.geometry, series.label);
    buttons.replaceChildren(runButtons(series));
    bars.replaceChildren(series.fault ? el('p', { class: 'notice' }, series.fault)
      : barsTable(series, work || series.work));
  };
  await reload();
  main.replaceChildren(
    el('section', { 'aria-labelledby': 'bars-head' },
      el('h2', { id: 'bars-head' }, 'Bars'), buttons, bars),
    el('section', { 'aria-labelledby': 'add-head' },
      el('h2', { id: 'add-head' }, 'One more bar'),
      el('p', {}, 'Drop its clip and photographs here. They are copied into the series folder, and a row is added to specimens.csv.'),
      addForm(reload)));
  watchWork(series.work, reload, (work) => bars.replaceChildren(barsTable(series, work)));
  byId('main').focus({ preventScroll: true });
}
