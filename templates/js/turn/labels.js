// Words over the picture: the numbers of parts as in the drawings, and the figures of a part that stands alone.
(() => {
  'use strict';
  const CROWDED = 12;  // above this many, none: the tint alone shows the parts, as in the drawings
  const APART = 0.3;  // from here on the parts of the whole piece stand clear enough to be numbered

  Turning.Labels = class {
    constructor() {
      this.box = Turning.make('div', '', { className: 'turn-labels' });
      this.box.setAttribute('aria-hidden', 'true');
      this.shown = [];
    }

    // What is to be said now, and where on its body.
    wanted(view) {
      const { stage } = view, seen = stage.bodies.filter((body) => !body.hidden);
      if (view.isWhole && seen.length === 1) return figures(seen[0]);
      const numbered = seen.filter((body) => body.data.number && (view.isWhole ? view.motion.at >= APART : body.one.new));
      const items = new Set(numbered.map((body) => body.data.number));
      if (!view.isWhole && items.size > CROWDED) return [];
      const once = view.isWhole ? numbered.filter((body, place) => numbered.findIndex((other) => other.data.number === body.data.number) === place) : numbered;
      return once.map((body) => ({ body, words: String(body.data.number), kind: 'turn-number', at: body.shape.box.getCenter(new THREE.Vector3()) }));
    }

    draw(view, wide, high) {
      const wanted = this.wanted(view), { camera } = view.stage;
      while (this.shown.length > wanted.length) this.shown.pop().remove();
      wanted.forEach(({ body, words, kind, at }, place) => {
        if (!this.shown[place]) this.box.append(this.shown[place] = Turning.make('span'));
        const label = this.shown[place], point = at.clone().applyMatrix4(body.group.matrixWorld).project(camera);
        if (label.textContent !== words) label.textContent = words;
        label.className = kind;
        label.style.left = `${(((point.x + 1) / 2) * wide).toFixed(1)}px`;
        label.style.top = `${(((1 - point.y) / 2) * high).toFixed(1)}px`;
      });
    }
  };

  // The lengths along a part's three axes, each at the edge of its box that lies nearest to the viewer.
  const figures = (body) => {
    const { sides } = body.data, { min, max } = body.shape.box;
    if (!sides) return [];
    return sides.map((words, axis) => {
      const others = [0, 1, 2].filter((other) => other !== axis), found = [];
      for (const first of [min, max]) for (const second of [min, max]) {
        const at = min.clone().add(max).multiplyScalar(0.5);
        at.setComponent(others[0], first.getComponent(others[0]));
        at.setComponent(others[1], second.getComponent(others[1]));
        found.push(at);
      }
      const near = (at) => { const seen = at.clone().applyMatrix4(body.group.matrixWorld); return seen.z - 0.5 * seen.y; };
      found.sort((a, b) => near(b) - near(a));
      return { body, words, kind: 'turn-figure', at: found[0] };
    });
  };
})();
