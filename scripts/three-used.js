// What the turning view of the tablet edition uses of three.js. The bundler leaves out the rest.
export {
  BackSide, Box3, BufferAttribute, BufferGeometry, CylinderGeometry, DirectionalLight, Group, HemisphereLight,
  LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial, MeshLambertMaterial, OrthographicCamera, Plane, Quaternion, Raycaster, Scene,
  Vector2, Vector3, WebGLRenderer,
} from 'three';
