// SPDX-License-Identifier: Apache-2.0
// The ranking: what tells groups apart, bars left out, and what that changes.
import { correctionsTable } from '/bar.js';
import { el, field, get, guarded, head, post, say, select, table, watchWork } from '/common.js';

const digits = (x) => (x === null ? '–' : Number(x.toPrecision(3)).toString());

function interval(range) {
  if (range.low === null && range.high === null) return '–';
  if (range.low === null) return `below ${digits(range.high)}`;
  if (range.high === null) return `above ${digits(range.low)}`;
  return `${digits(range.low)} to ${digits(range.high)}`;
}

/// Means as they were before the last change of this page, by group.
function before(results) {
  const key = 'desk-ranking';
  const now = JSON.stringify(results.groups.map((g, i) => [g.name, { place: i + 1, mean: g.mean }]));
  const kept = JSON.parse(sessionStorage.getItem(key) || '{}');
  if (kept.now !== now) sessionStorage.setItem(key, JSON.stringify({ now, then: kept.now || null }));
  const then = kept.now !== now ? kept.now : kept.then;
  return then ? new Map(JSON.parse(then)) : new Map();
}

function groupsTable(results) {
  const was = before(results);
  const changed = (g, i) => {
    const old = was.get(g.name);
    if (!old) return was.size ? 'new' : '–';
    if (old.place === i + 1 && old.mean === g.mean) return 'the same';
    return `place ${old.place}, ${digits(old.mean)}`;
  };
  return table(`Groups, toughest first, in ${results.unit}`,
    ['Group', 'Place', 'Mean', 'Interval', 'Letters', 'Bars', 'Before'],
    results.groups.map((g, i) => [el('bdi', {}, g.name), String(i + 1), digits(g.mean ?? g.bound),
      interval(g.interval), g.letters, String(g.n_exact + g.n_above + g.n_below), changed(g, i)]));
}

function groupingForm(results, done) {
  const box = (name, words, on, fixed) => el('label', { class: 'check' },
    el('input', { type: 'checkbox', name, checked: on, disabled: fixed }), ` ${words}`);
  const why = el('input', { type: 'text', required: true, maxlength: 2000, id: 'why-groups' });
  const form = el('form', { class: 'form', id: 'grouping' },
    el('fieldset', {}, el('legend', {}, 'Groups are told apart by'),
      box('material', 'material', true, true),
      box('condition', 'condition', results.options.by_condition, false),
      box('orientation', 'orientation', results.options.by_orientation, false)),
    field('Why', why), el('button', { type: 'submit' }, 'Regroup'));
  form.addEventListener('submit', guarded(async (event) => {
    event.preventDefault();
    const chosen = ['condition', 'orientation'].filter((name) => form.elements[name].checked);
    await post('/api/corrections', { kind: 'group-by', group_by: ['material', ...chosen], why: why.value.trim() });
    say('Regrouped; the series is ranked anew.');
    await done();
  }));
  return form;
}

function leaveOutForm(series, done) {
  const counted = series.bars.filter((bar) => bar.state === 'measured' || bar.state === 'typed');
  const which = select(counted.map((bar) => [bar.id, `${bar.id}: ${bar.material} ${bar.condition}, ${bar.strength || bar.energy || 'no value'}`]), '');
  which.id = 'out-bar';
  const why = el('textarea', { id: 'why-out', rows: 2, required: true, maxlength: 2000 });
  const form = el('form', { class: 'form', id: 'leave-out' }, field('Bar', which),
    field('Why it is left out (needed)', why, 'A value that looks odd is no reason; a crack, a slip or a bubble is.'),
    el('button', { type: 'submit' }, 'Leave it out'));
  form.addEventListener('submit', guarded(async (event) => {
    event.preventDefault();
    await post('/api/corrections', { kind: 'leave-out', bar: which.value, why: why.value.trim() });
    say(`${which.value} is left out; the series is ranked anew.`);
    await done();
  }));
  return form;
}

/// The ranking's own corrections: grouping, and bars left out.
function ownCorrections(series, done) {
  const log = series.corrections.filter((each) => each.kind === 'group-by' || each.kind === 'leave-out')
    .map((each) => ({ ...each, words: each.bar ? `${each.words}: ${each.bar}` : each.words }));
  const applied = log.filter((each) => !each.undone).map((each) => ({ number: each.number,
    automatic: each.automatic, not_used: '', by_hand: each.group_by ? each.group_by.join(', ') : 'left out' }));
  return correctionsTable(log, applied, done);
}

async function ranked(series, main, done) {
  const results = await get('/api/results');
  const sentences = results.verdict.map((words) => el('li', {}, words));
  main.replaceChildren(
    el('section', { 'aria-labelledby': 'rank-head', id: 'ranked' },
      el('h2', { id: 'rank-head' }, 'Ranking'),
      sentences.length ? el('ol', { class: 'verdict' }, sentences) : el('p', {}, 'There is nothing to rank yet.'),
      results.groups.length ? groupsTable(results) : '',
      series.has_report ? el('figure', { class: 'sheet-of-paper', tabindex: '0', 'aria-label': 'Chart of the ranking' }, el('img', { alt: 'Chart of the ranking, as in the report',
        src: `/results/charts/ranking.svg?run=${series.work.finished}-${series.work.phase}` })) : ''),
    el('section', { 'aria-labelledby': 'groups-head' }, el('h2', { id: 'groups-head' }, 'Grouping'),
      groupingForm(results, done)),
    el('section', { 'aria-labelledby': 'out-head' }, el('h2', { id: 'out-head' }, 'Leave a bar out'),
      leaveOutForm(series, done)),
    el('section', { 'aria-labelledby': 'own-head' }, el('h2', { id: 'own-head' }, 'By hand so far'),
      ownCorrections(series, done)));
}

export async function show(main) {
  const reload = async () => {
    const series = await get('/api/series');
    head(series.title, series.geometry, series.label);
    try {
      await ranked(series, main, reload);
    } catch (error) {
      main.replaceChildren(el('p', {}, 'There is no ranking yet. Start the run on the page of the bars.'));
    }
    return series;
  };
  const series = await reload();
  watchWork(series.work, reload);
  main.focus({ preventScroll: true });
}
