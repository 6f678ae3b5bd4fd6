// How things move: parts come home along their proven direction, then what is driven goes in; the whole comes apart; what opens, opens.
(() => {
  'use strict';
  const between = (value) => Math.max(0, Math.min(1, value));
  const eased = (value) => value * value * (3 - 2 * value);
  const STAND_OFF = 6;  // mm between a screw's point and its hole, as in the drawings

  // A step: `to(0)` is as drawn, `to(1)` all in place.
  Turning.Coming = class {
    constructor(stage) {
      this.stage = stage;
      const { driven, pressing } = stage.turning;
      this.moving = stage.bodies.filter((body) => body.one.turn !== undefined && body.off.lengthSq() > 0);
      this.sawn = stage.bodies.filter((body) => body.lying);
      const going = [...this.moving, ...this.sawn.filter((body) => body.one.turn !== undefined)];
      for (const body of stage.bodies) body.moves = going.includes(body);
      this.slots = going.reduce((most, body) => Math.max(most, body.one.turn + 1), 0);
      this.share = this.slots ? (driven.length ? 0.6 : 1) : 0;
      const places = new Map(stage.bodies.map((body) => [body.one.body, body]));
      this.screws = driven.map(([item, at, way, long, thick, through, sunk, head]) => {
        const group = Turning.screw(Turning.triple(way), long, thick, head, stage.size * 0.0022);
        group.userData.name = Turning.data().items[item] || '';
        stage.marks.add(group);
        return { item, group, at: Turning.triple(at), way: Turning.triple(way), long, sunk, with: places.get(through) };
      });
      this.clamps = pressing.map(([at, way, off]) => {
        const group = Turning.clamp(Turning.triple(way), stage.size * 0.05);
        stage.marks.add(group);
        return { group, at: Turning.triple(at), off: Turning.triple(off) };
      });
      this.arrows = this.together().map((bodies) => {
        const box = new THREE.Box3();
        for (const body of bodies) box.union(body.home);
        const { off } = bodies[0], far = off.length(), way = off.clone().divideScalar(-far);
        const group = Turning.arrow(way, Math.min(Math.max(far, stage.size * 0.06), stage.size * 0.13));
        stage.marks.add(group);
        return { group, middle: box.getCenter(new THREE.Vector3()), body: bodies[0] };
      });
      this.moves = going.length + this.screws.length > 0;
      this.seconds = 0.6 + 1.1 * this.slots + (this.screws.length ? 1.2 : 0);
      this.to(0);
    }

    // One piece by itself goes to its place in the piece, or back to where it is cut.
    send(body, share) {
      body.sent = share;
      this.to(this.at);
    }

    // Parts that come at the same time by the same way, which share an arrow.
    together() {
      const found = new Map();
      for (const body of this.moving) {
        const key = [body.one.turn, ...body.off.toArray()].join(' ');
        found.set(key, [...(found.get(key) || []), body]);
      }
      return [...found.values()];
    }

    to(share) {
      this.stage.changed(true);
      this.at = between(share);
      const home = this.share ? (this.at / this.share) * this.slots : this.slots;
      for (const body of this.stage.bodies) {
        const come = body.one.turn === undefined ? 0 : eased(between(home - body.one.turn));
        body.left = 1 - come;
        if (body.lying) { body.come = Math.max(come, body.sent || 0); this.stage.bring(body, body.come); } else body.group.position.copy(body.at).addScaledVector(body.off, body.left);
      }
      const drive = this.share < 1 ? eased(between((this.at - this.share) / (1 - this.share))) : 0;
      for (const one of this.screws) {
        one.group.position.copy(one.at).addScaledVector(one.way, drive * one.sunk - (1 - drive) * (one.long + STAND_OFF));
        if (one.with) one.group.position.addScaledVector(one.with.off, one.with.left);
      }
      const left = this.moving.length ? Math.max(...this.moving.map((body) => body.left)) : 0;
      for (const one of this.clamps) one.group.position.copy(one.at).addScaledVector(one.off, left);
      for (const { group, middle, body } of this.arrows) {
        group.visible = body.left > 0.03;
        group.position.copy(middle).addScaledVector(body.off, body.left);
      }
    }
  };

  // The whole piece: `to(0)` stands together, `to(1)` is taken apart. What opens does so by a share of its own.
  Turning.Apart = class {
    constructor(stage, openings) {
      this.stage = stage;
      const places = new Map(stage.bodies.map((body) => [body.one.body, body]));
      this.openings = openings.map((one) => ({
        ...one, open: 0, way: Turning.triple(one.axis), pin: one.about && Turning.triple(one.about), going: one.bodies.map((body) => places.get(body)).filter(Boolean),
      }));
      this.moves = true;
      this.seconds = 2.4;
      this.to(0);
    }

    to(share) {
      this.at = between(share);
      this.place();
    }

    place() {
      this.stage.changed();
      for (const body of this.stage.bodies) {
        body.group.quaternion.identity();
        body.group.position.copy(body.at);
      }
      for (const one of this.openings) {
        if (!one.open) continue;
        const turn = one.pin && new THREE.Quaternion().setFromAxisAngle(one.way, (one.reach * Math.PI * one.open) / 180);
        for (const body of one.going) {
          if (!turn) { body.group.position.addScaledVector(one.way, one.reach * one.open); continue; }
          body.group.position.sub(one.pin).applyQuaternion(turn).add(one.pin);
          body.group.quaternion.copy(turn);
        }
      }
      for (const body of this.stage.bodies) body.group.position.addScaledVector(body.off, eased(this.at));
    }
  };

  // From one share to another in so many seconds; all at once for who wants no motion.
  const still = () => matchMedia('(prefers-reduced-motion: reduce)').matches;
  Turning.still = still;
  Turning.play = (from, to, seconds, show, done) => {
    if (still()) { show(to); done(); return () => {}; }
    let begun = null, on = true;
    const next = (now) => {
      if (!on) return;
      begun = begun === null ? now : begun;
      const gone = between((now - begun) / (seconds * 1000));
      show(from + (to - from) * gone);
      if (gone < 1) requestAnimationFrame(next); else done();
    };
    requestAnimationFrame(next);
    return () => { on = false; };
  };
})();
