// SPDX-License-Identifier: Apache-2.0
// What can be put right on a bar: one form, whose fields depend on what is chosen.
import { el, field, guarded, post, say, select } from '/common.js';
import { Outline } from '/picture.js';

const kinds = [
  ['axle', 'Axle: where the arm turns'],
  ['rest', 'Zero: where the arm hangs at rest'],
  ['release', 'Release angle'],
  ['rise', 'Turning point after the blow'],
  ['blow', 'Which blow is this bar’s'],
  ['outcome', 'Outcome: broken or not'],
  ['break-type', 'Break type'],
  ['section', 'Section h × b'],
  ['leave-out', 'Leave this bar out'],
];

const marked = ['axle', 'rest', 'release', 'rise'];

const number = (value, properties = {}) => el('input', { type: 'number', step: 'any', value, ...properties });

/// Builds the form; `picture` shows the clip, or is null.
export class CorrectionForm {
  constructor(bar, picture, done) {
    this.bar = bar;
    this.picture = picture;
    this.done = done;
    this.kind = select(kinds.filter(([kind]) => this.possible(kind)), '');
    this.kind.id = 'kind';
    this.kind.addEventListener('change', () => this.choose());
    this.fields = el('div', { class: 'fields' });
    this.why = el('textarea', { id: 'why', rows: 2, required: true, maxlength: 2000 });
    this.form = el('form', { class: 'form', id: 'correct' },
      field('What to put right', this.kind), this.fields,
      field('Why (needed; it stands in the report)', this.why),
      el('button', { type: 'submit', class: 'main' }, 'Put this in place'));
    this.form.addEventListener('submit', guarded(async (event) => {
      event.preventDefault();
      await this.send();
    }));
    this.node = this.form;
    this.choose();
  }

  possible(kind) {
    if (kind === 'blow') return this.bar.blows_s.length > 1;
    if (kind === 'section' || kind === 'break-type' || kind === 'leave-out') return true;
    return Boolean(this.bar.clip);
  }

  choose() {
    const kind = this.kind.value;
    const build = {
      axle: () => this.axleFields(), rest: () => this.angleFields(), release: () => this.angleFields(),
      rise: () => this.angleFields(), blow: () => this.blowFields(), outcome: () => this.outcomeFields(),
      'break-type': () => this.breakFields(), section: () => this.sectionFields(), 'leave-out': () => [],
    };
    if (this.picture) this.picture.setMark(null);
    this.x = this.y = this.angle = null;
    this.fields.replaceChildren(this.now(kind), ...build[kind]());
  }

  now(kind) {
    const words = this.bar.values[kind];
    return words ? el('p', { class: 'muted now' }, `Now: ${words}`) : '';
  }

  /// x and y of the mark as numbers, kept with the mark in the picture.
  pointFields(start) {
    this.x = number(start[0].toFixed(1), { id: 'mark-x' });
    this.y = number(start[1].toFixed(1), { id: 'mark-y' });
    const typed = () => this.picture.moveMark(Number(this.x.value), Number(this.y.value), false);
    this.x.addEventListener('input', typed);
    this.y.addEventListener('input', typed);
    this.picture.onmark = ([x, y]) => {
      this.x.value = x.toFixed(1);
      this.y.value = y.toFixed(1);
    };
    this.picture.setMark([...start]);
    return [field('x in the picture [px]', this.x, 'from the left; or drag the mark, or move it with the arrow keys'),
      field('y in the picture [px]', this.y, 'from the top')];
  }

  axleFields() {
    if (!this.hasView()) return [el('p', {}, 'The arm could not be followed in this clip, so an axle alone gives no angles.')];
    this.u = number(2, { min: 0.1, max: 200 });
    return [...this.pointFields(this.bar.swing.view.pivot_px),
      field('How well it is marked, u [px]', this.u, 'one standard uncertainty; 2 px is proposed'),
      el('p', { class: 'muted' }, 'The arm’s end stays where the pictures show it; its angles are taken anew about this axle, by the tilt that was found, and the law is fitted again.')];
  }

  hasView() {
    return Boolean(this.picture && this.bar.swing && this.bar.swing.view && this.bar.arm.length);
  }

  startOfAngle() {
    const events = this.bar.swing.events;
    const at = { release: events.release_s, rise: events.turn_s }[this.kind.value];
    if (at !== null && at !== undefined) this.picture.go(this.picture.frameAt(at));
    const here = this.picture.arm.get(this.picture.frame) || this.bar.arm[0];
    return this.kind.value === 'rest' ? this.bar.rest_end_px || here.end_px : here.end_px;
  }

  angleFields() {
    const rest = this.kind.value === 'rest';
    this.u = number(this.bar.mark_u_deg.toFixed(2), { min: 0.001, max: 20 });
    this.angle = number('', {});
    const uField = field('How well it is known, u [degrees]', this.u,
      'one standard uncertainty; proposed: two pixels at the arm’s end');
    const angleField = field(rest ? 'or its angle from the picture’s vertical [degrees]' : 'or the angle from hanging rest [degrees]',
      this.angle, rest ? 'positive to the right; typed, it goes before the mark' : 'positive; typed, it goes before the mark');
    if (!this.hasView()) return [angleField, uField];
    const words = rest ? 'Show a picture in which the arm hangs still, and put the mark on the arm, as far out as can be.'
      : 'Show the picture in which the arm stands still there, and put the mark on the arm, as far out as can be.';
    return [el('p', { class: 'muted' }, words), ...this.pointFields(this.startOfAngle()), angleField, uField];
  }

