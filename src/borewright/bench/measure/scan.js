// A scanned key in the round: turned by dragging, and clicked where a point is wanted.
import { THREE, OrbitControls } from "nicegui-scene";
import { width } from "borewright/width.js";

const read = (text, Kind) => new Kind(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);

export default {
  mixins: [width],
  template: `
  <div class="bw-keys" ref="box">
    <div ref="stage" class="bw-keys-stage" role="img" :aria-label="words.about" data-mark="scan"
         @pointerdown="down = [$event.clientX, $event.clientY]" @pointerup="pick"></div>
    <p class="bw-small">{{ words.help }}</p>
  </div>`,
  props: { mesh: Object, points: Array, lines: Array, words: Object },
  mounted() {
    const world = new THREE.Scene(), geometry = new THREE.BufferGeometry();
    world.background = new THREE.Color(0xe9e4d8);
    world.add(new THREE.HemisphereLight(0xffffff, 0x9a8f80, 1.6));
    const sun = new THREE.DirectionalLight(0xffffff, 1.9);
    sun.position.set(-1, 2, 4);
    world.add(sun);
    geometry.setAttribute("position", new THREE.BufferAttribute(read(this.mesh.at, Float32Array), 3));
    geometry.setIndex(new THREE.BufferAttribute(read(this.mesh.of, Uint32Array), 1));
    geometry.computeBoundingSphere();
    this.body = new THREE.Mesh(geometry, new THREE.MeshLambertMaterial({
      color: 0xc9ccd1, flatShading: true, side: THREE.DoubleSide,
    }));
    world.add(this.body);
    this.marks = new THREE.Group();
    world.add(this.marks);
    const { center, radius } = geometry.boundingSphere;
    this.radius = radius;
    this.world = world;
    this.camera = new THREE.PerspectiveCamera(26, 2, radius / 50, radius * 40);
    this.camera.position.copy(center).add(new THREE.Vector3(0, -0.5, 1).setLength(radius * 4.6));
    this.renderer = new THREE.WebGLRenderer({ antialias: true, preserveDrawingBuffer: true });
    this.$refs.stage.append(this.renderer.domElement);
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.target.copy(center);
    this.controls.addEventListener("change", () => this.draw());
    this.controls.update();
    this.size();
    this.mark();
  },
  beforeUnmount() {
    this.controls.dispose();
    this.body.geometry.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  },
  watch: {
    width() {
      this.size();
    },
    points() {
      this.mark();
    },
    lines() {
      this.mark();
    },
  },
  methods: {
    size() {
      const wide = Math.max(this.width, 280), tall = Math.round(Math.min(wide * 0.5, 420));
      this.renderer.setSize(wide, tall);
      this.camera.aspect = wide / tall;
      this.camera.updateProjectionMatrix();
      this.draw();
    },
    draw() {
      this.renderer.render(this.world, this.camera);
    },
    mark() {
      for (const each of [...this.marks.children]) {
        each.geometry.dispose();
        each.material.dispose();
        this.marks.remove(each);
      }
      for (const at of this.points || []) {
        const ball = new THREE.Mesh(new THREE.SphereGeometry(this.radius / 60, 12, 8),
          new THREE.MeshBasicMaterial({ color: 0xd55e00 }));
        ball.position.set(...at);
        this.marks.add(ball);
      }
      for (const line of this.lines || []) {
        const points = line.map((p) => new THREE.Vector3(...p));
        this.marks.add(new THREE.Line(new THREE.BufferGeometry().setFromPoints(points),
          new THREE.LineBasicMaterial({ color: 0x0072b2, depthTest: false })));
      }
      this.draw();
    },
    pick(event) {
      const [x, y] = this.down || [0, 0];
      if (Math.hypot(event.clientX - x, event.clientY - y) > 4) return;
      const box = this.renderer.domElement.getBoundingClientRect();
      const ray = new THREE.Raycaster();
      ray.setFromCamera(new THREE.Vector2((event.clientX - box.left) / box.width * 2 - 1,
        1 - (event.clientY - box.top) / box.height * 2), this.camera);
      const hit = ray.intersectObject(this.body)[0];
      if (hit) this.$emit("picked", { at: hit.point.toArray() });
    },
  },
};
