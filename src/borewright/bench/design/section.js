// The instrument in section, to scale. Drags are shown at once and told to the server, which
// answers with pitches; nothing is computed here but where to draw.
import { fixed } from "borewright/figures.js";
import { width } from "borewright/width.js";
const STEP = 0.05; // mm that a drag snaps to
const PITCH = 20; // ms between two moves sent
export default {
  mixins: [width],
  template: `
  <div class="bw-section" ref="box" :class="{ dragging: !!drag }">
    <svg v-for="(row, r) in rows" :key="r" :width="row.width" :height="row.height" role="group"
         :aria-label="words.section + ' ' + (r + 1)" class="bw-row-svg">
      <defs><pattern :id="'bw-hatch-' + r" width="6" height="6" patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"><rect width="6" height="6" class="bw-zone-ground"/>
        <line x1="0" y1="0" x2="0" y2="6" class="bw-zone-line"/></pattern></defs>
      <g v-if="row.mouthpiece"><path :d="row.mouthpiece" class="bw-mouthpiece"/></g>
      <g v-for="part in row.parts" :key="part.name">
        <path v-for="d in part.walls" :d="d" :class="'bw-wall bw-part-' + part.tint"/>
        <path v-for="d in part.corks" :d="d" class="bw-cork"/>
        <text :x="part.x" :y="row.height - 4" class="bw-part-name">{{ part.label }}</text>
      </g>
      <line :x1="0" :x2="row.width" :y1="row.axis" :y2="row.axis" class="bw-axis"/>
      <g v-for="zone in row.zones" :key="zone.key">
        <rect :x="zone.x" :y="zone.y" :width="zone.width" :height="zone.height"
              :fill="'url(#bw-hatch-' + r + ')'"><title>{{ zone.words }}</title></rect>
      </g>
      <g v-for="hole in row.holes" :key="hole.name" role="slider" tabindex="0" class="bw-hole"
         :class="hole.classes" :aria-label="hole.label" :aria-valuenow="hole.now"
         :aria-valuemin="hole.min" :aria-valuemax="hole.max" :aria-valuetext="hole.says"
         aria-orientation="horizontal" :data-hole="hole.name"
         @focus="$emit('pick', { hole: hole.name })" @keydown="keyed($event, hole.source)"
         @pointerdown="grab($event, hole.source, 'station')">
        <rect :x="hole.x - hole.reach" :y="hole.hit_y" :width="2 * hole.reach" :height="hole.hit_h"
              class="bw-hit"/>
        <path v-if="hole.pad" :d="hole.pad" class="bw-pad"/>
        <path :d="hole.shape" class="bw-bore-hole" :style="hole.glow"/>
        <line :x1="hole.x" :x2="hole.tag_x" :y1="hole.tip" :y2="hole.tag_y + (hole.up ? 3 : -13)"
              class="bw-leader"/>
        <text :x="hole.tag_x" :y="hole.tag_y" class="bw-tag">{{ hole.name }}</text>
        <text v-if="hole.moves" :x="hole.tag_x" :y="hole.tag_y + (hole.up ? -14 : 14)"
              class="bw-moves">{{ hole.moves }}</text>
        <g v-if="hole.chosen">
          <rect v-for="side in [-1, 1]" :key="side" class="bw-edge" :data-edge="side"
            :x="hole.x + side * (hole.half + 5) - 5" :y="hole.edge_y" width="10" height="20" rx="4"
            @pointerdown.stop="grab($event, hole.source, 'diameter', side)"/>
        </g>
      </g>
      <g v-for="point in row.points" :key="point.name" role="slider" tabindex="0" class="bw-point"
         :class="{ chosen: point.chosen }" :aria-label="point.label" :aria-valuenow="point.now"
         :aria-valuemin="point.min" :aria-valuemax="point.max" :aria-valuetext="point.says"
         aria-orientation="vertical" :data-point="point.name"
         @focus="$emit('pick', { point: point.name })" @keydown="keyed($event, point.source)"
         @pointerdown="grab($event, point.source, 'point')">
        <circle :cx="point.x" :cy="point.y" r="13" class="bw-hit"/>
        <path :d="point.shape"/>
      </g>
    </svg>
    <p class="bw-reading" aria-live="polite" data-mark="reading">{{ reading }}</p>
  </div>`,
  props: { drawing: Object, words: Object, chosen: String, moves: Object, inch: Boolean },
  data() {
    return { values: [], drag: null, told: "", waiting: null, sent: 0, number: 0 };
  },
  created() {
    this.values = [...this.drawing.values];
  },
  mounted() {
    window.addEventListener("pointermove", this.pull);
    window.addEventListener("pointerup", this.drop);
    window.addEventListener("pointercancel", this.cancel);
  },
  beforeUnmount() {
    clearTimeout(this.later);
    window.removeEventListener("pointermove", this.pull);
    window.removeEventListener("pointerup", this.drop);
    window.removeEventListener("pointercancel", this.cancel);
  },
  watch: {
    drawing(drawing) {
      if (!this.drag && !this.keying) this.values = [...drawing.values];
      this.told = "";
    },
  },
  computed: {
    rows() {
      const d = this.drawing;
      const whole = d.bottom - d.top;
      const spans = this.width / whole > 2.6 ? [[d.top, d.bottom]]
        : [[d.top, d.cut], [d.cut, d.bottom]];
      const scale = (this.width - 8) / Math.max(...spans.map(([a, b]) => b - a));
      return spans.map((span) => this.row(span, scale));
    },
    reading() {
      if (this.told) return this.told;
      const one = this.source(this.chosen);
      return one ? this.says(one) : this.words.hint;
    },
  },
  methods: {
    source(name) {
      const d = this.drawing;
      return d.holes.find((h) => h.name === name) || d.points.find((p) => p.name === name);
    },
    length(mm, decimals = 2) {
      return this.inch ? `${fixed(mm / 25.4, decimals + 2)} in` : `${fixed(mm, decimals)} mm`;
    },
    says(one) {
      const station = this.values[one.station], diameter = this.values[one.diameter];
      let text = `${one.name}: ${this.words.station} ${this.length(station)}, `
        + `${this.words.diameter} ${this.length(diameter)}`;
      for (const [range, value] of [[one.station_range, station], [one.diameter_range, diameter]]) {
        if (!range) continue;
        if (value < range.low - 1e-6) text += `. ${this.words.beyond}: ${range.low_words}`;
        if (value > range.high + 1e-6) text += `. ${this.words.beyond}: ${range.high_words}`;
      }
      return text;
    },
    row([from, to], scale) {
      const d = this.drawing;
      const inside = (x) => x >= from - 0.01 && (x < to || to === d.bottom);
      const parts = d.parts.filter((p) => p.offset < to - 0.01 && p.offset + p.length > from + 0.01);
      const holes = d.holes.filter((h) => inside(h.offset + this.values[h.station]));
      let tallest = 14;
      for (const p of parts) for (const [, r] of p.outer) tallest = Math.max(tallest, r);
      for (const h of holes) tallest = Math.max(tallest, h.rim + h.lift + 2);
      const X = (mm) => 4 + (mm - from) * scale;
      const ordered = [...holes].sort((a, b) => this.values[a.station] + a.offset - this.values[b.station] - b.offset);
      const tiers = this.tiers(ordered, X);
      const above = 30 + 17 * tiers.up, below = 40 + 17 * tiers.down;
      const axis = above + tallest * scale;
      const edges = { up: above, down: axis + tallest * scale };
      const Y = (r) => axis - r * scale;
      const line = (points, o, s) =>
        points.map(([x, r]) => `${X(Math.min(Math.max(x + o, from - 20), to + 25)).toFixed(1)},${Y(s * r).toFixed(1)}`).join("L");
      const row = {
        width: this.width, axis, height: axis + tallest * scale + below,
        parts: parts.map((p) => ({
          name: p.name, tint: p.tint,
          x: (X(Math.max(p.offset, from)) + X(Math.min(p.offset + p.length, to))) / 2,
          label: `${p.name} ${this.length(p.length, 1)}`,
          walls: [1, -1].map((s) => `M${line(p.outer, p.offset, s)}L${line([...p.inner].reverse(), p.offset, s)}Z`),
          corks: p.corks.flatMap(([a, b, low, high]) => [1, -1].map((s) =>
            `M${line([[a, low], [b, low], [b, high], [a, high]], p.offset, s)}Z`)),
        })),
        mouthpiece: "", zones: [], holes: [], points: [],
      };
      if (d.top < 0 && from <= d.top + 0.01) {
        const m = [[d.top, 2], [d.top * 0.6, 9], [d.top * 0.25, 14], [0, 14], [0, -14],
          [d.top * 0.25, -14], [d.top * 0.55, -13], [d.top, -1]];
        row.mouthpiece = "M" + m.map(([x, r]) => `${X(x)},${Y(r)}`).join("L") + "Z";
      }
      for (const h of ordered) row.holes.push(this.hole(h, X, Y, scale, row, tiers.of[h.name], edges));
      for (const p of d.points) {
        const x = p.offset + this.values[p.station];
        if (!inside(x)) continue;
        const px = X(x), py = Y(-this.values[p.diameter] / 2);
        row.points.push({
          name: p.name, source: p, x: px, y: py, chosen: p.name === this.chosen,
          shape: p.fixed ? `M${px - 6},${py}L${px},${py - 6}L${px + 6},${py}L${px},${py + 6}Z`
            : `M${px - 5},${py - 5}h10v10h-10Z`,
          label: `${this.words.bore} ${p.name}`, says: this.says(p),
          now: +this.values[p.diameter].toFixed(2),
          min: 3, max: 120,
        });
      }
      return row;
    },
    tiers(ordered, X) {
      // Names stand above each other where they would run into one another.
      const last = { up: [], down: [] };
      const found = { of: {}, up: 0, down: 0 };
      for (const h of ordered) {
        const way = h.turn >= -0.001 ? "up" : "down";
        const x = X(h.offset + this.values[h.station]), half = (9 * h.name.length + 8) / 2;
        let tier = 0;
        while (last[way][tier] !== undefined && last[way][tier] > x - half) tier++;
        last[way][tier] = x + half;
        found.of[h.name] = tier;
        found[way] = Math.max(found[way], tier);
      }
      return found;
    },
    hole(h, X, Y, scale, row, tier, edges) {
      const station = this.values[h.station], diameter = this.values[h.diameter];
      const x = X(h.offset + station), half = (diameter / 2) * scale;
      const cut = Math.abs(h.turn) > 0.86; // within 30° of front or back: turned into the section
      const up = h.turn >= -0.001;
      const s = up ? 1 : -1;
      const chosen = h.name === this.chosen;
      let shape, tip, pad = "";
      if (cut) {
        const low = Y(s * h.bore), high = Y(s * h.rim);
        shape = `M${x - half},${low}L${x - half},${high}L${x + half},${high}L${x + half},${low}Z`;
        tip = high;
        if (h.pad) {
          const w = (h.pad / 2) * scale, base = Y(s * (h.rim + h.lift)), thick = s * 1.6 * scale;
          pad = `M${x - w},${base}h${2 * w}v${-thick}h${-2 * w}Z`;
          tip = base - thick;
        }
      } else {
        const cy = Y(h.turn * h.outside);
        const ry = Math.max(2, half * Math.sqrt(1 - h.turn * h.turn));
        shape = `M${x - half},${cy}a${half},${ry} 0 1,0 ${2 * half},0a${half},${ry} 0 1,0 ${-2 * half},0Z`;
        tip = cy - s * ry;
      }
      const edge_top = up ? Y(h.rim + 1) : Y(-h.rim - 1);
      const tag_y = up ? edges.up - 10 - tier * 17 : edges.down + 15 + tier * 17;
      const moves = this.moves && this.moves[h.name];
      const range = h.station_range, broad = h.diameter_range;
      const beyond = (range && (station < range.low - 1e-6 || station > range.high + 1e-6))
        || (broad && (diameter < broad.low - 1e-6 || diameter > broad.high + 1e-6));
      if (chosen && range) {
        const y = Math.min(edge_top, tip) - 4, tall = Math.abs(Y(0) - edge_top) + 8;
        const top = up ? y : Y(0);
        const zone = (a, b, words, key) => row.zones.push({
          key: h.name + key, x: X(h.offset + a), width: Math.max(0, (b - a) * scale), y: top, height: tall, words,
        });
        zone(range.low - 9, range.low, range.low_words, "low");
        zone(range.high, range.high + 9, range.high_words, "high");
        if (broad) {
          const reach = broad.high / 2;
          for (const side of [-1, 1])
            row.zones.push({
              key: h.name + "wide" + side, words: broad.high_words, y: up ? top - 7 : Y(0) + tall,
              x: side < 0 ? x - reach * scale - 12 : x + reach * scale, width: 12, height: 7,
            });
        }
      }
      return {
        name: h.name, source: h, x, half, shape, pad, tip, up, chosen,
        reach: Math.max(half, 8), hit_y: Math.min(edge_top, Y(0)), hit_h: Math.abs(Y(0) - edge_top),
        edge_y: (cut ? (Y(s * h.bore) + Y(s * h.rim)) / 2 : Y(h.turn * h.outside)) - 10,
        tag_x: x, tag_y, classes: { chosen, beyond, side: !cut },
        glow: moves ? `fill:var(--data-${moves.cents >= 0 ? 2 : 1});fill-opacity:${moves.share}` : "",
        moves: moves && moves.share > 0.12 ? moves.words : "",
        label: `${this.words.hole} ${h.name}`, says: this.says(h),
        now: +station.toFixed(2), min: range ? +range.low.toFixed(2) : 0,
        max: range ? +range.high.toFixed(2) : +h.length.toFixed(2),
      };
    },
    grab(event, source, what, side) {
      if (event.button) return;
      event.preventDefault();
      const scale = this.scale(event);
      event.currentTarget.closest("[role=slider]").focus({ preventScroll: true });
      this.drag = {
        source, what, side, scale, x: event.clientX, y: event.clientY, moved: false,
        station: this.values[source.station], diameter: this.values[source.diameter],
      };
    },
    scale(event) {
      const d = this.drawing;
      const whole = d.bottom - d.top;
      const spans = this.width / whole > 2.6 ? [[d.top, d.bottom]] : [[d.top, d.cut], [d.cut, d.bottom]];
      return (this.width - 8) / Math.max(...spans.map(([a, b]) => b - a));
    },
    snapped(mm) {
      return +(Math.round(mm / STEP) * STEP).toFixed(3);
    },
    pull(event) {
      const drag = this.drag;
      if (!drag) return;
      const fine = event.shiftKey ? 0.2 : 1;
      const dx = ((event.clientX - drag.x) / drag.scale) * fine;
      const dy = (event.clientY - drag.y) * fine;
      if (!drag.moved && Math.abs(event.clientX - drag.x) + Math.abs(event.clientY - drag.y) < 2) return;
      drag.moved = true;
      const s = drag.source;
      if (drag.what === "station") {
        const length = s.length || 1e9;
        this.values[s.station] = this.snapped(Math.min(Math.max(drag.station + dx, 0.5), length - 0.5));
      } else if (drag.what === "diameter") {
        this.values[s.diameter] = this.snapped(Math.max(1, drag.diameter + 2 * drag.side * dx));
      } else {
        // Bores are changed by hundredths: a pixel is 0.05 mm of diameter, whatever the scale.
        this.values[s.diameter] = this.snapped(Math.max(3, drag.diameter + dy * 0.05));
        if (!s.fixed)
          this.values[s.station] = this.snapped(Math.min(Math.max(drag.station + dx, s.low), s.high));
      }
      this.tell(s);
    },
    tell(source) {
      this.waiting = { [source.station]: this.values[source.station], [source.diameter]: this.values[source.diameter] };
      const wait = this.sent + PITCH - performance.now();
      if (wait <= 0) this.send();
      else if (!this.later) this.later = setTimeout(() => this.send(), wait);
    },
    send() {
      clearTimeout(this.later);
      this.later = null;
      if (!this.waiting) return;
      this.sent = performance.now();
      this.number++;
      (window.bw_moves ||= {})[this.number] = this.sent; // for the benchmark of drags
      this.$emit("move", { values: this.waiting, number: this.number });
      this.waiting = null;
    },
    drop() {
      const drag = this.drag;
      this.drag = null;
      if (drag && drag.moved) this.done(drag.source);
    },
    cancel() {
      const drag = this.drag;
      this.drag = null;
      if (drag) this.back();
    },
    done(source) {
      clearTimeout(this.later);
      this.later = this.waiting = null;
      this.$emit("drop", {
        name: source.name,
        values: { [source.station]: this.values[source.station], [source.diameter]: this.values[source.diameter] },
      });
    },
    keyed(event, source) {
      const step = (event.shiftKey ? 1 : 0.1) * (event.ctrlKey ? 0.1 : 1);
      const ways = {
        ArrowLeft: [source.station, -step], ArrowRight: [source.station, step],
        ArrowUp: [source.diameter, step], ArrowDown: [source.diameter, -step],
      };
      if (event.key === "Escape" && (this.drag || this.keying)) {
        this.drag = this.keying = null;
        this.back();
        return;
      }
      const way = ways[event.key];
      if (!way || event.altKey || event.metaKey) return;
      event.preventDefault();
      event.stopPropagation();
      if (source.fixed && way[0] === source.station) return;
      this.values[way[0]] = +(this.values[way[0]] + way[1]).toFixed(3);
      this.tell(source);
      clearTimeout(this.keying); // one step of the history for a run of key strokes
      this.keying = setTimeout(() => {
        this.keying = null;
        this.done(source);
      }, 500);
    },
    back() {
      clearTimeout(this.later);
      this.later = this.waiting = null;
      this.values = [...this.drawing.values];
      this.$emit("back", {});
    },
    refuse(words) {
      this.told = words;
    },
    restore() {
      this.values = [...this.drawing.values];
    },
    focus_on(name) {
      const found = this.$refs.box.querySelector(`[data-hole="${CSS.escape(name)}"]`);
      if (found) found.focus({ preventScroll: true });
    },
  },
};
