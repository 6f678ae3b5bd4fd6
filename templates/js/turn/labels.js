// Words over the picture: the numbers of parts and the names of fittings that are new, the faces of what was tapped, the sides of the piece, and the
// figures of a part that stands alone.
(() => {
  'use strict';
  const CROWDED = 12;  // above this many, none: the tint alone shows the parts, as in the drawings
  const APART = 0.3;  // from here on the parts of the whole piece stand clear enough to be numbered

  Turning.Labels = class {
    constructor() {
      this.box = Turning.make('div', '', { className: 'turn-labels' });
      this.box.setAttribute('aria-hidden', 'true');
      this.shown = [];
      this.found = new Map();  // where the name of each face stands, while the picture moves
    }

    // All that stands over the picture now.
    wanted(view) {
      const { stage } = view, numbers = this.numbers(view), picked = stage.picked;
      const named = picked && !picked.hidden && numbers.every((one) => one.kind !== 'turn-figure') ? this.faces(picked, view) : [];
      // The names of its faces stand where its number would.
      return [...numbers.filter((one) => !named.length || one.body !== picked), ...named, ...sides(stage)];
    }

    // What is to be said now, and where on its body.
    numbers(view) {
      const { stage } = view, seen = stage.bodies.filter((body) => !body.hidden);
      if (view.isWhole && seen.length === 1) return figures(seen[0]);
      const numbered = seen.filter((body) => body.data.number && (view.isWhole ? view.motion.at >= APART : body.one.new));
      const bought = view.isWhole ? [] : seen.filter((body) => body.one.new && !body.data.number && body.data.name);
      const items = new Set([...numbered, ...bought].map(called));
      if (!view.isWhole && items.size > CROWDED) return [];
      const once = (bodies) => bodies.filter((body, place) => bodies.findIndex((other) => called(other) === called(body)) === place);
      const words = (body) => (body.one.strip && !stage.laid ? String(body.one.strip) : called(body));
      const labels = (bodies) => bodies.map((body) => ({ body, words: words(body), kind: 'turn-number', at: body.shape.box.getCenter(new THREE.Vector3()) }));
      return [...labels(view.isWhole ? once(numbered) : numbered), ...once(bought).map(above)];
    }

    // The names of the faces of a part that can be seen, each in the middle of its face or beside that, where no other part hides it. What was bought has a name,
    // and so has each face that it sits on.
    faces(body, view) {
      const { stage } = view, lies = body.lying && body.come < 1;
      if (!view.moving || this.of !== body) this.found.clear();
      this.of = body;
      if (body.data.faces) return lies ? [] : this.looking([0, 1, 2, 3, 4, 5].map((face) => ({ body, face })), stage);
      if (!body.data.name) return [];
      const met = stage.turning.meetings.filter(([part, , , onto]) => part === body.one.body && onto !== null);
      const hosts = met.map(([, , other, onto]) => ({ body: stage.bodies.find((one) => one.one.body === other), face: onto, near: body }));
      return [above(body), ...this.looking(hosts.filter((one) => one.body), stage)];
    }

    looking(wanted, stage) {
      return wanted.map(({ body, face, near }) => {
        const way = direction(body, WAYS[face]).transformDirection(body.group.matrixWorld), flat = Math.hypot(way.x, way.y) || 1;
        return { body, face, near, words: body.data.faces[face], kind: 'turn-face', toward: way.z, away: [way.x / flat, way.y / flat] };
      }).filter((one) => {
        if (one.toward <= TOWARD) return false;
        const key = `${one.body.one.body} ${one.face}`;
        if (!this.found.has(key)) this.found.set(key, open(one, stage));
        one.at = this.found.get(key);
        return Boolean(one.at);
      }).sort((a, b) => b.toward - a.toward);
    }

    draw(view, wide, high) {
      const { camera } = view.stage, wanted = this.wanted(view), taken = [];
      while (this.shown.length > wanted.length) this.shown.pop().remove();
      wanted.forEach(({ body, words, kind, at, away, clears }, place) => {
        if (!this.shown[place]) this.box.append(this.shown[place] = Turning.make('span'));
        const label = this.shown[place], point = at.clone().applyMatrix4(body ? body.group.matrixWorld : view.stage.turners[0].inner.matrixWorld).project(camera);
        if (label.textContent !== words) label.textContent = words;
        label.className = kind;
        let x = ((point.x + 1) / 2) * wide, y = ((1 - point.y) / 2) * high;
        if (clears) y -= LINE / 2 + Math.min(MOST, (clears.getSize(new THREE.Vector3()).length() / 2 / (camera.top - camera.bottom)) * high);
        if (away) {
          // It stays in the picture, too.
          const half = (words.length * LETTER + 10) / 2, within = (value, room, most) => Math.max(room, Math.min(most - room, value));
          [x, y] = clear(taken, within(x, half, wide), within(y, LINE / 2, high), half, away, wide, high);
        } else taken.push({ x, y, half: LINE / 2 });
        label.style.left = `${x.toFixed(1)}px`;
        label.style.top = `${y.toFixed(1)}px`;
      });
    }
  };

  const WAYS = [[-1, 0, 0], [1, 0, 0], [0, -1, 0], [0, 1, 0], [0, 0, -1], [0, 0, 1]];  // as the faces are numbered
  const NAMES = ['Left', 'Right', 'Front', 'Back', 'Bottom', 'Top'];
  const TOWARD = 0.12;  // a face that is seen at less of a slant has no room for its name
  const SPOTS = [0.5, 0.2, 0.8];  // shares of a face's sides at which its name may stand, the best first
  const called = (body) => String(body.data.number || body.data.name);
  // A name over what is so small that it would be hidden under it.
  const above = (body) => ({ body, words: called(body), kind: 'turn-face', at: body.shape.box.getCenter(new THREE.Vector3()), away: [0, 1], clears: body.shape.box });

  const LETTER = 7.5, LINE = 22, STEP = 6, STEPS = 12;  // px: about a letter's width, a line's height; a name goes off by so much, so often
  const MOST = 48;  // px that a name stands off the middle of what it names

  // Where a name stands clear of those before it: further off the way that its face looks; at the picture's edge, up or down along that.
  const clear = (taken, x, y, half, away, wide, high) => {
    const meets = () => taken.some((one) => Math.abs(one.x - x) < one.half + half && Math.abs(one.y - y) < LINE);
    let way = away;
    for (let step = 0; step < STEPS && meets(); step += 1) {
      const across = x + way[0] * STEP, down = y - way[1] * STEP;
      if (across < half || across > wide - half || down < LINE / 2 || down > high - LINE / 2) way = [0, y > high / 2 ? 1 : -1]; else [x, y] = [across, down];
    }
    taken.push({ x, y, half });
    return [x, y];
  };

  // Directions and places of the part as it is made, on the part as it stands.
  const direction = (body, way) => { const out = Turning.triple(way); return body.shape.lean ? out.transformDirection(body.shape.lean) : out; };
  const standing = (body, place) => (body.shape.lean ? place.applyMatrix4(body.shape.lean) : place);

  // The first spot on a face that nothing else hides; nearest to a fitting that sits there, else nearest to the middle. None where there is none.
  const open = ({ body, face, near }, stage) => {
    const axis = face >> 1, { min, max } = body.shape.own, [first, second] = [0, 1, 2].filter((one) => one !== axis), spots = [];
    for (const a of SPOTS) for (const b of SPOTS) {
      const at = new THREE.Vector3();
      at.setComponent(axis, (face & 1 ? max : min).getComponent(axis));
      for (const [one, share] of [[first, a], [second, b]]) at.setComponent(one, min.getComponent(one) + share * (max.getComponent(one) - min.getComponent(one)));
      spots.push(standing(body, at));
    }
    if (near) {
      const there = near.shape.box.getCenter(new THREE.Vector3()).add(near.group.position).sub(body.group.position);
      spots.sort((a, b) => a.distanceToSquared(there) - b.distanceToSquared(there));
    }
    return spots.find((at) => !hidden({ body, at }, stage)) || null;
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
      found.push({ body: null, words: NAMES[face], kind: 'turn-side', at, away: [0, -1] });
    });
    return found;
  };

  // The lengths along a part's three axes, each at the edge of its box that lies nearest to the viewer.
  const figures = (body) => {
    const { sides } = body.data, { min, max } = body.shape.own;
    if (!sides) return [];
    return sides.map((words, axis) => {
      const others = [0, 1, 2].filter((other) => other !== axis), found = [];
      for (const first of [min, max]) for (const second of [min, max]) {
        const at = min.clone().add(max).multiplyScalar(0.5);
        at.setComponent(others[0], first.getComponent(others[0]));
        at.setComponent(others[1], second.getComponent(others[1]));
        found.push(standing(body, at));
      }
      const near = (at) => { const seen = at.clone().applyMatrix4(body.group.matrixWorld); return seen.z - 0.5 * seen.y; };
      found.sort((a, b) => near(b) - near(a));
      return { body, words, kind: 'turn-figure', at: found[0] };
    });
  };
})();
