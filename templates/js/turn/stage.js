// One stage for all turning views: it is set up in the figure that the reader turns, and shows bodies in a parallel view, as the drawings do.
(() => {
  'use strict';
  const LOOK = {
    standing: '#f4f4f3', standingLine: '#85888c', fresh: '#f6d3b8', worked: '#e8a270', freshLine: '#7d3913', line: '#33363a', picked: '#8fbce6', cut: '#c98a5b', accent: '#b3541e', ink: '#1a1a1a',
  };
  Turning.LOOK = LOOK;
  const SIDES = 20;
  const triple = (values) => new THREE.Vector3(values[0], values[1], values[2]);
  Turning.triple = triple;

  const facesOf = (color) => new THREE.MeshLambertMaterial({ color, flatShading: true, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  const turned = (axes) => new THREE.Quaternion().setFromRotationMatrix(
    new THREE.Matrix4().set(...axes[0], 0, ...axes[1], 0, ...axes[2], 0, 0, 0, 0, 1));
  // The library is not there yet when this is read.
  const right = () => new THREE.Vector3(1, 0, 0), up = () => new THREE.Vector3(0, 1, 0);

  let renderer = null;
  // The one renderer; null where the browser or the device has no WebGL.
  Turning.renderer = () => {
    if (renderer === null) {
      Turning.wake();
      try {
        renderer = new THREE.WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: false });
        renderer.localClippingEnabled = true;
        Turning.sharpness(1);
      } catch { renderer = false; }
    }
    return renderer || null;
  };

  // Which share of the screen's own pixels is drawn, either way.
  Turning.sharpness = (share) => {
    const ratio = Math.min(window.devicePixelRatio || 1, 2) * share;
    if (renderer.getPixelRatio() !== ratio) renderer.setPixelRatio(ratio);
  };

  // A scene on the stage. `tinted`: bodies in the colours of their woods rather than grey and new.
  Turning.Stage = class {
    constructor(turning, tinted) {
      this.turning = turning;
      this.scene = new THREE.Scene();
      this.camera = new THREE.OrthographicCamera();
      this.scene.add(new THREE.HemisphereLight(0xffffff, 0xd6d2cb, 2.75));
      const sun = new THREE.DirectionalLight(0xffffff, 0.75);
      sun.position.set(-0.5, 0.9, 1.1);
      this.scene.add(sun);
      this.around = 0;
      this.over = 0;
      this.zoom = 1;
      this.pan = new THREE.Vector2();
      this.picked = null;
      this.planes = [];
      this.bodies = [];
      this.marks = new THREE.Group();
      this.turners = [];
      const bench = turning.standing.some((one) => one.axes);
      const main = bench ? null : this.turner(turning.axes);
      for (const one of turning.standing) this.add(one, bench ? this.turner(one.axes) : main, tinted);
      for (const turner of this.turners) {
        const box = new THREE.Box3();
        for (const body of turner.bodies) box.union(body.home.clone().translate(body.off));
        turner.middle = box.getCenter(new THREE.Vector3());
        turner.inner.position.copy(turner.middle).negate();
        const place = bench ? turner.bodies[0].paper : null;
        if (place) turner.outer.position.set(place[0], place[1], 0);
        else turner.outer.position.copy(turner.middle).applyQuaternion(turned(turner.axes));
      }
      if (main) main.inner.add(this.marks);
      this.size = this.extent();
      this.rest = new Turning.Rest(this);
    }

    // Something other than the view looks otherwise, or has only moved among what is said to move.
    changed(moved = false) {
      if (this.rest && !moved) this.rest.off();
      for (const turner of this.turners) turner.ends = null;
      this.moving = moved || this.moving;
      this.busy = !moved || this.busy;
    }

    turner(axes) {
      const outer = new THREE.Group(), inner = new THREE.Group();
      outer.add(inner);
      this.scene.add(outer);
      // Level it about the viewer's right hand: then it turns about what is upright, as on a turntable.
      const start = turned(axes), upright = triple(this.turning.up).applyQuaternion(start), pitch = Math.asin(Math.max(-1, Math.min(1, upright.z)));
      const level = new THREE.Quaternion().setFromAxisAngle(right(), -pitch).multiply(start);
      const one = { outer, inner, axes, level, pitch, bodies: [], middle: new THREE.Vector3() };
      this.turners.push(one);
      return one;
    }

    add(one, turner, tinted) {
      const shape = Turning.shape(one.shape), data = Turning.data().bodies[one.body];
      const color = tinted ? data.tint : one.new && !one.axes ? LOOK.fresh : LOOK.standing;
      const colors = [color, LOOK.worked], materials = colors.map(facesOf);
      const line = tinted || one.axes ? LOOK.line : one.new ? LOOK.freshLine : LOOK.standingLine;
      const mesh = new THREE.Mesh(shape.faces, materials), lines = new THREE.LineSegments(shape.lines, new THREE.LineBasicMaterial({ color: line }));
      const group = new THREE.Group();
      group.add(mesh, lines);
      turner.inner.add(group);
      const at = triple(one.at);
      const body = {
        one, data, shape, group, mesh, lines, colors, materials, at, off: triple(one.off || [0, 0, 0]), home: shape.box.clone().translate(at), paper: one.paper,
        turner, hidden: false, inside: null, moves: true,
      };
      group.position.copy(at);
      mesh.userData = { body, shape };
      if (one.lying) this.lay(body, line);
      turner.bodies.push(body);
      this.bodies.push(body);
    }

    // A piece of a sheet or board: it lies there as a plain blank, and has its own shape once it is on its way to its place.
    lay(body, line) {
      const { lying } = body.one, shape = Turning.shape(lying.shape);
      const blank = new THREE.Mesh(shape.faces, body.materials), lines = new THREE.LineSegments(shape.lines, body.lines.material);
      blank.userData = { body, shape };
      for (const one of [blank, lines]) one.position.copy(triple(lying.about));
      body.group.add(blank, lines);
      body.lying = { blank, lines, turn: turned(lying.axes), middle: triple(lying.at), about: triple(lying.about) };
      this.laid = true;
    }

    // How far a piece has come from where it is cut to where it stands.
    bring(body, share) {
      const { blank, lines, turn, middle, about } = body.lying, way = turn.clone().slerp(new THREE.Quaternion(), share);
      const place = body.at.clone().add(about).lerp(middle, 1 - share);
      place.addScaledVector(triple(this.turning.up), Math.sin(share * Math.PI) * this.size * 0.12);
      body.group.quaternion.copy(way);
      body.group.position.copy(place).sub(about.clone().applyQuaternion(way));
      const cut = share < 0.5;
      blank.visible = lines.visible = cut;
      body.mesh.visible = body.lines.visible = !cut;
    }

    // The box about all bodies, each in its place.
    reach() {
      if (!this.box) {
        this.box = new THREE.Box3();
        for (const body of this.bodies) this.box.union(body.home);
      }
      return this.box;
    }

    extent() { return this.reach().getSize(new THREE.Vector3()).length() || 1; }

    // What of the view's plane, in mm of the piece, all bodies and marks take as they now stand. `toward`: how far the picture goes from sheets and boards
    // to the piece.
    fit(toward = 0) {
      this.place();
      this.scene.updateMatrixWorld(true);
      const seen = this.bodies.filter((body) => !body.hidden);
      this.home = this.framed(seen) || this.home;
      if (!this.laid || !toward) return;
      const piece = this.framed(seen.filter((body) => body.data.number && !(body.lying && !body.come)));
      for (const name of Object.keys(piece || {})) this.home[name] += (piece[name] - this.home[name]) * toward;
    }

    // Turned, the bodies may take more room than as drawn: the picture goes as far back as they want, and no further while it turns.
    follow() {
      if (this.laid || !(this.around || this.over)) return;
      const { home } = this;
      let [left, right, low, high] = [home.x - home.wide / 2, home.x + home.wide / 2, home.y - home.tall / 2, home.y + home.tall / 2];
      for (const turner of this.turners) {
        const way = turner.inner.matrixWorld.elements, points = this.ends(turner);
        for (let i = 0; i < points.length; i += 3) {
          const x = way[0] * points[i] + way[4] * points[i + 1] + way[8] * points[i + 2] + way[12];
          const y = way[1] * points[i] + way[5] * points[i + 1] + way[9] * points[i + 2] + way[13];
          if (x < left) left = x; else if (x > right) right = x;
          if (y < low) low = y; else if (y > high) high = y;
        }
      }
      Object.assign(home, { x: (left + right) / 2, y: (low + high) / 2, wide: right - left, tall: high - low });
    }

    // The corners of all bodies' boxes as they now stand, in the turner's own frame: x, y and z in turn.
    ends(turner) {
      if (turner.ends) return turner.ends;
      const found = [], corner = new THREE.Vector3();
      for (const body of turner.bodies) {
        if (body.hidden) continue;
        const { min, max } = body.shape.box;
        body.group.updateMatrix();
        for (let i = 0; i < 8; i += 1) found.push(...corner.set(i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z).applyMatrix4(body.group.matrix).toArray());
      }
      turner.ends = Float32Array.from(found);
      return turner.ends;
    }

    framed(bodies) {
      const box = new THREE.Box3(), corner = new THREE.Vector3();
      for (const body of bodies) {
        const { min, max } = body.shape.box;
        for (let i = 0; i < 8; i += 1) box.expandByPoint(corner.set(i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z).applyMatrix4(body.group.matrixWorld));
      }
      for (const mark of this.marks.children) box.expandByObject(mark);
      if (box.isEmpty()) return null;
      const size = box.getSize(new THREE.Vector3()), middle = box.getCenter(new THREE.Vector3());
      return { x: middle.x, y: middle.y, wide: size.x || 1, tall: size.y || 1, deep: size.length() + this.size };
    }

    place() {
      for (const turner of this.turners) {
        const pitch = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, turner.pitch + this.over));
        turner.outer.quaternion.setFromAxisAngle(right(), pitch).multiply(new THREE.Quaternion().setFromAxisAngle(up(), this.around)).multiply(turner.level);
      }
    }

    turn(across, up) {
      const pitch = this.turners[0].pitch;
      this.around += across;
      this.over = Math.max(-Math.PI / 2 - pitch, Math.min(Math.PI / 2 - pitch, this.over + up));
    }

    nearer(factor) { this.zoom = Math.max(0.6, Math.min(12, this.zoom * factor)); }

    again() { this.around = this.over = 0; this.zoom = 1; this.pan.set(0, 0); this.home = null; }

    draw(canvas, wide, high) {
      const stage = Turning.renderer();
      if (!stage || !wide || !high) return;
      if (!this.home) this.fit();
      this.place();
      this.scene.updateMatrixWorld(true);
      this.follow();
      const aspect = wide / high, tall = (Math.max(this.home.tall, this.home.wide / aspect) * 1.12) / this.zoom;
      const x = this.home.x + this.pan.x, y = this.home.y + this.pan.y, half = (tall * aspect) / 2;
      Object.assign(this.camera, { left: x - half, right: x + half, top: y + tall / 2, bottom: y - tall / 2, near: 1, far: this.home.deep * 8 });
      this.camera.position.set(0, 0, this.home.deep * 4);
      this.camera.updateProjectionMatrix();
      this.planes.forEach((plane) => plane.plane.copy(plane.own).applyMatrix4(this.turners[0].inner.matrixWorld));
      // Setting the size clears and makes anew all that is drawn on.
      const now = stage.getSize(new THREE.Vector2());
      if (now.x !== wide || now.y !== high) stage.setSize(wide, high, false);
      if (this.busy || this.planes.length) this.rest.off(); else this.rest.on(this.moving);
      this.busy = this.moving = false;
      stage.render(this.scene, this.camera);
      canvas.dataset.frame = [this.camera.left, this.camera.right, this.camera.bottom, this.camera.top].map((value) => value.toFixed(3)).join(' ');
    }

    // The body and the triangle at a place of the canvas, from -1 to 1 either way.
    hit(x, y) {
      const ray = Turning.ray(x, y, this.camera);
      const meshes = this.bodies.filter((body) => !body.hidden).map((body) => (body.lying && body.lying.blank.visible ? body.lying.blank : body.mesh));
      const kept = (one) => this.planes.every((plane) => plane.plane.distanceToPoint(one.point) >= 0);
      return ray.intersectObjects(meshes, false).find(kept) || null;
    }

    // The name of what is driven at that place, and how far off it is.
    mark(x, y) {
      const ray = Turning.ray(x, y, this.camera);
      const found = ray.intersectObjects(this.marks.children, true).find((one) => one.object.parent.userData.name);
      return found ? { name: found.object.parent.userData.name, distance: found.distance } : null;
    }

    pick(body) {
      this.changed();
      if (this.picked) this.picked.materials.forEach((one, place) => one.color.set(this.picked.colors[place]));
      this.picked = body;
      if (body) body.materials.forEach((one) => one.color.set(LOOK.picked));
    }

    // The surface that was tapped, laid over its body; none without a triangle.
    touch(body, triangle, shape = body && body.shape) {
      if (this.touched) { this.touched.removeFromParent(); this.touched.geometry.dispose(); this.touched.material.dispose(); this.touched = null; }
      if (!body || triangle === undefined) return;
      let start = 0, count = 0;
      for (const [triangles] of shape.surfaces) {
        count = triangles;
        if (triangle < start + triangles) break;
        start += triangles;
      }
      const { array } = shape.faces.getAttribute('position'), corners = shape.faces.index.array.slice(start * 3, (start + count) * 3);
      const places = new Float32Array(corners.length * 3), surface = new THREE.BufferGeometry();
      corners.forEach((corner, place) => places.set(array.subarray(corner * 3, corner * 3 + 3), place * 3));
      surface.setAttribute('position', new THREE.BufferAttribute(places, 3));
      const material = new THREE.MeshBasicMaterial({ color: LOOK.accent, transparent: true, opacity: 0.4, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1 });
      material.clippingPlanes = this.planes.map((one) => one.plane);
      this.touched = new THREE.Mesh(surface, material);
      if (shape !== body.shape) this.touched.position.copy(body.lying.about);
      this.touched.raycast = () => {};
      this.touched.userData.own = true;
      body.group.add(this.touched);
    }

    hide(body, hidden) {
      this.changed();
      body.hidden = hidden;
      body.group.visible = !hidden;
    }

    // All nearer than a level along an axis of the piece is cut away; what is cut through shows in the colour of end grain.
    cut(axis, level) {
      const normal = [0, 0, 0];
      // The picture is first seen from the front right and above: that is the side that goes.
      normal[axis] = axis === 1 ? 1 : -1;
      const own = axis === null ? null : new THREE.Plane(triple(normal), axis === 1 ? -level : level);
      this.changed();
      this.planes = own ? [{ own, plane: own.clone() }] : [];
      const planes = this.planes.map((one) => one.plane);
      for (const body of this.bodies) {
        for (const material of [...body.materials, body.lines.material]) material.clippingPlanes = planes;
        if (own && !body.inside) {
          const material = new THREE.MeshBasicMaterial({ color: LOOK.cut, side: THREE.BackSide });
          body.inside = new THREE.Mesh(body.shape.faces, material);
          body.group.add(body.inside);
        }
        if (body.inside) { body.inside.material.clippingPlanes = planes; body.inside.visible = Boolean(own); }
      }
    }

    away() {
      this.scene.traverse((one) => {
        for (const material of one.material ? [one.material].flat() : []) material.dispose();
        if (one.geometry && one.userData.own) one.geometry.dispose();
      });
    }
  };

  // Marks: what is driven, where clamps press, which way things go. Each looks along z in its own frame.
  const pointing = (group, way) => group.quaternion.setFromUnitVectors(new THREE.Vector3(0, 0, 1), way);
  const bar = (radius, from, to, tip = radius) => new THREE.CylinderGeometry(tip, radius, to - from, SIDES).rotateX(Math.PI / 2).translate(0, 0, (from + to) / 2);
  // The bars of a mark are one body: each by itself would be told to the graphics chip in every picture.
  const mark = (way, color, bars) => {
    const shape = new THREE.BufferGeometry(), index = [];
    let corners = 0;
    for (const one of bars) {
      for (const corner of one.index.array) index.push(corner + corners);
      corners += one.getAttribute('position').count;
    }
    for (const name of ['position', 'normal']) {
      const values = new Float32Array(corners * 3);
      let at = 0;
      for (const one of bars) { values.set(one.getAttribute(name).array, at); at += one.getAttribute(name).array.length; }
      shape.setAttribute(name, new THREE.BufferAttribute(values, 3));
    }
    shape.setIndex(index);
    const mesh = new THREE.Mesh(shape, new THREE.MeshLambertMaterial({ color })), group = new THREE.Group();
    mesh.userData.own = true;
    group.add(mesh);
    pointing(group, way);
    return group;
  };
  Turning.screw = (way, long, thick, head, least) => {
    const radius = Math.max(thick / 2, least), bars = [bar(radius, 0, long - radius * 2), bar(radius, long - radius * 2, long, 0)];
    return mark(way, LOOK.accent, head ? [...bars, bar(radius * 2, 0, radius)] : bars);
  };
  Turning.clamp = (way, size) => mark(way, LOOK.ink, [bar(size * 0.3, -size, 0, 0), bar(size * 0.45, -size * 1.15, -size)]);
  Turning.arrow = (way, size) => {
    const group = mark(way, LOOK.accent, [bar(size * 0.07, 0, size * 0.65), bar(size * 0.2, size * 0.65, size, 0)]);
    group.traverse((one) => { if (one.material) { one.material.depthTest = false; one.material.transparent = true; one.renderOrder = 5; } });
    return group;
  };
})();
