// What does not move among itself is drawn at once: while the reader turns the picture, all bodies are one mesh and their edges one set of lines; while parts
// come home, so are those that they come to.
// Told one by one, each body costs the processor of a phone some tenths of a millisecond in every picture.
(() => {
  'use strict';
  const OWN = 1;  // the layer of what is drawn as part of the whole: not seen, yet found by a tap

  Turning.Rest = class {
    constructor(stage) { this.stage = stage; this.off(); }

    // As one, from now until something changes: all of it, or what stays while the rest moves.
    on(moving = false) {
      if (this.how === moving) return;
      this.off();
      this.how = moving;
      for (const turner of this.stage.turners) {
        const faces = [], lines = [];
        for (const body of turner.bodies) {
          if (body.hidden || (moving && body.moves)) continue;
          const blank = body.lying && body.lying.blank.visible, mesh = blank ? body.lying.blank : body.mesh, edges = blank ? body.lying.lines : body.lines;
          faces.push({ mesh, colors: body.materials.map((one) => one.color) });
          lines.push({ mesh: edges, colors: [body.lines.material.color] });
        }
        const flat = { vertexColors: true, flatShading: true, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
        this.make(turner.inner, faces, (shape) => new THREE.Mesh(shape, new THREE.MeshLambertMaterial(flat)));
        this.make(turner.inner, lines, (shape) => new THREE.LineSegments(shape, new THREE.LineBasicMaterial({ vertexColors: true })));
      }
      if (moving) return;
      const bars = [];
      for (const mark of this.stage.marks.children) if (mark.visible) for (const bar of mark.children) if (bar.material.depthTest) bars.push({ mesh: bar, colors: [bar.material.color] });
      this.make(this.stage.marks, bars, (shape) => new THREE.Mesh(shape, new THREE.MeshLambertMaterial({ vertexColors: true })), true);
    }

    // Each by itself again.
    off() {
      for (const one of this.made || []) { one.removeFromParent(); one.geometry.dispose(); one.material.dispose(); }
      for (const one of this.hidden || []) one.layers.set(0);
      this.made = [];
      this.hidden = [];
      this.how = null;
    }

    make(parent, parts, drawn, smooth = false) {
      const count = parts.reduce((sum, { mesh }) => sum + mesh.geometry.index.count, 0);
      if (!count) return;
      const places = new Float32Array(count * 3), shades = new Float32Array(count * 3), ways = smooth && new Float32Array(count * 3);
      const point = new THREE.Vector3();
      let at = 0;
      for (const { mesh, colors } of parts) {
        const { index, attributes, groups } = mesh.geometry, { array } = attributes.position;
        mesh.updateMatrix();
        mesh.parent.updateMatrix();
        const matrix = mesh.parent.matrix.clone().multiply(mesh.matrix);
        const stretches = colors.length > 1 && groups.length ? groups : [{ start: 0, count: index.count, materialIndex: 0 }];
        for (const stretch of stretches) {
          const color = colors[stretch.materialIndex];
          for (let i = stretch.start; i < stretch.start + stretch.count; i += 1) {
            const corner = index.array[i] * 3;
            point.set(array[corner], array[corner + 1], array[corner + 2]).applyMatrix4(matrix).toArray(places, at);
            color.toArray(shades, at);
            if (smooth) point.fromArray(attributes.normal.array, corner).transformDirection(matrix).toArray(ways, at);
            at += 3;
          }
        }
        mesh.layers.set(OWN);
        this.hidden.push(mesh);
      }
      const shape = new THREE.BufferGeometry();
      shape.setAttribute('position', new THREE.BufferAttribute(places.subarray(0, at), 3));
      shape.setAttribute('color', new THREE.BufferAttribute(shades.subarray(0, at), 3));
      if (smooth) shape.setAttribute('normal', new THREE.BufferAttribute(ways.subarray(0, at), 3));
      const one = drawn(shape);
      one.raycast = () => {};
      one.userData.own = true;
      this.made.push(one);
      parent.add(one);
    }
  };

  // A ray that also finds what is drawn as part of the whole.
  Turning.ray = (x, y, camera) => {
    const ray = new THREE.Raycaster();
    ray.setFromCamera(new THREE.Vector2(x, y), camera);
    ray.layers.enable(OWN);
    return ray;
  };
})();
