// The piece as a turning view that comes apart. x runs right, y back, z up, in millimetres.
import * as THREE from 'three';
import { OrbitControls } from 'orbit';

export const start = (place, slider, onPick) => {
  const renderer = new THREE.WebGLRenderer({ antialias: true, alpha: true });
  renderer.setPixelRatio(window.devicePixelRatio);
  place.append(renderer.domElement);
  const scene = new THREE.Scene();
  const camera = new THREE.PerspectiveCamera(32, 1, 1, 100000);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, renderer.domElement);
  scene.add(new THREE.HemisphereLight(0xffffff, 0xb0a690, 2.2));
  const sun = new THREE.DirectionalLight(0xffffff, 1.9);
  scene.add(sun, sun.target);
  const piece = new THREE.Group();
  scene.add(piece);
  let picked = null, first = true;

  const draw = () => { sun.position.copy(camera.position); sun.target.position.copy(controls.target); renderer.render(scene, camera); };
  controls.addEventListener('change', draw);

  const fit = () => {
    const { clientWidth: wide, clientHeight: high } = place;
    if (!wide || !high) return;
    renderer.setSize(wide, high, false);
    renderer.domElement.style.width = '100%';
    renderer.domElement.style.height = '100%';
    camera.aspect = wide / high;
    camera.updateProjectionMatrix();
    comeApart();
  };
  new ResizeObserver(fit).observe(place);

  // From where it is first seen: as on the cover, where there is one
  const TOWARD = new THREE.Vector3(0.62, -1.45, 0.75).normalize();
  // What the camera must take in with the piece so far apart: the corners of every body's box, and the middle of them all
  const spread = (share) => {
    const corners = [], all = new THREE.Box3();
    for (const group of piece.children) {
      const offset = new THREE.Vector3().fromArray(group.userData.offset).multiplyScalar(share);
      const box = group.userData.box.clone().translate(offset);
      all.union(box);
      for (const x of [box.min.x, box.max.x]) for (const y of [box.min.y, box.max.y]) for (const z of [box.min.z, box.max.z]) corners.push(new THREE.Vector3(x, y, z));
    }
    return { corners, middle: all.getCenter(new THREE.Vector3()), size: all.getSize(new THREE.Vector3()).length() || 1 };
  };
  const farEnough = ({ corners, middle }) => {
    const right = new THREE.Vector3().crossVectors(camera.up, TOWARD).normalize();
    const up = new THREE.Vector3().crossVectors(TOWARD, right);
    const high = Math.tan(THREE.MathUtils.degToRad(camera.fov / 2)) * 0.92, wide = high * camera.aspect;
    return Math.max(1, ...corners.map((corner) => {
      const off = corner.clone().sub(middle);
      return off.dot(TOWARD) + Math.max(Math.abs(off.dot(right)) / wide, Math.abs(off.dot(up)) / high);
    }));
  };
  let fitted = null;  // what the camera was last fitted to: it steps back as the piece comes apart
  const comeApart = () => {
    const share = slider.value / 100;
    for (const group of piece.children) group.position.fromArray(group.userData.offset).multiplyScalar(share);
    place.dataset.apart = slider.value;
    if (fitted && piece.children.length) {
      const now = spread(share), far = farEnough(now);
      const arm = camera.position.clone().sub(controls.target).multiplyScalar(far / fitted.far);
      controls.target.add(now.middle).sub(fitted.middle);
      camera.position.copy(controls.target).add(arm);
      fitted = { middle: now.middle, far };
      controls.update();
    }
    draw();
  };
  slider.addEventListener('input', comeApart);

  const build = (body) => {
    const shape = new THREE.BufferGeometry();
    shape.setAttribute('position', new THREE.Float32BufferAttribute(body.points, 3));
    shape.setIndex(body.corners);
    const flat = shape.toNonIndexed();
    flat.computeVertexNormals();
    const mesh = new THREE.Mesh(flat, new THREE.MeshStandardMaterial({ color: body.tint, roughness: 0.85, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    const lines = new THREE.BufferGeometry();
    lines.setAttribute('position', new THREE.Float32BufferAttribute(body.edges, 3));
    const group = new THREE.Group();
    group.add(mesh, new THREE.LineSegments(lines, new THREE.LineBasicMaterial({ color: 0x3a3126 })));
    shape.computeBoundingBox();
    group.userData = { ...body, box: shape.boundingBox.clone() };
    shape.dispose();
    return group;
  };
  const clear = () => {
    piece.traverse((one) => { one.geometry?.dispose(); one.material?.dispose(); });
    piece.clear();
    picked = null;
  };
  const lookAt = () => {
    const whole = spread(0), far = farEnough(whole);
    controls.target.copy(whole.middle);
    camera.position.copy(whole.middle).addScaledVector(TOWARD, far);
    camera.near = whole.size / 100;
    camera.far = whole.size * 20;
    fitted = { middle: whole.middle, far };
    camera.updateProjectionMatrix();
    controls.update();
  };

  // A click on a part picks it; a drag turns the view
  let down = null;
  renderer.domElement.addEventListener('pointerdown', (event) => { down = [event.clientX, event.clientY]; });
  renderer.domElement.addEventListener('pointerup', (event) => {
    if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 5) return;
    const box = renderer.domElement.getBoundingClientRect();
    const point = new THREE.Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new THREE.Raycaster();
    ray.setFromCamera(point, camera);
    const hit = ray.intersectObjects(piece.children, true).find((one) => one.object.isMesh);
    pick(hit ? hit.object.parent : null);
  });
  const pick = (group) => {
    if (picked) picked.children[0].material.emissive.set(0x000000);
    picked = group;
    if (group) {
      group.children[0].material.emissive.set(0x7a3208);
      place.dataset.picked = group.userData.id;
      onPick(group.userData);
    }
    draw();
  };

  // Keys: arrows turn, plus and minus come nearer and go further, n goes from part to part
  const turn = (across, up) => {
    const around = new THREE.Spherical(), arm = camera.position.clone().sub(controls.target);
    const level = new THREE.Quaternion().setFromUnitVectors(camera.up, new THREE.Vector3(0, 1, 0));
    around.setFromVector3(arm.applyQuaternion(level));
    around.theta += across;
    around.phi = Math.min(Math.PI - 0.05, Math.max(0.05, around.phi + up));
    arm.setFromSpherical(around).applyQuaternion(level.invert());
    camera.position.copy(controls.target).add(arm);
    controls.update();
    draw();
  };
  const nearer = (factor) => { camera.position.sub(controls.target).multiplyScalar(factor).add(controls.target); controls.update(); draw(); };
  place.addEventListener('keydown', (event) => {
    const keys = {
      ArrowLeft: () => turn(0.12, 0), ArrowRight: () => turn(-0.12, 0), ArrowUp: () => turn(0, -0.1), ArrowDown: () => turn(0, 0.1),
      '+': () => nearer(0.85), '-': () => nearer(1 / 0.85),
      n: () => pick(piece.children[(piece.children.indexOf(picked) + 1) % piece.children.length]),
    };
    if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    keys[event.key]();
  });

  const renew = async () => {
    const { bodies, toward } = await fetch('shapes').then((got) => got.json());
    if (first && toward) TOWARD.fromArray(toward).normalize();
    clear();
    for (const body of bodies) piece.add(build(body));
    place.dataset.bodies = String(bodies.length);
    fit();
    if (first && bodies.length) { lookAt(); first = false; }
    comeApart();
  };
  return { renew };
};
