// SPDX-License-Identifier: Apache-2.0
// A clip to scrub through, with the arm drawn over it and a mark that can be moved by mouse,
// touch, arrow keys or typed numbers.
import { el, get, showFault, svg } from '/common.js';

const clamp = (x, low, high) => Math.min(high, Math.max(low, x));

/// Follows a drag over the drawing until its pointer ends: `moved` gets the place in the
/// picture's pixels. Returned is what an event does, for a first touch that counts too.
function follow(drawing, size, event, moved) {
  const move = (e) => {
    const box = drawing.getBoundingClientRect();
    moved((e.clientX - box.left) / box.width * size[0] - 0.5,
      (e.clientY - box.top) / box.height * size[1] - 0.5);
  };
  const end = () => {
    drawing.removeEventListener('pointermove', move);
    drawing.removeEventListener('pointerup', end);
    drawing.removeEventListener('pointercancel', end);
  };
  event.preventDefault();
  drawing.setPointerCapture(event.pointerId);
  drawing.addEventListener('pointermove', move);
  drawing.addEventListener('pointerup', end);
  drawing.addEventListener('pointercancel', end);
  return move;
}

/// Draws one picture of the clip; tells `onmark` where the mark was moved to.
export class Picture {
  constructor(bar, onmark) {
    this.bar = bar;
    this.onmark = onmark;
    this.frames = bar.swing ? bar.swing.frames : 0;  // 0: not known yet
    this.rate = (bar.swing && bar.swing.picture && bar.swing.picture.nominal_rate_per_s) || 0;
    this.size = bar.swing && bar.swing.picture && bar.swing.picture.width_px > 0
      ? [bar.swing.picture.width_px, bar.swing.picture.height_px] : null;
    this.arm = new Map(bar.arm.map((each) => [each.frame, each]));
    this.frame = 0;
    this.mark = null;
    this.loading = false;
    this.build();
  }

  build() {
    this.image = el('img', { alt: '', id: 'frame' });
    this.image.addEventListener('load', () => this.loaded());
    this.image.addEventListener('error', () => this.missed());
    this.drawing = svg('svg', { role: 'group', 'aria-label': 'Fitted arm and mark' });
    this.drawing.addEventListener('pointerdown', (event) => this.startDrag(event));
    this.stage = el('div', { class: 'stage' }, this.image, this.drawing);
    this.slider = el('input', { type: 'range', id: 'scrub', min: 0, step: 1, value: 0,
      max: Math.max(0, this.frames - 1), 'aria-label': 'Picture of the clip' });
    this.slider.addEventListener('input', () => this.go(Number(this.slider.value)));
    this.words = el('output', { for: 'scrub', id: 'frame-words' });
    this.node = el('div', { class: 'picture' }, this.stage,
      el('div', { class: 'scrub' }, this.slider, this.words), this.steps());
  }

  steps() {
    const button = (words, name, act) => el('button', { type: 'button', onclick: act,
      'aria-label': `${words}: ${name}` }, words);
    const by = (n) => () => this.go(this.frame + n);
    const jumps = [['release_s', 'Release'], ['blow_s', 'Blow'], ['turn_s', 'Turning point']];
    const events = this.bar.swing ? this.bar.swing.events : {};
    return el('div', { class: 'actions' },
      button('−10', '10 pictures back', by(-10)), button('−1', 'one picture back', by(-1)),
      button('+1', 'one picture on', by(1)), button('+10', '10 pictures on', by(10)),
      jumps.filter(([key]) => events[key] !== null && events[key] !== undefined)
        .map(([key, words]) => button(words, 'show that picture',
          () => this.go(this.frameAt(events[key])))));
  }

  /// Length and rate of a clip that was not measured yet, as its file states them; counted once
  /// its end was seen.
  async askLength() {
    try {
      const clip = await get(`/api/clip?bar=${encodeURIComponent(this.bar.id)}`);
      this.frames = clip.frames;
      this.rate = clip.rate_per_s;
    } catch (error) {
      showFault(error.message);
    }
    this.slider.max = (this.frames || 300) - 1;
  }

  /// The followed picture nearest to a time.
  frameAt(t_s) {
    let best = 0;
    let off = Infinity;
    for (const each of this.bar.arm) {
      const here = Math.abs(each.t_s - t_s);
      if (here < off) [off, best] = [here, each.frame];
    }
    return best;
  }

