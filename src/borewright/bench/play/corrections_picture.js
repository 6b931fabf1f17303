// Every note as measured (ring, with two standard errors) and after the steps (disc or diamond).
const HIGH = 300;
const LEFT = 52;
export default {
  template: `
  <svg class="bw-corrections" role="img" :aria-label="words.chart" :viewBox="'0 0 ' + wide + ' ' + high">
    <rect :x="left" :width="wide - left" :y="y(tolerance)" :height="y(-tolerance) - y(tolerance)"
          class="bw-take-band"/>
    <g v-for="tick in ticks" :key="tick">
      <line :x1="left" :x2="wide" :y1="y(tick)" :y2="y(tick)" class="bw-take-hair"
            :class="{ zero: tick === 0 }"/>
      <text :x="left - 8" :y="y(tick) + 5" class="bw-take-row">{{ tick > 0 ? '+' + tick : tick }}</text>
    </g>
    <g v-for="note in notes" :key="note.name">
      <line :x1="note.x" :x2="note.x" :y1="y(note.before)" :y2="y(note.after)" class="bw-step-way"/>
      <line :x1="note.x - 5" :x2="note.x - 5" :y1="y(note.before - 2 * note.error)"
            :y2="y(note.before + 2 * note.error)" class="bw-step-error"/>
      <circle :cx="note.x - 5" :cy="y(note.before)" r="5" class="bw-step-before"/>
      <path v-if="note.left" :d="diamond(note.x + 5, y(note.after))" class="bw-step-left"/>
      <circle v-else :cx="note.x + 5" :cy="y(note.after)" r="5.5" class="bw-step-after"/>
      <text :x="note.x" :y="high - 8" class="bw-step-name"
            :transform="'rotate(-60 ' + note.x + ' ' + (high - 8) + ')'">{{ note.name }}</text>
    </g>
    <g :transform="'translate(' + (left + 10) + ' 18)'">
      <circle cx="0" cy="0" r="5" class="bw-step-before"/>
      <text x="12" y="5" class="bw-step-key">{{ words.before }}</text>
      <circle cx="230" cy="0" r="5.5" class="bw-step-after"/>
      <text x="242" y="5" class="bw-step-key">{{ words.after }}</text>
      <path :d="diamond(420, 0)" class="bw-step-left"/>
      <text x="432" y="5" class="bw-step-key">{{ words.left }}</text>
    </g>
  </svg>`,
  props: { given: Array, tolerance: Number, words: Object },
  data() {
    return { high: HIGH, left: LEFT };
  },
  computed: {
    wide() {
      return Math.max(760, LEFT + 26 * this.given.length);
    },
    limit() {
      const ends = this.given.map((n) => Math.abs(n.before) + 2 * n.error);
      return 1.1 * Math.max(1.5 * this.tolerance, ...ends);
    },
    ticks() {
      const step = this.limit > 60 ? 40 : this.limit > 30 ? 20 : 10;
      const ticks = [];
      for (let t = -Math.floor(this.limit / step) * step; t <= this.limit; t += step) ticks.push(t);
      return ticks;
    },
    notes() {
      const gap = (this.wide - LEFT) / this.given.length;
      return this.given.map((note, i) => ({ ...note, x: LEFT + (i + 0.5) * gap }));
    },
  },
  methods: {
    y(cents) {
      return 30 + ((this.limit - cents) / (2 * this.limit)) * (HIGH - 30 - 62);
    },
    diamond(x, y) {
      return `M${x} ${y - 7}l7 7l-7 7l-7 -7z`;
    },
  },
};