  blowFields() {
    this.choice = select(this.bar.blows_s.map((t) => [String(t), `the one at ${t.toFixed(2)} s`]), '');
    return [field('The blow on this bar', this.choice)];
  }

  outcomeFields() {
    this.choice = select([['broken', 'broken: the arm swung on'], ['not-broken', 'not broken: the arm was stopped']], '');
    return [field('What happened', this.choice)];
  }

  breakFields() {
    this.choice = select([['C', 'C, complete'], ['H', 'H, hinge'], ['P', 'P, partial'], ['N', 'N, none']], '');
    return [field('Letter of ISO 179-1 and ISO 180', this.choice)];
  }

  sectionFields() {
    this.thickness = number(this.bar.thickness_mm ?? '', { min: 0.2, max: 200, id: 'section-h' });
    this.width = number(this.bar.width_mm ?? '', { min: 0.2, max: 200, id: 'section-b' });
    this.u = number(this.bar.section_u_mm, { min: 0.001 });
    this.outline = null;
    const sizes = [field('Thickness h along the notch [mm]', this.thickness),
      field('Width b under the notch [mm]', this.width),
      field('How well both are known, u [mm]', this.u, 'one standard uncertainty')];
    return [...this.photoFields(), ...sizes];
  }

  photoFields() {
    const photos = this.bar.photo_places;
    if (!photos.length) return [el('p', { class: 'muted' }, 'This bar has no photograph: type the sizes.')];
    const place = el('div', {});
    const chooser = select(photos.map((photo) => [photo.name, photo.name]), photos[0].name);
    const show = () => {
      this.photo = photos.find((photo) => photo.name === chooser.value);
      this.outline = new Outline(this.bar, this.photo, () => {});
      place.replaceChildren(this.outline.node);
    };
    chooser.addEventListener('change', show);
    show();
    const work = (words, act) => el('button', { type: 'button', onclick: guarded(act) }, words);
    const size = el('div', { class: 'actions' }, work('Work out the size by the card', () => this.sizeByCard()),
      work('No card: b from the typed h', () => this.sizeByKnown('thickness')),
      work('No card: h from the typed b', () => this.sizeByKnown('width')));
    return [field('Photograph', chooser), place,
      el('p', { class: 'muted' }, 'Move the four corners: the notch root’s ends (1, 2), then the far side (3, 4).'), size];
  }

  async sizeByCard() {
    await this.size({}, 'By the card');
  }

  /// One side was measured otherwise: it gives the photograph its scale.
  async sizeByKnown(side) {
    const typed = side === 'thickness' ? this.thickness : this.width;
    if (typed.value === '') throw new Error('Type the side that you know, in millimetres, and how well you know it.');
    await this.size({ known: { side, mm: Number(typed.value), u_mm: Number(this.u.value) } },
      'By the side that was typed');
  }

  async size(how, words) {
    const sized = await post('/api/outline', { photo: this.photo.name, corners_px: this.outline.corners, ...how });
    this.thickness.value = sized.thickness_mm.toFixed(3);
    this.width.value = sized.width_mm.toFixed(3);
    this.u.value = sized.u_mm.toFixed(3);
    say(`${words}: ${sized.thickness_mm.toFixed(2)} × ${sized.width_mm.toFixed(2)} mm.`);
  }

  correction() {
    const kind = this.kind.value;
    const body = { kind, bar: this.bar.id, why: this.why.value.trim() };
    if (marked.includes(kind)) this.addMark(body);
    if (kind === 'blow') body.t_s = Number(this.choice.value);
    if (kind === 'outcome') body.outcome = this.choice.value;
    if (kind === 'break-type') body.break_type = this.choice.value;
    if (kind === 'section') this.addSection(body);
    return body;
  }

  addMark(body) {
    const typed = this.angle && this.angle.value !== '';
    if (typed) body.angle_deg = Number(this.angle.value);
    else if (this.x) {
      body.point_px = [Number(this.x.value), Number(this.y.value)];
      body.t_s = this.picture.timeOf(this.picture.frame);
    }
    if (!this.u) return;
    body[body.kind === 'axle' ? 'u_px' : 'u_deg'] = Number(this.u.value);
  }

  addSection(body) {
    body.thickness_mm = Number(this.thickness.value);
    body.width_mm = Number(this.width.value);
    body.u_mm = Number(this.u.value);
    if (!this.outline) return;
    body.photo = this.photo.name;
    body.outline_px = this.outline.corners;
  }

  async send() {
    const reply = await post('/api/corrections', this.correction());
    this.why.value = '';
    say(`Correction ${reply.number} was put in place; the series is concluded anew.`);
    await this.done();
  }
}
