// The pitch track of a take with its notes, in panels one below the other; a note can be chosen.
// Heights are semitones that the server sends; only places on the screen are worked out here.
import { rounded } from "borewright/figures.js";
const WIDE = 1000;
const HIGH = 300;
const LEFT = 70;
const BOTTOM = 34;
export default {
  template: `
  <div class="bw-take">
    <svg v-for="(panel, p) in panels" :key="p" :viewBox="'0 0 ' + wide + ' ' + high" role="group"
         :aria-label="words.panel + ' ' + (p + 1)">
      <g v-for="row in kept" :key="row.name">
        <line :x1="left" :x2="wide" :y1="y(row.at)" :y2="y(row.at)" class="bw-take-hair"/>
        <text :x="left - 8" :y="y(row.at) + 5" class="bw-take-row">{{ row.name }}</text>
      </g>
      <path :d="panel.track" class="bw-take-track"/>
      <text v-for="tick in panel.ticks" :key="tick.s" :x="tick.x" :y="high - 8" class="bw-take-tick">
        {{ rounded(tick.s, 1) }} s</text>
      <g v-for="note in panel.notes" :key="note.index" class="bw-take-note" tabindex="0" role="button"
         :class="{ chosen: note.index === chosen, odd: !note.counts }" :aria-label="note.label"
         :aria-pressed="note.index === chosen ? 'true' : 'false'" :data-note="note.index"
         @click="$emit('pick', note.index)" @keydown.enter.prevent="$emit('pick', note.index)"
         @keydown.space.prevent="$emit('pick', note.index)">
        <rect :x="note.x0 - 5" :width="note.x1 - note.x0 + 10" y="4" :height="high - 40" rx="5"
              class="bw-take-hit"/>
        <rect :x="note.x0" :width="note.x1 - note.x0" :y="note.y - 4" height="8"
              class="bw-take-bar"/>
        <text :x="(note.x0 + note.x1) / 2" :y="note.up ? note.y - 32 : note.y + 24"
              class="bw-take-name">{{ note.name }}</text>
        <text :x="(note.x0 + note.x1) / 2" :y="note.up ? note.y - 13 : note.y + 43"
              class="bw-take-cents">{{ note.cents }}</text>
      </g>
    </svg>
  </div>`,
  props: {
    frames: Array, notes: Array, rows: Array, seconds: Number, chosen: Number, words: Object,
    low: Number, highest: Number,
  },
  data() {
    return { wide: WIDE, high: HIGH, left: LEFT };
  },
  computed: {
    kept() {
      const kept = [];
      for (const row of this.rows)
        if (!kept.length || this.y(kept[kept.length - 1].at) - this.y(row.at) >= 17) kept.push(row);
      return kept;
    },
    panels() {
      const count = Math.max(1, Math.ceil(this.seconds / 12));
      const span = this.seconds / count;
      return [...Array(count).keys()].map((p) => this.panel(p * span, span));
    },
  },
  methods: {
    rounded,
    y(at) {
      const share = (at - this.low) / (this.highest - this.low);
      return HIGH - BOTTOM - share * (HIGH - BOTTOM - 12);
    },
    panel(start, span) {
      const x = (s) => LEFT + ((s - start) / span) * (WIDE - LEFT - 8);
      let track = "";
      for (const [s, at] of this.frames)
        if (s >= start && s < start + span && at >= this.low && at <= this.highest)
          track += `M${x(s).toFixed(1)} ${this.y(at).toFixed(1)}h1.6`;
      const step = span > 6 ? 2 : span > 2 ? 1 : 0.5;
      const ticks = [];
      for (let s = Math.ceil(start / step) * step; s < start + span; s += step)
        ticks.push({ s, x: x(s) });
      const notes = this.notes
        .map((note, index) => ({ ...note, index }))
        .filter((note) => note.from >= start && note.from < start + span)
        .map((note) => {
          const y = this.y(note.at);
          return { ...note, x0: x(note.from), x1: x(Math.min(note.to, start + span)), y, up: y > 60 };
        });
      return { track, ticks, notes };
    },
  },
};
