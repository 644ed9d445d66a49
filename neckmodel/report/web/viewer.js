// The report's view in three dimensions: switches, ways of looking, a section, and the findings' places.
// It talks to three.js through the global THREE of three.min.js, to parts.js, and to nothing outside the page.
(() => {
  "use strict";
  const byId = (id) => document.getElementById(id);
  const all = (selector) => [...document.querySelectorAll(selector)];

  const probe = document.createElement("canvas").getContext("webgl2");
  if (!probe) return; // the page says so, and its drawings remain
  const loser = probe.getExtension("WEBGL_lose_context");
  if (loser) loser.loseContext();

  const data = JSON.parse(byId("view-data").textContent);
  const canvas = byId("scene"), stage = byId("stage");
  byId("view-none").hidden = true;
  byId("view-live").hidden = false;
  const still = matchMedia("(prefers-reduced-motion: reduce)");

  // ---- scene
  const renderer = new THREE.WebGLRenderer({ canvas, antialias: true, stencil: true });
  renderer.setClearColor(0xf6f3ec);
  renderer.localClippingEnabled = true;
  const scene = new THREE.Scene();
  const camera = new THREE.PerspectiveCamera(26, 1, 1, 20000);
  camera.up.set(0, 0, 1);
  const lamp = new THREE.DirectionalLight(0xffffff, 2.0);
  lamp.position.set(-0.35, 0.5, 1);
  camera.add(lamp);
  scene.add(camera, new THREE.AmbientLight(0xffffff, 1.15));
  const controls = new THREE.OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.zoomToCursor = true;
  // the wheel scrolls the page until somebody means the view
  controls.enableZoom = false;
  canvas.addEventListener("focus", () => { controls.enableZoom = true; });
  canvas.addEventListener("blur", () => { controls.enableZoom = false; });
  canvas.addEventListener("pointerdown", () => canvas.focus({ preventScroll: true }), true);

  // ---- parts
  const plane = new THREE.Plane(new THREE.Vector3(1, 0, 0), 0), planes = []; // planes holds it while there is a section
  const { groups, cuts, families, whole } = neckParts(data.parts, planes, renderer);
  scene.add(...groups);
  for (const box of all("[data-family]")) {
    const apply = () => { for (const group of families.get(box.dataset.family)) group.visible = box.checked; draw(); };
    box.addEventListener("change", apply);
    for (const group of families.get(box.dataset.family)) group.visible = box.checked;
  }

  // ---- the mark of a finding's place
  const mark = new THREE.Group(), label = byId("mark"), marked = byId("marked");
  const ball = (radius, colour, order) => {
    const material = new THREE.MeshBasicMaterial({ color: colour, depthTest: false, transparent: true });
    const mesh = new THREE.Mesh(new THREE.SphereGeometry(radius, 24, 16), material);
    mesh.renderOrder = order;
    return mesh;
  };
  mark.add(ball(1.5, 0xffffff, 1000), ball(1, 0xb00020, 1001));
  mark.visible = false;
  scene.add(mark);

  // ---- drawing
  let asked = false;
  function draw() {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      const distance = camera.position.distanceTo(controls.target);
      camera.near = Math.max(1, distance / 40);
      camera.far = distance + 4000;
      camera.updateProjectionMatrix();
      mark.scale.setScalar(camera.position.distanceTo(mark.position) * 0.0045);
      renderer.render(scene, camera);
      placeLabel();
      canvas.dataset.eye = camera.position.toArray().map((value) => value.toFixed(2)).join(" ");
      canvas.dataset.frames = String(Number(canvas.dataset.frames || 0) + 1);
    });
  }

  function placeLabel() {
    label.hidden = !mark.visible;
    if (!mark.visible) return;
    const at = mark.position.clone().project(camera), wide = stage.clientWidth, high = stage.clientHeight;
    const x = ((at.x + 1) / 2) * wide, y = ((1 - at.y) / 2) * high, own = label.offsetWidth, tall = label.offsetHeight;
    const beside = x + 14 + own <= wide; // else above the mark, which must stay in sight
    const left = beside ? x + 14 : Math.min(x - own / 2, wide - own), top = beside ? y - tall / 2 : y - tall - 14;
    label.style.left = `${Math.max(0, left)}px`;
    label.style.top = `${Math.max(0, Math.min(top, high - tall))}px`;
  }

  function resize() {
    const wide = stage.clientWidth, high = stage.clientHeight;
    if (!wide || !high) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio || 1, 2));
    renderer.setSize(wide, high, false);
    camera.aspect = wide / high;
    camera.updateProjectionMatrix();
    for (const cut of cuts) cut.userData.face.material.uniforms.pitch.value = 7 * renderer.getPixelRatio();
    draw();
  }

  // ---- looking
  const middle = whole[0].map((low, axis) => (low + whole[1][axis]) / 2);
  const LOOKS = {
    oblique: [-0.3, -0.72, 0.62], top: [0, -0.001, 1], below: [0, -0.001, -1], minus: [0, -1, 0], plus: [0, 1, 0],
    head: [-1, 0, 0],
  };

  function away(direction) {
    // far enough that every corner of the whole neck's box is seen
    const toward = new THREE.Vector3(...direction).normalize(), right = new THREE.Vector3(0, 0, 1).cross(toward).normalize();
    const up = toward.clone().cross(right), high = Math.tan((camera.fov * Math.PI) / 360), wide = high * camera.aspect;
    let distance = 0;
    for (let corner = 0; corner < 8; corner++) {
      const to = new THREE.Vector3(...[0, 1, 2].map((axis) => whole[(corner >> axis) & 1][axis] - middle[axis]));
      const along = to.dot(toward);
      distance = Math.max(distance, along + Math.abs(to.dot(right)) / wide, along + Math.abs(to.dot(up)) / high);
    }
    return toward.multiplyScalar(distance * 1.06);
  }

  let moving = 0, placed = false;
  function go(target, offset) {
    const from = { target: controls.target.clone(), eye: camera.position.clone() };
    const to = { target, eye: target.clone().add(offset) }, number = ++moving, start = performance.now();
    const time = still.matches || !placed ? 0 : 350;
    placed = true;
    const step = (now) => {
      if (number !== moving) return;
      const part = time ? Math.min((now - start) / time, 1) : 1, eased = part * part * (3 - 2 * part);
      controls.target.lerpVectors(from.target, to.target, eased);
      camera.position.lerpVectors(from.eye, to.eye, eased);
      controls.update();
      draw();
      if (part < 1) requestAnimationFrame(step);
    };
    step(start);
  }
  const look = (name) => go(new THREE.Vector3(...middle), away(LOOKS[name]));

  function zoom(factor) {
    moving++;
    camera.position.sub(controls.target).multiplyScalar(factor).add(controls.target);
    controls.update();
    draw();
  }

  function turn(sideways, upward) {
    moving++;
    const offset = camera.position.clone().sub(controls.target), up = new THREE.Vector3(0, 0, 1);
    offset.applyAxisAngle(up, sideways);
    const tilt = offset.angleTo(up), aim = Math.max(0.001, Math.min(Math.PI - 0.001, tilt - upward));
    const right = up.clone().cross(offset);
    if (right.lengthSq() > 1e-12) offset.applyAxisAngle(right.normalize(), aim - tilt);
    camera.position.copy(controls.target).add(offset);
    controls.update();
    draw();
  }

  function move(sideways, upward) {
    moving++;
    const size = camera.position.distanceTo(controls.target) * 0.06;
    const shift = new THREE.Vector3(sideways * size, upward * size, 0).applyQuaternion(camera.quaternion);
    camera.position.add(shift);
    controls.target.add(shift);
    controls.update();
    draw();
  }

  const STEP = Math.PI / 36;
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const keys = {
      ArrowLeft: () => turn(STEP, 0), ArrowRight: () => turn(-STEP, 0), ArrowUp: () => turn(0, -STEP), ArrowDown: () => turn(0, STEP),
      "+": () => zoom(0.87), "=": () => zoom(0.87), "-": () => zoom(1.15), Home: () => look("oblique"), Escape: clear,
    };
    const shifted = {
      ArrowLeft: () => move(-1, 0), ArrowRight: () => move(1, 0), ArrowUp: () => move(0, 1), ArrowDown: () => move(0, -1),
    };
    const act = (event.shiftKey && shifted[event.key]) || keys[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  controls.addEventListener("start", () => { moving++; });
  controls.addEventListener("change", draw);
  for (const button of all("[data-look]")) button.addEventListener("click", () => look(button.dataset.look));
  for (const button of all("[data-zoom]")) {
    button.addEventListener("click", () => zoom(button.dataset.zoom === "in" ? 0.75 : 1.33));
  }

  // ---- section
  const slider = byId("cut-slider"), number = byId("cut-number"), flip = byId("cut-flip"), says = byId("cut-says");
  const AXES = ["x", "y", "z"], places = { x: 0, y: 0, z: -3 };
  let axis = "none", keep = 1;

  function where(value) {
    if (axis !== "x") return "";
    if (value < 0) return ", behind the nut";
    const passed = data.frets.filter((x) => x <= value + 1e-6).length;
    return passed === 0 ? ", between nut and fret 1" : `, body side of fret ${passed}`;
  }

  function show() {
    const on = axis !== "none";
    byId("cut-place").hidden = !on;
    planes.length = 0;
    if (on) {
      const value = places[axis], at = AXES.indexOf(axis);
      plane.normal.set(...AXES.map((_, k) => (k === at ? keep : 0)));
      plane.constant = -keep * value;
      planes.push(plane);
      slider.value = number.value = String(value);
      const inches = data.unit === "in" ? ` = ${(value / data.mm_per_inch).toFixed(3)} in` : "";
      says.textContent = `${axis} ${value.toFixed(1)} mm${inches}${where(value)}`;
    }
    for (const cut of cuts) {
      cut.visible = on;
      cut.userData.face.quaternion.setFromUnitVectors(new THREE.Vector3(0, 0, 1), plane.normal);
      cut.userData.face.position.copy(plane.normal).multiplyScalar(-plane.constant);
    }
    draw();
  }

  function cutAt(name, value) {
    const at = AXES.indexOf(name);
    axis = name;
    if (at >= 0) {
      const low = Math.floor(whole[0][at]), high = Math.ceil(whole[1][at]);
      for (const input of [slider, number]) { input.min = String(low); input.max = String(high); }
      places[name] = Math.min(Math.max(value === undefined ? places[name] : value, low), high);
      // the side that is taken away is the one the eye is on
      keep = camera.position.getComponent(at) > places[name] ? -1 : 1;
      flip.checked = false;
    }
    for (const radio of all("[name=cut]")) radio.checked = radio.value === name;
    show();
  }
  for (const radio of all("[name=cut]")) radio.addEventListener("change", () => cutAt(radio.value));
  flip.addEventListener("change", () => { keep = -keep; show(); });
  for (const input of [slider, number]) {
    input.addEventListener("input", () => {
      const value = Number(input.value);
      if (input.value === "" || !Number.isFinite(value)) return;
      places[axis] = Math.min(Math.max(value, Number(slider.min)), Number(slider.max));
      if (input === slider) { show(); return; }
      const typed = input.value;
      show();
      input.value = typed; // what is being typed stays as it is
    });
  }

  // ---- from a finding to its place
  function clear() {
    mark.visible = false;
    marked.textContent = "";
    draw();
  }

  function goTo(index) {
    const place = data.places[index], at = new THREE.Vector3(place.x, place.y, place.z);
    const side = place.y > 0.5 ? 1 : -1, rise = place.z >= -1 ? 0.6 : -0.35;
    mark.position.copy(at);
    mark.visible = true;
    AXES.forEach((name) => { places[name] = Math.round(place[name] * 10) / 10; }); // a section now goes through the mark
    if (axis !== "none") cutAt("none");
    label.textContent = place.says;
    marked.textContent = `Marked: ${place.says}, at ${place.where}. `;
    const button = (text, act) => {
      const made = document.createElement("button");
      made.type = "button";
      made.textContent = text;
      made.addEventListener("click", act);
      marked.append(made, " ");
    };
    button("cut across here", () => cutOpen(place));
    button("clear the mark", () => { clear(); canvas.focus({ preventScroll: true }); });
    go(at, new THREE.Vector3(-0.45, 0.75 * side, rise).normalize().multiplyScalar(230));
  }
  // from the head, a little from above: the cut face lies open
  function cutOpen(place) {
    cutAt("x", Math.round(place.x * 10) / 10);
    keep = 1;
    show();
    go(new THREE.Vector3(place.x, 0, -5), new THREE.Vector3(-1, -0.25, 0.3).normalize().multiplyScalar(170));
  }
  for (const link of all("[data-place]")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      byId("view").scrollIntoView({ behavior: still.matches ? "auto" : "smooth", block: "start" });
      canvas.focus({ preventScroll: true });
      goTo(Number(link.dataset.place));
    });
  }

  canvas.addEventListener("webglcontextlost", () => { byId("view-none").hidden = false; });
  canvas.addEventListener("webglcontextrestored", () => { byId("view-none").hidden = true; draw(); });
  new ResizeObserver(resize).observe(stage);
  resize();
  look("oblique");
  canvas.dataset.ready = "true";
})();
