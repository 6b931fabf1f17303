// What is measured on a key: three sights of it to scale, every number with its line. The number
// that is typed in stands out. Drawn from what the form says, so a slip of a digit shows.
import { fixed } from "borewright/figures.js";
import { width } from "borewright/width.js";
const PAD = 34; // px round a sight, for its numbers
const TALL = 260, SIGHTS = ["pad", "end", "side"];

export default {
  mixins: [width],
  template: `
  <div class="bw-key-drawing" ref="box">
    <figure v-for="sight in drawn" :key="sight.name">
      <figcaption class="bw-small">{{ words[sight.name] }}</figcaption>
      <svg :width="sight.width" :height="sight.height" role="img" :data-sight="sight.name"
           :aria-label="words[sight.name] + '. ' + sight.told">
        <template v-for="(s, i) in sight.shapes" :key="i">
          <circle v-if="s.r !== undefined" :cx="s.x" :cy="s.y" :r="s.r" :class="s.look"/>
          <polygon v-else-if="s.points" :points="s.points" :class="s.look"/>
          <line v-else :x1="s.x1" :y1="s.y1" :x2="s.x2" :y2="s.y2" :class="s.look"/>
        </template>
        <g v-for="d in sight.dims" :key="d.n" :class="['bw-dim', { chosen: d.name === chosen }]"
           :data-number="d.name">
          <line v-for="(e, i) in d.ends" :key="'e' + i" :x1="e[0]" :y1="e[1]" :x2="e[2]" :y2="e[3]"
                class="bw-dim-ext"/>
          <path :d="d.path"/>
          <circle :cx="d.tx" :cy="d.ty" r="9"/>
          <text :x="d.tx" :y="d.ty + 4">{{ d.n }}</text>
        </g>
      </svg>
    </figure>
  </div>`,
  props: { numbers: Array, values: Object, ring: Array, chosen: String, words: Object },
  computed: {
    drawn() {
      return SIGHTS.map((name) => this.sight(name)).filter((sight) => sight.dims.length);
    },
  },
  methods: {
    has(...names) {
      return names.every((name) => Number.isFinite(this.values[name]));
    },
    /** Shapes and dimensions of a sight, in mm: x to the right, y up. */
    laid(name) {
      const v = this.values, shapes = [], dims = [];
      const tube = v["tube outside"] || 3, rod = v.rod || tube / 2, long = v["tube length"] || 10;
      const box = (x1, y1, x2, y2, look) =>
        shapes.push({ look, at: [[x1, y1], [x2, y1], [x2, y2], [x1, y2]] });
      const line = (a, b, look) => shapes.push({ look, at: [a, b], line: true });
      const disc = (x, y, r, look) => shapes.push({ look, at: [[x, y]], r });
      const dim = (number, a, b, off = 0) => this.has(number) && dims.push({ number, a, b, off });
      const padded = this.has("pad along the tube", "hinge to pad's middle");
      const at = padded ? v["pad along the tube"] : 0, arm = padded ? v["hinge to pad's middle"] : 0;
      const cup = v["cup outside"] || 10, pad = v["pad's diameter"] || cup - 1;
      const low = -(v["hinge over pad's face"] || 0);
      const touch = this.has("touch along the tube", "touch aside of the hinge")
        && [v["touch along the tube"], v["touch aside of the hinge"], v["touch over the hinge"] || 0];
      const foot = this.has("foot along the tube", "foot aside of the hinge")
        && [v["foot along the tube"], v["foot aside of the hinge"], v["foot over the hinge"] || 0];
      const within = (x) => Math.min(Math.max(x, 1), Math.max(long - 1, 1));
      if (name === "pad") {
        if (padded) line([within(at), 0], [at, arm], "bw-key-arm");
        if (touch) line([within(touch[0]), 0], [touch[0], touch[1]], "bw-key-arm");
        if (foot) line([within(foot[0]), 0], [foot[0], foot[1]], "bw-key-arm");
        box(0, -tube / 2, long, tube / 2, "bw-key-tube");
        if (padded) {
          disc(at, arm, cup / 2, "bw-key-cup");
          disc(at, arm, pad / 2, "bw-key-pad");
        }
        if (touch) box(touch[0] - 5, touch[1] - 4, touch[0] + 5, touch[1] + 4, "bw-key-touch");
        if (foot) disc(foot[0], foot[1], 1.2, "bw-key-foot");
        if (this.ring && this.has("ring inside", "ring outside")) {
          const [x, y] = this.ring;
          disc(x, y, v["ring outside"] / 2, "bw-key-cup");
          disc(x, y, v["ring inside"] / 2, "bw-key-hole");
          dim("ring inside", [x - v["ring inside"] / 2, y], [x + v["ring inside"] / 2, y], 1.5);
          dim("ring outside", [x - v["ring outside"] / 2, y], [x + v["ring outside"] / 2, y],
              -v["ring outside"] / 2 - 3);
        }
        const side = arm >= 0 ? 1 : -1;
        dim("tube length", [0, 0], [long, 0], -side * (tube / 2 + 5));
        if (padded) {
          dim("pad along the tube", [0, arm], [at, arm], side * (cup / 2 + 5));
          dim("hinge to pad's middle", [at, 0], [at, arm], at > long / 2 ? -cup / 2 - 5 : cup / 2 + 5);
          dim("cup outside", [at - cup / 2, arm], [at + cup / 2, arm], side * 1.5);
          dim("pad's diameter", [at - pad / 2, arm], [at + pad / 2, arm], -side * cup * 0.22);
        }
        if (touch) {
          dim("touch along the tube", [0, touch[1]], [touch[0], touch[1]], touch[1] < 0 ? -9 : 9);
          dim("touch aside of the hinge", [touch[0], 0], [touch[0], touch[1]], -9);
        }
        if (foot) {
          dim("foot along the tube", [0, foot[1]], [foot[0], foot[1]], 6);
          dim("foot aside of the hinge", [foot[0], 0], [foot[0], foot[1]], 6);
        }
      } else if (name === "end") {
        if (padded) line([0, 0], [arm, low + 5], "bw-key-arm");
        if (touch) line([0, 0], [touch[1], touch[2]], "bw-key-arm");
        if (foot) line([0, 0], [foot[1], foot[2]], "bw-key-arm");
        disc(0, 0, tube / 2, "bw-key-tube");
        disc(0, 0, rod / 2, "bw-key-rod");
        if (padded) {
          box(arm - pad / 2, low, arm + pad / 2, low + 2, "bw-key-pad");
          box(arm - cup / 2, low + 2, arm + cup / 2, low + 4, "bw-key-cup");
          line([Math.min(-tube, arm - pad), low], [Math.max(tube, arm + pad), low], "bw-key-plane");
        }
        if (touch) box(touch[1] - 4, touch[2] - 0.8, touch[1] + 4, touch[2] + 0.8, "bw-key-touch");
        if (foot) disc(foot[1], foot[2], 1.2, "bw-key-foot");
        dim("tube outside", [-tube / 2, 0], [tube / 2, 0], tube / 2 + 3);
        dim("rod", [-rod / 2, 0], [rod / 2, 0], -tube / 2 - 3);
        if (padded) {
          dim("hinge over pad's face", [arm, 0], [arm, low], -(pad / 2 + 5));
          dim("lift", [arm, low], [arm, low + (v.lift || 0)], -(pad / 2 + 13));
        }
        if (touch) dim("touch over the hinge", [touch[1], 0], [touch[1], touch[2]], touch[1] < 0 ? 8 : -8);
        if (foot) dim("foot over the hinge", [foot[1], 0], [foot[1], foot[2]], 6);
        if (this.has("swing")) {
          const [x, y] = touch ? [touch[1], touch[2]] : [8, 0];
          const from = Math.atan2(y, x), by = v.swing * Math.PI / 180, r = Math.hypot(x, y) * 0.8;
          dims.push({ number: "swing", a: [r * Math.cos(from), r * Math.sin(from)],
            b: [r * Math.cos(from + by), r * Math.sin(from + by)], off: 0 });
        }
      } else {
        box(0, -tube / 2, long, tube / 2, "bw-key-tube");
        if (padded && this.has("cup's tilt to the hinge")) {
          const tilt = v["cup's tilt to the hinge"] * Math.PI / 180;
          const way = [Math.cos(tilt), -Math.sin(tilt)], out = [Math.sin(tilt), Math.cos(tilt)];
          const put = (a, b) => [at + a * way[0] + b * out[0], low + a * way[1] + b * out[1]];
          shapes.push({ look: "bw-key-pad", at: [put(-pad / 2, 0), put(pad / 2, 0), put(pad / 2, 2),
            put(-pad / 2, 2)] });
          shapes.push({ look: "bw-key-cup", at: [put(-cup / 2, 2), put(cup / 2, 2), put(cup / 2, 4),
            put(-cup / 2, 4)] });
          line([at - cup, low], [at + cup, low], "bw-key-plane");
          dims.push({ number: "cup's tilt to the hinge", a: [at + cup, low],
            b: [at + cup * way[0], low + cup * way[1]], off: 0 });
        }
        if (this.has("spring's free length")) {
          const s = v["spring's free length"], y = -tube / 2 - 2.5;
          line([-2, y], [s - 2, y], "bw-key-spring");
          dim("spring's free length", [-2, y], [s - 2, y], -5);
          dim("spring's deflection", [s - 2, y], [s - 2, y - (v["spring's deflection"] || 0)], 5);
          dim("spring's thickness", [2, y - 0.4], [2, y + 0.4], 0);
        }
      }
      return { shapes, dims };
    },
    sight(name) {
      const { shapes, dims } = this.laid(name);
      const ends = dims.flatMap((d) => [d.a, d.b, ...this.line(d)]);
      const points = [...ends, ...shapes.flatMap((s) => s.r === undefined ? s.at
        : [[s.at[0][0] - s.r, s.at[0][1] - s.r], [s.at[0][0] + s.r, s.at[0][1] + s.r]])];
      if (!points.length) return { name, dims: [] };
      const [low, high] = [Math.min, Math.max].map((f) =>
        [f(...points.map((p) => p[0])), f(...points.map((p) => p[1]))]);
      const size = [Math.max(high[0] - low[0], 1), Math.max(high[1] - low[1], 1)];
      const room = Math.max(this.width / (this.width > 700 ? 2.1 : 1), 240) - 2 * PAD;
      const scale = Math.min(room / size[0], TALL / size[1], 9);
      const px = (p) => [PAD + (p[0] - low[0]) * scale, PAD + (high[1] - p[1]) * scale];
      const text = (points) => points.map((p) => px(p).map((x) => x.toFixed(1)).join(",")).join(" ");
      const tags = [];
      return {
        name, width: size[0] * scale + 2 * PAD, height: size[1] * scale + 2 * PAD,
        told: dims.map((d) => `${this.number(d.number)} ${this.label(d.number)}: `
          + fixed(this.values[d.number], 2)).join(", "),
        shapes: shapes.map((s) => {
          const [x, y] = px(s.at[0]);
          if (s.r !== undefined) return { look: s.look, x, y, r: s.r * scale };
          if (!s.line) return { look: s.look, points: text(s.at) };
          const [x2, y2] = px(s.at[1]);
          return { look: s.look, x1: x, y1: y, x2, y2 };
        }),
        dims: dims.map((d) => {
          const [from, to] = this.line(d).map(px);
          let [tx, ty] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
          // Numbers that would lie on each other move along their own line.
          const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
          const way = length > 8 ? [(to[0] - from[0]) / length, (to[1] - from[1]) / length] : [1, 0];
          for (let n = 0; n < 12 && tags.some((t) => Math.hypot(t[0] - tx, t[1] - ty) < 19); n += 1) {
            const step = (n % 2 ? -1 : 1) * 10 * (n + 1);
            tx += step * way[0];
            ty += step * way[1];
          }
          tags.push([tx, ty]);
          return {
            name: d.number, n: this.number(d.number), tx, ty, path: this.arrow(from, to),
            ends: d.off ? [[...px(d.a), ...from], [...px(d.b), ...to]] : [],
          };
        }),
      };
    },
    /** Both ends of a dimension's line, shifted square to the way between its points. */
    line(d) {
      const [x, y] = [d.b[0] - d.a[0], d.b[1] - d.a[1]];
      const flat = Math.abs(x) >= Math.abs(y), shift = flat ? [0, d.off] : [-d.off, 0];
      return [d.a, d.b].map((p) => [p[0] + shift[0], p[1] + shift[1]]);
    },
    arrow(a, b) {
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const far = (p) => p.map((x) => x.toFixed(1)).join(" ");
      if (length < 1) return `M${far(a)}l.1 0`;
      const [x, y] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      const head = (p, s) => `M${far([p[0] + s * (6 * x + 3 * y), p[1] + s * (6 * y - 3 * x)])}`
        + `L${far(p)}L${far([p[0] + s * (6 * x - 3 * y), p[1] + s * (6 * y + 3 * x)])}`;
      return `M${far(a)}L${far(b)}${length > 14 ? head(a, 1) + head(b, -1) : ""}`;
    },
    number(name) {
      return this.numbers.findIndex((each) => each.name === name) + 1;
    },
    label(name) {
      return this.numbers.find((each) => each.name === name)?.label ?? name;
    },
  },
};
