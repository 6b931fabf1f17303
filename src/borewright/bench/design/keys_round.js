// Keys in the round. The server says once how everything looks and moves; swings, fingerings and
// sections are then turned here, without asking it.
import { THREE, OrbitControls } from "nicegui-scene";
import { fixed } from "borewright/figures.js";
import { width } from "borewright/width.js";
const COLOURS = {
  metal: 0xc9ccd1, steel: 0x8b9199, pad: 0xe8dcc4, body: 0x6b4a30, chimney: 0x5a3d27,
  chosen: 0x0072b2, open: 0xf6f2e8, shut: 0x191512, finger: 0xd99a76,
};
// Points of the drawing a point of the screen: many when still, fewer where movement would falter.
const STILL = 2, MOVING = [1, 0.7, 0.5, 0.35], SLOW_MS = 27, EASY_FPS = 50;
const SWING_S = 1.6, NOTE_S = 1.1, MOVE_S = 0.22;

// Light is laid on once, triangle by triangle: a browser without a graphics card then has nothing
// to work out at each point of the drawing. A key turns too little for its shades to look wrong.
const SUN = new THREE.Vector3(-120, 220, 400).normalize(), GROUND = 0.32;

function shade(normal) {
  const sky = 0.5 + 0.5 * normal.y;
  return (1.6 * (GROUND + (1 - GROUND) * sky) + 1.9 * Math.max(normal.dot(SUN), 0)) / Math.PI;
}

/** Corners of all triangles of some meshes, one after another, and each one's shade. */
function lit(meshes) {
  const read = (text, Kind) => new Kind(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);
  const all = meshes.map((data) => [read(data.at, Float32Array), read(data.of, Uint32Array)]);
  const count = all.reduce((sum, [, index]) => sum + index.length, 0);
  const at = new Float32Array(3 * count), shades = new Float32Array(count), starts = [0];
  const [a, b, c] = [1, 2, 3].map(() => new THREE.Vector3());
  let n = 0;
  for (const [points, index] of all) {
    for (let i = 0; i < index.length; i += 3, n += 3) {
      [a, b, c].forEach((corner, k) => {
        corner.fromArray(points, 3 * index[i + k]);
        corner.toArray(at, 3 * (n + k));
      });
      b.sub(a);
      c.sub(a);
      shades.fill(shade(b.cross(c).normalize()), n, n + 3);
    }
    starts.push(n);
  }
  return { at, shades, starts };
}

/** One mesh of several, each of a colour; `paint` changes them. */
function mesh(meshes, colours) {
  const { at, shades, starts } = lit(meshes), geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(at, 3));
  geometry.setAttribute("color", new THREE.BufferAttribute(new Float32Array(at.length), 3));
  const made = new THREE.Mesh(geometry, new THREE.MeshBasicMaterial({ vertexColors: true }));
  made.userData.paint = (wanted) => {
    const attribute = geometry.attributes.color, colour = new THREE.Color();
    wanted.forEach((each, k) => {
      colour.set(each);
      for (let i = starts[k]; i < starts[k + 1]; i += 1) {
        attribute.array[3 * i] = colour.r * shades[i];
        attribute.array[3 * i + 1] = colour.g * shades[i];
        attribute.array[3 * i + 2] = colour.b * shades[i];
      }
    });
    attribute.needsUpdate = true;
    made.userData.colours = wanted;
  };
  made.userData.paint(colours);
  return made;
}

function look(table, share) {
  const at = Math.min(Math.max(share, 0), 1) * (table.length - 1);
  const i = Math.min(Math.floor(at), table.length - 2);
  return table[i] + (at - i) * (table[i + 1] - table[i]);
}

