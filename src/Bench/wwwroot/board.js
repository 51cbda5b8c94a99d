// The photo board: a photograph under marks. Pixel coordinates are those of the oriented photograph, origin at the outer corner of the top-left pixel.
// The page owns the marks; the board draws them and tells what a hand did.

const steadyPreview = 1600;
const hitRadius = 14;
const touchHitRadius = 24;
const mostZoom = 32;
const longestAnswer = 5000;
const restOfSteps = 200;

export function create(root, page, setup) {
  const board = new Board(root, page, setup);
  return {
    update: state => board.update(state),
    overlay: (url, fade) => board.setOverlay(url, fade),
    fade: value => board.setFade(value),
    fit: () => board.fit(),
    zoom: factor => board.zoomAt(board.width / 2, board.height / 2, factor),
    edge: () => board.toEdge(),
    back: () => board.back(),
    select: (id, index) => board.select(id, index, true),
    dispose: () => board.dispose(),
  };
}

// Plane coordinates from the scale of the evidence; null where there is none. For the read-out alone: figures come from the examinations.
export function planeOf(scale) {
  if (!scale) return null;
  if (scale.kind === 'scan' && scale.dpi > 0) {
    const k = 25.4 / scale.dpi;
    return (x, y) => [x * k, y * k];
  }
  if (scale.kind === 'bar' && scale.ends?.length === 2 && scale.lengthMm > 0) {
    const [a, b] = scale.ends;
    const px = Math.hypot(a[0] - b[0], a[1] - b[1]);
    if (px === 0) return null;
    const k = scale.lengthMm / px;
    return (x, y) => [x * k, y * k];
  }
  if (scale.kind === 'rectangle' && scale.corners?.length === 4 && scale.sizeMm?.length === 2 && scale.sizeMm.every(side => side > 0)) {
    const [w, h] = scale.sizeMm;
    const m = homography(scale.corners, [[0, 0], [w, 0], [w, h], [0, h]]);
    if (!m) return null;
    return (x, y) => {
      const d = m[6] * x + m[7] * y + 1;
      return [(m[0] * x + m[1] * y + m[2]) / d, (m[3] * x + m[4] * y + m[5]) / d];
    };
  }
  return null;
}

