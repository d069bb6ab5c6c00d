// SPDX-License-Identifier: Apache-2.0
// Before the next bars: how many, and which release suits them.
import { el, field, get, guarded, head, table, watchWork } from '/common.js';

const percent = (x, n = 0) => (x === null ? '–' : `${(100 * x).toFixed(n)} %`);
const count = (n) => (n === null ? 'over 1000' : String(n));
const degrees = (x) => (x === null ? '–' : `${x.toFixed(0)}°`);

function answer(plan) {
  const parts = [el('p', {}, `Scatter from bar to bar ${percent(plan.question.cv, 1)} of the mean: ${plan.question.cv_from}.`),
    table('Bars in each group for a difference of two means',
      ['Difference', ...plan.question.powers.map((p) => `found ${percent(p)} of the time`)],
      plan.bars_for_difference.map((row) => [percent(row.difference, 1), ...row.bars.map(count)]))];
  if (plan.reached.length) {
    parts.push(table('What the groups have reached, and bars in all for a finer mean',
      ['Group', 'Bars', 'Known to ±', ...plan.half_widths.map((w) => `for ±${percent(w)}`)],
      plan.reached.map((row) => [el('bdi', {}, row.group), String(row.bars), percent(row.half_width, 1), ...row.bars_for.map(count)])));
  }
  if (plan.hammers.length) {
    parts.push(table('The hammer for these energies', ['Hammer', 'Release', 'In words'],
      plan.hammers.map((h) => [el('bdi', {}, h.name),
        h.suits ? `${degrees(h.release_low_deg)} to ${degrees(h.release_high_deg)}` : 'none suits', h.words])));
  }
  parts.push(...plan.remarks.map((each) => el('p', { class: 'muted' }, each.text)));
  return parts;
}

const number = (id, value) => el('input', { type: 'number', step: 'any', min: 0, id, value });

export async function show(main) {
  const series = await get('/api/series');
  head(series.title, series.geometry, series.label);
  const fields = { difference: number('difference', 15), cv: number('cv', ''), low_J: number('low_J', ''), high_J: number('high_J', ''), release_deg: number('release_deg', '') };
  const place = el('div', { 'aria-live': 'polite', id: 'plan-answer' });
  const ask = async () => {
    const words = Object.entries(fields).filter(([, input]) => input.value !== '')
      .map(([name, input]) => `${name}=${encodeURIComponent(input.value)}`).join('&');
    place.replaceChildren(...answer(await get(`/api/plan?${words}`)));
  };
  const form = el('form', { class: 'form', id: 'plan' },
    el('div', { class: 'fields' },
      field('Difference to be found [%]', fields.difference),
      field('Scatter from bar to bar [%]', fields.cv, 'empty: from this series'),
      field('Smallest energy [J]', fields.low_J, 'empty: from this series'),
      field('Largest energy [J]', fields.high_J, 'empty: from this series'),
      field('Highest release [degrees]', fields.release_deg, 'where the rig file has no latch angle')),
    el('button', { type: 'submit', class: 'main' }, 'Work it out'));
  form.addEventListener('submit', guarded(async (event) => {
    event.preventDefault();
    await ask();
  }));
  main.replaceChildren(el('section', { 'aria-labelledby': 'plan-head' },
    el('h2', { id: 'plan-head' }, 'How many bars, which release'), form, place));
  await guarded(ask)();
  watchWork(series.work, guarded(ask));
  main.focus({ preventScroll: true });
}
