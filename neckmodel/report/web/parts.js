// The parts of a neck as three.js draws them: skins, edges, and the filled faces where a section cuts them.
// parts: as the page holds them. planes: the section's plane while there is one. Gives the groups to draw, the cut faces,
// the groups of each family, and the corners of the box round everything but the stock, mm.
const neckParts = (parts, planes, renderer) => {
  "use strict";
  const CREASE = Math.PI / 7, EDGE = 30, PALE = 0.55;
  const ANGLES = [45, -45, 20, -20, 70, -70];

  const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;

  function shape(part) {
    const whole = new Uint16Array(bytes(part.corners)), corners = new Float32Array(whole.length);
    for (let n = 0; n < whole.length; n++) corners[n] = part.low[n % 3] + part.step[n % 3] * whole[n];
    const triangles = part.wide ? new Uint32Array(bytes(part.triangles)) : new Uint16Array(bytes(part.triangles));
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(corners, 3));
    geometry.setIndex(new THREE.BufferAttribute(triangles, 1));
    return geometry;
  }

  const CUT_VERTEX = "void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }";
  const CUT_FRAGMENT = `
    uniform vec3 fill, ink;
    uniform vec2 across;
    uniform float pitch;
    void main() {
      float line = fract(dot(gl_FragCoord.xy, across) / pitch);
      gl_FragColor = vec4(line < 0.15 ? ink : fill, 1.0);
    }`;

  const rgb = (text) => [1, 3, 5].map((at) => parseInt(text.slice(at, at + 2), 16) / 255);
  const cutFace = (colour) => rgb(colour).map((value) => value + (1 - value) * PALE);

  function skin(part, geometry) {
    const material = new THREE.MeshLambertMaterial({
      color: part.colour, clippingPlanes: planes, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
    });
    return new THREE.Mesh(THREE.toCreasedNormals(geometry, CREASE), material);
  }

  // A closed skin shows as many of its faces from behind as from in front, except where the section has opened it: the
  // stencil counts both, and the section's plane is filled where they differ.
  const sheet = new THREE.PlaneGeometry(6000, 6000);
  function cutFaces(part, geometry, number) {
    const count = (side, step) => {
      const material = new THREE.MeshBasicMaterial({
        side, clippingPlanes: planes, colorWrite: false, depthWrite: false, depthTest: false, stencilWrite: true,
        stencilFunc: THREE.AlwaysStencilFunc, stencilFail: step, stencilZFail: step, stencilZPass: step,
      });
      return new THREE.Mesh(geometry, material);
    };
    const turn = (ANGLES[number % ANGLES.length] * Math.PI) / 180, none = THREE.ReplaceStencilOp;
    const material = new THREE.ShaderMaterial({
      side: THREE.DoubleSide, vertexShader: CUT_VERTEX, fragmentShader: CUT_FRAGMENT, stencilWrite: true, stencilRef: 0,
      stencilFunc: THREE.NotEqualStencilFunc, stencilFail: none, stencilZFail: none, stencilZPass: none,
      uniforms: {
        fill: { value: cutFace(part.colour) }, ink: { value: [0.16, 0.12, 0.08] },
        across: { value: [Math.cos(turn), Math.sin(turn)] }, pitch: { value: 7 },
      },
    });
    const face = new THREE.Mesh(sheet, material), cut = new THREE.Group();
    face.onAfterRender = () => renderer.clearStencil();
    cut.add(count(THREE.BackSide, THREE.IncrementWrapStencilOp), count(THREE.FrontSide, THREE.DecrementWrapStencilOp), face);
    cut.children.forEach((mesh, order) => { mesh.renderOrder = 1 + number + order / 4; });
    cut.visible = false;
    cut.userData.face = face;
    return cut;
  }

  const groups = [], cuts = [], families = new Map(), whole = [1, -1].map((sign) => [0, 1, 2].map(() => sign * Infinity));
  parts.forEach((part, number) => {
    const geometry = shape(part), group = new THREE.Group(), cut = cutFaces(part, geometry, number);
    const lines = new THREE.LineBasicMaterial({ color: 0x1d1813, clippingPlanes: planes, transparent: true, opacity: 0.55 });
    group.add(skin(part, geometry), cut, new THREE.LineSegments(new THREE.EdgesGeometry(geometry, EDGE), lines));
    cuts.push(cut);
    groups.push(group);
    if (!families.has(part.family)) families.set(part.family, []);
    families.get(part.family).push(group);
    if (part.stock) return;
    part.low.forEach((low, axis) => {
      whole[0][axis] = Math.min(whole[0][axis], low);
      whole[1][axis] = Math.max(whole[1][axis], low + 65535 * part.step[axis]);
    });
  });
  return { groups, cuts, families, whole };
};
