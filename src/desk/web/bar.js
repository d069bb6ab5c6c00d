// SPDX-License-Identifier: Apache-2.0
// One bar: its clip with the arm, what was found, what was put right.
import { CorrectionForm } from '/bar_forms.js';
import { Picture } from '/picture.js';
import { byId, el, get, guarded, head, post, say, table, watchWork } from '/common.js';

const id = new URLSearchParams(location.search).get('id') || '';

/// The list of corrections with the way to take each back. \param log of any bar
export function correctionsTable(log, applied, done) {
  if (!log.length) return el('p', { class: 'muted' }, 'Nothing was put right by hand.');
  const found = new Map(applied.map((each) => [each.number, each]));
  const list = table('Corrections, in the order in which they were made',
    ['What', 'Automatic', 'By hand', 'Why', 'When (UTC)', 'Undo'],
    log.map((each) => {
      const used = found.get(each.number);
      const undone = each.undone;
      const button = el('button', { type: 'button', 'aria-label': `Take back: ${each.words}`,
        onclick: guarded(async () => {
          await post('/api/undo', { number: each.number });
          say('Taken back; the series is concluded anew.');
          await done();
        }) }, 'Take back');
      const now = used ? (used.not_used ? `not used: ${used.not_used}` : used.by_hand)
        : undone ? '–' : 'a later one stands';
      return [each.words, (used && used.automatic) || each.automatic, now, el('bdi', {}, each.why),
        each.when, undone ? `taken back ${undone}` : button];
    }));
  list.classList.add('corrections');
  return list;
}

function facts(bar) {
  const pairs = [];
  const add = (name, value) => { if (value) pairs.push(el('div', {}, el('dt', {}, name), el('dd', {}, value))); };
  const sign = bar.limit ? `${bar.limit} ` : '';
  add('Impact strength', bar.strength && sign + bar.strength);
  add('Absorbed energy', bar.energy && sign + bar.energy);
  add('Release', bar.values.release);
  add('Turning point', bar.values.rise);
  add('Outcome', bar.values.outcome);
  add('Break type', bar.values['break-type']);
  add('Section', bar.values.section);
  add('Clip', bar.clip);
  return el('dl', { class: 'facts', id: 'facts' }, pairs);
}

function remarks(bar) {
  const own = bar.remarks.concat(bar.swing ? bar.swing.remarks : []);
  if (!own.length && !bar.problem) return '';
  const signs = { note: 'i', warning: '!', refusal: '×' };
  const line = (severity, sign, word, text) => el('li', { class: severity },
    el('span', { class: 'sign', 'aria-hidden': 'true' }, sign),
    el('span', {}, el('strong', {}, word), ` ${text}`));
  return el('ul', { class: 'remarks' },
    bar.problem ? line('problem', '×', 'not measured', bar.problem) : null,
    own.map((each) => line(each.severity, signs[each.severity], each.severity, each.text)));
}

function rerunButton(bar) {
  if (!bar.clip) return '';
  return el('button', { type: 'button', id: 'rerun', onclick: guarded(async () => {
    await post('/api/run', { bars: [bar.id] });
    say(`${bar.id} is measured again. Corrections by hand stay.`);
  }) }, 'Measure this clip again');
}

/// The film of this bar, and the way to one. Made only from what was measured.
function filmSection(bar) {
  if (!bar.swing || !bar.clip) return '';
  const there = bar.film && bar.film.path;
  const sound = el('input', { type: 'checkbox', id: 'film-sound' });
  const make = el('button', { type: 'button', id: 'film', onclick: guarded(async () => {
    await post('/api/film', { bar: bar.id, sound: sound.checked });
    say('The film is being made; it stands here and in the report when it is done.');
  }) }, there ? 'Make the film anew' : 'Make the film');
  return el('section', { 'aria-labelledby': 'film-head' }, el('h2', { id: 'film-head' }, 'Film'),
    there ? el('video', { controls: true, preload: 'metadata', id: 'film-video',
      'aria-label': `Film of ${bar.id} with the arm, the read-outs and a slow replay of the blow`,
      src: `/results/${bar.film.path}?run=${bar.work.finished}` }) : '',
    bar.film && bar.film.words ? el('p', { class: 'notice' }, bar.film.words) : '',
    el('p', { class: 'muted' }, 'The clip with the arm as fitted, its trail, angle and energy, and the blow once more in slow motion; kept in results/overlays.'),
    el('div', { class: 'actions' }, make, el('div', { class: 'check' }, sound,
      el('label', { for: 'film-sound' }, 'with the clip’s sound'))));
}

function pictureSection(bar, picture) {
  if (!bar.clip) return el('p', { class: 'muted' }, 'A typed value: there is no clip.');
  const seen = bar.swing ? '' : el('p', { class: 'muted' },
    'Not measured: the arm is drawn once the run has been here.');
  return [picture.node, seen, bar.arm.length ? el('p', { class: 'muted' },
    'Drawn over the picture: the arm as followed (line), hanging rest (dashes), the axle (ring).') : ''];
}

export async function show(main) {
  let frame = null;
  const reload = async () => {
    const bar = await get(`/api/bar?id=${encodeURIComponent(id)}`);
    head(bar.id, [bar.material, bar.condition, bar.orientation].filter(Boolean).join(', '), bar.label);
    const picture = bar.clip ? new Picture(bar, () => {}) : null;
    const form = new CorrectionForm(bar, picture, reload);
    main.replaceChildren(
      el('section', { 'aria-labelledby': 'clip-head' }, el('h2', { id: 'clip-head' }, 'Clip'),
        pictureSection(bar, picture), rerunButton(bar)),
      el('section', { 'aria-labelledby': 'found-head' }, el('h2', { id: 'found-head' }, 'What counts now'),
        facts(bar), remarks(bar)),
      filmSection(bar),
      el('section', { 'aria-labelledby': 'right-head' }, el('h2', { id: 'right-head' }, 'Put right'),
        form.node),
      el('section', { 'aria-labelledby': 'log-head' }, el('h2', { id: 'log-head' }, 'By hand so far'),
        correctionsTable(bar.log, bar.applied, reload)));
    if (picture) {
      const events = bar.swing ? bar.swing.events : {};
      const start = events.blow_s ? picture.frameAt(events.blow_s) : 0;
      picture.go(frame ?? start);
      main.current = picture;
    }
    return bar;
  };
  const bar = await reload();
  watchWork(bar.work, async () => {
    if (main.current) frame = main.current.frame;
    if (!byId('why').value) await reload();
    else say('The run is done. Reload the page to see it; what you are writing was kept.');
  });
  main.focus({ preventScroll: true });
}
