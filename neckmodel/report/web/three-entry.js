// What the report's view uses of three.js, and nothing more. How three.min.js is made from it: VIEWER.txt.
export {
  AlwaysStencilFunc, AmbientLight, BackSide, BufferAttribute, BufferGeometry, DecrementWrapStencilOp, DirectionalLight,
  DoubleSide, EdgesGeometry, FrontSide, Group, IncrementWrapStencilOp, LineBasicMaterial, LineSegments, Mesh,
  MeshBasicMaterial, MeshLambertMaterial, NotEqualStencilFunc, PerspectiveCamera, Plane, PlaneGeometry,
  ReplaceStencilOp, Scene, ShaderMaterial, SphereGeometry, Vector3, WebGLRenderer,
} from "three";
export { OrbitControls } from "three/addons/controls/OrbitControls.js";
export { toCreasedNormals } from "three/addons/utils/BufferGeometryUtils.js";