function homography(from, to) {
  const rows = [];
  for (let i = 0; i < 4; i++) {
    const [x, y] = from[i], [u, v] = to[i];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  for (let c = 0; c < 8; c++) {
    let best = c;
    for (let r = c + 1; r < 8; r++) if (Math.abs(rows[r][c]) > Math.abs(rows[best][c])) best = r;
    if (Math.abs(rows[best][c]) < 1e-12) return null;
    [rows[c], rows[best]] = [rows[best], rows[c]];
    for (let r = 0; r < 8; r++) {
      if (r === c) continue;
      const f = rows[r][c] / rows[c][c];
      for (let k = c; k < 9; k++) rows[r][k] -= f * rows[c][k];
    }
  }
  return rows.map((r, i) => r[8] / r[i]);
}

class Board {
  constructor(root, page, setup) {
    this.root = root;
    this.page = page;
    this.canvas = root.querySelector('canvas');
    this.readout = root.querySelector('[data-readout]');
    this.context = this.canvas.getContext('2d');
    this.marks = [];
    this.tool = 'look';
    this.brush = { material: 'rubber', radiusPx: 12 };
    this.pointers = new Map();
    this.drawing = null;
    this.selected = null;
    this.hover = null;
    this.typed = '';
    this.unit = 'px';
    this.stepped = null;
    this.untold = new Set();
    this.fadeValue = 0.6;
    this.overlayImage = null;
    this.detail = null;
    this.partsAsked = 0;
    this.partShown = 0;
    this.abort = new AbortController();
    this.listen();
    this.resizer = new ResizeObserver(() => this.resize());
    this.resizer.observe(this.canvas.parentElement);
    this.schemes = matchMedia('(prefers-color-scheme: dark)');
    this.resize();
    this.update(setup);
  }

  dispose() {
    this.settle();
    this.abort.abort();
    this.resizer.disconnect();
    clearTimeout(this.detailTimer);
    clearTimeout(this.takenTimer);
    this.disposed = true;
  }

  update(state) {
    const other = this.photo?.url !== state.photo?.url;
    this.photo = state.photo;
    this.marks = state.marks ?? [];
    // Places go with their picture.
    if (other) this.forget();
    this.keepInHand();
    this.hold(state.tool ?? 'look');
    this.brush = state.brush ?? this.brush;
    this.plane = planeOf(state.scale);
    if (this.selected && !this.marks.some(m => m.id === this.selected.id && this.selected.index < m.points.length)) {
      this.selected = null;
    }
    if (other) {
      clearTimeout(this.detailTimer);
      this.image = null;
      this.detail = null;
      this.drawing = null;
      this.load();
      this.fit();
    }
    this.draw();
  }

  // What the page shows may be older than what a hand has done since: points in hand, and those that the page has not heard of, stay where they were put.
  keepInHand() {
    const moved = [...this.untold, this.stepped, this.dragging?.moved ? this.dragging : null];
    for (const move of moved) {
      const points = move && this.marks.find(m => m.id === move.id)?.points;
      if (points?.[move.index]) points[move.index] = move.point;
    }
  }

  forget() {
    clearTimeout(this.stepTimer);
    this.stepped = null;
    this.dragging = null;
    this.untold.clear();
  }

  // Steps by key are told together, shortly after the last of them; before anything else is told they are told first.
  settle() {
    clearTimeout(this.stepTimer);
    const move = this.stepped;
    this.stepped = null;
    if (move) this.tellMoved(move);
  }

  // A tool is in hand once its button is pressed: a click that follows at once must not wait for the page to hear of it.
  take(tool) {
    if (tool === this.tool) return;
    this.taken = tool;
    clearTimeout(this.takenTimer);
    this.takenTimer = setTimeout(() => { this.taken = null; }, longestAnswer);
    this.hold(tool, true);
  }

  hold(tool, byHand = false) {
    if (!byHand && this.taken) {
      if (tool !== this.taken) return;
      this.taken = null;
    }
    // Another tool puts down what was in hand: with it arrows move the picture again, and not a point that was placed before.
    if (this.tool !== tool) this.drawing = this.selected = null;
    this.tool = tool;
    this.canvas.dataset.tool = tool;
  }

  load() {
    if (!this.photo) return;
    const picture = new Image();
    const url = this.photo.url;
    picture.decoding = 'async';
    picture.onload = () => {
      if (this.photo?.url === url) {
        this.image = picture;
        this.root.dataset.loaded = 'true';
        this.draw();
      }
    };
    picture.onerror = () => this.say('The picture could not be loaded.');
    picture.src = `${url}?w=${steadyPreview}`;
  }

  async setOverlay(url, fade) {
    this.fadeValue = fade;
    if (!url) {
      this.overlayUrl = null;
      this.overlayImage = null;
      this.draw();
      return;
    }
    if (url === this.overlayUrl) {
      this.draw();
      return;
    }
    this.overlayUrl = url;
    try {
      const answer = await fetch(url, { signal: this.abort.signal });
      if (!answer.ok || this.overlayUrl !== url) return;
      const picture = await createImageBitmap(await answer.blob());
      if (this.overlayUrl === url) {
        this.overlayImage = coloured(picture);
        this.root.dataset.overlay = 'true';
        this.draw();
      }
    } catch {
      // Called off or unreachable: the photograph alone is shown.
    }
  }

  setFade(value) {
    this.fadeValue = value;
    this.draw();
  }

  resize() {
    const box = this.canvas.parentElement.getBoundingClientRect();
    const first = !this.width;
    const ratio = window.devicePixelRatio || 1;
    this.width = Math.max(1, box.width);
    this.height = Math.max(1, box.height);
    this.canvas.width = Math.round(this.width * ratio);
    this.canvas.height = Math.round(this.height * ratio);
    this.ratio = ratio;
    if (first || this.fitted) this.fit();
    this.draw();
  }

  get edge() { return this.plane ? 20 : 0; }

  fit() {
    if (!this.photo || !this.width) return;
    const room = 8 + this.edge;
    this.scale = Math.min((this.width - 2 * room) / this.photo.width, (this.height - 2 * room) / this.photo.height);
    this.leastScale = this.scale / 2;
    this.left = (this.width - this.photo.width * this.scale) / 2;
    this.top = (this.height - this.photo.height * this.scale) / 2;
    this.fitted = true;
    this.detail = null;
    this.draw();
  }

  toPhoto(x, y) { return [(x - this.left) / this.scale, (y - this.top) / this.scale]; }

  toView(p) { return [p[0] * this.scale + this.left, p[1] * this.scale + this.top]; }

  inside(p) { return this.photo && p[0] >= 0 && p[1] >= 0 && p[0] <= this.photo.width && p[1] <= this.photo.height; }

  clamp(p) { return [Math.min(Math.max(p[0], 0), this.photo.width), Math.min(Math.max(p[1], 0), this.photo.height)]; }

  zoomAt(x, y, factor) {
    if (!this.photo) return;
    const scale = Math.min(Math.max(this.scale * factor, this.leastScale), mostZoom);
    const k = scale / this.scale;
    this.left = x - (x - this.left) * k;
    this.top = y - (y - this.top) * k;
    this.scale = scale;
    this.moved();
  }

  pan(dx, dy) {
    this.left += dx;
    this.top += dy;
    this.moved();
  }

  moved() {
    this.fitted = false;
    this.left = Math.min(Math.max(this.left, 40 - this.photo.width * this.scale), this.width - 40);
    this.top = Math.min(Math.max(this.top, 40 - this.photo.height * this.scale), this.height - 40);
    clearTimeout(this.detailTimer);
    this.detailTimer = setTimeout(() => this.loadDetail(), 160);
    this.draw();
  }

  // Beyond what the preview holds, the part in view is fetched at full resolution.
  loadDetail() {
    if (!this.photo || this.disposed) return;
    const preview = Math.min(1, steadyPreview / Math.max(this.photo.width, this.photo.height));
    if (this.scale * this.ratio <= preview * 1.05) {
      this.detail = null;
      return;
    }
    const [x0, y0] = this.clamp(this.toPhoto(0, 0)).map(Math.floor);
    const [x1, y1] = this.clamp(this.toPhoto(this.width, this.height)).map(Math.ceil);
    const w = x1 - x0, h = y1 - y0;
    if (w < 1 || h < 1) return;
    const longest = Math.ceil(Math.max(w, h) * Math.min(1, this.scale * this.ratio));
    this.loadPart({ x: x0, y: y0, w, h }, longest);
  }

  // A part may come late: it is not shown once another photograph is, nor in place of one that was asked for after it.
  loadPart(part, longest) {
    const url = this.photo.url;
    const number = ++this.partsAsked;
    const picture = new Image();
    picture.onload = () => {
      if (this.photo?.url !== url || number < this.partShown) return;
      this.partShown = number;
      this.detail = { picture, ...part };
      this.draw();
    };
    picture.src = `${url}/part?x=${part.x}&y=${part.y}&w=${part.w}&h=${part.h}&longest=${longest}`;
  }

  listen() {
    const on = (type, handler, options) => this.canvas.addEventListener(type, handler, { signal: this.abort.signal, ...options });
    this.root.closest('.board').addEventListener('click', e => {
      const button = e.target.closest('button[data-takes]');
      if (button) this.take(button.dataset.takes);
    }, { signal: this.abort.signal });
    on('wheel', e => {
      e.preventDefault();
      const [x, y] = this.at(e);
      const lines = e.deltaMode === 1 ? 16 : 1;
      this.zoomAt(x, y, Math.exp(-e.deltaY * lines * (e.ctrlKey ? 0.01 : 0.0016)));
    }, { passive: false });
    on('pointerdown', e => this.down(e));
    on('pointermove', e => this.move(e));
    on('pointerup', e => this.up(e));
    on('pointercancel', e => this.cancel(e));
    on('pointerleave', () => { this.hover = null; this.draw(); });
    on('dblclick', e => { e.preventDefault(); this.finish(); });
    on('contextmenu', e => { if (this.drawing) { e.preventDefault(); this.finish(); } });
    on('auxclick', e => e.preventDefault());
    on('keydown', e => this.key(e));
    on('focus', () => { this.focused = true; this.draw(); });
    on('blur', () => { this.settle(); this.focused = false; this.typed = ''; this.draw(); });
  }

  at(e) {
    const box = this.canvas.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  }

  down(e) {
    if (!this.photo) return;
    this.canvas.focus({ preventScroll: true });
    this.canvas.setPointerCapture(e.pointerId);
    const [x, y] = this.at(e);
    this.pointers.set(e.pointerId, [x, y]);
    this.touch = e.pointerType === 'touch';
    if (this.pointers.size === 2) {
      this.stroke = null;
      this.letGo();
      this.pinch = this.pinchNow();
      return;
    }
    if (e.button === 1) {
      e.preventDefault();
      this.panning = true;
      return;
    }
    if (e.button !== 0) return;
    const p = this.toPhoto(x, y);
    const hit = this.tool === 'dab' ? null : this.hit(x, y);
    if (hit && !this.drawing) {
      this.select(hit.id, hit.index, false);
      this.dragging = { ...hit, start: p, moved: false };
      return;
    }
    if (this.tool === 'look') {
      this.select(null, 0, false);
      this.panning = true;
    } else if (!this.inside(p)) {
      this.panning = true;
    } else if (this.tool === 'dab') {
      this.stroke = [round(p)];
    } else {
      this.placing = p;
    }
    this.hover = [x, y];
    this.draw();
  }

  move(e) {
    const [x, y] = this.at(e);
    const before = this.pointers.get(e.pointerId);
    if (before) this.pointers.set(e.pointerId, [x, y]);
    this.hover = [x, y];
    if (this.pinch && this.pointers.size === 2) {
      const now = this.pinchNow();
      this.pan(now.x - this.pinch.x, now.y - this.pinch.y);
      if (this.pinch.d > 0) this.zoomAt(now.x, now.y, now.d / this.pinch.d);
      this.pinch = now;
      return;
    }
    if (this.panning && before) {
      this.pan(x - before[0], y - before[1]);
      return;
    }
    const p = this.clamp(this.toPhoto(x, y));
    if (this.stroke) {
      const last = this.stroke[this.stroke.length - 1];
      if (Math.hypot(p[0] - last[0], p[1] - last[1]) * this.scale >= 3) this.stroke.push(round(p));
    } else if (this.dragging) {
      const mark = this.marks.find(m => m.id === this.dragging.id);
      if (mark && (this.dragging.moved || Math.hypot(p[0] - this.dragging.start[0], p[1] - this.dragging.start[1]) * this.scale > 3)) {
        this.dragging.moved = true;
        this.dragging.point = mark.points[this.dragging.index] = round(p);
      }
    } else if (this.placing) {
      this.placing = p;
    }
    this.draw();
  }

  up(e) {
    const [x, y] = this.at(e);
    this.pointers.delete(e.pointerId);
    if (this.pinch) {
      if (this.pointers.size === 0) this.pinch = null;
      return;
    }
    if (this.panning) {
      this.panning = false;
      return;
    }
    if (this.stroke) {
      const path = this.stroke;
      this.stroke = null;
      if (path.length === 1) path.push([path[0][0] + 0.5, path[0][1]]);
      this.tell('OnDrawn', 'dab', path);
    } else if (this.dragging) {
      this.letGo();
    } else if (this.placing) {
      const p = round(this.clamp(this.toPhoto(x, y)));
      this.placing = null;
      this.byCross = false;
      this.place(p);
    }
    this.draw();
  }

  cancel(e) {
    this.pointers.delete(e.pointerId);
    this.stroke = this.placing = this.pinch = null;
    this.panning = false;
    this.letGo();
    this.draw();
  }

  // Where a point is seen is where it is kept, however the hand left it.
  letGo() {
    const move = this.dragging;
    this.dragging = null;
    if (move?.moved) this.tellMoved(move);
  }

  pinchNow() {
    const [a, b] = [...this.pointers.values()];
    return { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, d: Math.hypot(a[0] - b[0], a[1] - b[1]) };
  }

  get wanted() { return { point: 1, bar: 2, rect: 2, corners: 4 }[this.tool] ?? Infinity; }

  place(p) {
    this.drawing ??= [];
    const first = this.drawing[0];
    if (this.tool === 'polygon' && this.drawing.length >= 3) {
      const [fx, fy] = this.toView(first), [px, py] = this.toView(p);
      if (Math.hypot(fx - px, fy - py) <= (this.touch ? touchHitRadius : hitRadius)) {
        this.finish();
        return;
      }
    }
    this.drawing.push(p);
    if (this.drawing.length >= this.wanted) {
      this.commit();
    } else {
      this.say(this.tool === 'corners'
        ? `Corner ${this.drawing.length} of 4 placed.`
        : this.tool === 'rect' ? 'One corner placed; now the opposite one. Escape gives up.'
        : this.tool === 'bar' ? 'One end placed; now the other one. Escape gives up.'
        : `${this.drawing.length} ${this.drawing.length === 1 ? 'point' : 'points'} placed. Enter or double click ends, Escape gives up.`);
      this.draw();
    }
  }

  // Takes back the last point of what is being drawn; says whether there was one. What is saved already is for the page to take back.
  back() {
    if (!this.drawing) return false;
    this.drawing.pop();
    const left = this.drawing.length;
    if (left === 0) this.drawing = null;
    this.say(left === 0 ? 'Point taken back; nothing is being drawn.' : `Point taken back; ${left} ${left === 1 ? 'is' : 'are'} left.`);
    this.draw();
    return true;
  }

  finish() {
    if (!this.drawing) return;
    const least = this.tool === 'polygon' ? 3 : 2;
    const path = this.drawing.filter((p, i) => i === 0 || Math.hypot(p[0] - this.drawing[i - 1][0], p[1] - this.drawing[i - 1][1]) > 0.05);
    if (path.length < least) {
      this.say(`A ${this.tool} takes at least ${least} points.`);
      return;
    }
    this.drawing = path;
    this.commit();
  }

  commit() {
    const path = this.drawing;
    this.drawing = null;
    // Where no pointer hovers nothing else would take the place of what was said of a point on the way.
    this.say('');
    this.tell('OnDrawn', this.tool, path);
    this.draw();
  }

  tell(method, ...values) {
    this.settle();
    return this.page.invokeMethodAsync(method, ...values).catch(() => this.say('The bench does not answer; this was not saved.'));
  }

  async tellMoved({ id, index, point }) {
    const move = { id, index, point };
    this.untold.add(move);
    await this.tell('OnMoved', id, index, point);
    this.untold.delete(move);
  }

  // The edge is looked for in the pixels of the photograph, by what examines it.
  async toEdge() {
    const held = this.selected && this.marks.find(m => m.id === this.selected.id);
    if (!held || held.fixed || held.computed || held.kind === 'dab') {
      this.say('Take a point in hand first, then draw it to the edge.');
      return;
    }
    this.settle();
    const { id, index } = this.selected;
    try {
      const place = await this.page.invokeMethodAsync('OnEdge', id, index, held.points[index]);
      if (place) {
        const mark = this.marks.find(m => m.id === id);
        if (mark?.points[index]) mark.points[index] = place;
        this.say(`On the edge: ${this.words(place)}`);
      } else {
        this.say('No single edge stands within 12 px of it.');
      }
    } catch {
      this.say('The bench does not answer; this was not saved.');
    }
    this.draw();
  }

  select(id, index, show) {
    this.selected = id === null ? null : { id, index };
    const mark = this.marks.find(m => m.id === id);
    if (mark && show) {
      this.canvas.focus({ preventScroll: true });
      const [x, y] = this.toView(mark.points[index] ?? mark.points[0]);
      if (x < 20 || y < 20 || x > this.width - 20 || y > this.height - 20) this.pan(this.width / 2 - x, this.height / 2 - y);
    }
    if (mark) this.say(`${mark.name}${mark.points.length > 1 ? `, point ${index + 1} of ${mark.points.length}` : ''}. ${this.words(mark.points[index])}`);
    this.draw();
  }

  hit(x, y) {
    const reach = this.touch ? touchHitRadius : hitRadius;
    let best = null;
    for (const mark of this.marks) {
      if (mark.hidden || mark.kind === 'dab' || mark.fixed || mark.computed) continue;
      mark.points.forEach((p, index) => {
        const [px, py] = this.toView(p);
        const d = Math.hypot(px - x, py - y);
        if (d <= reach && (!best || d < best.d)) best = { id: mark.id, index, d };
      });
    }
    return best;
  }

  key(e) {
    if (!this.photo || e.altKey || e.metaKey) return;
    if ((e.ctrlKey) && e.key.toLowerCase() === 'z') {
      e.preventDefault();
      if (!this.back()) this.tell('OnUndo');
      return;
    }
    if (e.ctrlKey) return;
    const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    let taken = true;
    if (arrows[e.key]) {
      // A pointer that rests on the picture is not what places now.
      this.hover = null;
      this.step(arrows[e.key], e.shiftKey);
    } else if (/^[0-9.,]$/.test(e.key) && this.selected) {
      this.typed += e.key;
      this.say(`${this.typed} ${this.unit}: an arrow key moves the point by that.`);
    } else if (e.key === 'Backspace' && this.typed) {
      this.typed = this.typed.slice(0, -1);
      this.say(this.typed ? `${this.typed} ${this.unit}` : 'Number taken back.');
    } else if (e.key === 'm' && this.plane) {
      this.unit = this.unit === 'px' ? 'mm' : 'px';
      this.say(`Typed numbers are ${this.unit === 'px' ? 'pixels' : 'millimetres'}.`);
    } else if (e.key === 'e' && this.selected) {
      this.toEdge();
    } else if (e.key === '+' || e.key === '=') {
      this.zoomAt(this.width / 2, this.height / 2, 1.25);
    } else if (e.key === '-') {
      this.zoomAt(this.width / 2, this.height / 2, 0.8);
    } else if (e.key === 'f' || e.key === 'Home') {
      this.fit();
    } else if (e.key === '[' || e.key === ']') {
      this.next(e.key === ']' ? 1 : -1);
    } else if (e.key === 'Enter') {
      this.enter();
    } else if (e.key === 'Delete' && this.selected) {
      this.tell('OnDelete', this.selected.id);
    } else if (e.key === 'Escape' && (this.drawing || this.selected || this.typed)) {
      this.drawing = null;
      this.selected = null;
      this.typed = '';
      this.say('Put down.');
    } else {
      taken = false;
    }
    if (taken) {
      e.preventDefault();
      this.draw();
    }
  }

  get pointsByCross() { return this.focused && this.tool !== 'look' && !this.selected && !this.hover; }

  // By keyboard the cross in the middle of the board is the pointer: arrows move the picture under it, Enter places.
  enter() {
    if (this.tool === 'look') return;
    if (this.selected) {
      this.say('A point is in hand; Escape puts it down, then Enter places.');
      return;
    }
    const p = this.toPhoto(this.width / 2, this.height / 2);
    if (!this.inside(p)) {
      this.say('The cross lies outside the picture.');
      return;
    }
    if (this.tool === 'dab') {
      this.tell('OnDrawn', 'dab', [round(p), [round(p)[0] + 0.5, round(p)[1]]]);
      return;
    }
    const last = this.drawing?.[this.drawing.length - 1];
    // What the pointer placed ends with Enter; by the cross, Enter in one place twice ends.
    const ends = this.byCross ? last && Math.hypot(last[0] - p[0], last[1] - p[1]) < 0.5 : this.drawing?.length >= 2;
    if (ends && this.wanted === Infinity) {
      this.finish();
    } else {
      this.byCross = true;
      this.place(round(p));
    }
  }

  step([dx, dy], far) {
    const mark = this.selected && this.marks.find(m => m.id === this.selected.id);
    if (!mark || mark.fixed) {
      const by = far ? 80 : 16;
      this.pan(-dx * by, -dy * by);
      const p = this.toPhoto(this.width / 2, this.height / 2);
      if (this.tool !== 'look' && this.inside(p)) this.say(this.words(p));
      return;
    }
    const point = mark.points[this.selected.index];
    let by = far ? 1 : 0.1;
    if (this.typed) {
      by = Number(this.typed.replace(',', '.'));
      this.typed = '';
      if (!(by >= 0)) {
        this.say('That is no number.');
        return;
      }
      if (this.unit === 'mm' && this.plane) by /= this.millimetres(point, [point[0] + dx, point[1] + dy]) || 1;
    }
    const { id, index } = this.selected;
    if (this.stepped && (this.stepped.id !== id || this.stepped.index !== index)) this.settle();
    mark.points[index] = round(this.clamp([point[0] + dx * by, point[1] + dy * by]));
    this.say(this.words(mark.points[index]));
    clearTimeout(this.stepTimer);
    this.stepped = { id, index, point: mark.points[index] };
    this.stepTimer = setTimeout(() => this.settle(), restOfSteps);
  }

  next(direction) {
    const all = this.marks.filter(m => !m.hidden && !m.fixed && !m.computed && m.kind !== 'dab').flatMap(m => m.points.map((_, index) => ({ id: m.id, index })));
    if (all.length === 0) return;
    const now = this.selected ? all.findIndex(a => a.id === this.selected.id && a.index === this.selected.index) : -1;
    const to = all[(now + direction + all.length) % all.length];
    this.select(to.id, to.index, true);
  }

  millimetres(a, b) {
    const [ax, ay] = this.plane(...a), [bx, by] = this.plane(...b);
    return Math.hypot(ax - bx, ay - by);
  }

  words(p) {
    if (!p) return '';
    const px = `x ${p[0].toFixed(1)} px, y ${p[1].toFixed(1)} px`;
    if (!this.plane) return px;
    const [x, y] = this.plane(...p);
    return `${px} · ${x.toFixed(1)} mm, ${y.toFixed(1)} mm`;
  }

  say(words) { this.readout.textContent = words; }

  draw() {
    if (this.pending || this.disposed) return;
    this.pending = true;
    requestAnimationFrame(() => {
      this.pending = false;
      if (!this.disposed) this.paint();
    });
  }

  paint() {
    const c = this.context;
    const style = getComputedStyle(this.root);
    const ink = name => style.getPropertyValue(name).trim();
    c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    c.fillStyle = ink('--surround');
    c.fillRect(0, 0, this.width, this.height);
    if (!this.photo || !Number.isFinite(this.scale)) return;
    c.imageSmoothingEnabled = this.scale < 4;
    if (this.image) c.drawImage(this.image, this.left, this.top, this.photo.width * this.scale, this.photo.height * this.scale);
    if (this.detail) {
      const [x, y] = this.toView([this.detail.x, this.detail.y]);
      c.drawImage(this.detail.picture, x, y, this.detail.w * this.scale, this.detail.h * this.scale);
    }
    if (this.overlayImage && this.fadeValue > 0) {
      c.globalAlpha = this.fadeValue;
      c.imageSmoothingEnabled = false;
      c.drawImage(this.overlayImage, this.left, this.top, this.photo.width * this.scale, this.photo.height * this.scale);
      c.globalAlpha = 1;
    }
    // What is asked lies over what was answered.
    for (const asked of [false, true]) for (const mark of this.marks) if (!mark.hidden && (mark.kind === 'ring') === asked) this.paintMark(c, mark, ink);
    this.paintUnfinished(c, ink);
    if (this.plane) this.paintEdge(c, ink);
    if (this.pointsByCross) this.paintCross(c, this.width / 2, this.height / 2);
    this.paintLoupe(c);
    if (this.hover && !this.stroke) {
      const p = this.toPhoto(...this.hover);
      if (this.inside(p) && !this.typed) this.say(this.words(p));
    }
  }

  paintMark(c, mark, ink) {
    const points = mark.points.map(p => this.toView(p));
    const colour = ink(`--material-${mark.material}`) || ink('--mark');
    if (mark.kind === 'dab') {
      c.lineCap = c.lineJoin = 'round';
      c.globalAlpha = 0.55;
      c.strokeStyle = colour;
      c.lineWidth = Math.max(2, 2 * mark.radiusPx * this.scale);
      line(c, points);
      c.stroke();
      c.globalAlpha = 1;
      c.strokeStyle = '#ffffff';
      c.lineWidth = 1;
      line(c, points);
      c.stroke();
      return;
    }
    if (mark.kind === 'ring') {
      for (const [x, y] of points) this.ring(c, x, y, mark.pin, ink);
      return;
    }
    if (points.length > 1) {
      line(c, points);
      if (mark.closed) c.closePath();
      this.pen(c, colour, mark.computed);
    }
    // Handles that would touch each other hide the edge under them: such an outline shows its points once it is zoomed to them.
    const dense = mark.closed && points.length > 24 && points.every(([x, y], i) => i === 0 || Math.hypot(x - points[i - 1][0], y - points[i - 1][1]) < 22);
    points.forEach(([x, y], index) => {
      const held = this.selected?.id === mark.id && this.selected.index === index;
      if (dense && !held) return;
      if (mark.pin) {
        this.pin(c, x, y, mark.pin, held, ink);
        return;
      }
      c.beginPath();
      c.arc(x, y, held ? 8 : 5, 0, 2 * Math.PI);
      c.moveTo(x - 2.5, y);
      c.lineTo(x + 2.5, y);
      c.moveTo(x, y - 2.5);
      c.lineTo(x, y + 2.5);
      this.pen(c, held ? ink('--mark-held') : colour, mark.computed);
    });
  }

  // Around a place, which stays in sight.
  ring(c, x, y, text, ink) {
    c.beginPath();
    c.arc(x, y, 18, 0, 2 * Math.PI);
    c.setLineDash([6, 4]);
    this.pen(c, ink('--mark'), false);
    c.setLineDash([]);
    this.pin(c, x + 21, y - 21, text, false, ink);
  }

  pin(c, x, y, text, held, ink) {
    c.beginPath();
    c.arc(x, y, held ? 13 : 11, 0, 2 * Math.PI);
    c.fillStyle = '#ffffff';
    c.fill();
    c.lineWidth = held ? 4 : 2;
    c.strokeStyle = held ? ink('--mark-held') : ink('--mark');
    c.stroke();
    c.fillStyle = '#1c1b1a';
    c.font = '600 12px system-ui, sans-serif';
    c.textAlign = 'center';
    c.textBaseline = 'middle';
    c.fillText(text, x, y + 0.5);
  }

  // A white casing keeps a line readable on any picture; what the computer found is a hairline without it.
  pen(c, colour, computed) {
    if (!computed) {
      c.strokeStyle = 'rgba(255, 255, 255, 0.85)';
      c.lineWidth = 4;
      c.stroke();
    }
    c.strokeStyle = colour;
    c.lineWidth = computed ? 0.75 : 2;
    c.stroke();
  }

  paintUnfinished(c, ink) {
    if (this.stroke) {
      c.lineCap = c.lineJoin = 'round';
      c.globalAlpha = 0.6;
      c.strokeStyle = ink(`--material-${this.brush.material}`) || ink('--mark');
      c.lineWidth = Math.max(2, 2 * this.brush.radiusPx * this.scale);
      line(c, (this.stroke.length > 1 ? this.stroke : [this.stroke[0], [this.stroke[0][0] + 0.5, this.stroke[0][1]]]).map(p => this.toView(p)));
      c.stroke();
      c.globalAlpha = 1;
    } else if (this.tool === 'dab' && this.hover) {
      c.beginPath();
      c.arc(...this.hover, Math.max(1, this.brush.radiusPx * this.scale), 0, 2 * Math.PI);
      this.pen(c, ink(`--material-${this.brush.material}`) || ink('--mark'), false);
    }
    if (this.drawing) {
      const points = this.drawing.map(p => this.toView(p));
      const tip = this.placing ? this.toView(this.placing) : this.hover;
      if (this.tool === 'rect' && tip) {
        const [x, y] = points[0];
        line(c, [[x, y], [tip[0], y], tip, [x, tip[1]]]);
        c.closePath();
      } else {
        line(c, tip ? [...points, tip] : points);
      }
      if (this.tool === 'corners' && points.length === 3 && tip) c.closePath();
      this.pen(c, ink('--mark'), false);
      for (const [x, y] of points) {
        c.beginPath();
        c.arc(x, y, 5, 0, 2 * Math.PI);
        this.pen(c, ink('--mark'), false);
      }
    }
  }

  paintCross(c, x, y) {
    c.beginPath();
    c.moveTo(x - 14, y);
    c.lineTo(x + 14, y);
    c.moveTo(x, y - 14);
    c.lineTo(x, y + 14);
    this.pen(c, '#1c1b1a', false);
  }

  paintLoupe(c) {
    const at = this.placing ? this.toView(this.placing)
      : this.dragging?.moved ? this.toView(this.marks.find(m => m.id === this.dragging.id)?.points[this.dragging.index] ?? [0, 0])
      : this.selected && this.focused && !this.hover ? this.toView(this.marks.find(m => m.id === this.selected.id)?.points[this.selected.index] ?? [0, 0])
      : this.tool === 'dab' || this.tool === 'look' ? null
      : this.hover ?? (this.pointsByCross ? [this.width / 2, this.height / 2] : null);
    if (!at || !this.image) return;
    const p = this.toPhoto(...at);
    if (!this.inside(p)) return;
    const size = Math.min(176, this.width / 3);
    const zoom = Math.max(4, this.scale * 4);
    const x0 = at[0] < size + 40 && at[1] < size + 40 ? this.width - size - 8 : 8;
    const y0 = 8 + this.edge;
    c.save();
    c.beginPath();
    c.rect(x0, y0, size, size);
    c.clip();
    c.fillStyle = '#808080';
    c.fillRect(x0, y0, size, size);
    const lx = x0 + size / 2 - p[0] * zoom, ly = y0 + size / 2 - p[1] * zoom;
    c.imageSmoothingEnabled = false;
    c.drawImage(this.image, lx, ly, this.photo.width * zoom, this.photo.height * zoom);
    if (this.detail) c.drawImage(this.detail.picture, lx + this.detail.x * zoom, ly + this.detail.y * zoom, this.detail.w * zoom, this.detail.h * zoom);
    this.paintCross(c, x0 + size / 2, y0 + size / 2);
    c.restore();
    c.strokeStyle = '#1c1b1a';
    c.lineWidth = 2;
    c.strokeRect(x0, y0, size, size);
    this.fetchLoupe(p);
  }

  // The loupe is only as good as its pixels: near the pointer they are fetched at full resolution.
  fetchLoupe(p) {
    const half = 160;
    const d = this.detail;
    if (d && d.full && p[0] - d.x > 30 && p[1] - d.y > 30 && d.x + d.w - p[0] > 30 && d.y + d.h - p[1] > 30) return;
    if (Math.max(this.photo.width, this.photo.height) <= steadyPreview) return;
    clearTimeout(this.detailTimer);
    this.detailTimer = setTimeout(() => {
      if (this.scale * this.ratio >= 0.9) { this.loadDetail(); return; }
      const x = Math.floor(Math.max(0, p[0] - half)), y = Math.floor(Math.max(0, p[1] - half));
      const w = Math.min(2 * half, this.photo.width - x), h = Math.min(2 * half, this.photo.height - y);
      this.loadPart({ x, y, w, h, full: true }, 2 * half);
    }, 120);
  }

  // A ruler along the upper edge and the left edge, in millimetres of the measured plane through the middle of the view.
  paintEdge(c, ink) {
    const depth = 20;
    c.fillStyle = ink('--paper');
    c.fillRect(0, 0, this.width, depth);
    c.fillRect(0, 0, depth, this.height);
    c.strokeStyle = c.fillStyle = ink('--ink');
    c.lineWidth = 1;
    c.font = '10px system-ui, sans-serif';
    this.ticks(c, this.width, this.along(x => [x, this.height / 2], this.width), depth, true);
    this.ticks(c, this.height, this.along(y => [this.width / 2, y], this.height), depth, false);
    c.fillStyle = ink('--paper');
    c.fillRect(0, 0, depth, depth);
    c.fillStyle = ink('--ink');
    c.textAlign = 'center';
    c.textBaseline = 'middle';
    c.fillText('mm', depth / 2, depth / 2);
  }

  // Millimetres along a line of the view, however the plane's own axes lie: a loose card may be turned any way.
  along(at, length) {
    const place = v => this.plane(...this.toPhoto(...at(v)));
    const [ax, ay] = place(0), [bx, by] = place(length);
    const far = Math.hypot(bx - ax, by - ay);
    return v => {
      const [x, y] = place(v);
      return (x * (bx - ax) + y * (by - ay)) / far;
    };
  }

  ticks(c, length, millimetre, depth, across) {
    const span = Math.abs(millimetre(length) - millimetre(0));
    if (!(span > 0) || !Number.isFinite(span)) return;
    const perPixel = span / length;
    const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500].find(s => s / perPixel >= 6) ?? 1000;
    let last = Math.floor(millimetre(0) / step);
    for (let v = 1; v <= length; v++) {
      const now = Math.floor(millimetre(v) / step);
      if (now === last) continue;
      const index = Math.max(now, last);
      last = now;
      const long = index % 10 === 0, middle = index % 5 === 0;
      const reach = long ? depth - 6 : middle ? 8 : 5;
      c.beginPath();
      if (across) { c.moveTo(v, depth); c.lineTo(v, depth - reach); } else { c.moveTo(depth, v); c.lineTo(depth - reach, v); }
      c.stroke();
      if (long) {
        c.save();
        c.translate(across ? v + 2 : 8, across ? 8 : v - 2);
        if (!across) c.rotate(-Math.PI / 2);
        c.textAlign = 'left';
        c.textBaseline = 'middle';
        c.fillText(String(Math.round(index * step * 10) / 10), 0, 0);
        c.restore();
      }
    }
  }
}

function line(c, points) {
  c.beginPath();
  points.forEach(([x, y], i) => (i === 0 ? c.moveTo(x, y) : c.lineTo(x, y)));
}

function round(p) { return [Math.round(p[0] * 100) / 100, Math.round(p[1] * 100) / 100]; }

// A label map is grey, one level for each material; colours are those of the legend.
const labelColours = { 1: [58, 74, 140], 2: [201, 120, 42], 3: [122, 84, 58], 4: [40, 140, 150], 255: [196, 64, 160] };

function coloured(bitmap) {
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const c = canvas.getContext('2d', { willReadFrequently: true });
  c.drawImage(bitmap, 0, 0);
  const pixels = c.getImageData(0, 0, bitmap.width, bitmap.height);
  const data = pixels.data;
  for (let i = 0; i < data.length; i += 4) {
    const colour = labelColours[data[i]];
    if (colour) {
      [data[i], data[i + 1], data[i + 2]] = colour;
      data[i + 3] = 255;
    } else {
      data[i + 3] = 0;
    }
  }
  c.putImageData(pixels, 0, 0);
  return canvas;
}
