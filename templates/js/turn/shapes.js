// The bodies of the turning view, read from the data in the page when the reader first asks for them: each shape once.
const Turning = {};
(() => {
  'use strict';
  const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
  const numbers = (text, wide) => { const found = bytes(text).buffer; return wide ? new Uint32Array(found) : new Uint16Array(found); };

  // The library runs when it is first wanted: before that it would hold up the first page that is read.
  Turning.wake = () => {
    const held = document.getElementById('turning-library');
    if (window.THREE || !held) return;
    const script = document.createElement('script');
    script.textContent = held.textContent;
    document.head.append(script);
  };

  let read = null;
  Turning.data = () => {
    if (!read) read = JSON.parse(document.getElementById('turnable').textContent);
    return read;
  };
  // A sample has steps alone, and not the whole piece.
  Turning.drawings = () => new Map([Turning.data().whole, ...Turning.data().steps].filter(Boolean).map((one) => [one.drawing, one]));

  // How a leaning part turns from upright, and the box about it as it is made: its six faces are those of that box.
  const upright = (faces, lean) => {
    if (!lean) return { lean: null, own: faces.boundingBox };
    const turn = new THREE.Matrix4().set(...lean[0], 0, ...lean[1], 0, ...lean[2], 0, 0, 0, 0, 1), back = turn.clone().invert();
    const { array } = faces.getAttribute('position'), own = new THREE.Box3(), point = new THREE.Vector3();
    for (let i = 0; i < array.length; i += 3) own.expandByPoint(point.fromArray(array, i).applyMatrix4(back));
    return { lean: turn, own };
  };

  const made = new Map();
  // A shape in its own frame: its faces, its edges, the box about it, and what each stretch of triangles is.
  Turning.shape = (number) => {
    if (made.has(number)) return made.get(number);
    const [low, grain, points, corners, edges, lean, surfaces] = Turning.data().shapes[number];
    const steps = new Uint16Array(bytes(points).buffer), places = new Float32Array(steps.length);
    for (let i = 0; i < steps.length; i += 1) places[i] = low[i % 3] + steps[i] * grain[i % 3];
    const wide = steps.length / 3 > 65536, position = new THREE.BufferAttribute(places, 3);
    const faces = new THREE.BufferGeometry(), lines = new THREE.BufferGeometry();
    faces.setAttribute('position', position);
    faces.setIndex(new THREE.BufferAttribute(numbers(corners, wide), 1));
    lines.setAttribute('position', position);
    lines.setIndex(new THREE.BufferAttribute(numbers(edges, wide), 1));
    let start = 0;
    for (const [triangles, , fresh] of surfaces) {
      const last = faces.groups[faces.groups.length - 1];
      if (last && last.materialIndex === fresh) last.count += triangles * 3; else faces.addGroup(start * 3, triangles * 3, fresh);
      start += triangles;
    }
    faces.computeBoundingBox();
    const shape = { faces, lines, surfaces, box: faces.boundingBox, ...upright(faces, lean) };
    made.set(number, shape);
    return shape;
  };

  // What a triangle of a body belongs to, in words: “Front edge”, “Dado”; nothing where it has no name.
  Turning.surfaceName = (shape, body, triangle) => {
    let left = triangle;
    for (const [triangles, code] of shape.surfaces) {
      if (left >= triangles) { left -= triangles; continue; }
      if (code < 6) return body.faces ? body.faces[code] : '';
      return code > 6 ? Turning.data().cuts[code - 7] : '';
    }
    return '';
  };
  Turning.bodyName = (body) => (body.number ? `${body.number} ${body.name}` : body.name);
})();
