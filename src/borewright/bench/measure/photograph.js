// A photograph that is clicked: what was clicked stands on it, and the key's drawing lies over it.
// By mouse, finger or keys: arrows move a cross, Enter clicks there, + and - look closer.
const MOST = 24;

export default {
  template: `
  <div class="bw-photograph">
    <svg ref="svg" role="application" tabindex="0" data-mark="photograph" :aria-label="words.about"
         :viewBox="box.join(' ')" @click="clicked" @wheel.prevent="wheel" @keydown="keyed"
         @pointerdown="grab" @pointermove="drag" @pointerup="held = null"
         :style="{ aspectRatio: size[0] + ' / ' + size[1] }">
      <image :href="url" :width="size[0]" :height="size[1]"/>
      <g v-if="over" :transform="over" class="bw-photo-over" data-mark="drawn-over">
        <template v-for="(s, i) in shapes" :key="i">
          <circle v-if="s.r" :cx="s.x" :cy="s.y" :r="s.r"/>
          <rect v-else-if="s.w" :x="s.x" :y="s.y" :width="s.w" :height="s.h"/>
          <line v-else :x1="s.x1" :y1="s.y1" :x2="s.x2" :y2="s.y2"/>
        </template>
      </g>
      <g v-for="(p, i) in points" :key="'p' + i" class="bw-photo-point">
        <path :d="cross(p, 9)"/><text :x="p.x + 8 * fine" :y="p.y - 6 * fine"
              :style="{ fontSize: 13 * fine + 'px' }">{{ p.label }}</text>
      </g>
      <path v-if="cursor" :d="cross({ x: cursor[0], y: cursor[1] }, 16)" class="bw-photo-cursor"/>
    </svg>
    <div class="bw-row">
      <button type="button" class="bw-button" @click="zoom(1.6)" :aria-label="words.closer">+</button>
      <button type="button" class="bw-button" @click="zoom(1 / 1.6)" :aria-label="words.further">−</button>
      <p class="bw-small">{{ words.help }}</p>
    </div>
  </div>`,
  props: { url: String, points: Array, shapes: Array, over: String, words: Object },
  data() {
    return { size: [4, 3], box: [0, 0, 4, 3], cursor: null, held: null, moved: false, wide: 600 };
  },
  computed: {
    /** Pixels of the picture a pixel of the screen. */
    fine() {
      return this.box[2] / this.wide;
    },
  },
  watch: {
    url() {
      this.load();
    },
  },
  mounted() {
    this.watcher = new ResizeObserver(() => { this.wide = this.$refs.svg?.clientWidth || 600; });
    this.watcher.observe(this.$refs.svg);
    this.load();
  },
  beforeUnmount() {
    this.watcher.disconnect();
  },
  methods: {
    load() {
      const picture = new Image();
      picture.onload = () => {
        this.size = [picture.naturalWidth, picture.naturalHeight];
        this.box = [0, 0, ...this.size];
        this.$emit("shown", { width: this.size[0], height: this.size[1] });
      };
      picture.onerror = () => this.$emit("shown", { width: 0, height: 0 });
      picture.src = this.url;
    },
    cross(p, size) {
      const s = size * this.fine;
      return `M${p.x - s} ${p.y}h${2 * s}M${p.x} ${p.y - s}v${2 * s}`;
    },
    at(event) {
      const svg = this.$refs.svg;
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      return [p.x, p.y];
    },
    send(x, y) {
      if (x < 0 || y < 0 || x > this.size[0] || y > this.size[1]) return;
      this.$emit("picked", { x, y, fine: Math.max(this.fine, 1) });
    },
    clicked(event) {
      if (!this.moved) this.send(...this.at(event));
      this.moved = false;
    },
    grab(event) {
      this.held = { at: [event.clientX, event.clientY], box: [...this.box] };
      this.moved = false;
    },
    drag(event) {
      if (!this.held) return;
      const [dx, dy] = [event.clientX - this.held.at[0], event.clientY - this.held.at[1]];
      if (!this.moved && Math.hypot(dx, dy) < 5) return;
      this.moved = true;
      this.show([this.held.box[0] - dx * this.fine, this.held.box[1] - dy * this.fine,
        this.box[2], this.box[3]]);
    },
    wheel(event) {
      this.zoom(event.deltaY < 0 ? 1.25 : 0.8, this.at(event));
    },
    zoom(by, about) {
      const p = about || this.cursor || [this.box[0] + this.box[2] / 2, this.box[1] + this.box[3] / 2];
      const w = Math.min(Math.max(this.box[2] / by, this.size[0] / MOST), this.size[0]);
      const k = w / this.box[2];
      this.show([p[0] - (p[0] - this.box[0]) * k, p[1] - (p[1] - this.box[1]) * k, w, this.box[3] * k]);
    },
    show([x, y, w, h]) {
      const within = (v, most) => Math.min(Math.max(v, 0), Math.max(most, 0));
      this.box = [within(x, this.size[0] - w), within(y, this.size[1] - h), w, h];
    },
    keyed(event) {
      const step = (event.shiftKey ? 20 : 1) * Math.max(this.fine, 1);
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      const middle = [this.box[0] + this.box[2] / 2, this.box[1] + this.box[3] / 2];
      if (way) this.cursor = (this.cursor || middle).map((v, i) => v + step * way[i]);
      else if (event.key === "Enter" && this.cursor) this.send(...this.cursor);
      else if (event.key === "+" || event.key === "-") this.zoom(event.key === "+" ? 1.6 : 1 / 1.6);
      else return;
      event.preventDefault();
      event.stopPropagation();
    },
  },
};
