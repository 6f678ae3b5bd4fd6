// A drawing that is being turned: fingers, mouse and keys on the stage.
(() => {
  'use strict';
  const TAP = 6;  // px within which a touch is a tap and no drag
  const SLOW = 40, REST = 250;  // ms from picture to picture that are too many, and after which nothing moves any more
  const PATIENCE = 4;  // so many slow pictures one after the other, and fewer pixels are drawn
  const COARSER = 0.75, COARSEST = 0.5;
  let open = null;
  Turning.open = () => open;

  Turning.View = class {
    constructor(svg, place, turning) {
      if (open) open.close();
      open = this;
      this.svg = svg;
      this.place = place;
      this.isWhole = turning.step === null;
      this.stage = new Turning.Stage(turning, this.isWhole);
      this.canvas = Turning.renderer().domElement;
      this.canvas.className = 'turn-canvas';
      this.canvas.tabIndex = 0;
      // An application has its keys to itself: a screen reader would keep the arrows.
      this.canvas.setAttribute('role', 'application');
      this.canvas.setAttribute('aria-roledescription', 'picture that can be turned');
      this.canvas.setAttribute('aria-label', `${svg.getAttribute('aria-label') || ''} To be turned: arrow keys turn it, N goes from part to part, F from face to face.`);
      this.panel = new Turning.Panel(this);
      if (this.isWhole) {
        this.motion = new Turning.Apart(this.stage, Turning.data().openings);
        this.panel.moving('Take apart', this.motion);
        Turning.whole(this, this.panel, this.motion);
      } else {
        this.motion = new Turning.Coming(this.stage);
        if (this.motion.moves) this.panel.moving(this.stage.laid ? 'Into the piece' : 'Into place', this.motion);
      }
      this.labels = new Turning.Labels();
      const holder = Turning.make('div', '', { className: `turn-stage${this.isWhole ? ' of-wood' : ''}` });
      holder.append(this.canvas, this.labels.box);
      place.replaceChildren(holder, this.panel.box);
      place.hidden = false;
      svg.setAttribute('hidden', '');
      this.share = 1;
      this.slow = 0;
      this.last = -Infinity;
      Turning.sharpness(1);
      this.stops = new AbortController();
      this.listen();
      this.sized = new ResizeObserver(() => this.moved());
      this.sized.observe(this.canvas);
      this.moved();
      this.canvas.focus({ preventScroll: true });
    }

    close() {
      if (open !== this) return;
      open = null;
      clearTimeout(this.resting);
      this.panel.stop();
      this.stops.abort();
      this.sized.disconnect();
      this.stage.away();
      this.place.replaceChildren();
      this.place.hidden = true;
      this.svg.removeAttribute('hidden');
      this.place.dispatchEvent(new Event('turning-closed'));
    }

    // Draw once, at the next frame, however much has moved.
    moved() {
      if (this.waiting) return;
      this.waiting = true;
      requestAnimationFrame((now) => {
        this.waiting = false;
        if (open !== this) return;
        this.pace(now);
        if (this.stage.laid || (this.isWhole && this.motion.at !== this.fitted)) { this.fitted = this.motion.at; this.stage.fit(this.fitted); }
        this.stage.draw(this.canvas, this.canvas.clientWidth, this.canvas.clientHeight);
        this.labels.draw(this, this.canvas.clientWidth, this.canvas.clientHeight);
        this.place.dataset.at = this.motion.at.toFixed(3);
        this.place.dataset.drawn = String(Number(this.place.dataset.drawn || 0) + 1);
      });
    }

    // Where the device cannot follow, what moves is drawn in fewer pixels; what rests is always sharp.
    pace(now) {
      const gone = now - this.last, moving = gone < REST && !this.still;
      this.moving = moving;
      this.last = now;
      this.slow = !moving ? 0 : gone > SLOW ? this.slow + 1 : Math.max(0, this.slow - 1);
      if (this.slow >= PATIENCE) { this.share = Math.max(COARSEST, this.share * COARSER); this.slow = 0; }
      Turning.sharpness(moving ? this.share : 1);
      this.still = false;
      clearTimeout(this.resting);
      if (moving && (this.share < 1 || this.stage.picked)) this.resting = setTimeout(() => { this.still = true; this.moved(); }, REST);
    }

    again() {
      this.stage.again();
      this.panel.stop();
      for (const body of this.stage.bodies) body.sent = 0;
      this.motion.to(0);
      if (this.panel.input) this.panel.input.value = '0';
      this.moved();
    }

    pick(body, triangle, shape) {
      this.stage.pick(body);
      this.stage.touch(body, triangle, shape);
      this.tell(body, triangle, shape);
      this.moved();
    }

    tell(body, triangle, shape = body && body.shape) {
      this.place.dataset.picked = body ? body.data.id : '';
      if (!body) { this.panel.say(''); return; }
      const face = triangle === undefined ? '' : Turning.surfaceName(shape, body.data, triangle);
      this.place.dataset.face = face;
      this.panel.say(Turning.told(body, face, this.stage), body.data.number, [...this.ways(body), ...Turning.sheetLinks(body)]);
    }

    // For a piece of a sheet or board: a button that takes it alone into the piece, and back.
    ways(body) {
      if (!body.lying || body.one.turn === undefined) return [];
      const words = () => (body.come > 0.5 ? 'Back where it is cut' : 'Into the piece');
      const act = Turning.button(words(), () => {
        if (this.motion.at > 0) { this.stage.bodies.forEach((one) => { one.sent = one.come; }); this.motion.to(0); this.panel.input.value = '0'; }
        this.send(body, body.come > 0.5 ? 0 : 1, () => { act.textContent = words(); });
      });
      return [act];
    }

    send(body, share, done = () => {}) {
      Turning.play(body.come, share, 1, (at) => { this.motion.send(body, at); this.moved(); }, done);
    }

    at(event) {
      const box = this.canvas.getBoundingClientRect();
      return [((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2];
    }

    tap(event) {
      const place = this.at(event), found = this.stage.hit(...place), mark = this.stage.mark(...place);
      if (mark && (!found || mark.distance < found.distance)) { this.panel.say(`${mark.name}.`); return; }
      if (found) this.pick(found.object.userData.body, found.faceIndex, found.object.userData.shape); else this.pick(null);
    }

    // From face to face of the part that was named last, each shown and told as a tap on it does.
    nextFace(by) {
      const body = this.stage.picked;
      if (!body) { this.next(1); return; }
      let start = 0;
      const named = [];
      for (const [triangles] of body.shape.surfaces) {
        const words = Turning.surfaceName(body.shape, body.data, start);
        if (words && !named.some((one) => one.words === words)) named.push({ words, start });
        start += triangles;
      }
      if (!named.length) return;
      const last = this.facing && this.facing.body === body ? this.facing.place : by > 0 ? -1 : 0;
      this.facing = { body, place: (last + by + named.length) % named.length };
      this.pick(body, named[this.facing.place].start, body.shape);
    }

    next(by) {
      // What is new in the step comes first.
      const shown = this.stage.bodies.filter((body) => !body.hidden), fresh = (body) => Boolean(body.one.new);
      const seen = [...shown.filter(fresh), ...shown.filter((body) => !fresh(body))];
      if (!seen.length) return;
      this.pick(seen[(seen.indexOf(this.stage.picked) + by + seen.length) % seen.length]);
    }

    listen() {
      const { canvas, stage } = this, signal = this.stops.signal, fingers = new Map();
      const on = (name, act) => canvas.addEventListener(name, (event) => { event.stopPropagation(); act(event); }, { signal, passive: false });
      let moved = 0;
      on('pointerdown', (event) => {
        if (!fingers.size) moved = 0;
        fingers.set(event.pointerId, [event.clientX, event.clientY]);
        canvas.setPointerCapture(event.pointerId);
      });
      on('pointermove', (event) => {
        const before = fingers.get(event.pointerId);
        if (!before) return;
        const now = [event.clientX, event.clientY], by = [now[0] - before[0], now[1] - before[1]];
        moved += Math.hypot(...by);
        const perPixel = (stage.camera.top - stage.camera.bottom) / Math.max(1, canvas.clientHeight);
        if (fingers.size > 1) {
          const [other] = [...fingers].filter(([id]) => id !== event.pointerId).map(([, place]) => place);
          const was = Math.hypot(before[0] - other[0], before[1] - other[1]), is = Math.hypot(now[0] - other[0], now[1] - other[1]);
          if (was > 0) stage.nearer(is / was);
        }
        if (fingers.size > 1 || event.shiftKey || event.buttons & 6) {
          const part = fingers.size > 1 ? 0.5 : 1;
          stage.pan.x -= by[0] * perPixel * part;
          stage.pan.y += by[1] * perPixel * part;
        } else if (moved > TAP) stage.turn(by[0] * 0.008, by[1] * 0.008);
        fingers.set(event.pointerId, now);
        this.moved();
      });
      const up = (event) => {
        if (!fingers.delete(event.pointerId)) return;
        if (event.type === 'pointerup' && !fingers.size && moved <= TAP) this.tap(event);
      };
      on('pointerup', up);
      on('pointercancel', up);
      on('wheel', (event) => { event.preventDefault(); stage.nearer(event.deltaY < 0 ? 1.12 : 1 / 1.12); this.moved(); });
      for (const name of ['touchstart', 'touchmove', 'touchend', 'click', 'dblclick', 'contextmenu']) on(name, (event) => { if (name === 'contextmenu' || name === 'touchmove') event.preventDefault(); });
      on('keydown', (event) => {
        const far = (stage.camera.top - stage.camera.bottom) * 0.06;
        const way = (x, y) => { if (event.shiftKey) { stage.pan.x += x * far; stage.pan.y -= y * far; } else stage.turn(x * 0.12, y * 0.1); };
        const acts = {
          ArrowLeft: () => way(-1, 0), ArrowRight: () => way(1, 0), ArrowUp: () => way(0, -1), ArrowDown: () => way(0, 1),
          f: () => this.nextFace(1), F: () => this.nextFace(-1),
          '+': () => stage.nearer(1.2), '=': () => stage.nearer(1.2), '-': () => stage.nearer(1 / 1.2), 0: () => this.again(),
          n: () => this.next(1), N: () => this.next(-1), p: () => this.panel.play && this.panel.run(), Escape: () => this.close(),
        };
        if (!acts[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        acts[event.key]();
        this.moved();
      });
      canvas.addEventListener('webglcontextlost', () => this.close(), { signal });
    }
  };
})();