export default {
  mixins: [width],
  template: `
  <div class="bw-keys" ref="box" :data-fps="fps" :data-frames="frames"
       :data-cost="cost" :data-draws="draws" :data-calls="calls" :data-triangles="triangles"
       :data-fineness="fineness">
    <div class="bw-row bw-keys-row">
      <label>{{ words.key }}
        <select v-model="key" data-mark="key"><option v-for="k in scene.keys" :key="k.name">{{
          k.name }}</option></select></label>
      <label class="bw-grow">{{ words.swing }}
        <input type="range" min="0" max="100" step="1" :value="100 * (shares[key] || 0)"
               data-mark="swing" @input="byHand($event.target.value / 100)"></label>
      <button type="button" class="bw-button" data-mark="swing-key" @click="swing">{{
        words.swing_once }}</button>
      <label>{{ words.fingering }}
        <select v-model="fingering" data-mark="play-fingering" @change="finger">
          <option value="">{{ words.none }}</option>
          <option v-for="name in names" :key="name">{{ name }}</option></select></label>
      <button type="button" class="bw-button" data-mark="play-all" @click="playAll">{{
        playing ? words.stop : words.play_all }}</button>
    </div>
    <div ref="stage" class="bw-keys-stage" role="img" :aria-label="words.scene"
         @pointerdown="down = [$event.clientX, $event.clientY]" @pointerup="pick"></div>
    <div class="bw-row">
      <svg v-if="cut" class="bw-keys-cut" :viewBox="cut.box" role="img" data-mark="pad-section"
           :aria-label="words.section + ' ' + cut.hole">
        <g transform="scale(1 -1)">
          <path :d="cut.body" fill-rule="evenodd" class="bw-cut-body"/>
          <polygon v-for="(p, i) in cut.still" :key="'s' + i" :points="p.points"
                   :class="'bw-cut-' + p.stuff"/>
          <g :transform="'rotate(' + cutTurn + ' ' + cut.hinge + ')'" data-mark="turning">
            <polygon v-for="(p, i) in cut.moving" :key="i" :points="p.points"
                     :class="'bw-cut-' + p.stuff"/></g>
        </g></svg>
      <div class="bw-grow">
        <p class="bw-reading" aria-live="polite" data-mark="keys-reading">{{ reading }}</p>
        <p v-for="fact in facts" :key="fact" class="bw-small">{{ fact }}</p>
      </div>
    </div>
  </div>`,
  props: { scene: Object, words: Object },
  data() {
    return {
      key: this.scene.keys[0].name, fingering: "", shares: {}, covered: [], playing: false, fps: 0,
      frames: 0, cost: 0, draws: 0, calls: 0, triangles: 0, fineness: STILL, angles: {},
    };
  },
  computed: {
    names() {
      return Object.keys(this.scene.fingerings);
    },
    facts() {
      return this.scene.keys.find((k) => k.name === this.key).facts;
    },
    cut() {
      const s = this.scene.sections.find((each) => each.key === this.key);
      if (!s) return null;
      const text = (points) => points.map((p) => p.join(",")).join(" ");
      const cuts = (turns) => s.cuts.filter((c) => c.turns === turns)
        .map((c) => ({ stuff: c.stuff, points: text(c.outline) }));
      return {
        hole: s.hole, hinge: s.hinge.join(" "), still: cuts(false), moving: cuts(true),
        body: s.body.map((line) => `M${text(line)}Z`).join(""),
        box: `${s.low[0]} ${-s.high[1]} ${s.high[0] - s.low[0]} ${s.high[1] - s.low[1]}`,
        open_deg: s.open_deg, name: s.hole,
      };
    },
    cutTurn() {
      const k = this.scene.keys.find((each) => each.name === this.key);
      const angle = this.angles[this.key] ?? k.rest_deg;
      return (angle / k.open_deg * this.cut.open_deg).toFixed(3);
    },
    reading() {
      const k = this.scene.keys.find((each) => each.name === this.key);
      const angle = this.angles[this.key] ?? k.rest_deg;
      const lift = this.cut && this.scene.lifts[this.cut.hole];
      const at = lift ? ` ${this.words.lift} ${fixed(look(lift, angle / k.open_deg), 2)} mm.` : "";
      const open = this.scene.holes.filter((h) => this.isOpen(h)).map((h) => h.name).join(" ");
      return `${this.key}: ${fixed(Math.abs(angle), 1)}°.${at} ${this.words.open}: `
        + `${open || this.words.none}`;
    },
  },
  watch: {
    key() {
      this.paint();
    },
    width() {
      this.size();
    },
  },
  mounted() {
    this.build();
    this.size();
    this.settle();
  },
  beforeUnmount() {
    cancelAnimationFrame(this.next);
    clearTimeout(this.later);
    this.world.traverse((each) => {
      each.geometry?.dispose();
      each.material?.dispose();
    });
    this.controls.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  },
  methods: {
    build() {
      const s = this.scene, world = new THREE.Scene();
      world.background = new THREE.Color(0xe9e4d8);
      const still = [[s.body, COLOURS.body], [s.fixed, COLOURS.steel]];
      if (s.chimneys) still.push([s.chimneys, COLOURS.chimney]);
      world.add(mesh(still.map((each) => each[0]), still.map((each) => each[1])));
      this.faces = mesh(s.holes.map((hole) => hole.face), s.holes.map(() => COLOURS.shut));
      world.add(this.faces);
      this.groups = {};
      this.at = {};
      this.coarse = 0;
      this.drawn = 0;
      for (const key of s.keys) {
        const group = new THREE.Group();
        group.matrixAutoUpdate = false;
        group.userData.key = key.name;
        const stuffs = Object.keys(key.turning);
        const part = mesh(Object.values(key.turning), stuffs.map((stuff) => COLOURS[stuff]));
        part.userData.stuffs = stuffs;
        group.add(part);
        world.add(group);
        this.groups[key.name] = group;
      }
      // Not to be watched by the page: three's own objects are compared by identity.
      this.world = world;
      this.camera = new THREE.PerspectiveCamera(26, 2.4, 5, 4000);
      this.camera.position.set(s.middle, 160, 620);
      this.camera.up.set(0, 1, 0);
      this.renderer = new THREE.WebGLRenderer({ antialias: false });
      this.$refs.stage.append(this.renderer.domElement);
      this.controls = new OrbitControls(this.camera, this.renderer.domElement);
      this.controls.target.set(s.middle, 0, 0);
      this.controls.addEventListener("change", () => this.draw());
      this.controls.update();
      this.paint();
    },
    size() {
      this.renderer.setPixelRatio(STILL);
      const wide = Math.max(this.width, 280), tall = Math.round(Math.min(wide * 0.4, 420));
      this.renderer.setSize(wide, tall);
      this.camera.aspect = wide / tall;
      // The joints with keys just fit in.
      const far = this.scene.span * 1.06 / 2 / Math.tan(13 * Math.PI / 180) / this.camera.aspect;
      const off = this.camera.position.clone().sub(this.controls.target).setLength(far);
      this.camera.position.copy(this.controls.target).add(off);
      this.camera.updateProjectionMatrix();
      this.controls.update();
      this.draw();
    },
    paint() {
      for (const [name, group] of Object.entries(this.groups)) {
        const [part] = group.children, { stuffs, colours, paint } = part.userData;
        const wanted = stuffs.map((stuff) =>
          (name === this.key && stuff === "metal" ? COLOURS.chosen : COLOURS[stuff]));
        if (wanted.some((colour, i) => colour !== colours[i])) paint(wanted);
      }
      this.draw();
    },
    isOpen(hole, angles = this.angles) {
      if (!hole.pad) return !this.covered.includes(hole.name);
      const k = this.scene.keys.find((each) => each.name === hole.key);
      const angle = angles[hole.key] ?? k.rest_deg;
      return look(this.scene.lifts[hole.name], angle / k.open_deg) > this.scene.opens;
    },
    /** Stands every key where the pressed ones bring it: each follows what moves it furthest. */
    settle(said = true) {
      const angles = {}, turn = new THREE.Matrix4(), there = new THREE.Matrix4();
      for (const key of this.scene.keys) {
        let off = 0;
        for (const [pressed, share] of Object.entries(this.at)) {
          const way = share > 0 && this.scene.ways[pressed]?.[key.name];
          const moved = way ? look(way, share) : 0;
          if (Math.abs(moved) > Math.abs(off)) off = moved;
        }
        angles[key.name] = key.rest_deg + off;
        const axis = new THREE.Vector3(...key.axis);
        turn.makeRotationAxis(axis, (key.rest_deg + off) * Math.PI / 180);
        there.makeTranslation(-key.origin[0], -key.origin[1], -key.origin[2]);
        this.groups[key.name].matrix.makeTranslation(...key.origin).multiply(turn).multiply(there);
      }
      // Words and section follow every third frame: the page has other things to do.
      if (said) {
        this.angles = angles;
        this.shares = { ...this.at };
      }
      const wanted = this.scene.holes.map((hole) => {
        const shut = this.covered.includes(hole.name) ? COLOURS.finger : COLOURS.shut;
        return this.isOpen(hole, angles) ? COLOURS.open : shut;
      });
      const { colours, paint } = this.faces.userData;
      if (wanted.some((colour, i) => colour !== colours[i])) paint(wanted);
      this.draw();
    },
    draw() {
      this.renderer?.render(this.world, this.camera);
      this.drawn += 1;
    },
    byHand(share) {
      this.still();
      this.at = { ...this.at, [this.key]: share };
      this.settle();
    },
    /** Runs `step(seconds)` every frame until it says false; counts the frames. */
    run(step) {
      cancelAnimationFrame(this.next);
      let begun = null, last = 0, mean = 0, count = 0, spent = 0;
      const drawn = this.drawn;
      if (this.fps > EASY_FPS && this.coarse > 0) this.coarse -= 1;
      this.renderer.setPixelRatio(MOVING[this.coarse]);
      const frame = (now) => {
        begun ??= now;
        if (count > 0) mean = mean ? 0.7 * mean + 0.3 * (now - last) : now - last;
        last = now;
        if (count % 4 === 3 && mean > SLOW_MS && this.coarse < MOVING.length - 1) {
          this.coarse = Math.min(this.coarse + (mean > 2 * SLOW_MS ? 2 : 1), MOVING.length - 1);
          this.renderer.setPixelRatio(MOVING[this.coarse]);
        }
        const t = (now - begun) / 1000, on = step(t);
        const before = performance.now();
        this.settle(!on || count % 3 === 0);
        spent += performance.now() - before;
        count += 1;
        if (on) this.next = requestAnimationFrame(frame);
        else {
          this.frames += count;
          this.cost = Math.round(spent / count * 100) / 100;
          this.draws += this.drawn - drawn;
          this.calls = this.renderer.info.render.calls;
          this.triangles = this.renderer.info.render.triangles;
          this.fineness = MOVING[this.coarse];
          this.fps = t > 0 ? Math.round((count - 1) / t * 10) / 10 : 0;
          this.rest();
        }
      };
      this.next = requestAnimationFrame(frame);
    },
    rest() {
      this.renderer.setPixelRatio(STILL);
      this.draw();
    },
    swing() {
      this.still();
      const key = this.key, before = this.at[key] || 0;
      this.run((t) => {
        const done = t >= SWING_S;
        const share = done ? before : (1 - Math.cos(2 * Math.PI * t / SWING_S)) / 2;
        this.at = { ...this.at, [key]: share };
        return !done;
      });
    },
    still() {
      this.playing = false;
      clearTimeout(this.later);
      cancelAnimationFrame(this.next);
      this.rest();
    },
    finger() {
      this.still();
      this.moveTo(this.fingering);
    },
    moveTo(name) {
      const [pressed, covered] = this.scene.fingerings[name] || [[], []];
      const from = { ...this.at };
      this.covered = covered;
      this.run((t) => {
        const done = Math.min(t / MOVE_S, 1), shares = {};
        for (const key of new Set([...Object.keys(from), ...pressed])) {
          const to = pressed.includes(key) ? 1 : 0, was = from[key] || 0;
          shares[key] = was + done * (to - was);
        }
        this.at = shares;
        return done < 1;
      });
    },
    playAll() {
      if (this.playing) return this.still();
      this.playing = true;
      let at = Math.max(this.names.indexOf(this.fingering), -1);
      const one = () => {
        at += 1;
        if (!this.playing || at >= this.names.length) {
          this.playing = false;
          return;
        }
        this.fingering = this.names[at];
        this.moveTo(this.fingering);
        this.later = setTimeout(one, NOTE_S * 1000);
      };
      one();
    },
    pick(event) {
      const [x, y] = this.down || [0, 0];
      if (Math.hypot(event.clientX - x, event.clientY - y) > 4) return;
      const box = this.renderer.domElement.getBoundingClientRect();
      const ray = new THREE.Raycaster();
      ray.setFromCamera(new THREE.Vector2(
        (event.clientX - box.left) / box.width * 2 - 1,
        1 - (event.clientY - box.top) / box.height * 2,
      ), this.camera);
      const hit = ray.intersectObjects(Object.values(this.groups), true)[0];
      if (hit) this.key = hit.object.parent.userData.key;
    },
  },
};
