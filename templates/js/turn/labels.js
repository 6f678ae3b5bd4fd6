// Words over the picture: the numbers of parts as in the drawings, the faces of the part that was tapped, the sides of the piece, and the figures of
// a part that stands alone.
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

    // All that stands over the picture now.
    wanted(view) {
      const { stage } = view, numbers = this.numbers(view), picked = stage.picked;
      const named = picked && !picked.hidden && numbers.every((one) => one.kind !== 'turn-figure') ? faces(picked, stage) : [];
      // The names of its faces stand where its number would.
      return [...numbers.filter((one) => !named.length || one.body !== picked), ...named, ...sides(stage)];
    }

    // What is to be said now, and where on its body.
    numbers(view) {
      const { stage } = view, seen = stage.bodies.filter((body) => !body.hidden);
      if (view.isWhole && seen.length === 1) return figures(seen[0]);
      const numbered = seen.filter((body) => body.data.number && (view.isWhole ? view.motion.at >= APART : body.one.new));
      const items = new Set(numbered.map((body) => body.data.number));
      if (!view.isWhole && items.size > CROWDED) return [];
      const once = view.isWhole ? numbered.filter((body, place) => numbered.findIndex((other) => other.data.number === body.data.number) === place) : numbered;
      return once.map((body) => ({ body, words: String(body.data.number), kind: 'turn-number', at: body.shape.box.getCenter(new THREE.Vector3()) }));
    }

    draw(view, wide, high) {
      const { camera } = view.stage, wanted = this.wanted(view), taken = [];
      while (this.shown.length > wanted.length) this.shown.pop().remove();
      wanted.forEach(({ body, words, kind, at, away }, place) => {
        if (!this.shown[place]) this.box.append(this.shown[place] = Turning.make('span'));
        const label = this.shown[place], point = at.clone().applyMatrix4(body ? body.group.matrixWorld : view.stage.turners[0].inner.matrixWorld).project(camera);
        if (label.textContent !== words) label.textContent = words;
        label.className = kind;
        let x = ((point.x + 1) / 2) * wide, y = ((1 - point.y) / 2) * high;
        if (kind === 'turn-face') [x, y] = clear(taken, x, y, words, away);
        label.style.left = `${x.toFixed(1)}px`;
        label.style.top = `${y.toFixed(1)}px`;
      });
    }
  };

  const WAYS = [[-1, 0, 0], [1, 0, 0], [0, -1, 0], [0, 1, 0], [0, 0, -1], [0, 0, 1]];  // as the faces are numbered
  const NAMES = ['Left', 'Right', 'Front', 'Back', 'Bottom', 'Top'];
  const TOWARD = 0.12;  // a face that is seen at less of a slant has no room for its name

  const LETTER = 7.5, LINE = 22, STEP = 6, STEPS = 12;  // px: about a letter's width, a line's height; a name goes off by so much, so often

  // Where a name stands clear of those before it: further off the way that its face looks.
  const clear = (taken, x, y, words, away) => {
    const half = (words.length * LETTER + 10) / 2;
    const meets = () => taken.some((one) => Math.abs(one.x - x) < one.half + half && Math.abs(one.y - y) < LINE);
    for (let step = 0; step < STEPS && meets(); step += 1) { x += away[0] * STEP; y -= away[1] * STEP; }
    taken.push({ x, y, half });
    return [x, y];
  };

  // The names of the faces of a part that can be seen, each in the middle of its face where no other part hides it. A part that leans has no face along the piece's axes.
  const faces = (body, stage) => {
    const { min, max } = body.shape.box, lies = body.lying && body.come < 1;
    if (!body.data.faces || !body.data.sides || lies) return [];
    const half = max.clone().sub(min).multiplyScalar(0.5), middle = min.clone().add(half);
    return WAYS.map((way, face) => {
      const out = Turning.triple(way), looks = out.clone().transformDirection(body.group.matrixWorld), flat = Math.hypot(looks.x, looks.y) || 1;
      const at = middle.clone().add(out.multiply(half));
      return { body, words: body.data.faces[face], kind: 'turn-face', at, toward: looks.z, away: [looks.x / flat, looks.y / flat] };
    }).filter((one) => one.toward > TOWARD && !hidden(one, stage)).sort((a, b) => b.toward - a.toward);
  };

  const hidden = ({ body, at }, stage) => {
    const place = at.clone().applyMatrix4(body.group.matrixWorld).project(stage.camera), hit = stage.hit(place.x, place.y);
    return Boolean(hit) && hit.object.userData.body !== body;
  };

  // Which sides of the piece the viewer has before him: words on the floor beside it.
  const sides = (stage) => {
    const own = new Set(stage.bodies.map((body) => body.data.id));
    if (stage.laid || own.size < 2 || stage.bodies.some((body) => body.one.axes)) return [];
    const up = Turning.triple(stage.turning.up), { min, max } = stage.reach(), { matrixWorld } = stage.turners[0].inner;
    const half = max.clone().sub(min).multiplyScalar(0.5), middle = min.clone().add(half), off = stage.size * 0.05;
    const found = [];
    WAYS.forEach((way, face) => {
      const out = Turning.triple(way), toward = out.clone().transformDirection(matrixWorld).z;
      if (Math.abs(out.dot(up)) > 0.5 || toward <= TOWARD) return;
      const at = middle.clone().add(out.clone().multiply(half)).addScaledVector(out, off).addScaledVector(up, -Math.abs(half.dot(up)));
      found.push({ body: null, words: NAMES[face], kind: 'turn-side', at });
    });
    return found;
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