  /// Time of a picture; between followed ones by straight lines. Null: the clip was not measured
  /// and its file states no rate.
  timeOf(frame) {
    const exact = this.arm.get(frame);
    if (exact) return exact.t_s;
    const before = this.bar.arm.filter((each) => each.frame < frame).pop();
    const after = this.bar.arm.find((each) => each.frame > frame);
    const rate = this.rate || 30;
    if (!this.bar.arm.length && !this.rate) return null;
    if (before && after) {
      const part = (frame - before.frame) / (after.frame - before.frame);
      return before.t_s + part * (after.t_s - before.t_s);
    }
    if (before) return before.t_s + (frame - before.frame) / rate;
    if (after) return Math.max(0, after.t_s - (after.frame - frame) / rate);
    return frame / rate;
  }

  async go(frame) {
    if (!this.frames) await this.askLength();
    const last = Number(this.slider.max);
    this.frame = clamp(Math.round(frame), 0, last);
    this.slider.value = this.frame;
    this.describe();
    this.draw();
    if (this.loading) return;
    this.loading = true;
    this.shown = this.frame;
    this.image.src = `/frame?bar=${encodeURIComponent(this.bar.id)}&n=${this.frame}`;
  }

  loaded() {
    this.loading = false;
    if (!this.size) this.size = [this.image.naturalWidth, this.image.naturalHeight];
    this.draw();
    if (this.shown !== this.frame) this.go(this.frame);
  }

  /// Beyond the clip's end, where its file states more pictures than it holds: now they are
  /// counted.
  async missed() {
    this.loading = false;
    if (this.shown === 0) return;
    await this.askLength();
    if (this.shown >= this.frames) this.go(this.frames - 1);
  }

  describe() {
    const each = this.arm.get(this.frame);
    const angle = each ? `, arm at ${each.angle_deg.toFixed(2).replace('-', '−')}°` : '';
    const t = this.timeOf(this.frame);
    const about = this.bar.arm.length ? '' : 'about ';
    const time = t === null ? '' : `, ${about}${t.toFixed(3)} s`;
    const words = `Picture ${this.frame + 1}${this.frames ? ` of ${this.frames}` : ''}${time}${angle}`;
    this.words.textContent = words;
    this.slider.setAttribute('aria-valuetext', words);
    this.image.alt = words;
  }

  line(from, to, kind) {
    const at = { x1: from[0], y1: from[1], x2: to[0], y2: to[1] };
    return [svg('line', { ...at, class: 'rim' }), svg('line', { ...at, class: kind })];
  }

  draw() {
    if (!this.size) return;
    const [width, height] = this.size;
    this.drawing.setAttribute('viewBox', `-0.5 -0.5 ${width} ${height}`);
    const parts = [];
    const view = this.bar.swing && this.bar.swing.view;
    const each = this.arm.get(this.frame);
    if (view && this.bar.arm.length) {
      if (this.bar.rest_end_px) parts.push(...this.line(view.pivot_px, this.bar.rest_end_px, 'rest'));
      if (each) parts.push(...this.line(view.pivot_px, each.end_px, 'arm'));
      parts.push(svg('circle', { cx: view.pivot_px[0], cy: view.pivot_px[1], r: width / 90, class: 'axle' }));
    }
    if (this.mark) parts.push(this.markNode(width));
    const focused = document.activeElement && document.activeElement.classList.contains('mark');
    this.drawing.replaceChildren(...parts);
    if (focused && this.mark) this.drawing.querySelector('.mark').focus();
  }

  markNode(width) {
    const [x, y] = this.mark;
    const r = width / 40;
    const node = svg('g', { class: 'mark', tabindex: '0', role: 'slider', 'aria-valuemin': 0,
      'aria-valuemax': Math.round(width), 'aria-valuenow': Math.round(x),
      'aria-label': 'Mark. Arrow keys move it by one pixel, with Shift by ten',
      'aria-valuetext': `x ${x.toFixed(1)}, y ${y.toFixed(1)}` },
    svg('circle', { cx: x, cy: y, r }), svg('path', {
      d: `M${x - 1.6 * r} ${y}H${x - 0.3 * r}M${x + 0.3 * r} ${y}H${x + 1.6 * r}M${x} ${y - 1.6 * r}V${y - 0.3 * r}M${x} ${y + 0.3 * r}V${y + 1.6 * r}` }));
    node.addEventListener('keydown', (event) => this.key(event));
    return node;
  }

