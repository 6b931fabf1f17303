// Cents of every fingering by register, with targets, error bars and what a hole moves.
import { fixed, signed } from "borewright/figures.js";
import { width } from "borewright/width.js";
export default {
  mixins: [width],
  template: `
  <div class="bw-pitches" ref="box">
    <svg :width="width" :height="height" role="listbox" tabindex="0" :aria-label="words.chart"
         :aria-activedescendant="chosen ? 'bw-note-' + at(chosen) : null" @keydown="keyed"
         data-mark="pitches" :data-shown="shown">
      <g aria-hidden="true">
        <rect :x="left" :width="width - left" :y="y(data.tolerance)" class="bw-target"
              :height="y(-data.tolerance) - y(data.tolerance)"/>
        <g v-for="tick in ticks" :key="tick">
          <line :x1="left" :x2="width" :y1="y(tick)" :y2="y(tick)"
                :class="tick ? 'bw-hair' : 'bw-zero'"/>
          <text :x="left - 6" :y="y(tick) + 5" class="bw-tick">{{ signed(tick, 0) }}</text>
        </g>
        <g v-for="name in registers" :key="name.words">
          <line :x1="name.from" :x2="name.to" y1="22" y2="22" class="bw-zero"/>
          <text :x="name.from" y="16" class="bw-register">{{ name.words }}</text>
        </g>
      </g>
      <g v-for="(note, i) in notes" :key="note.name" role="option" class="bw-note"
         :id="'bw-note-' + i" :class="[note.use, { chosen: note.name === chosen, out: note.out }]"
         :aria-selected="note.name === chosen ? 'true' : 'false'" :aria-label="note.label"
         :data-note="note.name" :data-cents="note.text" @click="$emit('pick', { note: note.name })">
        <rect :x="note.x - step / 2" y="24" :width="step" :height="height - 44" class="bw-hit"/>
        <line v-if="note.sway" :x1="note.x" :x2="note.x" :y1="y(note.cents)" class="bw-sway"
              :y2="y(note.cents + note.sway)"/>
        <path v-if="note.bar" class="bw-bar" :d="note.bar"/>
        <circle v-if="note.ghost != null" :cx="note.x" :cy="y(note.ghost)" r="4" class="bw-ghost"/>
        <path :d="note.mark" class="bw-mark"/>
        <text v-if="note.says" :x="note.x" :y="note.says_y" class="bw-cents">{{ note.says }}</text>
      </g>
      <text v-for="name in names" :key="name.x" :x="name.x" :y="height - 8 - (name.low ? 13 : 0)"
            class="bw-name" aria-hidden="true">{{ name.words }}</text>
    </svg>
    <svg v-if="data.twelfths.length" :width="width" :height="120" role="img"
         :aria-label="twelfth_words" data-mark="twelfths">
      <text :x="left" y="14" class="bw-register">{{ words.twelfths }}</text>
      <line :x1="left" :x2="width" :y1="t(0)" :y2="t(0)" class="bw-zero"/>
      <line :x1="left" :x2="width" :y1="t(-1.955)" :y2="t(-1.955)" class="bw-tempered"/>
      <g v-for="each in sticks" :key="each.key">
        <line :x1="each.x" :x2="each.x" :y1="t(0)" :y2="t(each.cents)" class="bw-stick"/>
        <text :x="each.x" :y="each.cents >= 0 ? t(each.cents) - 4 : t(each.cents) + 14"
              class="bw-cents">{{ each.text }}</text>
        <text :x="each.x" y="114" class="bw-name">{{ each.low }}</text>
      </g>
    </svg>
  </div>`,
  props: { data: Object, words: Object, chosen: String, sways: Array, height: { default: 300 } },
  data() {
    return { left: 46, live: null, shown: 0 };
  },
  watch: {
    data() {
      this.live = null;
      this.shown++;
    },
  },
  computed: {
    cents() {
      return (this.live || this.data).cents;
    },
    limit() {
      let most = 2 * this.data.tolerance;
      for (const cents of [...this.data.cents, ...(this.data.ghosts || [])])
        if (cents != null) most = Math.max(most, Math.min(Math.abs(cents), 60) * 1.1 + 4);
      return most;
    },
    ticks() {
      const step = this.limit > 40 ? 20 : this.limit > 18 ? 10 : 5;
      const found = [];
      for (let tick = -Math.floor(this.limit / step) * step; tick <= this.limit; tick += step) found.push(tick);
      return found;
    },
    columns() {
      const places = [];
      let x = 0, last = null, used = 0;
      for (const i of this.order) {
        const note = this.data.notes[i];
        if (last === null || note.number !== last) {
          x += last === null ? 0.5 : 1;
          used = 0;
        } else x += 0.62;
        last = note.number;
        places[i] = x;
        used++;
      }
      return { places, total: x + 0.5 };
    },
    order() {
      const rank = { standard: 0, alternate: 1, apart: 2 };
      return this.data.notes.map((_, i) => i).sort((a, b) => {
        const one = this.data.notes[a], other = this.data.notes[b];
        return one.number - other.number || rank[one.use] - rank[other.use] || a - b;
      });
    },
    step() {
      return (this.width - this.left - 8) / this.columns.total;
    },
    notes() {
      return this.data.notes.map((note, i) => {
        const cents = this.cents[i];
        const x = this.left + this.columns.places[i] * this.step;
        const found = { ...note, cents, x };
        found.text = cents == null ? "" : cents.toFixed(2);
        found.out = cents == null || Math.abs(cents) > this.data.tolerances[i];
        const y = this.y(cents == null ? 0 : cents);
        const beyond = cents != null && Math.abs(cents) > this.limit;
        found.mark = cents == null ? `M${x - 5},${y - 5}l10,10m0,-10l-10,10`
          : beyond ? (cents > 0 ? `M${x - 6},${y + 8}h12l-6,-11Z` : `M${x - 6},${y - 8}h12l-6,11Z`)
          : note.use === "standard" ? `M${x - 5},${y}a5,5 0 1,0 10,0a5,5 0 1,0 -10,0Z`
          : note.use === "alternate" ? `M${x - 5},${y + 4}h10l-5,-9Z` : `M${x - 4},${y - 4}h8v8h-8Z`;
        const bar = this.data.bars && this.data.bars[i];
        if (bar && cents != null && !beyond) {
          const about = cents - this.data.departures[i];
          const a = this.y(about + bar), b = this.y(about - bar);
          found.bar = `M${x - 3},${a}h6m-3,0V${b}m-3,0h6`;
        }
        found.ghost = this.live ? this.data.cents[i] : this.data.ghosts ? this.data.ghosts[i] : null;
        const sway = this.sways && this.sways[i];
        found.sway = sway && cents != null && Math.abs(sway) > 0.05 ? sway * 4 : 0;
        const told = note.name === this.chosen || (found.out && note.use === "standard" && this.step > 11);
        if (told && cents != null) {
          found.says = signed(cents, note.name === this.chosen ? 1 : 0);
          found.says_y = cents > 0 ? Math.max(36, y - 9) : Math.min(this.height - 34, y + 20);
        }
        found.label = `${note.name}: ` + (cents == null ? this.words.none
          : `${fixed(Math.abs(cents), 1)} ${cents >= 0 ? this.words.sharp : this.words.flat}`)
          + (note.status === "ok" ? "" : `, ${note.status}`);
        return found;
      });
    },
    names() {
      const found = [];
      let last = null, edge = -1e9, low = false;
      for (const i of this.order) {
        const note = this.data.notes[i];
        if (note.number === last) continue;
        last = note.number;
        const x = this.left + this.columns.places[i] * this.step;
        if (x < edge + 12 + 8 * note.written.length) low = !low;
        else low = false;
        if (this.step < 9 && /[#b]/.test(note.written)) continue;
        found.push({ x, words: note.written, low });
        edge = x;
      }
      return found;
    },
    registers() {
      const found = {};
      this.data.notes.forEach((note, i) => {
        if (note.use === "alternate") return;
        const x = this.left + this.columns.places[i] * this.step;
        const now = (found[note.register] ||= { words: this.words[note.register], from: x, to: x });
        now.from = Math.min(now.from, x - 4);
        now.to = Math.max(now.to, x + 4);
      });
      return Object.values(found);
    },
    most_twelfth() {
      return Math.max(8, ...this.data.twelfths.map((each) => Math.abs(each.cents)));
    },
    sticks() {
      const list = this.live ? this.live.twelfths : this.data.twelfths.map((each) => each.cents);
      return this.data.twelfths.map((each, i) => ({
        key: each.low + each.high, low: each.low.split(" ")[0], cents: list[i],
        text: fixed(list[i], 0),
        x: this.left + ((i + 0.5) * (this.width - this.left)) / this.data.twelfths.length,
      }));
    },
    twelfth_words() {
      return `${this.words.twelfths}: ` + this.sticks.map((e) => `${e.low} ${e.text}`).join(", ");
    },
  },
  methods: {
    signed,
    y(cents) {
      const held = Math.max(-this.limit, Math.min(this.limit, cents));
      const middle = (24 + this.height - 34) / 2;
      return middle - (held / this.limit) * (middle - 30);
    },
    t(cents) {
      return 60 - (Math.max(-1, Math.min(1, cents / this.most_twelfth))) * 24;
    },
    at(name) {
      return this.data.notes.findIndex((note) => note.name === name);
    },
    show(live) {
      this.live = live;
      this.shown++;
      this.$nextTick(() => {
        const left = (window.bw_moves || {})[live.number];
        if (left) (window.bw_waits ||= []).push(performance.now() - left);
      });
    },
    keyed(event) {
      const ways = { ArrowLeft: -1, ArrowRight: 1, Home: -1e6, End: 1e6 };
      if (!(event.key in ways)) return;
      event.preventDefault();
      event.stopPropagation();
      const now = this.order.indexOf(this.at(this.chosen));
      const next = Math.min(Math.max(now + ways[event.key], 0), this.order.length - 1);
      this.$emit("pick", { note: this.data.notes[this.order[next]].name });
    },
  },
};