  key(event) {
    const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const step = steps[event.key];
    if (!step) return;
    event.preventDefault();
    const size = event.shiftKey ? 10 : 1;
    this.moveMark(this.mark[0] + size * step[0], this.mark[1] + size * step[1], true);
  }

  /// Shows a mark, or none.
  setMark(point) {
    this.mark = point;
    this.draw();
  }

  moveMark(x, y, tell) {
    if (!this.size) return;
    this.mark = [clamp(x, -this.size[0], 2 * this.size[0]), clamp(y, -this.size[1], 2 * this.size[1])];
    this.draw();
    if (tell) this.onmark(this.mark);
  }

  startDrag(event) {
    if (!this.mark) return;
    follow(this.drawing, this.size, event, (x, y) => this.moveMark(x, y, true))(event);
  }
}

/// Four corners of a section on a photograph, moved likewise.
export class Outline {
  constructor(bar, photo, onchange) {
    this.onchange = onchange;
    this.given = photo.corners_px.length === 4 ? photo.corners_px.map((p) => [...p]) : null;
    this.corners = this.given;
    this.size = null;
    this.image = el('img', { alt: `Photograph ${photo.name}`, class: 'photo' });
    this.drawing = svg('svg', { role: 'group', 'aria-label': 'Corners of the section' });
    this.drawing.addEventListener('pointerdown', (event) => this.startDrag(event));
    this.node = el('div', { class: 'stage' }, this.image, this.drawing);
    this.load(`/photo?bar=${encodeURIComponent(bar.id)}&name=${encodeURIComponent(photo.name)}`);
  }

  /// The size of the photograph itself, not of the picture that is shown, counts.
  async load(path) {
    const reply = await fetch(path);
    if (!reply.ok) return;
    this.size = [Number(reply.headers.get('X-Width')), Number(reply.headers.get('X-Height'))];
    const [w, h] = this.size;
    if (!this.corners) this.corners = [[0.4 * w, 0.4 * h], [0.6 * w, 0.4 * h], [0.6 * w, 0.6 * h], [0.4 * w, 0.6 * h]];
    this.image.src = path;
    this.draw();
    this.onchange(this.corners);
  }

  draw() {
    const [width, height] = this.size;
    this.drawing.setAttribute('viewBox', `-0.5 -0.5 ${width} ${height}`);
    const names = ['notch root, left', 'notch root, right', 'far side, right', 'far side, left'];
    const at = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.corner : undefined;
    this.drawing.replaceChildren(
      svg('polygon', { points: this.corners.map((p) => p.join(',')).join(' '), class: 'outline' }),
      ...this.corners.map((p, i) => {
        const node = svg('circle', { cx: p[0], cy: p[1], r: width / 50, class: 'corner', tabindex: '0',
          role: 'slider', 'data-corner': i, 'aria-label': `Corner ${i + 1}: ${names[i]}. Arrow keys move it`,
          'aria-valuemin': 0, 'aria-valuemax': Math.round(width), 'aria-valuenow': Math.round(p[0]),
          'aria-valuetext': `x ${p[0].toFixed(0)}, y ${p[1].toFixed(0)}` });
        node.addEventListener('keydown', (event) => this.key(event, i));
        return node;
      }));
    if (at !== undefined) this.drawing.querySelector(`[data-corner="${at}"]`)?.focus();
  }

  set(i, point) {
    this.corners[i] = point;
    this.draw();
    this.onchange(this.corners);
  }

  key(event, i) {
    const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const step = steps[event.key];
    if (!step) return;
    event.preventDefault();
    const size = event.shiftKey ? 10 : 1;
    this.set(i, [this.corners[i][0] + size * step[0], this.corners[i][1] + size * step[1]]);
  }

  startDrag(event) {
    const corner = event.target.dataset.corner;
    if (corner === undefined) return;
    follow(this.drawing, this.size, event, (x, y) => this.set(Number(corner), [x, y]));
  }
}
